"""The exposure of the next sheet: what the book knows, under what was typed, asked of the ledger. Nothing is kept."""

from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final

from django.utils.timezone import localtime, now

from silverwright.asking.fields import Thing, fields_of
from silverwright.asking.operation import Record, Remark, remark
from silverwright.book.evidence import Told, told_by
from silverwright.book.forecast import Next, forecast
from silverwright.book.trouble import plain_trouble
from silverwright.errors import BadQuestion, Fault
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.ledger import LEDGER, LedgerAnswer, LedgerQuestion
from silverwright.questions.next_exposure import NextAnswer
from silverwright.workshop.act import find_things
from silverwright.workshop.scene import ABOUT_LONG_TIMES, ThingsInHand

if TYPE_CHECKING:
    from silverwright.book.models import Camera, Lens, Light, Meter, Paper

THINGS: Final = {name: mark.kind for name, mark in fields_of(ThingsInHand).items() if isinstance(mark, Thing)}
OF_THE_LENS: Final = (
    "camera_kind",
    "focal_mm",
    "pupil_factor",
    "aperture_scale",
    "infinity_extension_mm",
    "stop_mm",
    "stop_sd_mm",
    "measured_apertures",
    "measured_speeds",
)
OF_THE_CAMERA: Final = ("turned", "mirror_stops", "mirror_sd_stops", "extension_mm")
WORTH_SAYING: Final = frozenset({Note.WHICH_DISAGREES, Note.BATHS_COUNTED})


class FromBook(Record):
    """One field that the book filled in, and what in it says so."""

    field: str
    value: Any
    says: str


class Planned(Record):
    """A planned exposure: the question as it was asked, its answer, what came from the book, and what the book says besides."""

    operation: str = LEDGER.name
    operation_version: int = LEDGER.version
    question: Mapping[str, Any]
    answer: LedgerAnswer
    from_book: tuple[FromBook, ...] = ()
    notes: tuple[Remark, ...] = ()


def plan(given: Mapping[str, object], at: datetime | None = None) -> Planned:
    """
    How long to expose, with everything that the book knows.

    Named things fill in their fields - a lens its focal length, a meter its constant, a camera its mirror, a paper its EI and reciprocity from own
    sheets - and whatever is typed wins over them. `at` is when it is exposed: now, unless it is said. Raises `BadQuestion` with every fault.
    """
    with plain_trouble():
        typed = {name: value for name, value in given.items() if value is not None and value != ""}
        things, faults = find_things(THINGS, typed)
        asked = {name: value for name, value in typed.items() if name not in THINGS}
        known, notes = known_from_book(things, asked, localtime(at or now()).date().isoformat())
        question = _question({one.field: one.value for one in known} | asked, faults)
        answer = LEDGER.compute(question)
    document = question.model_dump(mode="json", exclude_defaults=True)
    return Planned(question=document, answer=answer, from_book=tuple(known), notes=tuple(notes))


def _question(filled: Mapping[str, object], faults: list[Fault]) -> LedgerQuestion:
    try:
        question: LedgerQuestion = LEDGER.question.model_validate(filled)
    except BadQuestion as bad:
        raise BadQuestion([*bad.faults, *faults]) from None
    if faults:
        raise BadQuestion(faults)
    return question


def known_from_book(things: Mapping[str, Any], asked: Mapping[str, object], day: str) -> tuple[list[FromBook], list[Remark]]:
    """Every field that the named things know and nobody typed."""
    known: list[FromBook] = []
    lens: Lens | None = things.get("lens")
    meter: Meter | None = things.get("meter")
    camera: Camera | None = things.get("camera")
    if lens is not None:
        known += [FromBook(field=name, value=_row(getattr(lens, name)), says=f"lens “{lens}”") for name in OF_THE_LENS]
    if meter is not None:
        constants = ("meter_k",) if meter.reads == "reflected" else ("meter_c", "incident_head")
        known += [FromBook(field=name, value=getattr(meter, name), says=f"meter “{meter}”") for name in constants]
    if camera is not None:
        known += [FromBook(field=name, value=getattr(camera, name), says=f"camera “{camera}”") for name in OF_THE_CAMERA]
    light: Light | None = things.get("light")
    if light is not None and light.light_class != "unknown":
        known.append(FromBook(field="light_class", value=light.light_class, says=f"light “{light}”"))
    usual = {name: info.default for name, info in LedgerQuestion.model_fields.items()}
    left = {*asked, *_left_out(asked, camera)}
    known = [one for one in known if one.value is not None and one.value != usual[one.field] and one.field not in left]
    paper: Paper | None = things.get("paper")
    if paper is None:
        return known, []
    told = told_by(paper, str(asked.get("process", "direct positive")))
    if told.sees != "unknown" and "sensitivity" not in asked:
        known.append(FromBook(field="sensitivity", value=told.sees, says=f"paper “{paper}”"))
    filled = {**{one.field: one.value for one in known}, **asked}
    if told.light and told.gives_ei and not {"light_class", "paper_ei"} & filled.keys():
        known.append(FromBook(field="light_class", value=told.light, says="the light of your last picture"))
        filled["light_class"] = told.light
    of_paper, notes = _from_paper(told, _coming(filled, day), asked)
    return known + of_paper, notes


def _row(value: object) -> object:
    """A table of the book as questions take it."""
    return tuple(value) if isinstance(value, list) else value


def _left_out(asked: Mapping[str, object], camera: "Camera | None") -> set[str]:
    """What of the lens and the camera does not go with what was typed: a hole beside an aperture, a mirror's loss where nothing turns the picture."""
    holes = {"stop_mm", "stop_sd_mm"} if "aperture_f" in asked else set()
    turned = asked.get("turned", camera.turned if camera else "no")
    return holes | ({"mirror_stops", "mirror_sd_stops"} if turned == "no" else set())


def _coming(asked: Mapping[str, object], day: str) -> Next:
    """What is known of the sheet that is planned."""
    light = str(asked.get("light_class", "unknown"))
    blue = asked.get("metered_through") == "blue filter" and asked.get("sensitivity") == "blue"
    return Next(
        tone=str(asked.get("reading_tone", "mid-grey")),
        light="" if light == "unknown" else light,
        day=day,
        light_sd_stops=fact("forecast", "light_measured").sd if blue else None,
    )


def _from_paper(told: Told, coming: Next, asked: Mapping[str, object]) -> tuple[list[FromBook], list[Remark]]:
    """The paper's EI and its exponent in long exposures, as own sheets forecast them; what tells nothing is said, too."""
    notes = [remark(Note.GIVES_NO_EI, what=one.says, why=one.why_not) for one in told.pieces if one.why_not]
    known: list[FromBook] = []
    if told.gives_ei:
        answer = forecast(told, str(asked.get("process", "direct positive")), coming)
        ei, rests = f"{answer.paper_ei.value:.2g}", answer.rests_on
        if "paper_ei" in asked:
            notes.insert(0, remark(Note.TYPED_WINS, ei=ei, rests=rests))
        else:
            known += _learnt(answer, long_too=not ABOUT_LONG_TIMES & set(asked))
            known += [] if _light_told(asked) else _learnt_of_light(answer, told, coming)
            notes = [remark(Note.OWN_SHEETS_USED, ei=ei, rests=rests), *notes, *(one for one in answer.notes if one.note in WORTH_SAYING)]
            notes += _other_light(told, coming.light)
    if told.points and not ABOUT_LONG_TIMES & {*asked, *(one.field for one in known)}:
        many = len(told.points)
        known.append(FromBook(field="own_points", value=told.points, says=f"{many} own reciprocity test{'s' if many > 1 else ''}"))
    return known, notes


def _learnt(answer: NextAnswer, *, long_too: bool) -> list[FromBook]:
    """The fields of the ledger that the forecast fills in; its exponent only together with its EI, for they were learnt together."""
    figures = {
        "paper_ei": answer.paper_ei.value,
        "paper_ei_sd_stops": (answer.ei_part_stops or answer.sd_stops).value,
        "ei_from": "own sheets",
        "ei_rests_on": answer.rests_on,
    }
    if long_too:
        figures |= {"exponent_factor": answer.exponent.value, "exponent_sd": answer.exponent_sd.value, "surest_at_s": answer.surest_at_s.value}
    return [FromBook(field=name, value=value, says=answer.rests_on) for name, value in figures.items() if value is not None]


def _light_told(asked: Mapping[str, object]) -> bool:
    """Whether somebody said what the paper gets of this light, or read it through a blue filter."""
    return "light_offset_stops" in asked or asked.get("metered_through") == "blue filter"


def _learnt_of_light(answer: NextAnswer, told: Told, coming: Next) -> list[FromBook]:
    """What own sheets in this very light say of it, with its part of the doubt; without such a sheet the table stands."""
    here = told.in_light(coming.light)
    if not here:
        return []
    rests = f"{len(here)} sheet{'s' * (len(here) > 1)} in {'this light, beside the table' if coming.light else 'a light that nobody named'}"
    offset, part = (one.value if one else 0.0 for one in (answer.light_offset_stops, answer.light_part_stops))
    figures = {"light_offset_stops": offset, "light_offset_sd_stops": part, "light_rests_on": rests}
    return [FromBook(field=name, value=value, says=rests) for name, value in figures.items()]


def _other_light(told: Told, this: str) -> list[Remark]:
    """Evidence from another class of light than this one."""
    theirs = sorted({one.light for one in told.pieces if one.counts and not one.control})
    if not this or not theirs or "" in theirs or this in theirs:
        return []
    return [remark(Note.OTHER_LIGHT, theirs=", ".join(theirs), this=this)]
