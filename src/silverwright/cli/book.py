"""Reading the book on the command line."""

import json as json_text
from collections.abc import Callable, Mapping
from functools import partial
from typing import TYPE_CHECKING, Any, Final

import click

from silverwright.cli.fields import option_name
from silverwright.cli.told import WIDE, pairs, tell, telling

if TYPE_CHECKING:
    from silverwright.book.evidence import Piece
    from silverwright.book.models import Exposure
    from silverwright.book.queries import PaperKnown, SheetLine, Story
    from silverwright.book.story import Change

JSON_OPTION: Final = click.Option(["--json"], is_flag=True, help="Everything as JSON, with every figure.")
PROCESSES: Final = click.Choice(["direct positive", "negative"])
WORDS: Final = click.STRING
FILTERS: Final[dict[str, tuple[click.ParamType[str], str]]] = {
    "paper": (WORDS, "Only of this paper."),
    "lot": (WORDS, "Only from this box."),
    "state": (click.Choice(["exposed", "cut", "processed", "measured"]), "Only where they stand so."),
    "process": (PROCESSES, "Only with this process."),
    "light_class": (WORDS, "Only under this class of light."),
    "year": (WORDS, "Only of this year, such as 2026."),
    "words": (WORDS, "Only with these words in number, subject or remarks."),
    "archived": (click.Choice(["yes"]), "The archived ones."),
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


def tell_paper(*, name: str, process: str, fresh_baths: bool, why: bool, json: bool) -> None:
    """What own sheets say of a paper."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book import queries

        found = queries.paper_known(name, process, fresh_baths=fresh_baths)
    told(found, as_json=json, people=partial(_known, why=why))


def _known(known: "PaperKnown", *, why: bool) -> str:
    from silverwright.book.controls import history_told
    from silverwright.questions.doubts import BEHIND_WHY, doubts_told

    rows = [(f"{one.evidence}, sheet {one.sheet}", _says(one)) for one in known.told.pieces]
    head = f"{known.paper}, {known.process}"
    nothing = "Your own sheets say nothing of it yet: enter a step sheet, or say how a sheet looks."
    controls = "\n".join(("Control step sheets", *(f"  {one}" for one in history_told(known.controls)))) if known.controls else ""
    doubts = "\n".join(("Why so unsure", *(click.wrap_text(one, WIDE, "  ", "  ") for one in doubts_told(known.next)))) if why else ""
    answer = tell(known.next, without=() if why else BEHIND_WHY)
    return "\n\n".join(part for part in (head, pairs(rows) or nothing, controls, answer, doubts) if part)


def _says(one: "Piece") -> str:
    earlier = f"in place of the earlier {one.instead_of}" if one.instead_of else ""
    parts = [one.says, earlier, one.why_not, f"left out: {one.left_out}" if one.left_out else ""]
    return "; ".join(part for part in parts if part)


def _sheet_list(lines: "tuple[SheetLine, ...]") -> str:
    if not lines:
        return "No sheet yet. Record one with `silverwright expose`, or on the Camera page."
    rows = [(line.sheet.number, line.state, str(line.sheet.paper), line.sheet.subject) for line in lines]
    wide = [max(len(row[column]) for row in rows) for column in range(3)]
    return "\n".join(f"{number:<{wide[0]}}  {state:<{wide[1]}}  {paper:<{wide[2]}}  {subject}".rstrip() for number, state, paper, subject in rows)


def _story(story: "Story") -> str:
    from silverwright.book.life import verdict_words
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
    for one in story.line.exposures:
        rows += [(f"Planned {one.exposed_at:%Y-%m-%d %H:%M}", _planned(one)), (f"Exposed {one.exposed_at:%Y-%m-%d %H:%M}", _given(one))]
    for processing in story.processings:
        steps = [f"{one.step} {SECOND.show(one.step_s) if one.step_s else ''}".strip() for one in processing.steps.all()]
        rows.append((f"Processed {processing.processed_at:%Y-%m-%d %H:%M}", "; ".join(steps) or "no steps noted"))
    rows.append(("Densities", " ".join(f"{one.density:g}" for one in story.readings if one.density is not None)))
    rows += [
        (f"Learnt {one.learnt_at:%Y-%m-%d}", f"EI {one.camera_ei:.3g}" if one.camera_ei else "range and contrast, no EI") for one in story.curves
    ]
    rows += [(f"Judged {one.judged_at:%Y-%m-%d}", verdict_words(one.looks, one.off_stops, one.strip)) for one in story.verdicts]
    rows.append(("Remarks", sheet.remarks))
    rows += [(f"Corrected {one.at:%Y-%m-%d %H:%M}", _corrected(one)) for one in reversed(story.changes) if one.deed == "correct"]
    return pairs([(label, text) for label, text in rows if text])


def _planned(exposure: "Exposure") -> str:
    """`185 s (3:05), 80 % limits 123 s (2:03) to 277 s (4:37)`, or `8.4 flashes, 80 % limits 5 to 14`, as it was answered then."""
    from silverwright.asking.operation import Estimate
    from silverwright.asking.show import show
    from silverwright.vocabulary import TIME_S
    from silverwright.vocabulary_camera import FLASHES

    answer = exposure.planned.answer if exposure.planned else {}
    what, mark = ("flashes", FLASHES) if "flashes" in answer else ("time_s", TIME_S)
    kept = answer.get(what, {})  # a document of its own day: what it lacks stays unknown
    shown = show(mark, Estimate(**{name: kept.get(name) for name in Estimate.model_fields})) if kept else ""
    amount, between, limits = shown.partition(", ")
    return f"{amount} flashes{between}{limits}" if "flashes" in answer and shown else shown


def _corrected(change: "Change") -> str:
    """`exposure 26-005/1: given_s 178.0 to 187.0`."""
    fields = (
        f"{name} {'empty' if was in {None, ''} else was} to {'empty' if now in {None, ''} else now}" for name, (was, now) in change.fields.items()
    )
    return f"{change.kind} {change.name}: {'; '.join(fields)}"


def _given(exposure: "Exposure") -> str:
    """`97 s (1:37), f/22, 210 mm lens, overcast sky`; what is not known is left out."""
    from silverwright.book.counting import how_counted
    from silverwright.book.life import amounts_said
    from silverwright.units import F_NUMBER, SECOND, flashes_said

    time = SECOND.show(exposure.given_s) if exposure.given_s else ""
    time = time if exposure.flashes_given is None else flashes_said(exposure.flashes_given)
    aperture = F_NUMBER.show(exposure.aperture_f) if exposure.aperture_f else ""
    parts = (time, aperture, str(exposure.lens or ""), exposure.light_class, how_counted(exposure), amounts_said(exposure))
    return ", ".join(part for part in parts if part not in {"", "unknown"})


def _commands() -> Mapping[str, click.Command]:
    sheets = click.Command(
        "sheets",
        params=[*(click.Option([option_name(name), name], type=kind, help=says) for name, (kind, says) in FILTERS.items()), JSON_OPTION],
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
    known = click.Command(
        "known",
        params=[
            click.Argument(["name"], metavar="PAPER"),
            click.Option(["--process"], type=PROCESSES, default="direct positive", help="In which process; direct positive unless you say."),
            click.Option(["--fresh-baths"], is_flag=True, help="The next sheet goes through baths that were mixed afresh."),
            click.Option(["--why"], is_flag=True, help="With every doubt, and what each is for."),
            JSON_OPTION,
        ],
        callback=tell_paper,
        help="What your own sheets say of a paper: its EI, what it rests on, and what gives none.",
        epilog="\b\nExamples:\n  silverwright known 'RC paper, grade 2'\n  silverwright known 'RC paper, grade 2' --process negative --json",
    )
    return {"sheets": sheets, "story": story, "known": known}


def command(name: str) -> click.Command:
    """`silverwright sheets`, `story` and `known`."""
    return _commands()[name]
