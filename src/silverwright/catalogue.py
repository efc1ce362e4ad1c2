"""Every question that can be asked here."""

from difflib import get_close_matches
from typing import Final

from silverwright.asking.operation import AnyOperation
from silverwright.errors import UnknownName
from silverwright.questions.bellows import BELLOWS
from silverwright.questions.calibration import CALIBRATION
from silverwright.questions.curve import CURVE
from silverwright.questions.filter import FILTER
from silverwright.questions.index import INDEX
from silverwright.questions.ledger import LEDGER
from silverwright.questions.meter import READING
from silverwright.questions.next_exposure import NEXT
from silverwright.questions.patches import PATCHES
from silverwright.questions.reciprocity import RECIPROCITY
from silverwright.questions.stepsheet import STEPS
from silverwright.questions.strips import STRIPS
from silverwright.questions.tone import TONE

CATALOGUE: Final[tuple[AnyOperation, ...]] = (
    LEDGER,
    READING,
    BELLOWS,
    FILTER,
    RECIPROCITY,
    STRIPS,
    CURVE,
    INDEX,
    NEXT,
    STEPS,
    TONE,
    CALIBRATION,
    PATCHES,
)


def find(name: str) -> AnyOperation:
    """The operation of that name."""
    by_name = {operation.name: operation for operation in CATALOGUE}
    if name not in by_name:
        raise UnknownName("question", name, get_close_matches(name, by_name, n=3))
    return by_name[name]
