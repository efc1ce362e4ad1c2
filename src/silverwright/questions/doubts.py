"""What each doubt of a forecast is for, in a sentence: the first is shown with the EI, the others when somebody asks why."""

from typing import Final

from silverwright.questions.next_exposure import NextAnswer
from silverwright.units import SECOND

BEHIND_WHY: Final = ("sd_stops", "surest_at_s", "exponent", "exponent_sd", "effective_draws", "sampler", "light_part_stops", "ei_part_stops")


def doubts_told(answer: NextAnswer) -> tuple[str, ...]:
    """Every doubt of the forecast in a plain sentence, the one that is shown by itself first."""
    sd, exponent = answer.sd_stops.value or 0, answer.exponent.value or 0
    offset = None if answer.light_offset_stops is None else answer.light_offset_stops.value
    low, high = ((end or 0) * 2 ** (offset or 0) for end in (answer.paper_ei.low, answer.paper_ei.high))
    here = "" if offset is None else " in this light"
    surest, power_sd, drawn = SECOND.show(answer.surest_at_s.value or 0), answer.exponent_sd.value or 0, answer.effective_draws.value or 0
    for_the_meter = "so short that nothing is added for their length: the doubt to set a meter by. Light, day and baths of the next sheet are in it."
    for_the_camera = "the time that your sheets know best. The Camera starts from it, and adds what a longer or shorter time leaves open."
    return (
        f"EI {low:.2g} to {high:.2g} holds 8 of 10 next sheets{here}, in exposures {for_the_meter}",
        f"±{sd:.2f} stop, one standard deviation, is the doubt of a sheet exposed for {surest}, {for_the_camera}",
        f"Long exposures grow with the power {exponent:.2f} ± {power_sd:.2f}, one standard deviation: that is what the Camera adds.",
        "The chances hold all of it, and what one sheet differs from the next besides: shutter, aperture and reading.",
        f"Worked out from {drawn:.0f} likely curves that count in full.",
    )
