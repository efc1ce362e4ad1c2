"""What is being exposed now, on the command line."""

from typing import TYPE_CHECKING

import click

from silverwright.cli.book import JSON_OPTION, told
from silverwright.cli.told import telling

if TYPE_CHECKING:
    from silverwright.book.counting import CountKnown


def list_running(*, json: bool) -> None:
    """Every count that runs."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.counting import counts_running
        from silverwright.workshop.stamp import stamp

        found = counts_running(stamp())
    told(found, as_json=json, people=_lines)


def _lines(found: "tuple[CountKnown, ...]") -> str:
    return "\n".join(line_of(one) for one in found) or "Nothing is being exposed. Start with `silverwright start-exposure`, or on the Camera page."


def line_of(known: "CountKnown") -> str:
    """`count-001, holder 1, side 1: open for 12 s of 97 s (1:37), 85 s (1:25) left.`"""
    from silverwright.units import SECOND

    of = ", ".join(part for part in (known.count.name, str(known.count.side or ""), str(known.count.given.get("subject", ""))) if part)
    passed, length, left = (SECOND.show(round(time_s)) for time_s in (known.passed_s, known.length_s, abs(known.left_s)))
    says = {
        "counting in": f"opens in {SECOND.show(known.begins_in_s)}, for {length}",
        "running": f"open for {passed} of {length}, {left} left",
        "held": f"held after {passed} of {length}, {left} left",
        "over": f"over by {left}: close the shutter, it has been open for {passed}",
    }
    sure = "" if known.certain else " Only the wall clock tells: the computer was started anew meanwhile, or has no clock that nobody can set."
    return f"{of}: {says.get(known.how, known.how)}.{sure}"


def command(name: str) -> click.Command:
    """`silverwright running`."""
    return click.Command(
        name,
        params=[JSON_OPTION],
        callback=list_running,
        help="What is being exposed now, and how long is left.",
        epilog="\b\nExamples:\n  silverwright running\n  silverwright running --json",
    )
