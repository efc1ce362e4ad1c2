"""Boxes of paper and holders on the command line: what is left, what was cut, and what is in which side."""

from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.book import JSON_OPTION, told
from silverwright.cli.main import SECTIONS
from silverwright.cli.told import pairs, telling

if TYPE_CHECKING:
    from silverwright.book.lots import BoxKnown, HolderKnown
    from silverwright.book.models import HolderSide

NO_BOX: Final = "No box is in the book yet. Enter one with `silverwright lot`."
NO_HOLDER: Final = "No holder is in the book yet. Enter one with `silverwright holder`."


def list_boxes(*, json: bool) -> None:
    """Every box of paper."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.lots import boxes

        found = boxes()
    told(found, as_json=json, people=_boxes)


def list_holders(*, json: bool) -> None:
    """Every holder, side by side."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.lots import holders

        found = holders()
    told(found, as_json=json, people=_holders)


def _boxes(found: "tuple[BoxKnown, ...]") -> str:
    return "\n".join(f"{one.box.name}\n{_indented(pairs([row for row in _box(one) if row[1]]))}" for one in found) or NO_BOX


def _indented(text: str) -> str:
    return "\n".join(f"  {line}" for line in text.splitlines())


def _box(known: "BoxKnown") -> list[tuple[str, str]]:
    from silverwright.questions.sheetsize import size_said

    lot = known.box
    cut = f", truly {size_said(lot.width_mm, lot.height_mm)}" if lot.width_mm and lot.height_mm else ""
    strips = (f"{row['count']:g} of {size_said(row['width_mm'], row['length_mm'])}" for row in lot.strips)
    chips = (f"{chip.shows}{'' if chip.density is None else f' {chip.density:.2f}'}" for chip in known.chips)
    return [
        ("Paper", str(lot.paper)),
        ("Size", f"{lot.size}{cut}".lstrip(", ")),
        ("Sheets left", "not counted" if lot.sheets_left is None else f"{lot.sheets_left}"),
        ("In holders", f"{known.in_holders}" if known.in_holders else ""),
        ("Cut from", str(lot.cut_from or "")),
        ("Cut into", ", ".join(known.cut_into)),
        ("Strips left", "; ".join(strips)),
        ("Marked", lot.marked),
        ("Chips", ", ".join(chips)),
    ]


def _holders(found: "tuple[HolderKnown, ...]") -> str:
    rows = [(f"{one.holder}, side {side.side}", _side(side)) for one in found for side in one.sides]
    return pairs(rows) or NO_HOLDER


def _side(side: "HolderSide") -> str:
    """`loaded from box A, clip upper left`."""
    what = {"loaded": f"loaded from {side.lot}", "exposed": f"exposed, sheet {side.sheet}"}.get(side.state, "empty")
    return f"{what}, clipped: {side.corner}" if side.corner else what


def command(name: str) -> click.Command:
    """`silverwright boxes`, `silverwright holders`."""
    callback = list_boxes if name == "boxes" else list_holders
    return click.Command(name, params=[JSON_OPTION], callback=callback, help=SECTIONS["Look"][name], epilog=f"\b\nExample:\n  silverwright {name}")
