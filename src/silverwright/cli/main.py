"""The command line. The file of a command is imported only when that command is called."""

import atexit
import gc
import os
import sys
from difflib import get_close_matches
from importlib import import_module
from typing import Any, Final

import click

from silverwright import __version__

os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # no package of the environment changes our records, and a command need not look for any

# What each command says of itself stands with its operation or deed, too; a test holds both together. So help needs none of them.
SECTIONS: Final[dict[str, dict[str, str]]] = {
    "Open": {
        "serve": "Open the book: pages for the browser on this computer.",
        "example": "Open the boatyard's example, an invented book beside yours.",
        "work": "Read the scans that wait; the server does it by itself.",
    },
    "Ask": {
        "ask": "Ask any question and see its working.",
        "plan": "How long to expose, with what the book knows.",
    },
    "Take along": {
        "field-page": "Write the field page: time, count and log on a phone, without the server.",
        "card": "Write the exposure card: times to carry in a pocket, a log on its back.",
        "ruler": "Write the ruler target: its image on the ground glass tells how near it is.",
    },
    "Print": {
        "labels": "Write labels for bottles, baths and waste: 62 x 29 mm, with what can hurt.",
        "sheet-labels": "Write labels for sheets, or for holder sides with their clipped corners.",
        "hazard-card": "Write the hazard card for the wall: first steps, what must never meet, what each bottle can do.",
        "mixing-card": "Write the mixing card: one bath for the bench, the caution before each amount.",
    },
    "Look": {
        "boxes": "List the boxes of paper: sheets left, what was cut, chips.",
        "holders": "List the holders: what is in which side, and its clipped corner.",
        "running": "What is being exposed now, and how long is left.",
        "sheets": "List the sheets.",
        "story": "One sheet's whole story.",
        "known": "What your own sheets say of a paper.",
        "scans": "List the scans, and where each stands.",
        "densities": "The densities of one scan.",
        "calibration": "How a scanner tells density, step by step of its tablet.",
        "recipes": "List the recipes: what goes in, and who says so.",
        "shelf": "What stands on the shelf: what must not meet, baths, bottles and waste.",
        "bath": "One bath: what it holds, how strong, and all that happened to it.",
    },
    "Do": {
        "paper": "Enter a kind of paper.",
        "lot": "Enter a box of paper.",
        "camera": "Enter a camera.",
        "lens": "Enter a lens.",
        "light": "Enter a light that you work in.",
        "meter": "Enter a light meter.",
        "holder": "Enter a holder for sheets.",
        "scanner": "Enter a scanner.",
        "cut-paper": "Cut sheets of a box down to a holder's own size; the pieces become a box of their own.",
        "chip": "Keep a reference chip of a box: its base white or its fullest black.",
        "load": "Load a side of a holder.",
        "unload": "Take the sheet out of a side of a holder.",
        "expose": "Record an exposed sheet: what was planned, and what was done.",
        "start-exposure": "Start counting an exposure; its plan is kept from now on.",
        "reading-changed": "Say what the meter reads now, while an exposure is counted: its end follows the light.",
        "hold-exposure": "Keep the light out for a while: the count waits.",
        "go-on-exposing": "Let the light in again: the count goes on.",
        "stop-exposure": "Stop a counted exposure: the sheet is recorded with the time that it was really given.",
        "field-log": "Bring in a log from outdoors: each line becomes an exposed sheet, once.",
        "cut": "Cut an exposed sheet into pieces that go their own way.",
        "process": "Record how a sheet was processed.",
        "stock": "Enter a bottle, bag or can of a chemical.",
        "stock-tested": "Record a strength test of a bottle.",
        "data-sheet": "Hand in the safety data sheet of a bottle.",
        "recipe": "Enter a recipe of your own, or a new edition of one.",
        "mix": "Record a bath or working solution that was mixed.",
        "use-bath": "Count sheets that went through a bath.",
        "replenish": "Record that a bath was brought back to strength.",
        "top-up": "Record that a bath was brought back to its level.",
        "test-bath": "Record what a test of a bath found.",
        "filter-bath": "Record that a bath was filtered.",
        "leave-open": "Record that a bath stood open, and its level afterwards.",
        "split-bath": "Pour a part of a bath into a vessel of its own.",
        "merge-baths": "Pour a bath into another one.",
        "match-bath": "Say which bath was meant by what was written down in the trays.",
        "waste-bottle": "Enter a bottle for what is used up.",
        "discard-bath": "Discard a bath, or a part of it, into a waste bottle.",
        "empty-waste": "Record that a waste bottle was handed in.",
        "workroom": "Write down the number of the poison centre, the country, and the rules for hazards.",
        "scan": "Hand in a scan of a sheet or of a step tablet.",
        "grid": "Place the grid on a scan: where its patches lie.",
        "places": "Mark places of a picture whose density is wanted.",
        "read-again": "Read a scan's file again, with what was not known before.",
        "stop-work": "Stop the reading of a scan.",
        "calibrate": "Calibrate a scanner by a step tablet of known densities.",
        "step-sheet": "Enter a step sheet: how its patches were exposed, and their densities.",
        "scene-patches": "Enter places of a picture that were metered, with their densities.",
        "judge": "Say how a sheet looks: right, too dark, too light, or which strip is right.",
        "learn": "Learn a paper's curve and EI from a step sheet; the Camera uses it from then on.",
        "leave-out": "Leave out something that a sheet says, or a step of a scanner's tablet, with the reason.",
        "take-back": "Let count again what was left out.",
        "reciprocity-test": "Enter a test of a paper in long exposures.",
        "correct": "Correct what the book says; what stood there stays in its history.",
        "archive": "Take something out of the lists; it stays in the book.",
        "bring-back": "Bring something back from the archive.",
    },
    "Hand in": {
        "folder": "Hand in every scan of a folder; a file that begins with a sheet's number shows that sheet.",
    },
    "Keep": {
        "backup": "Copy the book, and try the copy.",
        "restore": "Bring a backup back into an empty folder.",
    },
}
OUR_FAULT: Final = 70  # common practice, no source: an exit code for faults of the program itself
FILES: Final = {
    "serve": "serve",
    "example": "example",
    "ask": "ask",
    "plan": "plan",
    "field-page": "outdoors",
    "card": "outdoors",
    "ruler": "outdoors",
    "boxes": "lots",
    "holders": "lots",
    "labels": "labels",
    "sheet-labels": "labels",
    "hazard-card": "hazardcard",
    "mixing-card": "mixing",
    "recipes": "recipes",
    "running": "counts",
    "sheets": "book",
    "story": "book",
    "known": "book",
    "shelf": "shelf",
    "bath": "shelf",
    "scans": "scans",
    "densities": "scans",
    "calibration": "scans",
    "folder": "scans",
    "work": "work",
    "backup": "keep",
    "restore": "keep",
}


class House(click.Group):
    """The commands by name."""

    def main(self, *words: Any, **more: Any) -> Any:  # noqa: ANN401 (as click has it)
        """Start; a question is answered before it could matter that nothing is collected, and then nothing is left to look through."""
        if not (words or more) and sys.argv[1:2] == ["ask"]:
            gc.disable()
            atexit.register(gc.freeze)
        return super().main(*words, **more)

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click's shape)
        return [name for section in SECTIONS.values() for name in section]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command:
        if cmd_name not in self.list_commands(ctx):
            near = " or ".join(get_close_matches(cmd_name, self.list_commands(ctx), n=2))
            raise click.UsageError(f"No command is called “{cmd_name}”." + (f" Did you mean {near}?" if near else ""), ctx)
        made: click.Command = import_module(f"silverwright.cli.{FILES.get(cmd_name, 'do')}").command(cmd_name)
        return made

    def invoke(self, ctx: click.Context) -> object:
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise
        except Exception:  # noqa: BLE001 (whatever it is, nobody is shown a traceback)
            click.echo(f"This is a fault of the program, not of what you typed. What was recorded before is kept. More stands in {_log()}.", err=True)
            raise click.exceptions.Exit(OUR_FAULT) from None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002 (click's shape)
        for title, section in SECTIONS.items():
            with formatter.section(title):
                formatter.write_dl(list(section.items()))


def _log() -> str:
    """Where the traceback went: whoever reports the fault can send it."""
    from tempfile import mkstemp
    from traceback import format_exc

    handle, name = mkstemp(prefix="silverwright-", suffix=".txt")
    with os.fdopen(handle, "w", encoding="utf-8") as log:
        log.write(format_exc())
    return name


EXAMPLES: Final = """\b
Examples:
  silverwright serve
  silverwright plan --reading-ev 10 --aperture-f f/22 --paper-ei 1.5
  silverwright ask --list
  silverwright ask exposure.bellows --focal-mm 210 --extension-mm 315"""


@click.command(cls=House, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 110}, epilog=EXAMPLES)
@click.version_option(__version__, message="%(version)s")
def main() -> None:
    """One-of-a-kind direct positives, from the reading to the book."""
