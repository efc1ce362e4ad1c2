"""The Camera: how long, and how sure is that? The address is the state; a record is made on its own page, after the exposure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Rests
from silverwright.book.queries import last_metered, names
from silverwright.errors import BadQuestion, Fault
from silverwright.report.scale import Doubt, doubt_scale
from silverwright.vocabulary import FOCAL_MM
from silverwright.web.fields import Field, by_field, fields, sent_text, typed_in, written
from silverwright.web.figures import Figure, Ledger, big_time, figure, ledger, sources
from silverwright.web.live import address, keep_address, left, live, swapped, told
from silverwright.workshop.plan import OF_THE_LENS, THINGS, FromBook, Planned, plan
from silverwright.workshop.scene import PlanForm

WAYS: Final[dict[str, tuple[str, tuple[str, ...]]]] = {
    "ev": ("EV", ("reading_ev",)),
    "lx": ("lx", ("reading_lx",)),
    "cd": ("cd/m²", ("reading_cd_per_m2",)),
    "dial": ("dial", ("dial_time_s", "dial_aperture_f", "dial_ei")),
}
BROUGHT_BY: Final = {"lens": OF_THE_LENS, "meter": ("meter_k", "meter_c", "incident_head"), "camera": ("turned",)}
UNSAID: Final = {"aperture_scale": "as the lens in hand", "turned": "as the camera in hand", "reciprocity_model": "as the book has it"}
AS_USUAL: Final = {"process": "direct positive", "bracket_sheets": "1"}  # what the question takes by itself needs no place in the address
IN_HAND: Final = ("paper", "lens", "camera", "light", "meter", "process")
FIRST: Final = ("paper", "lens")  # what is worth entering before anything else
MAIN: Final = ("extension_mm", "aperture_f")
DRAWERS: Final[dict[str, tuple[str, ...]]] = {
    "Paper's EI": ("paper_ei", "paper_ei_sd_stops"),
    "Lens": ("focal_mm", "pupil_factor", "aperture_scale", "timed_by"),
    "Distance or sizes": ("subject_mm", "image_size_mm", "subject_size_mm", "magnification_factor", "ruler_sd_mm"),
    "Meter": ("incident_head", "meter_k", "meter_c", "reading_sd_stops"),
    "Filter": ("filter_factor",),
    "Tone": ("reading_tone",),
    "Reciprocity": ("reciprocity_model", "own_points", "exponent_factor", "exponent_sd", "surest_at_s"),
    "Image": ("turned",),
}
ON_THE_PAGE: Final = frozenset(chain(IN_HAND, MAIN, chain.from_iterable(names for _, names in WAYS.values()), chain.from_iterable(DRAWERS.values())))
TAKEN: Final = {
    "Paper's EI": "from your own sheets, or unknown",
    "Lens": "as the lens in hand has it, aperture as marked",
    "Distance or sizes": "not needed with the extension",
    "Meter": "as the meter in hand has it",
    "Filter": "none",
    "Tone": "the reading is of a mid-grey",
    "Reciprocity": "our first guess for paper, until your own sheets and tests say more",
    "Image": "mirror image, unless the camera in hand turns it",
}


@dataclass(frozen=True, slots=True)
class Way:
    """One way to give the reading, with its fields."""

    name: str
    label: str
    chosen: bool
    fields: Sequence[Field]


@dataclass(frozen=True, slots=True)
class Drawer:
    """What is seldom changed, and what is taken while it is closed."""

    label: str
    says: str
    open: bool
    fields: Sequence[Field]


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed, the way of the reading, and what came of it."""

    typed: Mapping[str, str]
    way: str
    planned: Planned | None
    faults: Mapping[str, Fault]

    @property
    def state(self) -> dict[str, str]:
        """Everything that the address holds."""
        return {"by": self.way, **self.typed} if self.typed else {}


def camera(request: HttpRequest) -> HttpResponse:
    """Show the exposure for what stands in the address; a bare address shows the last one again."""
    sent = sent_text(request.GET)
    again = {} if sent or live(request) else last_time()
    asked = ask(sent or again)
    context = {"as_last_time": bool(again), **page_of(request, asked)}
    if live(request) and not left(request) and asked.faults:
        response = render(request, "parts/camera_waits.html", context)
        response["HX-Reswap"] = "none"  # the last answer stays, pale, while somebody is still typing
        return keep_address(response, request, asked.state)
    response = render(request, "parts/camera_live.html" if live(request) else "camera.html", context)
    return keep_address(response, request, asked.state)


def last_time() -> dict[str, str]:
    """What stood on the Camera for the newest metered exposure; what its things know is left to them, so that another lens brings its own."""
    exposure = last_metered()
    if exposure is None:
        return {}
    in_hand = {"paper": exposure.sheet.paper, "lens": exposure.lens, "camera": exposure.camera, "light": exposure.light, "meter": exposure.meter}
    there = {name: str(thing) for name, thing in in_hand.items() if thing is not None and thing.archived_at is None}
    known = {field for name in there for field in BROUGHT_BY.get(name, ())} | {"timed_by"}  # another time may be too long for the shutter
    aperture = {"aperture_f": exposure.aperture_f} if exposure.aperture_f is not None else {}
    scene = {name: value for name, value in {"process": exposure.process, **exposure.scene, **aperture}.items() if name not in known}
    return there | written(PlanForm, scene)


def ask(sent: Mapping[str, str]) -> Asked:
    """Ask the plan with what was typed; of the four ways of reading only the chosen one counts."""
    way = way_of(sent)
    other = {name for one, (_, names) in WAYS.items() if one != way for name in names}
    typed = {name: text for name, text in typed_in(sent, PlanForm).items() if name not in other and AS_USUAL.get(name) != text}
    try:
        return Asked(typed, way, plan(typed), {})
    except BadQuestion as bad:
        return Asked(typed, way, None, by_field(_of_this_way(fault, way, other) for fault in bad.faults))


def _of_this_way(fault: Fault, way: str, other: set[str]) -> Fault:
    """A reading that is missing is missing in the way that was chosen."""
    first = WAYS[way][1][0]
    if fault.given or fault.field not in {first, *other}:
        return fault
    return Fault(first, "", f"Needed. {fields_of(PlanForm)[first].help}")


def way_of(sent: Mapping[str, str]) -> str:
    """The way that was chosen, or the one that something was typed for."""
    if sent.get("by") in WAYS:
        return sent["by"]
    return next((way for way, (_, names) in WAYS.items() if any(name in sent for name in names)), "ev")


def page_of(request: HttpRequest, asked: Asked) -> dict[str, object]:
    """Everything that the page and its live part show."""
    faults = told(request, asked.faults) if asked.typed else {}
    things = None if live(request) else names  # while somebody types, what there is to choose from stands there already
    shown = {field.name: field for field in fields(PlanForm, asked.typed, faults, things=things, unsaid=UNSAID)}
    ways = [Way(name, label, name == asked.way, [shown[one] for one in names]) for name, (label, names) in WAYS.items()]
    main = [shown[name] for name in (("focal_mm",) if "lens" not in asked.typed else ()) + MAIN]
    seen = {field.name for field in main}
    drawers = [_drawer(label, [shown[name] for name in names if name not in seen]) for label, names in DRAWERS.items()]
    return {
        "ways": ways,
        "main": main,
        "drawers": [drawer for drawer in drawers if drawer.fields],
        "bracket": shown["bracket_sheets"],
        "hand": _hand(asked, [shown[name] for name in IN_HAND]),
        "swapped": swapped(request, _places(shown, asked), asked.faults),
        "waiting": _waiting(asked, shown),
        "waits_for": ", ".join(dict.fromkeys(shown[name].label.lower() for name in asked.faults if name in shown)),
        **(answered(asked, asked.planned) if asked.planned else {}),
    }


def answered(asked: Asked, planned: Planned) -> dict[str, object]:
    """The answer with its scale and its ledger, and where it leads."""
    answer = planned.answer
    time = figure("time_s", fields_of(type(answer))["time_s"], answer.time_s)
    settable = big_time(answer.settable_s.value or 0)
    return {
        "answer": answer,
        "notes": (*planned.notes, *answer.notes),
        "time": time,
        "settable": settable if settable != time.value else "",
        "scale": _scale(planned),
        "chances": [f"{percent:.0f}" for percent in answer.chance_percent],
        "ledger": _ledger(planned, time),
        "sources": sources(answer),
        "records": _records(asked, planned),
        "note_href": address("/camera/fieldnote.pdf", asked.state),
    }


def _records(asked: Asked, planned: Planned) -> list[dict[str, str]]:
    """Where each sheet of the picture is recorded."""
    bracket = planned.answer.bracket_s if len(planned.answer.bracket_s) > 1 else (planned.answer.settable_s.value or 0,)
    words = ["Record a sheet"] if len(bracket) == 1 else [f"Record {big_time(time_s)}" for time_s in bracket]
    return [
        {"words": word, "href": address("/camera/record", {**asked.typed, "given_s": str(time_s).removesuffix(".0")})}
        for word, time_s in zip(words, bracket, strict=True)
    ]


def _scale(planned: Planned) -> SafeString:
    time, bracket = planned.answer.time_s, planned.answer.bracket_s
    drawn = doubt_scale(Doubt(time.value or 0, time.low, time.high, bracket), big_time)
    return mark_safe(drawn)  # noqa: S308 (drawn by report/scale.py from numbers only)


def _ledger(planned: Planned, time: Figure) -> Ledger | None:
    most = max(planned.answer.ledger, key=lambda line: line.doubt)
    return ledger(
        planned.answer.ledger,
        caption="Exposure ledger in stops from one second",
        total=f"From one second to {time.value}",
        says=f"most of the doubt: {most.what[0].lower()}{most.what[1:]}",
    )


def _waiting(asked: Asked, shown: Mapping[str, Field]) -> str:
    """What the answer waits for, in words; nothing is wrong with a page that nobody has filled in yet."""
    if not asked.typed:
        return ""
    labels = {name: shown[name].label.lower() if name in shown else fault.problem for name, fault in asked.faults.items()}
    missing = [labels[name] for name, fault in asked.faults.items() if not fault.given]
    unread = [labels[name] for name, fault in asked.faults.items() if fault.given]
    parts = (f"Still needed: {', '.join(missing)}." if missing else "", f"To mend: {', '.join(unread)}." if unread else "")
    return " ".join(part for part in parts if part)


def _drawer(label: str, of: Sequence[Field]) -> Drawer:
    """A drawer says what is in it: what was typed, or what is taken instead."""
    typed = [" ".join(filter(None, (field.label if field.label != label else "", _first_line(field), field.sign))) for field in of if field.typed]
    return Drawer(label, ", ".join(typed) or TAKEN[label], any(field.problem for field in of), of)


def _first_line(field: Field) -> str:
    lines = field.typed.splitlines()
    return lines[0] if len(lines) == 1 else f"{len(lines)} lines"


@dataclass(frozen=True, slots=True)
class InHand:
    """One thing of the book that is in use, and what it brings."""

    name: str
    rests: str
    words: str


def _places(shown: Mapping[str, Field], asked: Asked) -> list[Field]:
    """The fields that the page has; a thing in hand has one only where the book has some to choose from."""
    return [field for name, field in shown.items() if name in ON_THE_PAGE and (name not in THINGS or name in asked.typed)]


def _hand(asked: Asked, shown: Sequence[Field]) -> dict[str, object]:
    """What is in use, what the book has to choose from, and what it lacks."""
    known = {one.field: one for one in asked.planned.from_book} if asked.planned else {}
    used = {**AS_USUAL, **asked.typed}
    named = [name for name in IN_HAND if name in used and (name != "process" or THINGS.keys() & asked.typed.keys())]
    things = [InHand(used[name], *_brings(name, known, asked)) for name in named]
    lacks = [{"href": f"/book/do/{field.name}", "words": f"Enter a {field.name}"} for field in shown if not field.choices and field.name in FIRST]
    return {"things": things, "fields": [field for field in shown if field.choices], "lacks": lacks}


def _brings(name: str, known: Mapping[str, FromBook], asked: Asked) -> tuple[Rests, str]:
    """What a thing in hand brings, or what is taken because it says nothing; of a paper whose EI was not asked for, nothing."""
    if name == "paper":
        silent = asked.planned is None or "paper_ei" in asked.typed
        return ("own", known["paper_ei"].says) if "paper_ei" in known else ("judgement", "" if silent else "none of your own sheets yet")
    if name == "lens":
        focal = known.get("focal_mm")
        words = FOCAL_MM.unit.show(focal.value) if focal else ""
        return ("own", words) if "pupil_factor" in known else ("judgement", f"{words}, pupils taken as equal".removeprefix(", "))
    return "own", ""
