"""What a photographer asks, and what comes back: question, answer and the operation that joins them."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, Final, Generic, Literal, Self, TypeVar

from pydantic import BaseModel, ConfigDict, ModelWrapValidatorHandler, ValidationError, model_validator
from pydantic_core import PydanticCustomError

from silverwright.asking.faults import faults_of
from silverwright.errors import BadQuestion
from silverwright.notes import CAUTIONS, Note, Severity
from silverwright.sentences import SENTENCES

FOLDED_UNDER: Final = 0.05  # our judgement (house rule): a twentieth of a stop is nothing that a shutter can give
EIGHTY_PERCENT_SD: Final = 1.2815515655446004  # arithmetic: half the width of the middle 80 % of a normal, in standard deviations
Rests = Literal["own", "published", "trade", "judgement"]


class Record(BaseModel):
    """A frozen record: nothing unknown gets in, nothing changes afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


class Typed(Record):
    """What somebody typed: a question or what an act needs. Every fault is reported at once, in our own words, whoever typed it."""

    @model_validator(mode="wrap")
    @classmethod
    def _in_our_words(cls, given: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:  # noqa: ANN401 (pydantic's hook)
        try:
            return handler(given)
        except ValidationError as error:
            raise BadQuestion(faults_of(cls, given, error)) from None


class Question(Typed):
    """What is asked."""


def refuse(sentence: str, field: str = "") -> PydanticCustomError:
    """What a validator raises when a rule between fields is broken: our sentence as it stands, beside another field if one is named."""
    return PydanticCustomError("rule", "{said}", {"said": sentence, "field": field})


class Estimate(Record):
    """A value and where the true one lies: limits that hold `percent` of 100; an end that was not reached is open, never guessed."""

    value: float | None = None
    low: float | None = None
    high: float | None = None
    percent: int | None = None


class Line(Record):
    """One line of the working: an amount in the unit that this answer adds up in, and its doubt as one standard deviation."""

    what: str
    amount: float
    doubt: float
    unit: str
    source: str
    rests: Rests

    @property
    def folded(self) -> bool:
        """Whether amount and doubt are both too small to matter: the line is counted all the same, and shown where somebody asks for it."""
        return abs(self.amount) < FOLDED_UNDER and self.doubt < FOLDED_UNDER


class Remark(Record):
    """A note with its figures filled in."""

    note: Note
    severity: Severity
    sentence: str


def remark(note: Note, **figures: object) -> Remark:
    """The note's sentence with these figures in it."""
    severity, sentence = SENTENCES[note]
    return Remark(note=note, severity=severity, sentence=sentence.format(**figures))


class Answer(Record):
    """What comes back, with its working; rows of one length that belong together, one line for each step or patch, are named in `table`."""

    table: ClassVar[tuple[str, ...]] = ()

    notes: tuple[Remark, ...] = ()  # first, also as JSON: a caution comes before the amounts
    ledger: tuple[Line, ...] = ()
    sources: tuple[str, ...] = ()

    @property
    def cautions(self) -> tuple[Remark, ...]:
        """The notes that come before the figures: what can hurt somebody."""
        return tuple(one for one in self.notes if one.note in CAUTIONS)

    @property
    def other_notes(self) -> tuple[Remark, ...]:
        """All other notes."""
        return tuple(one for one in self.notes if one.note not in CAUTIONS)


Q = TypeVar("Q", bound=Question)
A = TypeVar("A", bound=Answer)


@dataclass(frozen=True, slots=True)
class Operation(Generic[Q, A]):
    """A question that a photographer asks, with the pure function that answers it."""

    name: str
    version: int
    asks: str
    question: type[Q]
    answer: type[A]
    compute: Callable[[Q], A]
    examples: Mapping[str, Mapping[str, object]]

    def ask(self, given: Mapping[str, object]) -> A:
        """Answer what somebody typed, or raise `BadQuestion` with every fault."""
        return self.compute(self.question.model_validate(given))


AnyOperation = Operation[Any, Any]
