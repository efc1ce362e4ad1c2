"""A sheet is cut: its pieces share the exposure, and the trays that it has been through, and then go their own way."""

from string import ascii_lowercase
from typing import Annotated, Any, Final

from silverwright.asking.fields import Thing
from silverwright.asking.operation import Typed
from silverwright.book.models import Sheet
from silverwright.errors import BadQuestion, Fault
from silverwright.vocabulary import PIECES
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import WHOLE

SHEET: Final = Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")
INHERITED: Final = ("year", "running", "paper_id", "lot_id", "subject", "turned", "told_apart")


class CutForm(Typed):
    """A sheet cut into pieces."""

    sheet: Annotated[str, SHEET]
    pieces: Annotated[float, PIECES, WHOLE] = 2


def _cut(doing: Doing[CutForm]) -> Done:
    sheet: Sheet = doing.things["sheet"]
    if sheet.whole is not None:
        raise BadQuestion([Fault("sheet", sheet.number, f"This is a piece already. Cut {sheet.whole} into more pieces instead.")])
    there = sheet.pieces.count()
    letters = ascii_lowercase[there : there + int(doing.form.pieces)]
    if len(letters) < doing.form.pieces:
        raise BadQuestion([Fault("pieces", f"{doing.form.pieces:g}", f"A sheet has at most {len(ascii_lowercase)} pieces.")])
    inherited = {name: getattr(sheet, name) for name in INHERITED}
    numbers = [
        Sheet.objects.create(number=f"{sheet.number}{letter}", letter=letter, whole=sheet, made_at=doing.at, **inherited).number for letter in letters
    ]
    return doing.done(("sheet", sheet.number), f"Sheet {sheet} is cut into {', '.join(numbers)}; each goes its own way.", pieces=numbers)


CUT: Final[Deed[Any]] = Deed(
    name="cut",
    says="Cut an exposed sheet into pieces that go their own way.",
    form=CutForm,
    perform=_cut,
    examples={"boatyard": {"sheet": "26-018", "pieces": 2}},
)
