"""The hazard card for the wall: what to do in the first seconds, what must never meet, and what each bottle and bath here can do."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import as_file, files
from typing import Any, Final, Literal

from silverwright.facts.load import table
from silverwright.questions.apart import pairs, pairs_among
from silverwright.questions.hazard import ALWAYS_WORN, IN_FORCE, RuleSet, gear_words, glance_of, hazards_of, rule_set
from silverwright.records_chemistry import Contents
from silverwright.report.pictograms import shape_svg, shape_words

CardSheet = Literal["a4", "us-letter"]
MOST_PAIRS: Final = 8  # our judgement: what is read on a wall; the likeliest accidents come first
OFTEN: Final = 5  # our judgement: of an empty shelf the likeliest are told
NO_NUMBER: Final = "Write your number here"
NOTHING_YET: Final = "Nothing stands on the shelf in this book yet: the labels and data sheets of your bottles hold."
FOOT: Final = (
    "A card of the workroom, no label of a shop. The safety data sheet of your product and local rules come first. Helpers and pupils do not pour "
    "strong stock."
)
EMPTY: Final = "Nothing in it yet"
PLAIN: Final = "plain"  # the bullet before what has no shape of its own
GEAR: Final = (*ALWAYS_WORN, "apron", "air", "metal", "clean")


@dataclass(frozen=True, slots=True)
class Standing:
    """A bottle, a bath or a waste bottle as it stands in the room: its name, what it is, and what is in it where that is known."""

    name: str
    says: str
    contents: Contents | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardCard:
    """What the card is made of: what stands in the room, the number of its poison centre, by which rules it is classed, and the day."""

    standing: Sequence[Standing] = ()
    poison_centre: str = ""
    rules: RuleSet = IN_FORCE
    day: str = ""
    invented: bool = False


def hazard_card_pdf(card: HazardCard, paper: CardSheet = "a4") -> bytes:
    """The card as PDF; more than one page where much stands in the room."""
    return _typeset(card, paper, "pdf")[0]


def hazard_card_png(card: HazardCard, paper: CardSheet = "a4") -> Sequence[bytes]:
    """The same pages as pictures, to look at."""
    return _typeset(card, paper, "png")


def card_words(card: HazardCard) -> dict[str, Any]:
    """Everything as it is printed."""
    rules = rule_set(card.rules)
    return {
        "number": card.poison_centre,
        "no_number": NO_NUMBER,
        "steps": [{"head": row["head"], "words": row["words"][0].upper() + row["words"][1:]} for row in table("splash") if row["name"] != "unknown"],
        "gear": [gear_words()[name] for name in GEAR],
        "pairs": _pairs(card),
        "standing": [_standing(one, card.rules) for one in card.standing],
        "nothing": NOTHING_YET,
        "shapes": [_shape(row["name"]) for row in table("pictograms") if row["name"] != PLAIN],
        "rules": f"Classed by these rules: {rules['says']}" if rules["law"] == "yes" else f"Classed by a proposal, not by law: {rules['says']}",
        "unsure": _unsure(card),
        "foot": f"{FOOT} {_made(card)}",
        "invented": card.invented,
    }


def _pairs(card: HazardCard) -> list[dict[str, str]]:
    """The pairs of what is here, by the names of the things that hold them; of an empty shelf the likeliest accidents."""
    held = {key for one in card.standing if one.contents for key, mass_g in one.contents.mass_g.items() if mass_g > 0}
    found = [(pair, _holding(card, one), _holding(card, other)) for pair, one, other in pairs_among(held)][:MOST_PAIRS]
    if not held:
        found = [(pair, "", "") for pair in pairs()[:OFTEN]]
    return [
        {
            "one": pair.one[:1].upper() + pair.one[1:],
            "other": pair.other[:1].upper() + pair.other[1:],
            "one_here": one_here,
            "other_here": other_here,
            "gas": pair.gas[:1].upper() + pair.gas[1:],
            "words": pair.words,
            "says": pair.says,
        }
        for pair, one_here, other_here in found
    ]


def _holding(card: HazardCard, keys: frozenset[str]) -> str:
    return ", ".join(one.name for one in card.standing if one.contents and any(one.contents.mass_g.get(key, 0.0) > 0 for key in keys))


def _standing(one: Standing, rules: RuleSet) -> dict[str, Any]:
    if one.contents is not None and not one.contents.mass_g and not one.contents.volume_ml > 0:
        return {"name": one.name, "says": one.says, "signal": "", "glance": [{**_shape(PLAIN), "words": EMPTY}]}
    found = hazards_of(one.contents or Contents(0.0, {}), rules=rules)
    words: dict[str, list[str]] = {}
    for shape, said in glance_of(found):
        words.setdefault(shape, []).append(said)
    return {
        "name": one.name,
        "says": one.says,
        "signal": found.signal,
        "glance": [{**_shape(shape), "words": ". ".join(said)} for shape, said in words.items()],
    }


def _shape(name: str) -> dict[str, str]:
    return {"svg": shape_svg(name, red=True), "means": shape_words(name)}


def _unsure(card: HazardCard) -> str:
    """The codes of which a class or a limit is from memory."""
    rows = [row for one in card.standing if one.contents for row in hazards_of(one.contents, rules=card.rules).rows]
    unsure = [*dict.fromkeys(row.code for row in rows if "from memory" in row.says)]
    unsure += ["most pairs that must not meet"] if any("from memory" in pair["says"] for pair in _pairs(card)) else []
    return f"From memory, unverified: {', '.join(unsure)}." if unsure else ""


def _made(card: HazardCard) -> str:
    return f"Made {card.day} by silverwright; make it anew when something else stands here." if card.day else ""


def _typeset(card: HazardCard, paper: CardSheet, form: Literal["pdf", "png"]) -> Sequence[bytes]:
    import typst  # noqa: PLC0415 (only paper needs it)

    with as_file(files("silverwright.report")) as room:
        pages: bytes | list[bytes] = typst.compile(
            room / "hazardcard.typ",
            font_paths=[room / "fonts"],
            ignore_system_fonts=True,
            format=form,
            ppi=110.0 if form == "png" else None,
            sys_inputs={"card": json.dumps({**card_words(card), "paper": paper})},
        )
    return [pages] if isinstance(pages, bytes) else pages
