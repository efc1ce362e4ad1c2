"""Reading the book on the command line."""

import json as json_text
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Final

import click

from silverwright.cli.fields import option_name
from silverwright.cli.told import pairs, telling

if TYPE_CHECKING:
    from silverwright.book.models import Exposure
    from silverwright.book.queries import SheetLine, Story

JSON_OPTION: Final = click.Option(["--json"], is_flag=True, help="Everything as JSON, with every figure.")
FILTERS: Final = {
    "paper": "Only of this paper.",
    "lot": "Only from this box.",
    "state": "Only where they stand so: exposed, cut, processed or measured.",
    "process": "Only with this process: direct positive or negative.",
    "light_class": "Only under this class of light.",
    "year": "Only of this year, such as 2026.",
    "words": "Only with these words in number, subject or remarks.",
    "archived": "The archived ones: yes.",
}


def told(found: object, *, as_json: bool, people: Callable[[Any], str]) -> None:
    """What was found, for programs or for people."""
    from silverwright.book.documents import document

    click.echo(json_text.dumps(document(found), indent=2, ensure_ascii=False) if as_json else people(found))


def list_sheets(*, json: bool, **filters: str | None) -> None:
    """The sheets, the newest first."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book import queries

        found = queries.sheets({name: text for name, text in filters.items() if text})
    told(found, as_json=json, people=_sheet_list)


def tell_story(*, number: str, json: bool) -> None:
    """Everything about one sheet."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book import queries

        found = queries.sheet_story(number)
    told(found, as_json=json, people=_story)


def _sheet_list(lines: "tuple[SheetLine, ...]") -> str:
    if not lines:
        return "No sheet yet. Record one with `silverwright expose`, or on the Camera page."
    rows = [(line.sheet.number, line.state, str(line.sheet.paper), line.sheet.subject) for line in lines]
    wide = [max(len(row[column]) for row in rows) for column in range(3)]
    return "\n".join(f"{number:<{wide[0]}}  {state:<{wide[1]}}  {paper:<{wide[2]}}  {subject}".rstrip() for number, state, paper, subject in rows)


def _story(story: "Story") -> str:
    from silverwright.units import SECOND

    sheet = story.line.sheet
    rows = [
        ("Sheet", sheet.number),
        ("Subject", sheet.subject),
        ("Paper", str(sheet.paper) + (f", {sheet.lot}" if sheet.lot else "")),
        ("Stands", story.line.state),
        ("Picture", "mirror image" if sheet.mirror_image else f"turned right by a {sheet.turned}"),
        ("Told apart", sheet.told_apart),
        ("Pieces", ", ".join(piece.number for piece in story.pieces)),
    ]
    rows += [(f"Exposed {one.exposed_at:%Y-%m-%d %H:%M}", _given(one)) for one in story.line.exposures]
    for processing in story.processings:
        steps = [f"{one.step} {SECOND.show(one.step_s) if one.step_s else ''}".strip() for one in processing.steps.all()]
        rows.append((f"Processed {processing.processed_at:%Y-%m-%d %H:%M}", "; ".join(steps)))
    rows += [
        (f"Judged {one.judged_at:%Y-%m-%d}", f"{one.looks} {f'{one.off_stops:g} stop' if one.off_stops else ''}".strip()) for one in story.verdicts
    ]
    if story.readings:
        rows.append(("Densities", " ".join(f"{one.density:g}" for one in story.readings)))
    rows.append(("Remarks", sheet.remarks))
    return pairs([(label, text) for label, text in rows if text])


def _given(exposure: "Exposure") -> str:
    """`97 s (1:37), f/22, 210 mm lens, overcast sky`; what is not known is left out."""
    from silverwright.units import F_NUMBER, SECOND

    time = SECOND.show(exposure.given_s) if exposure.given_s else ""
    aperture = F_NUMBER.show(exposure.aperture_f) if exposure.aperture_f else ""
    return ", ".join(part for part in (time, aperture, str(exposure.lens or ""), exposure.light_class) if part not in {"", "unknown"})


def _commands() -> Mapping[str, click.Command]:
    sheets = click.Command(
        "sheets",
        params=[*(click.Option([option_name(name), name], help=says, metavar="[words]") for name, says in FILTERS.items()), JSON_OPTION],
        callback=list_sheets,
        help="List the sheets, the newest first.",
        epilog="\b\nExamples:\n  silverwright sheets\n  silverwright sheets --state exposed --json",
    )
    story = click.Command(
        "story",
        params=[click.Argument(["number"]), JSON_OPTION],
        callback=tell_story,
        help="One sheet's whole story: exposures, processing, densities, verdicts and every correction.",
        epilog="\b\nExamples:\n  silverwright story 26-018\n  silverwright story 26-018 --json",
    )
    return {"sheets": sheets, "story": story}


def command(name: str) -> click.Command:
    """`silverwright sheets` and `silverwright story`."""
    return _commands()[name]
