"""
Questions beside the exposure: each is one operation of the catalogue, opened when wanted.

A field that the page has already is not asked again, what the ledger or the book answers is handed on, and only what is left stands in the section.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from django.http import HttpRequest

from silverwright.asking.fields import fields_of, label_of
from silverwright.asking.operation import Answer, AnyOperation, Estimate
from silverwright.asking.show import as_typed, show
from silverwright.catalogue import find
from silverwright.errors import BadQuestion, Fault, NotEnoughReadings, OutOfRange
from silverwright.units import flashes_said
from silverwright.web.answers import Shown, shown
from silverwright.web.fields import Field, by_field, fields
from silverwright.web.figures import Figure, Ledger, ledger
from silverwright.web.live import address, swapped, told
from silverwright.web.pages.camera_asked import Asked
from silverwright.web.pages.camera_handed import OF_THE_BOOK, SITTER, handed
from silverwright.web.pages.camera_sections import QUIET, SECTIONS, Besides, Section, own_fields

BY_FLASH: Final = "By flash there is no time to plan: one flash is over before anything moves or changes."
SERIES: Final = (
    "Between {flashes} a sitter moves as in a long exposure. "
    "Say under Flash how long it takes until it is ready again: then the whole series is asked."
)
ROWS: Final = 3  # our judgement: two readings and room for one more
FIRST_LETTER: Final = 2  # arithmetic: `EI` stays as it is, `Aperture` begins small


@dataclass(frozen=True, slots=True)
class Take:
    """What of an answer the ledger can be asked with, as a link."""

    words: str
    href: str


@dataclass(frozen=True, slots=True)
class Told:
    """The answer of a section, or what it waits for, and what of the page it was asked with."""

    waits: str = ""
    under: str = ""
    figures: Sequence[Figure] = ()
    more: Sequence[Figure] = ()
    all: Shown | None = None
    ledger: Ledger | None = None
    answer: Answer | None = None
    take: Take | None = None
    taken: str = ""
    href: str = ""


@dataclass(frozen=True, slots=True)
class Beside:
    """A section as the page shows it; closed, it costs one line."""

    name: str
    label: str
    asks: str
    open: bool
    fields: Sequence[Field] = ()
    seldom: Sequence[Field] = ()
    seldom_open: bool = False
    told: Told = field(default_factory=Told)
    swapped: Sequence[Field] = ()


@dataclass(frozen=True, slots=True)
class Page:
    """What stands on the page around a section, and the fields that stand in it."""

    asked: Asked
    beside: Besides
    here: frozenset[str]


def line_pressed(request: HttpRequest) -> bool:
    """Was a section just opened or closed?"""
    return request.headers.get("HX-Target") == "beside"


def sections(request: HttpRequest, asked: Asked, beside: Besides) -> list[Beside]:
    """Every section; only what is open is asked."""
    places = _places(beside)
    return [_section(request, asked, beside, one, places[one.name]) for one in SECTIONS]


def _places(beside: Besides) -> dict[str, list[str]]:
    """The fields that stand in each section; one that several ask for stands in the first of them that is open."""
    placed: dict[str, list[str]] = {}
    seen: set[str] = set()
    for section in sorted(SECTIONS, key=lambda one: one.name not in beside.open):
        placed[section.name] = [name for name in own_fields(section.operation) if name not in seen]
        seen |= set(placed[section.name])
    return placed


def _section(request: HttpRequest, asked: Asked, beside: Besides, section: Section, own: Sequence[str]) -> Beside:
    operation = find(section.operation)
    closed = Beside(section.name, section.label, operation.asks, open=False)
    touched = any(name in beside.typed for name in own)
    if section.name not in beside.open:
        return replace(closed, fields=fields(operation.question, beside.typed, {}, only=own)) if touched else closed
    known = handed(asked, beside, operation)
    given = _given(operation, asked, beside, known)
    answer, faults = _answer(operation, given)
    if OF_THE_BOOK & known.keys() & faults.keys() - beside.typed.keys():  # a curve of long ago that today's question refuses
        given = _given(operation, asked, beside, known := {name: one for name, one in known.items() if name not in OF_THE_BOOK})
        answer, faults = _answer(operation, given)
    wanted = [name for name in own if name in beside.typed or name not in OF_THE_BOOK or "curve" not in known]
    own_faults = {name: fault for name, fault in faults.items() if name in wanted}
    shown_faults = told(request, own_faults) if touched else {}
    places = [_filled(one, known, operation) for one in fields(operation.question, beside.typed, shown_faults, only=wanted)]
    page = Page(asked, beside, frozenset(wanted))
    return replace(
        closed,
        open=True,
        fields=[one for one in places if one.name not in section.seldom],
        seldom=[one for one in places if one.name in section.seldom],
        seldom_open=any(one.typed for one in places if one.name in section.seldom),
        swapped=swapped(request, places, own_faults),
        told=_told(section, operation, page, given, answer) if answer else _waiting(operation, given, faults, page),
    )


def _given(operation: AnyOperation, asked: Asked, beside: Besides, known: Mapping[str, object]) -> dict[str, Any]:
    """What a question is asked with: what is handed on, the page's own fields as the book fills them in or as typed, and its own fields."""
    names = operation.question.model_fields
    planned = asked.either.question if asked.either else {}
    return {**known, **{name: value for name, value in {**planned, **asked.typed, **beside.typed}.items() if name in names}}


def _filled(place: Field, known: Mapping[str, object], operation: AnyOperation) -> Field:
    """A field that something else fills in shows what stands there while it is empty; a table begins small."""
    if place.kind == "lines":
        return replace(place, rows=ROWS)
    if place.name not in known or place.kind != "line":
        return place
    return replace(place, placeholder=show(fields_of(operation.question)[place.name], known[place.name]).removesuffix(place.sign).strip())


def _answer(operation: AnyOperation, given: Mapping[str, object]) -> tuple[Answer | None, dict[str, Fault]]:
    try:
        return operation.ask(given), {}
    except BadQuestion as bad:
        return None, by_field(bad.faults)
    except (OutOfRange, NotEnoughReadings) as error:
        return None, {"": Fault("", "", str(error))}


def _told(section: Section, operation: AnyOperation, page: Page, given: Mapping[str, object], answer: Answer) -> Told:
    every = shown(answer, section.tones)
    values = {one.name: replace(one, name=f"{section.name}-{one.name}") for one in every.values if one.value != "unknown"}
    first = [name for name in section.first or values if name in values and not _is_nothing(getattr(answer, name))]
    return Told(
        under=f"{section.name}-",
        figures=[values[name] for name in first],
        more=[one for name, one in values.items() if name not in first],
        all=every,
        ledger=ledger(answer.ledger, caption=f"{section.label}: the working, line by line", total="All together"),
        answer=answer,
        take=_take(section, answer, page),
        taken=_taken(operation, given, page),
        href=_alone(operation, given),
    )


def _is_nothing(value: object) -> bool:
    """A loss of nothing, for sure: told among the other figures."""
    return isinstance(value, Estimate) and value.value == value.low == value.high == 0


def _take(section: Section, answer: Answer, page: Page) -> Take | None:
    """The link that puts figures of this answer into the fields of the ledger."""
    values = {name: getattr(answer, one).value for name, one in section.takes.items()}
    if not values or None in values.values():
        return None
    typed = {name: f"{value:.2f}".rstrip("0").rstrip(".") for name, value in values.items()}
    return Take(section.take, address("/camera", page.asked.state | page.beside.state | {"by": "ev"} | typed))


def _taken(operation: AnyOperation, given: Mapping[str, object], page: Page) -> str:
    """What of the page and of the book a question was asked with, as people read it."""
    marks = fields_of(operation.question)
    asked = operation.question.model_validate(given)
    used = [(name, getattr(asked, name)) for name in given if name in marks and name not in QUIET | page.here]
    return ", ".join(f"{small(label_of(name, marks[name]))} {show(marks[name], value)}" for name, value in used if value is not None)


def small(label: str) -> str:
    """A label inside a sentence: `paper's EI`, `EI from`."""
    return label if label[:FIRST_LETTER].isupper() else label[0].lower() + label[1:]


def _alone(operation: AnyOperation, given: Mapping[str, object]) -> str:
    """The same question by itself, with everything that it was asked with."""
    return address(f"/ask/{operation.name}", as_typed(given))


def _waiting(operation: AnyOperation, given: Mapping[str, object], faults: Mapping[str, Fault], page: Page) -> Told:
    """What a section still needs, and what it cannot read."""
    if page.asked.way == "flash" and "exposure_s" in faults:
        many = (asked.answer.set_flashes.value or 0) if (asked := page.asked.flashes) else 0
        return Told(waits=SERIES.format(flashes=flashes_said(many)) if many > 1 and operation.name == SITTER else BY_FLASH)
    marks = fields_of(operation.question)
    said = {name: small(label_of(name, marks[name])) if name in marks else fault.problem for name, fault in faults.items()}
    missing = [said[name] for name, fault in faults.items() if name in marks and not fault.given]
    unread = [said[name] for name, fault in faults.items() if name in marks and fault.given]
    others = [said[name] for name in faults if name not in marks]
    parts = (f"Still needed: {', '.join(missing)}." if missing else "", f"To mend: {', '.join(unread)}." if unread else "", *others)
    return Told(waits=" ".join(part for part in parts if part), href=_alone(operation, given))
