"""What was asked at the camera: what was typed, the way of the reading, the holder side, and what the plan makes of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from silverwright.asking.fields import fields_of
from silverwright.book.evidence import told_by
from silverwright.book.find import find_thing
from silverwright.book.models import Exposure, HolderSide
from silverwright.book.queries import last_metered, sides
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.web.fields import by_field, typed_in, written
from silverwright.workshop.flashes import PlannedFlashes, plan_flashes
from silverwright.workshop.plan import OF_THE_CAMERA, OF_THE_LENS, Planned, plan
from silverwright.workshop.scene import OF_A_FLASH, EitherForm, PlanForm, by_flash

WAYS: Final[dict[str, tuple[str, tuple[str, ...]]]] = {
    "ev": ("EV", ("reading_ev",)),
    "lx": ("lx", ("reading_lx",)),
    "cd": ("cd/m²", ("reading_cd_per_m2",)),
    "dial": ("dial", ("dial_time_s", "dial_aperture_f", "dial_ei")),
    "flash": ("flash", ("flash_meter_f", "flash_meter_ei", "guide_number", "guide_unit", "guide_ei", "flash_distance_mm", "open_s")),
}
MEANWHILE: Final = "reading_ev"  # beside a flash, the reading is of the light that is there while the shutter is open
BROUGHT_BY: Final = {"lens": OF_THE_LENS, "meter": ("meter_k", "meter_c", "incident_head"), "camera": OF_THE_CAMERA}
UNSAID: Final = {
    "aperture_scale": "as the lens in hand",
    "camera_kind": "as the lens in hand",
    "turned": "as the camera in hand",
    "reciprocity_model": "as the book has it",
    "light_class": "as the light in hand",
    "sensitivity": "as the paper in hand",
}
AS_USUAL: Final = {  # what the question takes by itself needs no place in the address
    name: info.default for name, info in EitherForm.model_fields.items() if isinstance(info.default, str) and info.default and name not in UNSAID
}
SIDE: Final = "holder_side"


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed, the way of the reading, the holder side that is meant, and what came of it: a time, or flashes."""

    typed: Mapping[str, str]
    way: str
    planned: Planned | None
    faults: Mapping[str, Fault]
    side_named: str = ""
    side: HolderSide | None = None
    flashes: PlannedFlashes | None = None

    @property
    def either(self) -> Planned | PlannedFlashes | None:
        """What came of it, by time or by flashes."""
        return self.flashes if self.flashes is not None else self.planned

    @property
    def state(self) -> dict[str, str]:
        """Everything that the address holds."""
        side = {SIDE: self.side_named} if self.side_named else {}
        return {"by": self.way, **self.typed, **side} if self.typed or side or self.way != "ev" else {}

    @property
    def to_record(self) -> dict[str, str]:
        """The same as the record of a sheet takes it: the holder and its side each by itself, and the paper that it holds."""
        if self.side is None or self.side.lot is None:
            return dict(self.typed)
        return {"paper": self.side.lot.paper.name, **self.typed, "holder": self.side.holder.name, "side": self.side.side}


def ask(sent: Mapping[str, str]) -> Asked:
    """Ask the plan with what was typed; of the four ways of reading, or a flash, only the chosen one counts."""
    way = way_of(sent)
    other = {name for one, (_, names) in WAYS.items() if one != way for name in names} | (set() if way == "flash" else set(OF_A_FLASH))
    other -= {MEANWHILE} if way == "flash" else set()
    typed = {name: text for name, text in typed_in(sent, EitherForm).items() if name not in other and AS_USUAL.get(name) != text}
    side, faults = side_in_hand(sent.get(SIDE, ""), typed.get("paper", ""))
    of_side = {"paper": side.lot.paper.name} if side is not None and side.lot is not None and "paper" not in typed else {}
    planned, flashes = None, None
    try:
        if way == "flash":
            flashes = plan_flashes({**typed, **of_side})
        else:
            planned = plan({**typed, **of_side})
    except BadQuestion as bad:
        faults |= by_field(_of_this_way(fault, way, other) for fault in bad.faults)
    return Asked(typed, way, planned, faults, sent.get(SIDE, ""), side, flashes)


def ask_as_last_time() -> Asked | None:
    """The plan for the last scene again, without what today's questions no longer take; nothing in a book without an exposure."""
    typed = last_time()
    if not typed:
        return None
    asked = ask(typed)
    refused = {name for name, fault in asked.faults.items() if fault.given}
    return ask({name: text for name, text in typed.items() if name not in refused}) if refused else asked


def last_time() -> dict[str, str]:
    """What stood on the Camera for the newest metered exposure; what its things know is left to them, so that another lens brings its own."""
    exposure = last_metered()
    if exposure is None:
        return {}
    in_hand = {"paper": exposure.sheet.paper, "lens": exposure.lens, "camera": exposure.camera, "light": exposure.light, "meter": exposure.meter}
    there = {name: str(thing) for name, thing in in_hand.items() if thing is not None and thing.archived_at is None}
    brought = [(in_hand[name], field) for name in there for field in BROUGHT_BY.get(name, ())]
    known = {field for thing, field in brought if getattr(thing, field) is not None} | {"timed_by"}  # another time may be too long for the shutter
    aperture = {"aperture_f": exposure.aperture_f} if exposure.aperture_f is not None else {}
    unnamed = {"light_class": exposure.light_class} if exposure.light is None and exposure.light_class != "unknown" else {}
    scene = {name: value for name, value in {"process": exposure.process, **unnamed, **exposure.scene, **aperture}.items() if name not in known}
    ready = next((side for side in loaded_sides() if side.lot is not None and side.lot.paper == exposure.sheet.paper), None)
    return there | written(EitherForm, scene | _typed_index(exposure)) | ({SIDE: named(ready)} if ready else {})


def _typed_index(exposure: Exposure) -> dict[str, object]:
    """The EI that was typed for it, and its doubt, as long as no own sheets say one."""
    if exposure.planned is None or told_by(exposure.sheet.paper, exposure.process).gives_ei:
        return {}
    filled = {one["field"] for one in exposure.planned.evidence.get("from_book", ())}
    question = exposure.planned.question
    return {name: question[name] for name in ("paper_ei", "paper_ei_sd_stops") if name in question and name not in filled}


def loaded_sides() -> list[HolderSide]:
    """The holder sides with a sheet that waits for its exposure."""
    return [side for side in sides() if side.state == "loaded"]


def named(side: HolderSide) -> str:
    """How a side stands in the address and among others."""
    return f"{side.holder}/{side.side}"


def side_in_hand(text: str, paper: str) -> tuple[HolderSide | None, dict[str, Fault]]:
    """The side that is meant, if it can be exposed and holds the paper that is planned for; or what is wrong with it."""
    if not text:
        return None, {}
    try:
        side = find_thing("side", text)
    except UnknownName as unknown:
        return None, {SIDE: Fault(SIDE, text, str(unknown))}
    assert isinstance(side, HolderSide)  # noqa: S101 (the kind says so)
    problem = _unfit(side, paper)
    return (None, {SIDE: Fault(SIDE, text, problem)}) if problem else (side, {})


def _unfit(side: HolderSide, paper: str) -> str:
    if side.state == "exposed":
        return f"This side was exposed already, as sheet {side.sheet}. Take another side."
    if side.state != "loaded" or side.lot is None:
        return "By the book nothing is in this side. Load it first, or take another."
    if paper and side.lot.paper.name.casefold() != paper.casefold():
        return f"By the book this side holds “{side.lot.paper}”, and the time is for “{paper}”. Take another side, or that paper."
    return ""


def _of_this_way(fault: Fault, way: str, other: set[str]) -> Fault:
    """A reading that is missing is missing in the way that was chosen."""
    first = WAYS[way][1][0]
    if way == "flash" or fault.given or fault.field not in {first, *other}:
        return fault
    return Fault(first, "", f"Needed. {fields_of(PlanForm)[first].help}")


def way_of(sent: Mapping[str, str]) -> str:
    """The way that was chosen, or the one that something was typed for."""
    if sent.get("by") in WAYS:
        return sent["by"]
    if by_flash(sent):
        return "flash"
    return next((way for way, (_, names) in WAYS.items() if any(name in sent for name in names)), "ev")
