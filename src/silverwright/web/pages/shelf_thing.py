"""One bath, one bottle, one waste bottle: what can hurt first, then what is in it, how strong it is, and everything that happened to it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final
from urllib.parse import quote, urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.asking.show import show
from silverwright.book.models import BathEvent, Stock, StockTest
from silverwright.book.shelf import BathKnown, StrengthNow, bath_known, rules, stock_known, waste_known
from silverwright.book.shelf_words import day_said, empty, event_said, left_said, strength_said
from silverwright.book.strongest import strongest_in
from silverwright.questions.afterwards import buying_of, disposal_of, storage_of
from silverwright.questions.ingredients import ingredients_of
from silverwright.questions.substances import named
from silverwright.records_chemistry import Contents
from silverwright.units import GRAM
from silverwright.vocabulary_chemistry import STRENGTH_PERCENT_WW
from silverwright.web.changes import told_changes
from silverwright.web.dangers import told_hazards
from silverwright.web.pages.shelf import bath_card, bottle_card, is_peroxide, line_of, waste_card
from silverwright.web.recorded import recorded
from silverwright.web.vessels import Dangers
from silverwright.web.when import moment

MORE_ACTS: Final = (
    ("Sheets went through it", "use-bath"),
    ("Replenish", "replenish"),
    ("Filter", "filter-bath"),
    ("It stood open", "leave-open"),
    ("Split", "split-bath"),
    ("Pour together", "merge-baths"),
)
LABELS: Final[Mapping[str, str]] = {"bath": "baths", "stock": "bottles", "waste-bottle": "waste bottles"}
EMPTY: Final = Contents(0.0)
SILVER: Final = "silver"
ENDED: Final[Mapping[str, str]] = {"discarded": "It was discarded.", "merged": "It was poured together with another bath."}


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that happened."""

    when: str
    head: str
    says: str


@dataclass(frozen=True, slots=True)
class StrengthLine:
    """One substance of a bath: how strong, in large type, and drawn."""

    amount: str
    says: str
    line: str


def bath(request: HttpRequest, name: str) -> HttpResponse:
    """One bath with everything that happened to it."""
    known = bath_known(name)
    card = bath_card(known, rules())
    more = (
        *((words, f"/book/do/{deed}?{urlencode({'bath': known.bath.name})}") for words, deed in MORE_ACTS),
        ("What if I add to it", f"/ask/chemistry.added?{urlencode(_as_given(known.contents))}"),
    )
    context = {
        "done": recorded(request),
        "card": card,
        "ended": ENDED.get(known.bath.state, ""),
        "hazards": _hurts(known.contents),
        "strengths": [_strength(one) for one in known.strengths] if not empty(known.contents) else [],
        "acts": () if known.bath.state != "in use" else (*card.acts, *more),
        "events": story(known.events),
        "balance": balance(known),
        "label": label_href("bath", known.bath.name),
        "changes": told_changes(known.changes, only_corrections=True),
    }
    return render(request, "shelf/bath.html", context)


def stock(request: HttpRequest, name: str) -> HttpResponse:
    """One bottle with its tests."""
    known = stock_known(name)
    chosen = urlencode({"stock": known.stock.name})
    acts = (
        ("Dilute it", f"/shelf/dilute?{chosen}"),
        *((("Test its strength", f"/shelf/test?{chosen}"),) if is_peroxide(known.stock) else ()),
        ("Correct it", f"/book/correct/stock/{quote(known.stock.name, safe='')}"),
    )
    context = {
        "done": recorded(request),
        "card": bottle_card(known, rules()),
        "hazards": told_hazards(strongest_in(known.stock), rules()),
        "keeping": [*storage_of(strongest_in(known.stock) or EMPTY), *buying_of(strongest_in(known.stock) or EMPTY)],
        "facts": _stock_facts(known.stock, left_said(known)),
        "strength": _percent(known.strength_percent_ww) if known.strength_percent_ww else "",
        "strength_from": "as tested" if known.tested else "by its label",
        "unclear": known.unclear,
        "tests": [_tested(one) for one in known.tests],
        "acts": acts,
        "label": label_href("stock", known.stock.name),
        "sheet": known.stock.data_sheet,
        "changes": told_changes(known.changes, only_corrections=True),
        "remarks": known.stock.remarks,
    }
    return render(request, "shelf/stock.html", context)


def waste(request: HttpRequest, name: str) -> HttpResponse:
    """One waste bottle."""
    known = waste_known(name)
    chosen = urlencode({"waste": known.bottle.name})
    context = {
        "done": recorded(request),
        "card": waste_card(known, rules()),
        "hazards": _hurts(known.contents),
        "numbers": disposal_of(known.contents) if known.contents.mass_g else (),
        "holds": [(named(key), GRAM.show(mass_g)) for key, mass_g in sorted(known.contents.mass_g.items(), key=lambda one: -one[1])],
        "acts": (("Pour away into it", f"/shelf/discard?{chosen}"), ("It was emptied", f"/book/do/empty-waste?{chosen}")),
        "label": label_href("waste-bottle", known.bottle.name),
    }
    return render(request, "shelf/waste.html", context)


def balance(known: BathKnown) -> list[tuple[str, list[str]]]:
    """For each substance what came in, and where it is now."""
    columns = (known.came_in_g, known.contents.mass_g, known.carried_g, known.reacted_g, known.disposed_g)
    keys = sorted(known.came_in_g, key=lambda key: -known.came_in_g[key])
    return [(named(key), [GRAM.show(column.get(key, 0.0)) for column in columns]) for key in keys]


def _as_given(contents: Contents) -> Mapping[str, str]:
    """A bath as a question takes it; the silver in it changes nothing that is asked there."""
    dissolved = Contents(contents.volume_ml, {key: mass_g for key, mass_g in contents.mass_g.items() if key != SILVER and mass_g > 0})
    rows = (f"{row.substance}; {row.amount:.4g}; {row.unit}" for row in ingredients_of(dissolved))
    return {"volume_ml": f"{contents.volume_ml:.0f}", "ingredients": "\n".join(rows)}


def _hurts(contents: Contents) -> Dangers | None:
    """What can hurt of a bath or of waste; an empty vessel has nothing of its own."""
    return told_hazards(contents, rules()) if not empty(contents) else None


def label_href(kind: str, name: str) -> str:
    """Its label as PDF."""
    return f"/shelf/labels.pdf?{urlencode({'what': LABELS[kind], 'names': name})}"


def _strength(one: StrengthNow) -> StrengthLine:
    amount = f"{one.now.value:.3g} %" if one.now.value is not None else "unknown"
    return StrengthLine(amount, strength_said(one), line_of(one))


def story(events: Sequence[BathEvent]) -> list[Happened]:
    """What happened, in its order; sheets that went through one after the other stand together."""
    told = []
    for what, group in groupby(events, key=lambda one: one.what):
        run = list(group)
        told += [_through(run)] if what == "used" and len(run) > 1 else [_happened(one) for one in run]
    return told


def _through(run: Sequence[BathEvent]) -> Happened:
    sheets = sum(one.sheets or 0 for one in run)
    numbers = [one.step.processing.sheet.number for one in run if one.step]
    return Happened(f"{moment(run[0].happened_at)} to {moment(run[-1].happened_at)}", f"{sheets:g} sheets went through", ", ".join(numbers))


def _happened(event: BathEvent) -> Happened:
    head, _, says = event_said(event).partition(": ")
    return Happened(moment(event.happened_at), head[:1].upper() + head[1:], says)


def _tested(test: StockTest) -> Happened:
    low, value, high = test.low_percent_ww, test.strength_percent_ww, test.high_percent_ww
    found = "" if value is None else f"{value:.3g} % w/w"
    between = f", between {low:.3g} and {high:.3g}" if low is not None and high is not None else ""
    return Happened(moment(test.tested_at), test.tested_by[:1].upper() + test.tested_by[1:], f"{found}{between}")


def _stock_facts(stock: Stock, left: str) -> Sequence[tuple[str, str]]:
    told = (
        ("Substance", named(stock.substance)),
        ("Left", left),
        ("Container", stock.container if stock.container != "unknown" else ""),
        ("Cap", "vented" if stock.vented else ""),
        ("Bought", day_said(stock.bought_on) if stock.bought_on else ""),
        ("Opened", day_said(stock.opened_on) if stock.opened_on else ""),
        ("Best before", day_said(stock.best_before) if stock.best_before else ""),
        ("Kept", stock.kept_where),
        ("Price", f"{stock.price:g}" if stock.price is not None else ""),
    )
    return [(label, says) for label, says in told if says]


def _percent(estimate: object) -> str:
    return show(STRENGTH_PERCENT_WW, estimate)
