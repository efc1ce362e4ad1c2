"""The Shelf: what is there, how strong it is, how much is left, and what can hurt; what must not meet stands first."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import quote, urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe

from silverwright.book.models import Lot, Stock
from silverwright.book.queries import gear
from silverwright.book.shelf import BathKnown, StockKnown, StrengthNow, WasteKnown, rules_of, shelf
from silverwright.book.shelf_words import age_said, bath_holds, day_said, held, left_said, strength_said, worn_said
from silverwright.book.strongest import strongest_in
from silverwright.chemistry.strength import PEROXIDE
from silverwright.questions.hazard import IN_FORCE, RuleSet
from silverwright.questions.ingredients import key_of
from silverwright.report.strengthline import strength_line
from silverwright.units import MILLILITRE
from silverwright.web.dangers import dangers_of, dangers_of_waste, pairs_of
from silverwright.web.recorded import recorded, thing_href
from silverwright.web.vessels import BathCard, BottleCard, Pair

OLD_DAYS: Final = 14  # our judgement: a bath that stands for two weeks wants a look before a sheet goes into it
OLD_SAYS: Final = "It has stood for long: test it before a sheet goes into it, or mix a new one."
PAIRS_SHOWN: Final = 1  # our judgement: one sign is read, several are not; the others stand folded below it
WAYS: Final = (
    ("Mix a bath", "/shelf/mix", "From a recipe, for your vessel, step by step."),
    ("Dilute a stock", "/shelf/dilute", "One bottle and water, weighed or measured."),
    ("Test a strength", "/shelf/test", "Titration, gas, strip, or the bleach-out test."),
    ("Discard", "/shelf/discard", "Which waste bottle, and which never."),
)


def page(request: HttpRequest) -> HttpResponse:
    """Everything that stands on the shelf."""
    found = shelf()
    pairs = pairs_of(found)
    rules = rules_of(found.workroom)
    context = {
        "done": recorded(request),
        "pairs": pairs[:PAIRS_SHOWN],
        "more_pairs": pairs[PAIRS_SHOWN:],
        "baths": [bath_card(one, rules) for one in found.baths],
        "bottles": [bottle_card(one, rules) for one in found.stocks],
        "waste": [waste_card(one, rules) for one in found.waste],
        "boxes": [_box(lot) for lot in gear()["lot"] if isinstance(lot, Lot)],
        "ways": WAYS,
        "room": found.workroom,
    }
    return render(request, "shelf/page.html", context)


def bath_card(known: BathKnown, rules: RuleSet = IN_FORCE) -> BathCard:
    """A bath as it stands in its tray."""
    name = known.bath.name
    first = known.strengths[0] if known.strengths else None
    to_bath = urlencode({"bath": name})
    old = known.age_days >= OLD_DAYS and known.bath.state == "in use"
    test = ("Test it", f"/shelf/test?{to_bath}" if PEROXIDE in known.contents.mass_g else f"/book/do/test-bath?{to_bath}")
    return BathCard(
        name=name,
        href=thing_href("bath", name),
        beside=f"{known.bath.kept_in}, {age_said(known.age_days)}",
        holds=bath_holds(known),
        amount=f"{first.now.value:.3g} %" if first and first.now.value is not None else "",
        amount_says=strength_said(first) if first else "",
        more=worn_said(known) + (f" {OLD_SAYS}" if old else ""),
        line=line_of(first) if first else SafeString(""),
        dangers=dangers_of(known.contents, rules),
        acts=(test, ("Top up", f"/book/do/top-up?{to_bath}"), ("Discard", f"/shelf/discard?{to_bath}")),
        low=old,
    )


def bottle_card(known: StockKnown, rules: RuleSet = IN_FORCE) -> BottleCard:
    """A bottle as it stands on its shelf."""
    stock = known.stock
    chosen = urlencode({"stock": stock.name})
    opened = f"opened {day_said(stock.opened_on)}" if stock.opened_on else ""
    says = (known.strength_said, opened, "vented cap" if stock.vented else "", stock.kept_where)
    return BottleCard(
        name=stock.name,
        href=thing_href("stock", stock.name),
        says=", ".join(part for part in says if part),
        left=left_said(known),
        dangers=dangers_of(strongest_in(known.stock), rules),
        more="",
        acts=(("Dilute", f"/shelf/dilute?{chosen}"), *((("Test", f"/shelf/test?{chosen}"),) if is_peroxide(stock) else ())),
        cap="vented" if stock.vented else "",
    )


def waste_card(known: WasteKnown, rules: RuleSet = IN_FORCE) -> BottleCard:
    """A bottle for what is used up."""
    bottle = known.bottle
    full = f" of {MILLILITRE.show(bottle.capacity_ml)}" if bottle.capacity_ml else ""
    return BottleCard(
        name=bottle.name,
        href=thing_href("waste-bottle", bottle.name),
        says=held(known.contents) + (f", from {', '.join(known.from_baths)}" if known.from_baths else "") or "Nothing in it yet",
        left=f"{MILLILITRE.show(known.contents.volume_ml)}{full}",
        dangers=dangers_of_waste(known.contents, rules),
        more="Vented cap." if known.vented else "Closed cap: nothing with peroxide goes in.",
        acts=(("Pour away into it", f"/shelf/discard?{urlencode({'waste': bottle.name})}"),),
        cap="vented" if known.vented else "",
        waste=True,
    )


def is_peroxide(stock: Stock) -> bool:
    """Whether the tests of strength that there are tell anything of it."""
    return key_of(stock.substance) == PEROXIDE


def line_of(strength: StrengthNow) -> SafeString:
    """A strength drawn against what was mixed, where its limits are known."""
    now = strength.now
    if now.value is None or not strength.as_mixed_percent_ww:
        return SafeString("")
    low, high = (now.value if end is None else end for end in (now.low, now.high))
    return mark_safe(strength_line(low, now.value, high, strength.as_mixed_percent_ww, strength_said(strength)))  # noqa: S308 (numbers, and our own words)


@dataclass(frozen=True, slots=True)
class OnTheShelf:
    """What of the shelf matters today: the pair that must not meet, and the baths that have stood for long."""

    pair: Pair | None
    old: Sequence[tuple[str, str, str]]


def today() -> OnTheShelf:
    """For the first page."""
    found = shelf()
    pairs = pairs_of(found) if found.baths else []
    old = [one for one in found.baths if one.age_days >= OLD_DAYS]
    return OnTheShelf(
        pairs[0] if pairs else None,
        [(one.bath.name, thing_href("bath", one.bath.name), f"{age_said(one.age_days)}: {worn_said(one)}") for one in old],
    )


def _box(lot: Lot) -> tuple[str, str, str]:
    left = "count not known" if lot.sheets_left is None else f"{lot.sheets_left:g} sheet{'s' if lot.sheets_left != 1 else ''} left"
    return lot.name, f"/shelf/boxes/{quote(lot.name, safe='')}", left
