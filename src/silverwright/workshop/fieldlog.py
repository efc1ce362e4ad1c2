"""A log that was kept outdoors comes into the book: every line once, however often it is handed in."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Annotated, Any, Final

from pydantic import BeforeValidator, Field

from silverwright.asking.faults import LONGEST_ECHO
from silverwright.asking.fields import Choice, Flag, Moment, Thing, fields_of, label_of
from silverwright.asking.operation import Remark, remark
from silverwright.asking.rows import Rows
from silverwright.book import words
from silverwright.book.models import Act
from silverwright.book.models.kept import act_now
from silverwright.errors import BadQuestion, Contradiction, Fault
from silverwright.notes import Note
from silverwright.questions.ledger import LEDGER, LedgerQuestion
from silverwright.workshop.act import AnyDeed, Deed, Doing, Done, carry_out
from silverwright.workshop.expose import EXPOSE, ExposeForm
from silverwright.workshop.forms import DATED
from silverwright.workshop.loglines import LogRow, given_of, names_of, page_of, read_log
from silverwright.workshop.plan import FromBook, Planned
from silverwright.workshop.scene import ThingsInHand

KEY: Final = "field-log/"
UNREADABLE: Final = "What the field page knew of the paper is damaged here. Empty this cell: the book then says it as it stands today."
BEYOND: Final = "This stands in no column: {text}. Put it where it belongs, or take it out."
WRONG_NAME: Final = "A line's own name has at most 100 letters and signs. Empty it: then the line is known by all its words."
LONGEST_NAME: Final = 100  # our judgement: six times a field page's own


class FieldLogForm(ThingsInHand):
    """A log from outdoors; what is named here is taken for lines that do not say it."""

    paper: Annotated[str | None, Thing(kind="paper", help="Which paper, where a line and its holder do not say.", example="RC paper, grade 2")] = None
    day: Annotated[date | None, Moment(help="The day of lines that give only the hour.", example="2026-11-28"), DATED] = None
    process: Annotated[words.Process | None, Choice(help="Direct positive by reversal, or a negative.", example="direct positive")] = None
    anyway: Annotated[
        bool, Flag(help="Lines on a side that was exposed already come in too: as double exposures.", example="yes", label="Double exposures")
    ] = False
    log: Annotated[
        tuple[LogRow, ...],
        Rows(
            row=LogRow,
            help="The log of a field page, as a file or as text; or, from paper, hour, holder and side, reading, extension, aperture, time given, "
            "what is on it, note.",
            example="14:30; holder 1/2; 10; 315; 22; 1:37; caulking mallet",
        ),
        BeforeValidator(read_log),
        Field(min_length=1),
    ]


@dataclass(frozen=True, slots=True)
class Line:
    """One line on its way into the book."""

    number: int
    row: Mapping[str, str]
    given: Mapping[str, str]
    key: str

    @property
    def said(self) -> str:
        """`2, 14:31, holder 1/2`: enough to find it on the phone or on paper."""
        holder = "/".join(part for part in (self.given.get("holder", ""), self.given.get("side", "")) if part)
        when = self.given.get("when", "").partition("T")[2][:5]
        return ", ".join(part for part in (str(self.number), when, holder, self.given.get("subject", "")) if part)


@dataclass(slots=True)
class Outcome:
    """What became of the lines."""

    recorded: list[str]
    there: list[str]
    left: list[dict[str, Any]]
    notes: list[Remark]


def _import(doing: Doing[FieldLogForm]) -> Done:
    rows = [{name: text for name, text in row.model_dump().items() if text} for row in doing.form.log]
    usual = {name: str(value) for name, value in doing.given.items() if name in fields_of(ExposeForm)}
    found = Outcome([], [], [], [])
    for number, (row, name) in enumerate(zip(rows, names_of(rows), strict=True), 1):
        _record(Line(number, row, given_of(row, usual, doing.form.day), f"{KEY}{name}"), found)
    if not (found.recorded or found.there):
        raise BadQuestion([Fault("log", "", note.sentence) for note in found.notes[:1]] if len(rows) == 1 else [_all_left(found)])
    first = (found.recorded or found.there)[0]
    values = {"recorded": found.recorded, "there": found.there, "left": found.left}
    return doing.done(("sheet", first), _says(found), found.notes, **values)


def _record(line: Line, found: Outcome) -> None:
    """One line into the book, or among those that are left."""
    before = Act.objects.filter(key=line.key).first() if len(line.key) <= LONGEST_NAME + len(KEY) else None
    try:
        done = carry_out(_deed(line), line.given, key=line.key, who=act_now().who)
    except (BadQuestion, Contradiction) as error:
        if before is not None:
            found.there.append(str(before.result["name"]))
            found.notes.append(remark(Note.LOG_CHANGED, line=line.said, sheet=found.there[-1]))
        elif isinstance(error, BadQuestion):
            problems = [{"field": fault.field, "problem": fault.problem} for fault in error.faults]
            found.left.append({"line": line.number, "row": dict(line.row), "faults": problems})
            found.notes.append(remark(Note.LOG_LEFT, line=line.said, problems=" ".join(map(_told, error.faults))))
    else:
        (found.there if before else found.recorded).append(done.name)
        found.notes += [] if before else done.notes


def _told(fault: Fault) -> str:
    """`Aperture, “f/900”: Too large ...`"""
    marks = fields_of(ExposeForm)
    label = label_of(fault.field, marks[fault.field]) if fault.field in marks else fault.field.capitalize()
    if fault.field == "side" and "anyway" in fault.problem:
        return f"{label}: This side was exposed already. If it was exposed a second time, say yes under “Double exposures” and send this line again."
    return f"{label}{f', “{fault.given[:LONGEST_ECHO]}”' if fault.given else ''}: {fault.problem}"


def _deed(line: Line) -> AnyDeed:
    """The act of an exposure, planned as the field page did where one kept this line."""
    faults = []
    if "beyond" in line.row:
        faults.append(Fault("remarks", "", BEYOND.format(text=line.row["beyond"])))
    if len(line.row.get("entry", "")) > LONGEST_NAME or not line.row.get("entry", "").isprintable():
        faults.append(Fault("entry", "", WRONG_NAME))
    page: dict[str, Any] | None = None
    try:
        page = page_of(line.row)
    except ValueError:
        faults.append(Fault("page", "", UNREADABLE))
    if faults:
        return replace(EXPOSE, faults=_also(lambda _: faults))
    if page is None:
        return EXPOSE
    fields = {name: value for name, value in page.items() if name in LedgerQuestion.model_fields}
    return replace(EXPOSE, prepare=lambda doing: _as_on_the_page(fields, doing.given), faults=lambda given: _page_faults(fields, given))


def _also(more: Callable[[Mapping[str, object]], Sequence[Fault]]) -> Callable[[Mapping[str, object]], Sequence[Fault]]:
    usual = EXPOSE.faults or (lambda _: ())
    return lambda given: [*more(given), *usual(given)]


def _as_on_the_page(page: Mapping[str, Any], given: Mapping[str, object]) -> Planned:
    """The ledger as the field page had it, whatever the book has learnt since."""
    scene = {name: value for name, value in given.items() if name in LedgerQuestion.model_fields}
    question = LedgerQuestion.model_validate({**page, **scene})
    known = tuple(FromBook(field=name, value=value, says="the field page") for name, value in page.items())
    return Planned(question=question.model_dump(mode="json", exclude_defaults=True), answer=LEDGER.compute(question), from_book=known)


def _page_faults(page: Mapping[str, Any], given: Mapping[str, object]) -> Sequence[Fault]:
    try:
        _as_on_the_page(page, given)
    except BadQuestion as bad:
        return bad.faults
    return ()


def _says(found: Outcome) -> str:
    """`3 sheets are in the book: 26-012, 26-013, 26-014. 1 line was there already.`"""
    new, again, left = len(found.recorded), len(found.there), len(found.left)
    first = f"{new} {'sheet is' if new == 1 else 'sheets are'} in the book: {', '.join(found.recorded)}." if new else "Nothing new."
    parts = [first]
    parts += [f"{again} {'line was' if again == 1 else 'lines were'} there already."] if again else []
    parts += [f"{left} {'line is' if left == 1 else 'lines are'} not recorded."] if left else []
    return " ".join(parts)


def _all_left(found: Outcome) -> Fault:
    return Fault("log", "", "No line could be recorded. " + " ".join(note.sentence for note in found.notes))


FIELD_LOG: Final[Deed[Any]] = Deed(
    name="field-log",
    says="Bring in a log from outdoors: each line becomes an exposed sheet, once.",
    form=FieldLogForm,
    perform=_import,
    examples={
        "from paper": {
            "paper": "RC paper, grade 2",
            "lens": "210 mm lens in a leaf shutter",
            "day": "2026-11-28",
            "log": "14:30; ; 10; 315; 22; 1:37; caulking mallet",
        }
    },
)
