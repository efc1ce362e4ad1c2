"""What is taken along where there is no server: one paper with its lenses, as the book knows them today. Nothing is kept."""

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, Final

from django.conf import settings
from django.utils.timezone import localtime, now
from pydantic import create_model

from silverwright import __version__
from silverwright.asking.fields import Thing, fields_of
from silverwright.asking.operation import Typed
from silverwright.book.evidence import told_by
from silverwright.book.models import HolderSide, Lens, Meter, Paper
from silverwright.book.queries import sides
from silverwright.book.trouble import plain_trouble
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.questions.ledger import LedgerQuestion
from silverwright.questions.light import LIGHTS
from silverwright.report.kit import NEARNESS, READINGS, START, Kit, Place, Taken
from silverwright.units import MILLIMETRE
from silverwright.workshop.act import find_things
from silverwright.workshop.plan import Planned, known_from_book, plan
from silverwright.workshop.scene import ThingsInHand, relaxed

OF_A_LIGHT: Final = ("light_class", "light_offset_stops", "light_offset_sd_stops", "light_rests_on")
LEARNT_IN_IT: Final = ("paper_ei", "paper_ei_sd_stops")  # in a light that own sheets know, the EI is a little surer or less sure
FILTER: Final = ("filter_kind", "filter_factor", "filter_in_stops", "filter_by_density", "filter_passes")
NEVER_ALONG: Final = (*FILTER, "through_stops", "bracket_sheets", "distance_from", "stop_mm", "stop_sd_mm")
OF_A_SCENE: Final = frozenset({*READINGS, *NEARNESS, *NEVER_ALONG, *OF_A_LIGHT[1:]})
MOST_LENSES: Final = 8  # our judgement: more than anybody carries, and the page stays small
HOLE: Final = "A hole becomes an f-number by its distance to the paper: enter its focal length, or name its camera."
USUAL_APERTURE_F: Final = 22.0  # our judgement: where a sheet's lens is sharp over the whole of it
WORTH_TAKING: Final = frozenset({Note.EI_UNKNOWN, Note.OTHER_LIGHT, Note.TYPED_WINS, Note.GIVES_NO_EI})


class CarriedAlong(ThingsInHand):
    """Of the things in hand, the lens may stay open: then every lens goes along."""

    lens: Annotated[
        str | None, Thing(kind="lens", help="Only this lens; all lenses of the book, unless you say.", example="210 mm lens in a leaf shutter")
    ] = None


OutdoorsForm: type[CarriedAlong] = create_model(
    "OutdoorsForm",
    __base__=CarriedAlong,
    __doc__="What is taken along: a paper with all lenses of the book, or with one of them.",
    **relaxed(LedgerQuestion, without=OF_A_SCENE),
)


def take_along(given: Mapping[str, object]) -> Kit:
    """The kit for what was named and typed, by the book as it stands; raises `BadQuestion` with every fault."""
    with plain_trouble():
        form, typed = _read(given)
        named = {name: value for name, value in typed.items() if name not in {"lens", "light", *OF_A_LIGHT}}
        light = str(plan({**typed, **START, "lens": None}).question.get("light_class", ""))
        planned = plan({**named, **START, "light_class": "unknown"})
        known = {name: value for name, value in planned.question.items() if name not in {*START, *OF_A_LIGHT, *NEARNESS}}
        process = str(planned.question.get("process", "direct positive"))
        return Kit(
            paper=str(typed.get("paper") or "Any paper"),
            process=process,
            fields=known,
            lenses=_lenses(typed, known, planned.question.get("extension_mm")),
            lights=_lights(named),
            light=light,
            places=[_place(side) for side in sorted(sides(), key=lambda side: side.state != "loaded")],  # what is ready stands first
            log={"process": process, **{name: str(typed[name]) for name in ("paper", "camera", "meter") if typed.get(name)}},
            reads=_reads(typed),
            aperture_f=form.model_dump().get("aperture_f") or USUAL_APERTURE_F,
            rests=_rests(planned),
            cautions=_cautions(planned),
            made=__version__,
            day=f"{localtime(now()).day} {localtime(now()):%B %Y}",
            invented=getattr(settings, "EXAMPLE", False),
        )


def _read(given: Mapping[str, object]) -> tuple[Typed, dict[str, object]]:
    """What was typed, every fault of it at once; a reading is none of it."""
    typed = {name: value for name, value in given.items() if value is not None and value != ""}
    faults: list[Fault] = []
    try:
        form: Typed = OutdoorsForm.model_validate(typed)
    except BadQuestion as bad:
        faults += bad.faults
    _, strange = find_things(_kinds(), typed)
    faults += [one for one in strange if one.field not in {fault.field for fault in faults}]
    if not faults and not (typed.get("lens") or typed.get("focal_mm") or Lens.objects.filter(archived_at=None).exists()):
        faults.append(Fault("lens", "", "No lens is in the book yet. Enter one, or give a focal length."))
    if faults:
        raise BadQuestion(faults)
    return form, typed


def _kinds() -> dict[str, str]:
    return {name: mark.kind for name, mark in fields_of(OutdoorsForm).items() if isinstance(mark, Thing)}


def _lights(named: Mapping[str, object]) -> list[Taken]:
    """Every class of light: what own sheets of this paper say of it where any lay in it, else the table of lights says it."""
    paper = Paper.objects.filter(name=named.get("paper", "")).first()
    told = told_by(paper, str(named.get("process", "direct positive"))) if paper else None
    found = []
    for light in LIGHTS:
        fields: dict[str, Any] = {"light_class": light}
        if told is not None and told.in_light(light):
            question = plan({**named, **START, **fields}).question
            fields |= {name: question[name] for name in OF_A_LIGHT + LEARNT_IN_IT if name in question}
        found.append(Taken(light, fields))
    return found


def _lenses(typed: Mapping[str, object], known: Mapping[str, Any], depth_mm: float | None) -> list[Taken]:
    """The lens that was named, or all of the book, those used last first; or a lens that only its focal length says."""
    named = typed.get("lens")
    if named is None and "focal_mm" in typed:
        return [Taken(f"{MILLIMETRE.show(known['focal_mm'])} lens", {}, known=False)]
    found = Lens.objects.filter(archived_at=None, **({"name": named} if named else {}))
    order = sorted(found, key=lambda lens: (-_last_used(lens), lens.name))
    taken = [Taken(lens.name, fields) for lens in order if (fields := _fields_of_lens(lens, typed, depth_mm)) is not None]
    if not taken:
        raise BadQuestion(
            [Fault("lens", str(named or ""), "A hole becomes an f-number by its distance: enter its focal length, or name its camera.")]
        )
    return taken[:MOST_LENSES]


def _last_used(lens: Lens) -> float:
    last = lens.exposures.order_by("exposed_at").last()
    return 0.0 if last is None else float(last.exposed_at.timestamp())


def _fields_of_lens(lens: Lens, typed: Mapping[str, object], depth_mm: float | None) -> dict[str, Any] | None:
    """What the book knows of a lens; what was typed for every lens wins. A hole needs its distance to the paper: the camera's, where it has one."""
    known, _ = known_from_book({"lens": lens}, typed, "")
    fields = {one.field: one.value for one in known}
    if "stop_mm" not in fields or "focal_mm" in fields:
        return fields
    return None if depth_mm is None else fields | {"extension_mm": depth_mm}


def _place(side: HolderSide) -> Place:
    """`holder 1/1`: as people see it when they choose, with what is in it."""
    holds = {"loaded": f"{side.lot}", "exposed": f"exposed, {side.sheet}"}.get(side.state, side.state)
    return Place(
        f"{side.holder}/{side.side}", f"{side.holder}, side {side.side}: {holds}", side.state == "exposed", side.state in {"empty", "unloaded"}
    )


def _reads(typed: Mapping[str, object]) -> str:
    """Which way of reading stands on the page first."""
    meter = Meter.objects.filter(name=typed.get("meter", "")).first()
    return "lx" if meter is not None and meter.reads == "incident" else "ev"


def _rests(planned: Planned) -> str:
    """What the paper's EI is, and what it rests on."""
    line = planned.answer.ledger[1]
    return f"{line.what.partition(' instead')[0]}: {line.source}."


def _cautions(planned: Planned) -> Sequence[str]:
    """What the book says besides, where it matters outdoors."""
    return [note.sentence for note in (*planned.notes, *planned.answer.notes) if note.note in WORTH_TAKING and note.severity != "know"]
