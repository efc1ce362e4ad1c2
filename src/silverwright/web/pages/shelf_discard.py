"""Discard a bath: why, in numbers; which waste bottle takes it, and which never, with the gas named before anything is poured."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.shelf import BathKnown, WasteKnown, bath_known, shelf
from silverwright.book.shelf_words import age_said, bath_holds, strengths_said, waste_holds, worn_said
from silverwright.errors import BadQuestion
from silverwright.questions.afterwards import disposal_of
from silverwright.web.dangers import dangers_of, ticks_of
from silverwright.web.fields import sent_text
from silverwright.web.live import address
from silverwright.web.pages.doing import Trouble, carry_out, form_fields, fresh, sent
from silverwright.web.vessels import Dangers, Taken
from silverwright.workshop.waste import DISCARD_BATH, may_go, what_fits

SELDOM: Final = ("volume_ml", "when")


@dataclass(frozen=True, slots=True)
class Choice:
    """A waste bottle to choose, with what speaks against it."""

    name: str
    says: str
    against: Sequence[str]
    minds: Sequence[str]
    dangers: Dangers
    chosen: bool


def page(request: HttpRequest) -> HttpResponse:
    """Which bath, why, and where it goes; sending it discards it."""
    typed = sent_text(request.POST if request.method == "POST" else request.GET)
    trouble = Trouble()
    if request.method == "POST":
        outcome = carry_out(DISCARD_BATH, sent(DISCARD_BATH.form, typed))
        if isinstance(outcome, HttpResponse):
            return outcome
        trouble = outcome
    there = shelf()
    chosen = typed.get("bath", "")
    known = bath_known(chosen) if chosen else None
    found = sent(DISCARD_BATH.form, typed)
    context = {
        "baths": [
            Taken(one.bath.name, f"{age_said(one.age_days)}, {bath_holds(one)}", _to(request, typed, one.bath.name), one.bath.name == chosen)
            for one in there.baths
        ],
        "known": known,
        "why": reasons(known) if known else (),
        "numbers": disposal_of(known.contents) if known else (),
        "choices": [_choice(known, one, typed.get("waste", "")) for one in there.waste] if known else (),
        "hurts": dangers_of(known.contents) if known else None,
        "ticks": ticks_of([known.contents]) if known else (),
        "fields": form_fields(DISCARD_BATH.form, found, trouble.faults, ("reason",)),
        "seldom": form_fields(DISCARD_BATH.form, found, trouble.faults, SELDOM),
        "refused": [trouble.faults[name].problem for name in ("bath", "waste") if name in trouble.faults],
        "says": trouble.says,
        "key": fresh(found, trouble).key,
    }
    return render(request, "shelf/discard.html", context, status=trouble.status)


def reasons(known: BathKnown) -> list[str]:
    """What speaks for discarding it, in numbers: nobody is told to."""
    told = [f"It is {age_said(known.age_days)} old." if known.age_days >= 1 else "It was made today.", worn_said(known)]
    told += strengths_said(known)[:2]
    if known.clearing_factor is not None:
        told.append(f"A black strip clears in {known.clearing_factor:.2g} times the time of the fresh bath.")
    return told


def _choice(known: BathKnown, waste: WasteKnown, chosen: str) -> Choice:
    """One waste bottle with what speaks against it; the act refuses the same, in the same words."""
    against, minds = list[str](), list[str]()
    going, part = what_fits(known.contents, waste.bottle)
    try:
        minds = [*([part] if part else []), *(one.sentence for one in may_go(going, waste.bottle))]
    except BadQuestion as bad:
        against = [fault.problem for fault in bad.faults]
    return Choice(waste.bottle.name, waste_holds(waste), against, minds, dangers_of(waste.contents), waste.bottle.name == chosen)


def _to(request: HttpRequest, typed: dict[str, str], bath: str) -> str:
    kept = {"waste": typed["waste"]} if "waste" in typed else {}
    return address(request.path, {"bath": bath, **kept})
