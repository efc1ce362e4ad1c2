"""What to know before a bottle is opened: ready, what it can do at its strength, and how it is poured."""

from collections.abc import Sequence
from typing import Final

from silverwright.asking.operation import Remark, remark
from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.chemistry.strength import PEROXIDE
from silverwright.notes import Note
from silverwright.questions.hazard import hazards_of
from silverwright.questions.ingredients import ROOM_CELSIUS
from silverwright.records_chemistry import Contents, Substance

SPITS_FRACTION: Final = 0.1  # our judgement: weaker ones warm the water, but do not boil it where they meet it
ACIDS_THAT_SPIT: Final = frozenset({"sulphuric_acid", "hydrochloric_acid", "acetic_acid"})
LYES: Final = frozenset({"sodium_hydroxide", "ammonia", "sodium_hypochlorite"})


def before_pouring(substance: Substance, fraction: float) -> tuple[Remark, ...]:
    """What to know before one bottle is opened."""
    return before_opening([(substance, fraction)])


def before_opening(stocks: Sequence[tuple[Substance, float]]) -> tuple[Remark, ...]:
    """What to know before these bottles are opened, each with the mass fraction of what is in it."""
    if not stocks:
        return ()
    names = list(dict.fromkeys(f"the {substance.name}" for substance, _ in stocks))
    notes = [remark(Note.BEFORE_OPENING, substances=" and ".join((", ".join(names[:-1]), names[-1]) if len(names) > 1 else names))]
    notes += [remark(Note.STOCK_HAZARDS, what=stock_said(*stock), words=hazards_said(*stock).removesuffix(".")) for stock in dict.fromkeys(stocks)]
    strong = {substance.key for substance, fraction in stocks if fraction > SPITS_FRACTION}
    if any(substance.key == PEROXIDE for substance, _ in stocks):
        notes.append(remark(Note.PEROXIDE_POURED))
    if strong & ACIDS_THAT_SPIT:
        notes.append(remark(Note.ACID_INTO_WATER))
    if strong & LYES:
        notes.append(remark(Note.LYE_INTO_WATER))
    return tuple(notes)


def stock_said(substance: Substance, fraction: float) -> str:
    """`hydrogen peroxide of 35 %`, `citric acid (anhydrous)`."""
    return substance.name if fraction >= 1 else f"{substance.name} of {100 * fraction:.3g}\N{NO-BREAK SPACE}%"


def hazards_said(substance: Substance, fraction: float) -> str:
    """What is on file of a bottle at its strength, in sentences."""
    held_g = 1000 * fraction * solution_density_g_per_ml([(substance, fraction)], ROOM_CELSIUS)
    dry = substance.state == "solid" and fraction >= 1
    found = hazards_of(Contents(0.0 if dry else 1000.0, {substance.key: held_g}))
    if not found.rows:
        return "no class on file here. Read its data sheet."
    return " ".join(
        (f"{found.signal.lower()}." if found.signal else "", *(f"{row.words.removesuffix('.')} ({row.code})." for row in found.rows))
    ).strip()
