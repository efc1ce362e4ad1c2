"""What the readings of a running exposure say: the time to go, and what has been given, as a time in the light of the plan."""

from collections.abc import Mapping
from math import log2
from typing import TYPE_CHECKING, Any, Final

from silverwright.book.models import Count
from silverwright.errors import BadQuestion, Fault
from silverwright.questions.reciprocity import ReciprocityFields
from silverwright.units import STOP

if TYPE_CHECKING:
    from silverwright.questions.changing import ChangingAnswer

MOST_STOPS: Final = 10  # our judgement: no light changes by more while a shutter is open; whoever reads so has read otherwise
ANY_EV: Final = 10.0  # arithmetic: only differences between readings count
WAYS: Final[Mapping[str, str]] = {
    "reading_ev": "as an exposure value",
    "reading_lx": "in lux",
    "reading_cd_per_m2": "in cd/m²",
    "dial_time_s": "as a time on the dial",
}


def read(given: Mapping[str, object]) -> tuple[str, float] | None:
    """The way of a reading, and the reading."""
    return next(((way, float(value)) for way in WAYS if isinstance(value := given.get(way), float | int)), None)


def first_read(row: Count) -> tuple[str, float] | None:
    """The reading that later ones are compared with: that of the plan, or the first one since."""
    planned = read(row.planned.question) if row.planned else None
    return planned or (read(row.readings[0]) if row.readings else None)


def given_so_far(row: Count, now_s: float) -> "ChangingAnswer":
    """What the readings until now say, by the reciprocity of the plan."""
    from silverwright.questions.changing import CHANGING  # noqa: PLC0415 (only a light that was read again needs it)

    planned: Mapping[str, Any] = row.planned.question if row.planned else {}
    zero = _stops(*(first_read(row) or ("reading_ev", ANY_EV)))
    found = [(one["at_s"], read(one), one["light_goes"]) for one in row.readings if one["at_s"] <= now_s]
    rows = [{"at_s": at_s, "reading_ev": ANY_EV + _stops(*level) - zero} for at_s, level, _ in found if level is not None]
    for _, level, _ in found:
        if level is not None and abs(_stops(*level) - zero) > MOST_STOPS:
            problem = (
                f"This is {STOP.show(abs(_stops(*level) - zero))} from the first reading: no light changes so much. Was it read in the same way?"
            )
            raise BadQuestion([Fault(level[0], f"{level[1]:g}", problem)])
    asked = {"exposure_s": row.events[0]["length_s"], "reading_ev": ANY_EV, "light_readings": rows, "now_s": now_s}
    asked |= {name: planned[name] for name in ReciprocityFields.model_fields if name in planned}
    try:
        return CHANGING.ask(asked | {"light_goes": found[-1][2]} if found else asked)
    except BadQuestion as bad:
        raise BadQuestion([Fault("at_s", f"{found[-1][0]:g}" if found else "", fault.problem) for fault in bad.faults]) from None


def _stops(way: str, value: float) -> float:
    """A reading in stops from an arbitrary zero: brighter is more, and a time on the dial is shorter then."""
    return value if way == "reading_ev" else -log2(value) if way == "dial_time_s" else log2(value)
