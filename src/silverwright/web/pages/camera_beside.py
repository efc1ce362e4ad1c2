"""
Questions beside the exposure: each is one operation of the catalogue, opened when wanted.

A field that the page has already is not asked again, what the ledger answered is handed on, and only what is left stands in the section.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, Final

from django.http import HttpRequest

from silverwright.asking.fields import fields_of, label_of
from silverwright.asking.operation import Answer, AnyOperation, Estimate
from silverwright.asking.show import show
from silverwright.catalogue import find
from silverwright.errors import BadQuestion, Fault, NotEnoughReadings, OutOfRange
from silverwright.web.answers import Shown, shown
from silverwright.web.fields import Field, by_field, fields
from silverwright.web.figures import Figure, Ledger, ledger
from silverwright.web.live import address, swapped, told
from silverwright.web.pages.camera_asked import Asked
from silverwright.workshop.scene import ABOUT_LONG_TIMES, ABOUT_THE_LIGHT, PlanForm

OPEN: Final = "open"
UNSAID: Final = ABOUT_LONG_TIMES | ABOUT_THE_LIGHT | {"paper_ei_sd_stops", "ei_from", "ei_rests_on"}  # what the book knows of them is in the ledger


@dataclass(frozen=True, slots=True)
class Section:
    """One question beside the exposure: its name in the address, the operation, its sign, and the figures that stand first."""

    name: str
    operation: str
    label: str
    first: tuple[str, ...] = ()


SECTIONS: Final = (
    Section("changing", "exposure.changing", "Changing light", ("end_s", "remaining_s", "done_percent")),
    Section("strip", "exposure.strips", "Test strip"),
)


@dataclass(frozen=True, slots=True)
class Told:
    """The answer of a section, or what it waits for, and what of the page it was asked with."""

    waits: str = ""
    figures: Sequence[Figure] = ()
    more: Sequence[Figure] = ()
    all: Shown | None = None
    ledger: Ledger | None = None
    answer: Answer | None = None
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
    told: Told = field(default_factory=Told)
    swapped: Sequence[Field] = ()


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
    own = dict.fromkeys(name for section in SECTIONS for name in own_fields(section.operation))
    typed = {name: text for name in own if (text := request.GET.get(name, "")).strip()}
    return Besides(typed, tuple(section.name for section in SECTIONS if section.name in wanted))


def just_opened(request: HttpRequest) -> str:
    """The section whose line was just pressed, open or closed."""
    target = request.headers.get("HX-Target", "")
    return next((section.name for section in SECTIONS if target == f"b-{section.name}"), "")


@cache
def own_fields(operation: str) -> tuple[str, ...]:
    """The fields of a question that the Camera does not have, and the ledger does not answer."""
    return tuple(name for name in fields_of(find(operation).question) if name not in PlanForm.model_fields and name not in ANSWERED)


def sections(request: HttpRequest, asked: Asked, beside: Besides, only: str = "") -> list[Beside]:
    """Every section, or the one that is named; only what is open is asked."""
    return [_section(request, asked, beside, one) for one in SECTIONS if only in {"", one.name}]


def _section(request: HttpRequest, asked: Asked, beside: Besides, section: Section) -> Beside:
    operation, own = find(section.operation), own_fields(section.operation)
    closed = Beside(section.name, section.label, operation.asks, open=False)
    touched = any(name in beside.typed for name in own)
    if section.name not in beside.open:
        return replace(closed, fields=fields(operation.question, beside.typed, {}, only=own)) if touched else closed
    given = _given(operation, asked, beside)
    answer, faults = _answer(operation, given)
    own_faults = {name: fault for name, fault in faults.items() if name in own}
    places = fields(operation.question, beside.typed, told(request, own_faults) if touched else {}, only=own)
    return replace(
        closed,
        open=True,
        fields=places,
        swapped=swapped(request, places, own_faults),
        told=_told(section, operation, given, answer) if answer else Told(waits=_waits(operation, faults), href=_alone(operation, given)),
    )


def _given(operation: AnyOperation, asked: Asked, beside: Besides) -> dict[str, Any]:
    """What a question is asked with: the page's own fields, as typed or as the book fills them in, what the ledger answered, and its own fields."""
    names = operation.question.model_fields
    planned = asked.planned.question if asked.planned else {}
    known = {**planned, **asked.typed, **beside.typed}
    given = {name: value for name, value in known.items() if name in names}
    wanted = [name for name in ANSWERED if name in names and not (name == "magnification_factor" and "extension_mm" in names)]
    answered = {name: value for name in wanted if (value := ANSWERED[name](asked)) is not None} if asked.planned else {}
    return answered | given


def _exposure_s(asked: Asked) -> float | None:
    """The time that is set or counted."""
    return asked.planned.answer.settable_s.value if asked.planned else None


def _magnification(asked: Asked) -> float | None:
    """The magnification, from whatever says how near the subject is."""
    bellows = find("exposure.bellows")
    planned = asked.planned.question if asked.planned else {}
    answer: Any = bellows.ask({name: value for name, value in planned.items() if name in bellows.question.model_fields})
    found: Estimate = answer.magnification
    return found.value


def _doubt_stops(asked: Asked) -> float | None:
    """The doubt of the whole ledger."""
    return asked.planned.answer.doubt_stops.value if asked.planned else None


ANSWERED: Final = {"exposure_s": _exposure_s, "magnification_factor": _magnification, "doubt_stops": _doubt_stops}  # by the ledger or from it


def _answer(operation: AnyOperation, given: Mapping[str, object]) -> tuple[Answer | None, dict[str, Fault]]:
    try:
        return operation.ask(given), {}
    except BadQuestion as bad:
        return None, by_field(bad.faults)
    except (OutOfRange, NotEnoughReadings) as error:
        return None, {"": Fault("", "", str(error))}


def _told(section: Section, operation: AnyOperation, given: Mapping[str, object], answer: Answer) -> Told:
    every = shown(answer)
    values = [replace(one, name=f"{section.name}-{one.name}") for one in every.values]
    first = [f"{section.name}-{name}" for name in section.first] or [one.name for one in values]
    return Told(
        figures=[one for one in values if one.name in first],
        more=[one for one in values if one.name not in first],
        all=every,
        ledger=ledger(answer.ledger, caption=f"{section.label}: the working, line by line", total="All together"),
        answer=answer,
        taken=_taken(operation, given),
        href=_alone(operation, given),
    )


def _taken(operation: AnyOperation, given: Mapping[str, object]) -> str:
    """What of the page a question was asked with, as people read it."""
    marks = fields_of(operation.question)
    own = own_fields(operation.name)
    asked = operation.question.model_validate(given)
    used = [(name, getattr(asked, name)) for name in given if name in marks and name not in own and name not in UNSAID]
    return ", ".join(f"{_small(label_of(name, marks[name]))} {show(marks[name], value)}" for name, value in used)


def _small(label: str) -> str:
    return label if label[:2].isupper() else label[0].lower() + label[1:]


def _alone(operation: AnyOperation, given: Mapping[str, object]) -> str:
    """The same question by itself, with everything that it was asked with."""
    return address(f"/ask/{operation.name}", {name: str(value) for name, value in given.items()})


def _waits(operation: AnyOperation, faults: Mapping[str, Fault]) -> str:
    """What a section still needs, and what it cannot read."""
    marks = fields_of(operation.question)
    said = {name: _small(label_of(name, marks[name])) if name in marks else fault.problem for name, fault in faults.items()}
    missing = [said[name] for name, fault in faults.items() if name in marks and not fault.given]
    unread = [said[name] for name, fault in faults.items() if name in marks and fault.given]
    others = [said[name] for name in faults if name not in marks]
    parts = (f"Still needed: {', '.join(missing)}." if missing else "", f"To mend: {', '.join(unread)}." if unread else "", *others)
    return " ".join(part for part in parts if part)
