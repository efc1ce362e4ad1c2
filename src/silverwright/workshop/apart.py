"""What must not meet is stopped before the act, with the gas named; what is only to be minded is said with it."""

from silverwright.asking.operation import Remark, remark
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.questions.apart import kept_apart
from silverwright.records_chemistry import Apart, Contents


def refuse_apart(field: str, one: Contents, other: Contents) -> list[Remark]:
    """Refuse to bring two things together that give off a gas or heat; the notes about what is not refused. Twice the same: a mix in itself."""
    found = kept_apart(one, other)
    refused = [clash for clash in found if clash.refused]
    if refused:
        pairs = " and ".join(dict.fromkeys(f"{clash.one} with {clash.other}" for clash in refused))
        raise BadQuestion([Fault(field, pairs, f"Stop, these must not meet. {' '.join(dict.fromkeys(_said(clash) for clash in refused))}")])
    return [remark(Note.MIND_TOGETHER, words=_said(clash)) for clash in found]


def _said(clash: Apart) -> str:
    """The sentence about a pair; its gas is always named."""
    return clash.words if clash.gas.lower() in clash.words.lower() else f"{clash.words} Gas: {clash.gas}."
