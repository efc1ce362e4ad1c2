"""What is believed of a paper before its sheets are seen: fact rows, as the forecast takes them, and what somebody states instead."""

from dataclasses import dataclass
from math import log2, log10
from typing import TYPE_CHECKING, Final, Literal

from silverwright.densitometry.density import density_of_reflectance
from silverwright.exposure.meter import paper_exposure_lx_s
from silverwright.exposure.reciprocity import law_from_points
from silverwright.facts.load import fact
from silverwright.questions.paper import Tone as ToneWord
from silverwright.questions.reciprocity import first_guess
from silverwright.records import OwnPoint, ReciprocityLaw

if TYPE_CHECKING:
    from silverwright.sensitometry.anchored import Tone
    from silverwright.sensitometry.belief import Belief
    from silverwright.sensitometry.darkroom import Scatter

Process = Literal["direct positive", "negative"]
SIGNS: Final[dict[Process, float]] = {"direct positive": -1.0, "negative": 1.0}
STOP_LOG10: Final = log10(2)  # arithmetic
HELD_STOPS: Final = 1e-3  # our judgement: the threshold stays where the ledger of the camera has it; own points tell the exponent


@dataclass(frozen=True, slots=True)
class Stated:
    """What somebody knows of the paper: its EI for a tone, the exponent, and own tests of long exposures."""

    ei: float | None = None
    ei_sd_stops: float | None = None
    exponent: float | None = None
    exponent_sd: float | None = None
    points: tuple[OwnPoint, ...] = ()


def camera_lx_s() -> float:
    """What a metered tone leaves on the paper at EI 1."""
    return paper_exposure_lx_s(1.0, fact("meter", "meter_k").value, fact("meter", "paper_plane").value)


def tone_of(word: ToneWord, process: Process) -> "Tone":
    """The density that this tone shall get. A paper negative turns light and dark round."""
    from silverwright.sensitometry.anchored import Tone

    over_dmin = Tone(fact("forecast", "highlight_over_dmin").value, dmin_share=1.0)
    far_down = Tone(0.0, dmin_share=1.0, net_share=fact("forecast", "shadow_part_of_net").value)
    positive = process == "direct positive"
    if word == "highlight with texture":
        return over_dmin if positive else far_down
    if word == "shadow with detail":
        return far_down if positive else over_dmin
    if word == "skin":
        return Tone(fact("forecast", "skin_density" if positive else "negative_skin_density").value)
    return Tone(density_of_reflectance(fact("curve", "grey_reflectance_percent").value / 100))


def law_of(stated: Stated) -> ReciprocityLaw:
    """The law believed beforehand: as stated, else what own points tell, else our first guess."""
    law = first_guess()
    if stated.exponent is not None:
        sd = law.exponent_sd if stated.exponent_sd is None else stated.exponent_sd
        return ReciprocityLaw(threshold_s=law.threshold_s, exponent=stated.exponent, exponent_sd=sd)
    if not stated.points:
        return law
    held = ReciprocityLaw(threshold_s=law.threshold_s, exponent=law.exponent, exponent_sd=law.exponent_sd, start_sd_stops=HELD_STOPS)
    return law_from_points(stated.points, held, fact("reciprocity", "own_point").sd)


def belief_of(stated: Stated, tone: ToneWord, process: Process) -> "Belief":
    """Our first guess is of a mid-grey; a stated EI is of the tone that is asked for."""
    from silverwright.sensitometry.belief import Belief
    from silverwright.sensitometry.prior import Normal

    guess, law = fact("paper", "ei_unknown"), law_of(stated)
    ei = guess.value if stated.ei is None else stated.ei
    typed_sd = fact("paper", "ei_typed").sd if stated.ei_sd_stops is None else stated.ei_sd_stops
    sd = guess.sd if stated.ei is None else typed_sd

    def curve(name: str) -> Normal:
        row = fact("curve", f"prior_{name}")
        return Normal(row.value, row.sd)

    drift = fact("forecast", "log_drift")
    return Belief(
        sign=SIGNS[process],
        anchor=tone_of("mid-grey" if stated.ei is None else tone, process),
        anchor_log10=Normal(log10(camera_lx_s() / ei), STOP_LOG10 * sd),
        dmin=curve("dmin"),
        log_net=curve("log_net"),
        log_slope=curve("log_slope"),
        log_power=curve("log_power"),
        exponent=Normal(law.exponent, law.exponent_sd),
        threshold_s=law.threshold_s,
        log_drift=Normal(drift.value, drift.sd),
        misfit_density=fact("forecast", "misfit_density").value,
        scatter=scatter(),
    )


def scatter() -> "Scatter":
    """How far sheets differ: fact rows."""
    from silverwright.sensitometry.darkroom import Scatter

    return Scatter(
        light_sd_stops=fact("forecast", "light").sd,
        day_sd_stops=fact("forecast", "day").sd,
        batch_sd_stops=fact("forecast", "batch").sd,
        lot_sd_stops=fact("forecast", "lot").sd,
        sheet_sd_stops=fact("forecast", "sheet").sd,
        reading_sd_stops=fact("forecast", "place").sd,
        timer_sd_stops=fact("forecast", "timer").sd,
        unmetered_sd_stops=fact("forecast", "unmetered").sd,
    )


def guess_stops(stated: Stated) -> float:
    """The first guess in stops from EI 1."""
    return log2(fact("paper", "ei_unknown").value if stated.ei is None else stated.ei)
