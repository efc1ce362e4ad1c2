"""What can hurt, at a glance: the hazards of what a vessel holds as shapes with words, and the pairs that must not meet."""

from collections.abc import Sequence
from typing import Final

from silverwright.book.shelf import Shelf, StockKnown
from silverwright.book.shelf import rules as rules_of_the_room
from silverwright.book.shelf_words import meeting_said, meetings
from silverwright.book.strongest import strongest_in
from silverwright.facts.load import table
from silverwright.questions.hazard import RuleSet, gear_words, glance_of, hazards_of
from silverwright.records_chemistry import Contents, Hazards
from silverwright.web.vessels import Dangers, Diamond, Pair

LEAST_GEAR: Final = ("goggles", "gloves")
NOTHING: Final = Contents(0.0)
FIRST: Final = "The safety data sheets of your products and local rules come first."


def dangers_of(contents: Contents | None, rules: RuleSet | None = None) -> Dangers:
    """What can hurt of it at a glance, by the room's rules unless others are given; where nothing is on file, that is what is said."""
    found = hazards_of(contents or NOTHING, rules=rules or rules_of_the_room())
    return Dangers(found.signal, [Diamond(shape, words) for shape, words in glance_of(found)])


def dangers_of_waste(contents: Contents, rules: RuleSet | None = None) -> Dangers:
    """The same of a waste bottle; an empty one has none of its own."""
    return dangers_of(contents, rules) if contents.mass_g else Dangers()


def told_hazards(contents: Contents | None, rules: RuleSet | None = None) -> Dangers:
    """The same for its own page: with what to have on, first steps after a splash, and advice."""
    found = hazards_of(contents or NOTHING, rules=rules or rules_of_the_room())
    law = () if found.law else (f"By the {found.rules}: a proposal, not law.",)
    return Dangers(
        found.signal,
        [Diamond(shape, words) for shape, words in glance_of(found)],
        ready=ticks_of([contents] if contents else [], rules),
        says=[*(f"{row.code}: {row.words}" for row in found.rows), *found.advice, *law],
        splash=_splash(found),
        why=[f"{row.code}, {row.hazard_class}: {row.because} ({row.says})." for row in found.rows],
    )


def ticks_of(several: Sequence[Contents], rules: RuleSet | None = None) -> list[str]:
    """What to have on and ready before anything of it is opened; goggles and gloves always."""
    chosen = rules or rules_of_the_room()
    wanted = {words for one in several for words in hazards_of(one, rules=chosen).gear}
    return [words for name, words in gear_words().items() if name in LEAST_GEAR or words in wanted]


def held_by(stocks: Sequence[StockKnown]) -> list[Contents]:
    """What bottles hold, each at its strongest reading."""
    return [contents for one in stocks if (contents := strongest_in(one.stock)) is not None]


def pairs_of(found: Shelf) -> list[Pair]:
    """The pairs that must not meet, the likeliest accident first."""
    return [
        Pair(one.one, one.other, f"Stop: never {one.one} and {one.other} in one bottle", f"{meeting_said(one)} {FIRST}") for one in meetings(found)
    ]


def _splash(found: Hazards) -> list[tuple[str, str]]:
    """First steps, each with where it went."""
    return [(row["head"], row["words"]) for row in table("splash") if row["name"] in found.splash]
