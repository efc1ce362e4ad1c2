"""After a splash, on the shelf, when it is used up, and before it is bought: what is told of the substances in a vessel."""

from typing import Final

from silverwright.facts.load import UNSOURCED, bibliography, facts, table
from silverwright.questions.apart import groups_with
from silverwright.questions.substances import called, substances
from silverwright.records_chemistry import Contents, Hazards

STRANGER: Final = "As the label of the product says, closed, upright, out of reach of children, and apart from everything else."
LEAVING: Final = "What may go down the drain, and who takes the rest, is your local rule: ask it first. The tool only tells figures."


def first_steps_of(hazards: Hazards) -> tuple[str, ...]:
    """What to do at once, by where it went; the eye first."""
    return tuple(f"{row['head']}: {row['words']}" for row in table("splash") if row["name"] in hazards.splash)


def storage_of(contents: Contents) -> tuple[str, ...]:
    """Where and how to keep it; of what is not known here, as its label says."""
    told = _of_groups("storage", contents)
    return (*told, *([STRANGER] if not told or any(key not in substances() for key in contents.mass_g) else []))


def disposal_of(contents: Contents) -> tuple[str, ...]:
    """Figures for leaving it, and that local rules decide."""
    return (*_of_groups("disposal", contents), LEAVING)


def buying_of(contents: Contents) -> tuple[str, ...]:
    """One dated example of a limit for buying, and that the local rule decides."""
    limits = facts("waste")
    rows = [row for row in table("buying") if contents.mass_g.get(row["substance"], 0.0) > 0]
    said = [
        (row["words"].format(public=f"{limits[row['public']].value:g}", licence=f"{limits[row['licence']].value:g}"), limits[row["public"]])
        for row in rows
    ]
    return tuple(f"{_known(row['substance'])}: {words.rstrip('.')} ({limit.says})." for row, (words, limit) in zip(rows, said, strict=True))


def _known(key: str) -> str:
    name = called(key)
    return name[0].upper() + name[1:]


def _of_groups(name: str, contents: Contents) -> tuple[str, ...]:
    here = {key for key, mass_g in contents.mass_g.items() if mass_g > 0}
    rows = [row for row in table(name) if groups_with(here)[row["group"]] & here]
    return tuple(dict.fromkeys(f"{row['words'].format(**_figures()).rstrip('.')} ({_says(row)})." for row in rows))


def _figures() -> dict[str, str]:
    numbers = facts("waste")
    fixer = numbers["fixer_silver"]
    return {key: f"{one.value:g}" for key, one in numbers.items()} | {"fixer_low": f"{fixer.low:g}", "fixer_high": f"{fixer.high:g}"}


def _says(row: dict[str, str]) -> str:
    """Who says so: what nobody says by its words, else by whoever wrote it."""
    unsaid = UNSOURCED.get(row["kind"])
    return unsaid or f"{bibliography()[row['source']]['author']}, {row['where']}"
