"""What stands on the shelf, in words: the same on the page and on the command line."""

from dataclasses import dataclass
from datetime import date
from itertools import combinations
from typing import Final

from silverwright.book.models import BathEvent
from silverwright.book.shelf import BathKnown, Shelf, StockKnown, StrengthNow, WasteKnown
from silverwright.questions.apart import kept_apart, pairs
from silverwright.questions.hazard import IN_FORCE, RuleSet, glance_of, hazards_of
from silverwright.questions.substances import called, named
from silverwright.records_chemistry import Apart, Contents
from silverwright.units import GRAM, MILLILITRE, SECOND

MOST_NAMED: Final = 4  # our judgement: a line of a card
PAIRS_TOLD: Final = 2  # our judgement: one warning is read, several are not


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two things on the shelf that must not meet, and why."""

    one: str
    other: str
    apart: Apart


def held(contents: Contents) -> str:
    """What is in it, by name; the most first."""
    names = [called(key) for key, mass_g in sorted(contents.mass_g.items(), key=lambda one: -one[1]) if mass_g > 0]
    rest = len(names) - MOST_NAMED
    said = ", ".join(names[:MOST_NAMED]) + (f" and {rest} more" if rest > 0 else "")
    return said[:1].upper() + said[1:]


def empty(contents: Contents) -> bool:
    """Whether nothing but water is left, by the book."""
    return not any(mass_g > 0 for mass_g in contents.mass_g.values())


def bath_holds(known: BathKnown) -> str:
    """`Hydrogen peroxide, citric acid, 1 L, pH about 1.9`."""
    acid = f"pH about {known.ph.value:.1f}" if known.ph is not None and known.ph.value is not None else ""
    parts = (held(known.contents), MILLILITRE.show(known.contents.volume_ml), acid)
    return ", ".join(part for part in parts if part)


def age_said(days: float) -> str:
    """`today`, `1 day`, `7 days`."""
    whole = int(days)
    return "today" if whole < 1 else "1 day" if whole == 1 else f"{whole} days"


def left_said(known: StockKnown) -> str:
    """`About 380 mL left`."""
    amounts = [MILLILITRE.show(known.left_ml) if known.left_ml is not None else "", GRAM.show(known.left_g) if known.left_g is not None else ""]
    amount = next((one for one in amounts if one), "")
    return f"About {amount} left" if amount else "How much is left is not known"


def strength_said(strength: StrengthNow) -> str:
    """`hydrogen peroxide now, between 8.1 and 8.9; mixed at 9 %`."""
    now = strength.now
    between = f", between {now.low:.3g} and {now.high:.3g}" if now.low is not None and now.high is not None else ""
    mixed = f"mixed at {strength.as_mixed_percent_ww:.3g}\N{NO-BREAK SPACE}%" if strength.as_mixed_percent_ww else "mixed without it"
    return f"{named(strength.substance)} now{between}; {mixed}"


def strengths_said(known: BathKnown) -> list[str]:
    """The same as whole sentences with their figures; of an empty bath there is nothing to say."""
    if empty(known.contents):
        return []
    return [f"{one.now.value:.3g} % {strength_said(one)}." for one in known.strengths if one.now.value is not None]


def worn_said(known: BathKnown) -> str:
    """What went through it, what it took up, and when it was made."""
    silver = known.silver_g
    took = f"; silver taken up {_grams(silver.low, silver.high)}" if known.sheets and silver is not None and silver.high else ""
    through = "No sheet went through it" if not known.sheets else f"{known.sheets:g} sheet{'s' if known.sheets != 1 else ''} went through it{took}"
    made = f"{known.bath.made_at.astimezone():%-d %b %Y}"
    return f"{through}. Made {made}" + (f" as {known.bath.recipe_name}." if known.bath.recipe_name else ".")


def day_said(on: date) -> str:
    """`2 January 2026`."""
    return f"{on.day} {on:%B %Y}"


def _grams(low: float | None, high: float) -> str:
    return f"{low:.2g} to {high:.2g} g" if low else f"at most {high:.2g} g"


def dangers_said(contents: Contents | None, rules: RuleSet = IN_FORCE) -> list[str]:
    """`Danger: eye damage; burns skin and eyes`, in one line; what is not on file is said, too."""
    found = hazards_of(contents or Contents(0.0), rules=rules)
    seen = "; ".join(words for _, words in glance_of(found))
    return [f"{found.signal}: {seen}." if found.signal else f"{seen}."]


def meetings(found: Shelf) -> list[Meeting]:
    """
    What of the shelf must not be poured together, the likeliest accident first: a bath and a bath, a bath and waste, then bottles.

    Things with the same substances in them are tried once; each reason stands with the first pair of things that has it.
    """
    things = [(one.bath.name, one.contents) for one in found.baths]
    things += [(one.bottle.name, one.contents) for one in found.waste if one.contents.mass_g]
    things += [(one.stock.name, one.contents) for one in found.stocks if one.contents is not None]
    kinds: dict[frozenset[str], tuple[str, Contents]] = {}
    for name, contents in things:
        kinds.setdefault(frozenset(key for key, mass_g in contents.mass_g.items() if mass_g > 0), (name, contents))
    seen: dict[str, Meeting] = {}
    for (one, this), (other, that) in combinations(kinds.values(), 2):
        for apart in kept_apart(this, that):
            if apart.refused:
                seen.setdefault(apart.words, Meeting(one, other, apart))
    likely = {pair.words: place for place, pair in enumerate(pairs())}
    return sorted(seen.values(), key=lambda met: likely.get(met.apart.words, len(likely)))


def meeting_said(met: Meeting) -> str:
    """Why, with the gas, and what to do instead."""
    gas = f" Gas: {met.apart.gas}." if met.apart.gas else ""
    return f"{met.apart.words}{gas} Two bottles, vented caps, no metal."


def apart_said(found: Shelf) -> list[str]:
    """The same as sentences, the first in full."""
    met = meetings(found)
    told = [f"Stop: never {one.one} and {one.other} in one bottle. {meeting_said(one)}" for one in met[:PAIRS_TOLD]]
    rest = len(met) - PAIRS_TOLD
    return [*told, f"{rest} more pairs to keep apart stand on the Shelf page."] if rest > 0 else told


def bath_lines(known: BathKnown) -> list[str]:
    """Everything of a bath, a line each: what can hurt first."""
    return [*dangers_said(known.contents), f"{bath_holds(known)}.", *strengths_said(known), worn_said(known)]


def waste_holds(known: WasteKnown) -> str:
    """`Hydrogen peroxide, citric acid, 2 L of 5 L, from B-05. Vented cap.`"""
    full = f" of {MILLILITRE.show(known.bottle.capacity_ml)}" if known.bottle.capacity_ml else ""
    source = f"from {', '.join(known.from_baths)}" if known.from_baths else ""
    parts = (held(known.contents), f"{MILLILITRE.show(known.contents.volume_ml)}{full}", source)
    cap = "Vented cap." if known.vented else "Closed cap: nothing with peroxide goes in."
    return f"{', '.join(part for part in parts if part)}. {cap}"


def event_said(event: BathEvent) -> str:
    """One thing that happened to a bath: `used: 1 sheet`, `tested by bleach-out test: cleared in 150 s, fresh 120 s`."""
    amounts = [_grow(event.volume_ml)] if event.what not in {"used", "tested"} else []
    return f"{event.what}: {'; '.join(part for part in (*amounts, *_details(event)) if part)}".removesuffix(": ")


def _grow(volume_ml: float | None) -> str:
    return MILLILITRE.show(volume_ml) if volume_ml is not None else ""


def _details(event: BathEvent) -> tuple[str, ...]:
    brought = [f"{row.get('substance', '')} {row.get('amount', 0):g} {row.get('unit', '')}" for row in event.ingredients]
    poured = [f"{row.get('amount', 0):g} {row.get('unit', '')} from {row.get('stock', '')}" for row in event.taken]
    return (
        ", ".join(brought),
        ", ".join(poured),
        f"{event.sheets:g} sheet{'s' if event.sheets != 1 else ''}" if event.sheets else "",
        f"sheet {event.step.processing.sheet.number}" if event.step else "",
        event.tested_by,
        f"{event.substance or 'found'} {event.strength_percent_ww:.3g} % w/w" if event.strength_percent_ww is not None else "",
        f"cleared in {SECOND.show(event.clearing_s)}" if event.clearing_s is not None else "",
        f"fresh in {SECOND.show(event.fresh_clearing_s)}" if event.fresh_clearing_s is not None else "",
        f"silver {event.silver_g_per_l:.2g} g/L" if event.silver_g_per_l is not None else "",
        f"stood open for {event.open_days:g} days" if event.open_days is not None else "",
        f"“{event.bath}” into “{event.other}”" if event.other else "",
        f"into {event.waste}" if event.waste else "",
        event.remarks,
    )
