"""What an act is: a form, what it writes, and one transaction around both that happens once for each key."""

import hashlib
import json
import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final, Generic, TypeVar

from django.db import transaction
from django.utils.timezone import now

from silverwright.asking.faults import LONGEST_ECHO
from silverwright.asking.fields import Thing, fields_of
from silverwright.asking.operation import Record, Remark, Typed, remark
from silverwright.book.find import find_thing
from silverwright.book.models import Act
from silverwright.book.models.kept import LONGEST_NAME, Kept, written_by
from silverwright.book.trouble import plain_trouble
from silverwright.errors import BadQuestion, Contradiction, Fault, UnknownName
from silverwright.notes import Note

LONGEST_KEY: Final = 200  # our judgement: five times a random one
UNKEEPABLE: Final = "There are letters in this that cannot be written down. Type it again."
F = TypeVar("F", bound=Typed)
Things = Mapping[str, Any]


class Done(Record):
    """What an act did: which thing it made or changed, in a sentence, with doubts worth saying."""

    deed: str
    kind: str
    name: str
    says: str
    notes: tuple[Remark, ...] = ()
    values: Mapping[str, Any] = {}


@dataclass(frozen=True, slots=True)
class Doing(Generic[F]):
    """An act under way: the form as it was read, the things that it names, when, and what was prepared before the transaction."""

    deed: str
    form: F
    things: Things
    at: datetime
    given: Mapping[str, object] = field(default_factory=dict)
    ready: Any = None

    def done(self, thing: tuple[str, str], says: str, notes: Sequence[Remark] = (), **values: object) -> Done:
        """The result of this act."""
        return Done(deed=self.deed, kind=thing[0], name=thing[1], says=says, notes=tuple(notes), values=values)


@dataclass(frozen=True, slots=True)
class Deed(Generic[F]):
    """
    Something that a photographer does and the book remembers.

    `caution` is said before the act, at every door. `perform` writes, inside one transaction; `prepare` comes before it, for what takes long or
    must be asked first. `faults` finds what the form alone cannot.
    """

    name: str
    says: str
    form: type[F]
    perform: Callable[[Doing[F]], Done]
    examples: Mapping[str, Mapping[str, object]]
    prepare: Callable[[Doing[F]], Any] | None = None
    faults: Callable[[Mapping[str, object]], Sequence[Fault]] | None = None
    caution: Note | None = None

    @property
    def warning(self) -> Remark | None:
        """The caution in words, if there is one."""
        return remark(self.caution) if self.caution else None


AnyDeed = Deed[Any]


def carry_out(deed: AnyDeed, given: Mapping[str, object], *, key: str = "", who: str = "") -> Done:
    """Do it once: the same key with the same content gives the same result again, the same key with another content is refused."""
    if len(key) > LONGEST_KEY or not key.isprintable():
        raise BadQuestion([Fault("key", ascii(key)[1:LONGEST_ECHO], f"A key has at most {LONGEST_KEY} letters, all of them printable.")])
    typed = {name: value for name, value in given.items() if value is not None and value != ""}
    with plain_trouble():
        form, faults = _read(deed, typed)
        content = _content(deed, form) if form is not None else ""
        if form is not None and key and (earlier := Act.objects.filter(key=key).first()) is not None:
            return _again(earlier, content)
        things, strange = _find(deed, typed)
        faults += [fault for fault in strange if fault.field not in {one.field for one in faults}]
        if deed.faults is not None:
            faults += [fault for fault in deed.faults(typed) if fault.field not in {one.field for one in faults}]
        if form is None or faults:
            raise BadQuestion(faults)
        doing = Doing(deed.name, form, things, now(), typed)
        ready = deed.prepare(doing) if deed.prepare else None
        with transaction.atomic():
            if key and (earlier := Act.objects.filter(key=key).first()) is not None:
                return _again(earlier, content)
            document = form.model_dump(mode="json", exclude_defaults=True)
            act = Act.objects.create(
                at=doing.at, who=_printable(who), deed=deed.name, key=key or secrets.token_hex(), content=content, given=document
            )
            fresh, _ = _find(deed, typed)  # what they say may have changed while something was prepared
            with written_by(act):
                done = deed.perform(Doing(deed.name, form, fresh, doing.at, typed, ready))
            act.result = done.model_dump(mode="json")
            act.save(update_fields=["result"])
    return done


def _printable(who: str) -> str:
    """A name as it can be kept."""
    return "".join(letter for letter in who if letter.isprintable()).strip()[:LONGEST_NAME]


def _read(deed: AnyDeed, typed: Mapping[str, object]) -> tuple[Typed | None, list[Fault]]:
    strange = [Fault(name, ascii(value)[:LONGEST_ECHO], UNKEEPABLE) for name, value in typed.items() if not _keepable(value)]
    try:
        form: Typed = deed.form.model_validate(typed)
    except BadQuestion as bad:
        return None, [*strange, *(fault for fault in bad.faults if fault.field not in {one.field for one in strange})]
    return (None, strange) if strange else (form, [])


def _keepable(value: object) -> bool:
    """Whether every letter can be written down: half a pair of code units cannot, and a zero ends a text too early."""
    text = json.dumps(value, ensure_ascii=False, default=str)
    return "\\u0000" not in text and not any("\ud800" <= letter <= "\udfff" for letter in text)


def _find(deed: AnyDeed, typed: Mapping[str, object]) -> tuple[dict[str, Kept], list[Fault]]:
    """The things that the form names; an unknown one is a fault beside its field, with names that are near."""
    return find_things({name: mark.kind for name, mark in fields_of(deed.form).items() if isinstance(mark, Thing)}, typed)


def find_things(wanted: Mapping[str, str], typed: Mapping[str, object]) -> tuple[dict[str, Kept], list[Fault]]:
    """Every thing named in these fields (field: kind), and a fault for each that is unknown or archived."""
    things: dict[str, Kept] = {}
    faults: list[Fault] = []
    for name, kind in wanted.items():
        written = typed.get(name)
        if not isinstance(written, str):
            continue
        try:
            thing = find_thing(kind, written)
        except UnknownName as unknown:
            faults.append(Fault(name, written[:LONGEST_ECHO], f"{unknown} {_otherwise(kind)}"))
            continue
        if thing.archived_at is not None:
            faults.append(Fault(name, written[:LONGEST_ECHO], f"This {kind} is archived. Bring it back first, or choose another one."))
        things[name] = thing
    return things, faults


def _otherwise(kind: str) -> str:
    return "Look into the book for its number." if kind == "sheet" else f"Enter the {kind} first, or choose another one."


def _content(deed: AnyDeed, form: Typed) -> str:
    """What was asked for, however it was written: the same content has the same sum."""
    document = json.dumps([deed.name, form.model_dump(mode="json")], sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(document.encode()).hexdigest()


def _again(earlier: Act, content: str) -> Done:
    if earlier.content != content:
        raise Contradiction(earlier.key)
    return Done.model_validate(earlier.result)
