"""Paper from a box is cut down to a holder's size, and becomes a box of its own."""

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Annotated, Any, Final

from silverwright.asking.fields import Thing, Words
from silverwright.asking.operation import Remark, Typed, remark
from silverwright.book.models import Holder, Lot
from silverwright.book.models.kept import LONGEST_NAME
from silverwright.catalogue import find
from silverwright.errors import BadQuestion, Fault
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.cutting import HOLDER_SIZE, OPENING_SIZE, CuttingAnswer
from silverwright.questions.sheetsize import SHEET_SIZE, known_size, size_said
from silverwright.vocabulary_shelf import SHEETS_TO_CUT, TRIM_MM
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, ONE_LINE, REMARKS, WHEN, WHOLE

ASKED: Final = ("sheet_size", "holder_size", "opening_size", "trim_mm", "sheets_to_cut")
CUT_TO: Final = ", cut to "
MARKED: Final = Words(help="How emulsion side and factory edges are marked on the pieces.", example="pencil stroke on the back", longest=200)


class CutPaperForm(Typed):
    """Sheets of a box under the trimmer."""

    lot: Annotated[str, Thing(kind="lot", label="Box", help="The box whose sheets are cut.", example="box C")]
    sheets_to_cut: Annotated[float, SHEETS_TO_CUT, WHOLE] = 1
    holder: Annotated[str | None, Thing(kind="holder", help="The holder that the pieces are for; its size is taken.", example="holder 1")] = None
    holder_size: Annotated[str, HOLDER_SIZE] = ""
    opening_size: Annotated[str, OPENING_SIZE] = ""
    trim_mm: Annotated[float | None, TRIM_MM] = None
    sheet_size: Annotated[str, SHEET_SIZE] = ""
    name: Annotated[
        str | None,
        Words(help="What the box of the pieces is called.", example="box C, cut to 4x5 in", longest=LONGEST_NAME, label="Name of the pieces' box"),
        ONE_LINE,
    ] = None
    marked: Annotated[str, MARKED] = ""
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


def _planned(form: CutPaperForm, lot: Lot, holder: Holder | None) -> tuple[CuttingAnswer, str]:
    """The cutting plan, and the size that the pieces are called by."""
    wanted = form.holder_size or (holder.size if holder else "")
    sheet = form.sheet_size or sheet_size_of(lot)
    faults = []
    if not wanted:
        where = f"The book does not know the size of “{holder}”." if holder else "For which holder?"
        faults.append(Fault("holder_size", "", f"{where} Give its size, such as 4x5 in."))
    if not sheet:
        faults.append(Fault("sheet_size", "", f"The book does not know how large the sheets of “{lot}” are. Give their size, such as 8x10 in."))
    if faults:
        raise BadQuestion(faults)
    asked = {name: getattr(form, name) for name in ASKED} | {"sheet_size": sheet, "holder_size": wanted}
    answer: CuttingAnswer = find("paper.cutting").ask({name: value for name, value in asked.items() if value not in (None, "")})
    return answer, wanted


def sheet_size_of(lot: Lot) -> str:
    """The size of a box's sheets in words that can be read again; nothing where the book does not know it."""
    if lot.width_mm and lot.height_mm:
        return size_said(lot.width_mm, lot.height_mm)
    return lot.size if known_size(lot.size) else ""


def _cut(doing: Doing[CutPaperForm]) -> Done:
    form, lot = doing.form, doing.things["lot"]
    answer, wanted = _planned(form, lot, doing.things.get("holder"))
    sheets, pieces = int(form.sheets_to_cut), int(answer.pieces.value or 0)
    if lot.sheets_left is not None and 0 < lot.sheets_left < sheets:
        problem = f"“{lot}” holds {lot.sheets_left} by the book: cut so many, or correct its count first."
        raise BadQuestion([Fault("sheets_to_cut", f"{sheets}", problem)])
    notes: list[Remark] = []
    if lot.sheets_left == 0:
        notes.append(remark(Note.BOX_EMPTY, lot=lot.name))
    elif lot.sheets_left is not None:
        lot.sheets_left -= sheets
        lot.save()
    into = _pieces_box(doing, lot, wanted, answer)
    into.sheets_left = (into.sheets_left or 0) + pieces
    into.strips = _strips(answer, sheets, into.strips)
    into.save()
    size = size_said(into.width_mm or 0, into.height_mm or 0)
    left = "" if lot.sheets_left is None else f" {lot.sheets_left} left in “{lot}”."
    says = f"{_many(sheets, 'sheet')} of “{lot}” cut into {_many(pieces, 'piece')} of {size}: “{into}” holds {into.sheets_left}.{left}"
    return doing.done(
        ("lot", str(into)),
        says,
        [*notes, *(one for one in answer.other_notes if one.severity != "know")],
        pieces=pieces,
        sheets_cut=sheets,
        cut_from=lot.name,
    )


def _pieces_box(doing: Doing[CutPaperForm], lot: Lot, wanted: str, answer: CuttingAnswer) -> Lot:
    """The box of the pieces: the one of that name, if it holds the same pieces of the same paper, or a new one."""
    form = doing.form
    name = form.name or f"{lot.name[: LONGEST_NAME - len(wanted) - len(CUT_TO)]}{CUT_TO}{wanted}"
    width_mm, height_mm = answer.piece_width_mm.value or 0.0, answer.piece_height_mm.value or 0.0
    there = Lot.objects.filter(name__iexact=name).first()
    if there is None:
        return Lot(
            name=name,
            paper=lot.paper,
            size=wanted,
            width_mm=width_mm,
            height_mm=height_mm,
            cut_from=lot,
            opened_on=lot.opened_on,
            marked=form.marked,
            remarks=form.remarks,
        )
    same = there.cut_from_id == lot.pk and (there.width_mm, there.height_mm) == (width_mm, height_mm)
    if not same or there.archived_at is not None:
        what = "is in the archive" if there.archived_at else "holds other paper or another size"
        raise BadQuestion([Fault("name", name, f"There is already a box called “{there}”, and it {what}. Give the pieces' box another name.")])
    there.marked = form.marked or there.marked
    there.remarks = "\n".join(part for part in (there.remarks, form.remarks) if part)
    return there


def _strips(answer: CuttingAnswer, sheets: int, there: Sequence[Mapping[str, float]]) -> list[dict[str, float]]:
    """The strips that are wide enough to keep, in rows of width, length and how many, together with those of earlier sheets."""
    narrow_mm = fact("cutting", "narrow_strip").value
    found = Counter({(row["width_mm"], row["length_mm"]): int(row["count"]) for row in there})
    for kind, width_mm, height_mm in zip(answer.part, answer.part_width_mm, answer.part_height_mm, strict=True):
        if kind == "strip" and min(width_mm, height_mm) >= narrow_mm:
            found[round(min(width_mm, height_mm), 2), round(max(width_mm, height_mm), 2)] += sheets
    return [{"width_mm": width_mm, "length_mm": length_mm, "count": count} for (width_mm, length_mm), count in sorted(found.items(), reverse=True)]


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


CUT_PAPER: Final[Deed[Any]] = Deed(
    name="cut-paper",
    says="Cut sheets of a box down to a holder's own size; the pieces become a box of their own.",
    form=CutPaperForm,
    perform=_cut,
    caution=Note.BLADE_IN_THE_DARK,
    examples={"boatyard": {"lot": "box C", "sheets_to_cut": 2, "holder_size": "4x5 in"}},
)
