"""The shelf on the command line: bottles, baths and waste, and one bath's whole story."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

import click

from silverwright.cli.book import JSON_OPTION, told
from silverwright.cli.told import WIDE, pairs, telling

if TYPE_CHECKING:
    from silverwright.book.shelf import BathKnown, Shelf


def list_shelf(*, json: bool) -> None:
    """Everything that stands on the shelf."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.shelf import shelf

        found = shelf()
    told(found, as_json=json, people=_shelf)


def tell_bath(*, name: str, json: bool) -> None:
    """One bath's story."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.shelf import bath_known

        found = bath_known(name)
    told(found, as_json=json, people=_bath)


def _shelf(found: "Shelf") -> str:
    from silverwright.book.shelf_words import age_said, apart_said, bath_lines, dangers_said, left_said, waste_holds
    from silverwright.book.strongest import strongest_in

    parts = [_wrapped(one) for one in apart_said(found)]
    parts += [_under(f"{one.bath.name}, {one.bath.kept_in}, {age_said(one.age_days)}", bath_lines(one)) for one in found.baths]
    parts += [
        _under(one.stock.name, [*dangers_said(strongest_in(one.stock)), f"{one.strength_said or one.stock.substance}. {left_said(one)}."])
        for one in found.stocks
    ]
    parts += [
        _under(f"{one.bottle.name}, for waste", [*(dangers_said(one.contents) if one.contents.mass_g else ()), waste_holds(one)])
        for one in found.waste
    ]
    return "\n\n".join(parts) or "Nothing stands on the shelf yet. Enter a bottle with `silverwright stock`, or on the Shelf page."


def _bath(known: "BathKnown") -> str:
    from silverwright.book.shelf_words import bath_lines, event_said

    happened = [(f"{one.happened_at.astimezone():%Y-%m-%d %H:%M}", event_said(one)) for one in known.events]
    return "\n\n".join(part for part in (_under(known.bath.name, bath_lines(known)), pairs(happened)) if part)


def _under(head: str, lines: list[str]) -> str:
    return "\n".join([head, *(click.wrap_text(line, WIDE, "  ", "    ") for line in lines if line)])


def _wrapped(text: str) -> str:
    return click.wrap_text(text, WIDE, subsequent_indent="  ")


def _commands() -> Mapping[str, click.Command]:
    shelf = click.Command(
        "shelf",
        params=[JSON_OPTION],
        callback=list_shelf,
        help="What stands on the shelf: what must not meet, baths, bottles and waste.",
        epilog="\b\nExamples:\n  silverwright shelf\n  silverwright shelf --json",
    )
    bath = click.Command(
        "bath",
        params=[click.Argument(["name"]), JSON_OPTION],
        callback=tell_bath,
        help="One bath: what it holds, how strong, and all that happened to it.",
        epilog="\b\nExamples:\n  silverwright bath 'bleach 1'\n  silverwright bath 'bleach 1' --json",
    )
    return {"shelf": shelf, "bath": bath}


def command(name: str) -> click.Command:
    """`silverwright shelf` and `bath`."""
    return _commands()[name]
