"""The questions that may be asked beside an exposure: how each is called on the page, and which of its figures stand first."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Final

from django.http import HttpRequest

from silverwright.asking.fields import fields_of
from silverwright.catalogue import find
from silverwright.workshop.scene import ABOUT_LONG_TIMES, ABOUT_THE_LIGHT, EitherForm

OPEN: Final = "open"
ANSWERED: Final = frozenset({"exposure_s", "magnification_factor", "doubt_stops"})  # by the ledger, or by what it is asked with
ENDS: Final = ("range_sd_stops", "shadow_log10", "shadow_sd_log10", "highlight_log10", "highlight_sd_log10", "middle_log10", "curve", "curve_from")
PLACE_AND_DAY: Final = ("on_day", "clock_hours", "utc_offset_hours", "latitude_deg", "longitude_deg")
QUIET: Final = ABOUT_LONG_TIMES | ABOUT_THE_LIGHT | {"paper_ei_sd_stops", "ei_from", "ei_rests_on", *ENDS} - {"curve_from"}  # not worth repeating


@dataclass(frozen=True, slots=True)
class Section:
    """
    One question beside the exposure: its name in the address, the operation and its sign.

    Then the figures that stand first, the fields that are seldom wanted, the densities in its table, and what of its answer the ledger can take.
    """

    name: str
    operation: str
    label: str
    first: tuple[str, ...] = ()
    seldom: tuple[str, ...] = ()
    tones: tuple[str, ...] = ()
    take: str = ""
    takes: Mapping[str, str] = field(default_factory=dict)


SECTIONS: Final = (
    Section(
        "sitter",
        "exposure.sitter",
        "The sitter",
        first=("verdict", "longest_s", "missing_stops", "room_stops", "still_percent"),
        seldom=("since_focus_s", "own_sittings", "of_hundred"),
    ),
    Section(
        "sharpness",
        "exposure.sharpness",
        "Sharpness",
        first=("near_sharp_mm", "far_sharp_mm", "best_f", "widest_f", "blur_here_mm", "blur_near_mm", "blur_far_mm"),
        seldom=("movement_mm", "blue_shift_percent", "moved_for_blue", "corner_mm"),
    ),
    Section(
        "daylight",
        "exposure.daylight",
        "No meter",
        first=("ev", "reading_sd_stops", "height_deg", "trend_stops_per_min"),
        take="Take this as the reading",
        takes={"reading_ev": "ev", "reading_sd_stops": "reading_sd_stops"},
    ),
    Section(
        "range",
        "exposure.scene",
        "Scene's range",
        first=("too_long_stops", "room_stops", "set_ev", "shift_stops"),
        seldom=(*ENDS, "flare_percent"),
        tones=("part_density",),
        take="Expose for this",
        takes={"reading_ev": "set_ev"},
    ),
    Section("contrast", "exposure.contrast", "Less contrast", first=("too_long_stops",), seldom=(*ENDS, "own_gains")),
    Section(
        "preexposure",
        "exposure.preexposure",
        "Pre-exposure",
        first=("preexposure_percent", "range_gain_stops", "black_cost_density", "picture_s", "card_s", "card_f"),
        seldom=(*ENDS, "tones_stops"),
        tones=("before_density", "after_density"),
    ),
    Section("changing", "exposure.changing", "Changing light", first=("end_s", "remaining_s", "done_percent"), seldom=PLACE_AND_DAY),
    Section("colour", "exposure.light", "Light's colour", first=("light_stops", "contrast_shift_stops"), seldom=("shown_by_sheets",)),
    Section("openings", "exposure.opening", "Several openings", first=("added_s", "left_s", "each_s", "short_stops")),
    Section("strip", "exposure.strips", "Test strip"),
)


@cache
def own_fields(operation: str) -> tuple[str, ...]:
    """The fields of a question that the Camera does not have, and the ledger does not answer; what other sections ask for, too, comes last."""
    own = _lacking(operation)
    others = {name for section in SECTIONS if section.operation != operation for name in _lacking(section.operation)}
    return tuple(sorted(own, key=lambda name: name in others))


@cache
def _as_usual() -> dict[str, str]:
    """Every field of the sections with what its question takes by itself, which needs no place in the address."""
    return {name: str(find(section.operation).question.model_fields[name].default) for section in SECTIONS for name in own_fields(section.operation)}


@cache
def _lacking(operation: str) -> tuple[str, ...]:
    return tuple(name for name in fields_of(find(operation).question) if name not in EitherForm.model_fields and name not in ANSWERED)


@dataclass(frozen=True, slots=True)
class Besides:
    """What was typed beside the exposure, and which sections are open."""

    typed: Mapping[str, str]
    open: tuple[str, ...]

    @property
    def state(self) -> dict[str, str]:
        """What of it the address holds."""
        return {**self.typed, **({OPEN: " ".join(self.open)} if self.open else {})}


def besides(request: HttpRequest) -> Besides:
    """What the address or the form says of the sections; what was typed in one that is closed again is kept."""
    wanted = " ".join(request.GET.getlist(OPEN)).split()
    typed = {name: text for name, usual in _as_usual().items() if (text := request.GET.get(name, "")).strip() and text != usual}
    return Besides(typed, tuple(section.name for section in SECTIONS if section.name in wanted))
