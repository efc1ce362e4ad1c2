"""May the one be poured into the other? Two vessels by what is in them, and the gas that comes of it."""

from typing import Annotated, ClassVar, Final

from pydantic import field_validator

from silverwright.asking.fields import Flag, Plain, Words
from silverwright.asking.operation import Answer, Operation, Question, Remark, refuse, remark
from silverwright.notes import Note
from silverwright.questions.apart import kept_apart
from silverwright.questions.ingredients import key_of
from silverwright.questions.recipe import recipe_named
from silverwright.records_chemistry import Apart, Contents

MOST_NAMES: Final = 40  # our judgement: more than any waste bottle has seen
POURED: Final = Words(
    help="What is in the one: substances or recipes by their names, a line each.", example="peroxide bleach", longest=2000, lines=True, label="Poured"
)
POURED_INTO: Final = Words(
    help="What is in the other, in the same way.", example="plain fixer\nsodium sulphite", longest=2000, lines=True, label="Poured into"
)


class MeetingQuestion(Question):
    """Two vessels: two baths, two stocks, or a bath and a waste bottle."""

    poured: Annotated[str, POURED]
    poured_into: Annotated[str, POURED_INTO]

    @field_validator("poured", "poured_into")
    @classmethod
    def _names(cls, written: str) -> str:
        names = names_in(written)
        if not names:
            raise refuse("Name what is in it, a line each: a substance or a recipe.")
        if len(names) > MOST_NAMES:
            raise refuse(f"{len(names)} names; at most {MOST_NAMES} are read.")
        return written


class MeetingAnswer(Answer):
    """Whether that is refused, and each pair with the gas that comes of it, the likeliest accident first."""

    table: ClassVar[tuple[str, ...]] = ("one", "other", "gas", "comes_of_it", "pair_source")
    refused: Annotated[bool, Flag(help="Whether pouring them together is refused.", example=True, label="Refused")] = False
    one: Annotated[tuple[str, ...], Plain(help="What is poured.", example="hydrogen peroxide", label="This")] = ()
    other: Annotated[tuple[str, ...], Plain(help="What it must not meet.", example="sodium thiosulphate", label="And this")] = ()
    gas: Annotated[tuple[str, ...], Plain(help="The gas that comes off.", example="sulphur dioxide and oxygen")] = ()
    comes_of_it: Annotated[tuple[str, ...], Plain(help="What comes of it.", example="They heat each other up.", label="Comes of it")] = ()
    pair_source: Annotated[tuple[str, ...], Plain(help="Who says so.", example="docslib_incompatible", label="Told by")] = ()


def answer(question: MeetingQuestion) -> MeetingAnswer:
    """Each substance of the one against each of the other."""
    found = kept_apart(_contents(question.poured), _contents(question.poured_into))
    known = [pair for pair in found if pair.gas]
    return MeetingAnswer(
        refused=any(pair.refused for pair in found),
        one=tuple(pair.one for pair in known),
        other=tuple(pair.other for pair in known),
        gas=tuple(pair.gas for pair in known),
        comes_of_it=tuple(pair.words for pair in known),
        pair_source=tuple(pair.says for pair in known),
        notes=remarks_of(found),
        sources=tuple(dict.fromkeys(pair.says for pair in known)),
    )


def remarks_of(found: tuple[Apart, ...]) -> tuple[Remark, ...]:
    """The same as notes: what is refused first."""
    notes = [remark(_note(pair), one=pair.one, other=pair.other, gas=pair.gas, words=pair.words) for pair in found]
    return tuple(notes) or (remark(Note.APART_NOT_LISTED),)


def names_in(written: str) -> list[str]:
    """The names, by lines or semicolons."""
    return [name.strip() for name in written.replace(";", "\n").splitlines() if name.strip()]


def _note(pair: Apart) -> Note:
    if not pair.gas:
        return Note.APART_UNKNOWN
    return Note.APART_NEVER if pair.refused else Note.APART_FOAMS


def _contents(written: str) -> Contents:
    """What those names hold; how much does not matter."""
    keys: list[str] = []
    for name in names_in(written):
        recipe = recipe_named(name)
        keys += [part.substance for part in recipe.parts] if recipe and recipe.parts else [key_of(name)]
    return Contents(0.0, dict.fromkeys(keys, 1.0))


MEETING: Final = Operation(
    name="chemistry.apart",
    version=1,
    asks="May the one be poured into the other?",
    question=MeetingQuestion,
    answer=MeetingAnswer,
    compute=answer,
    examples={
        "one waste bottle for bleach and fixer": {"poured": "peroxide bleach", "poured_into": "plain fixer"},
        "stop bath and developer": {"poured": "acetic stop bath", "poured_into": "paper developer"},
        "a bleach and a stop bath": {"poured": "peroxide bleach", "poured_into": "citric stop bath"},
        "something that nobody knows": {"poured": "toner X", "poured_into": "hydrogen peroxide\ncitric acid"},
    },
)
