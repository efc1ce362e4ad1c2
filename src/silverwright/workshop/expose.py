"""A sheet is exposed: the ledger is asked again from what was typed, and kept beside what was really done."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from math import ceil, floor
from typing import Annotated, Any, Final

from django.db.models import Max
from pydantic import create_model, field_validator

from silverwright.asking.fields import Choice, Flag, Thing, Words, fields_of
from silverwright.asking.operation import Remark, refuse, remark
from silverwright.book import words
from silverwright.book.find import find_thing
from silverwright.book.models import Exposure, HolderSide, KeptAnswer, Lot, Paper, Sheet
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.notes import Note
from silverwright.questions.flash import FLASH
from silverwright.questions.ledger import LedgerQuestion
from silverwright.units import SECOND, flashes_said
from silverwright.vocabulary import AMOUNTS_TO_S, APERTURE_GIVEN_F, GIVEN_S
from silverwright.vocabulary_camera import FLASHES_GIVEN
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.flashes import LIGHT, PlannedFlashes, plan_either
from silverwright.workshop.forms import DATED, REMARKS, WHEN
from silverwright.workshop.holders import Side, not_being_exposed, side_of, take_from
from silverwright.workshop.plan import Planned
from silverwright.workshop.scene import OF_A_FLASH, EitherForm, SceneForm, ThingsInHand, by_flash, relaxed

READINGS: Final = ("reading_ev", "reading_cd_per_m2", "reading_lx", "dial_time_s")


class AtTheCamera(ThingsInHand):
    """What is in the camera, and what it is pointed at."""

    holder: Annotated[str | None, Thing(kind="holder", help="The holder that was in the camera.", example="holder 1")] = None
    side: Annotated[Side | None, Choice(help="The side of it that was exposed.", example="1")] = None
    lot: Annotated[str | None, Thing(kind="lot", label="Box", help="The box, where no holder tells it.", example="box A")] = None
    aperture_given_f: Annotated[float | None, APERTURE_GIVEN_F] = None
    light_class: Annotated[words.LightClass | None, Choice(help="What kind of light it was, where no light is named.", example="overcast sky")] = None
    subject: Annotated[str, Words(help="What is on it.", example="caulking mallet on the bench", longest=200)] = ""
    told_apart: Annotated[
        str, Words(help="How the sheet is told apart while it is wet: clipped corners, or a mark.", example="one corner clipped", longest=80)
    ] = ""
    anyway: Annotated[bool, Flag(help="Expose a side again that was exposed already: a double exposure.", example="yes")] = False
    remarks: Annotated[str, REMARKS] = ""


class DoneAtTheCamera(AtTheCamera):
    """What was done, beside what was planned."""

    given_s: Annotated[float | None, GIVEN_S] = None
    flashes_given: Annotated[float | None, FLASHES_GIVEN] = None
    amounts_to_s: Annotated[float | None, AMOUNTS_TO_S] = None
    when: Annotated[datetime | None, WHEN, DATED] = None

    @field_validator("flashes_given")
    @classmethod
    def _whole(cls, flashes: float | None) -> float | None:
        if flashes is not None and not flashes.is_integer():
            raise refuse(f"Flashes are counted whole: {floor(flashes)} or {ceil(flashes)}?")
        return flashes


ExposeForm: type[DoneAtTheCamera] = create_model(
    "ExposeForm", __base__=DoneAtTheCamera, __doc__="A sheet exposed: what was planned, and what was done.", **relaxed(LedgerQuestion), **OF_A_FLASH
)


def planned_fields(given: Mapping[str, object]) -> dict[str, object]:
    """What of an exposure's form the plan asks; a paper that nobody named is the one in the holder or in the box."""
    asked = {name: value for name, value in given.items() if name in fields_of(EitherForm)}
    paper = None if asked.get("paper") else _paper_in_hand(given)
    return asked if paper is None else asked | {"paper": paper.name}


def _paper_in_hand(given: Mapping[str, object]) -> Paper | None:
    """The paper in the named side, or in the named box; nothing where neither tells it."""
    wanted = (("side", f"{given.get('holder')}/{given.get('side')}"), ("lot", str(given.get("lot", ""))))
    for kind, name in wanted:
        try:
            thing: Any = find_thing(kind, name)
        except UnknownName:  # nothing named, or a fault of its own beside its field
            continue
        holds = thing if isinstance(thing, Lot) else thing.sheet or thing.lot
        if holds is not None:
            paper: Paper = holds.paper
            return paper
    return None


def is_planned(given: Mapping[str, object]) -> bool:
    """Whether anything was metered: without a reading or a flash there is nothing to plan, and what was done is recorded alone."""
    return by_flash(given) or any(given.get(name) not in (None, "") for name in READINGS)  # a list from a program is no member of a set


def plan_faults(given: Mapping[str, object]) -> Sequence[Fault]:
    """What the plan finds wrong with the same fields, so that every fault is said at once."""
    if not is_planned(given):
        return ()
    try:
        plan_either(planned_fields(given))
    except BadQuestion as bad:
        return bad.faults
    return ()


def _prepare(doing: Doing[DoneAtTheCamera]) -> Planned | PlannedFlashes | None:
    return plan_either(planned_fields(doing.given), doing.form.when or doing.at) if is_planned(doing.given) else None


def _expose(doing: Doing[DoneAtTheCamera]) -> Done:
    planned: Planned | PlannedFlashes | None = doing.ready
    return expose_as(doing, keep(doing, planned) if planned else None)


def expose_as(doing: Doing[DoneAtTheCamera], kept: KeptAnswer | None) -> Done:
    """Record a sheet as it was planned, by the ledger as it was answered then."""
    side = side_in_camera(doing)
    at = doing.form.when or doing.at
    notes: list[Remark] = []
    if side is not None and side.state == "exposed" and side.sheet is not None:
        sheet = side.sheet
        notes.append(remark(Note.DOUBLE_EXPOSURE, side=str(side), sheet=sheet.number))
    else:
        paper, lot = paper_in_camera(doing, side)
        sheet = _new_sheet(doing, paper, lot, at, side.corner if side is not None else "")
        if side is None and lot is not None:
            notes += take_from(lot)
        if side is not None and side.state != "loaded":
            notes.append(remark(Note.SIDE_NOT_LOADED, side=str(side)))
    exposure = _new_exposure(doing, sheet, side, at, kept)
    if side is not None:
        side.state, side.sheet, side.lot = "exposed", sheet, side.lot or sheet.lot
        side.save()
    says = f"Sheet {sheet.number} is in the book{given_said(exposure)}."
    return doing.done(("sheet", sheet.number), says, notes, number=sheet.number, **_figures(exposure))


def given_said(exposure: Exposure) -> str:
    """`, 97 s (1:37)`, `, 4 flashes`; nothing where nobody knows it."""
    if exposure.flashes_given is not None:
        return f", {flashes_said(exposure.flashes_given)}"
    return "" if exposure.given_s is None else f", {SECOND.show(exposure.given_s)}"


def _figures(exposure: Exposure) -> dict[str, float | None]:
    """What was planned and what was given, in seconds or in flashes."""
    flashed = exposure.flashes_given is not None
    given = {"flashes_given": exposure.flashes_given} if flashed else {"given_s": exposure.given_s}
    planned = exposure.planned.answer if exposure.planned else {}
    shown = {"planned_flashes": "flashes"} if flashed else {"planned_s": "time_s"}
    return given | {name: planned[of]["value"] for name, of in shown.items() if of in planned}


def side_in_camera(doing: Doing[Any]) -> HolderSide | None:
    """The side that was in the camera, if it can be exposed."""
    form: AtTheCamera = doing.form
    holder = doing.things.get("holder")
    if holder is None:
        return None
    if form.side is None:
        raise BadQuestion([Fault("side", "", f"Which side of “{holder}” was exposed?")])
    side = side_of(holder, form.side)
    not_being_exposed(side)
    if side.state == "exposed" and not form.anyway:
        problem = f"This side was exposed already, as sheet {side.sheet}. If it was exposed a second time, say “anyway”: a double exposure is kept."
        raise BadQuestion([Fault("side", form.side, problem)])
    if side.state in {"empty", "unloaded"} and doing.things.get("lot") is None and doing.things.get("paper") is None:
        raise BadQuestion([Fault("side", form.side, "By the book nothing is in this side. Load it first, or say which box or paper was in it.")])
    return side


def paper_in_camera(doing: Doing[Any], side: HolderSide | None) -> tuple[Paper, Lot | None]:
    """The paper, from the holder, the box, or as it was named; they must not contradict each other."""
    lot: Lot | None = side.lot if side is not None and side.state == "loaded" else doing.things.get("lot")
    paper: Paper | None = doing.things.get("paper")
    if lot is None and paper is None:
        raise BadQuestion([Fault("paper", "", "Which paper was it? Name it, or its box, or the holder that was loaded with it.")])
    if lot is not None and paper is not None and lot.paper != paper:
        raise BadQuestion([Fault("paper", paper.name, f"By the book this sheet came from “{lot}”, which is “{lot.paper}”.")])
    named: Lot | None = doing.things.get("lot")
    if lot is not None and named is not None and named != lot:
        raise BadQuestion([Fault("lot", named.name, f"By the book this side was loaded from “{lot}”.")])
    return (paper or lot.paper, lot) if lot is not None else (paper, None)  # type: ignore[return-value]


def _new_sheet(doing: Doing[DoneAtTheCamera], paper: Paper, lot: Lot | None, at: datetime, corner: str) -> Sheet:
    """The next number of its year; a corner that was clipped when the holder was loaded tells it apart."""
    year = at.astimezone().year
    running = 1 + (Sheet.objects.filter(year=year % 100).aggregate(last=Max("running"))["last"] or 0)
    camera = doing.things.get("camera")
    typed = doing.form.model_dump().get("turned") if "turned" in doing.given else None
    turned = str(typed or (camera.turned if camera else "no"))
    return Sheet.objects.create(
        number=f"{year % 100:02}-{running:03}",
        year=year % 100,
        running=running,
        paper=paper,
        lot=lot,
        subject=doing.form.subject,
        turned=turned,
        told_apart=doing.form.told_apart or (f"clipped: {corner}" if corner else ""),
        made_at=at,
    )


def _new_exposure(doing: Doing[DoneAtTheCamera], sheet: Sheet, side: HolderSide | None, at: datetime, kept: KeptAnswer | None) -> Exposure:
    form = doing.form
    asked = form.model_dump(mode="json")
    scene = kept.question if kept else {name: asked[name] for name in fields_of(SceneForm)}
    light = doing.things.get("light")
    flashed = kept is not None and kept.operation == FLASH.name
    given_s = form.given_s if form.given_s is not None or kept is None or flashed else kept.answer["settable_s"]["value"]
    flashes = form.flashes_given if form.flashes_given is not None or kept is None or not flashed else kept.answer["set_flashes"]["value"]
    return Exposure.objects.create(
        sheet=sheet,
        planned=kept,
        scene={name: scene[name] for name in fields_of(SceneForm) if scene.get(name) is not None},
        exposed_at=at,
        given_s=given_s,
        amounts_to_s=form.amounts_to_s,
        flashes_given=flashes or None,
        aperture_f=form.aperture_given_f if form.aperture_given_f is not None else asked.get("aperture_f"),
        light=light,
        light_class=form.light_class or (LIGHT if flashed else light.light_class if light else "unknown"),
        side=side,
        process=asked.get("process") or "direct positive",
        remarks=form.remarks,
        **{name: doing.things.get(name) for name in ("camera", "lens", "meter")},
    )


def keep(doing: Doing[Any], planned: Planned | PlannedFlashes) -> KeptAnswer:
    """The ledger as it was answered, with what the book put into it."""
    return KeptAnswer.objects.create(
        operation=planned.operation,
        operation_version=planned.operation_version,
        question=dict(planned.question),
        answer=planned.answer.model_dump(mode="json"),
        evidence={"from_book": [one.model_dump(mode="json") for one in planned.from_book], "notes": [one.sentence for one in planned.notes]},
        kept_at=doing.at,
    )


EXPOSE: Final[Deed[Any]] = Deed(
    name="expose",
    says="Record an exposed sheet: what was planned, and what was done.",
    form=ExposeForm,
    perform=_expose,
    prepare=_prepare,
    faults=plan_faults,
    examples={
        "still life": {
            "paper": "RC paper, grade 2",
            "lens": "210 mm lens in a leaf shutter",
            "reading_ev": 10,
            "meter_k": 12.5,
            "extension_mm": 315,
            "aperture_f": "f/22",
            "paper_ei": 1.5,
            "subject": "caulking mallet",
        }
    },
)
