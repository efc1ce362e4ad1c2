"""What a label says of what can hurt: by what is in the vessel at its strength, by the rules of the room, and what nobody knows of it."""

from collections.abc import Iterable, Iterator
from typing import Final

from silverwright.book.shelf import rules
from silverwright.facts.load import UNSOURCED
from silverwright.questions.apart import vented_because
from silverwright.questions.hazard import hazards_of
from silverwright.records_chemistry import Contents, HazardRow, Hazards
from silverwright.report.labels import Danger
from silverwright.report.pictograms import shape_svg, shape_words

NOTHING_ON_FILE: Final = "No hazard data here: read its data sheet."
NO_SHAPE: Final = "none"


def danger_of(contents: Contents | None) -> Danger:
    """The hazards of these contents for a label; where nothing is on file, that is what it says."""
    if contents is None or not contents.mass_g:
        return Danger(shapes=_shapes((NO_SHAPE,)), unknown=NOTHING_ON_FILE)
    found = hazards_of(contents, rules=rules())
    return Danger(signal=found.signal, shapes=_shapes(found.pictograms), says=" ".join(_sentences(found)), unknown=_unknown(found))


def gives_gas(contents: Contents | None) -> bool:
    """Whether a closed vessel of it builds up gas."""
    return contents is not None and bool(vented_because(contents))


def _shapes(names: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """The standard shapes with the words for who cannot see them."""
    return tuple((shape_words(name), shape_svg(name)) for name in names)


def _sentences(found: Hazards) -> Iterator[str]:
    """Each statement in few words with its codes; then which of them nobody has looked up, and which are no law."""
    briefs: dict[str, list[str]] = {}
    for row in found.rows:
        briefs.setdefault(row.brief, []).append(row.code)
    yield from (f"{brief} ({', '.join(dict.fromkeys(codes))})." for brief, codes in briefs.items())
    for said in UNSOURCED.values():
        codes = _codes(row for row in found.rows if said in row.says)
        if codes:
            yield f"{said.capitalize()}: {codes}."
    if found.rows and not found.law:
        yield "By a proposal, not law."


def _codes(rows: Iterable[HazardRow]) -> str:
    return ", ".join(dict.fromkeys(row.code for row in rows))


def _unknown(found: Hazards) -> str:
    """What is in it and has no class here, always by its name."""
    classless = f"No class on file: {', '.join(found.unclassified)}." if found.unclassified else ""
    strange = f"No hazard data here: {', '.join(found.unknown)}." if found.unknown else ""
    said = " ".join(part for part in (classless, strange) if part)
    return f"{said} Read the data sheet." if said else "" if found.rows else NOTHING_ON_FILE
