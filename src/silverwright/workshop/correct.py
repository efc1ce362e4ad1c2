"""A slip of the pen is corrected: what stood there stays in the history, and nobody's correction is overwritten unseen."""

from collections.abc import Mapping
from typing import Annotated, Any, Final

from silverwright.asking.fields import Mark, Quantity, Thing, Words, fields_of, label_of
from silverwright.asking.operation import Record, Typed
from silverwright.asking.rows import Rows, as_lines
from silverwright.asking.show import show
from silverwright.book.find import BY_NAME, called
from silverwright.book.models import Exposure, Sheet
from silverwright.book.models.kept import Kept
from silverwright.errors import BadQuestion, Fault, Stale, of_kind
from silverwright.vocabulary import ROW_VERSION
from silverwright.workshop.act import Deed, Doing, Done, find_things
from silverwright.workshop.archive import ThingForm, named_in
from silverwright.workshop.correctable import FORMS, NEVER
from silverwright.workshop.forms import WHOLE
from silverwright.workshop.pouring import moment
from silverwright.workshop.scene import SceneForm
from silverwright.workshop.settling import follow

SHARED_WITH_PIECES: Final = ("paper", "lot", "turned")
HAPPENED: Final = frozenset({"happened_at", "tested_at", "emptied_at"})


class Change(Record):
    """One field, and what shall stand there."""

    field: Annotated[str, Words(help="Which field.", example="focal_mm", longest=60)]
    to: Annotated[str, Words(help="What shall stand there; nothing empties it.", example="215", longest=4000)] = ""


class CorrectForm(ThingForm):
    """What is corrected."""

    changes: Annotated[tuple[Change, ...], Rows(row=Change, help="Each field with what shall stand there, one in a line.", example="focal_mm; 215")]
    seen: Annotated[float | None, ROW_VERSION, WHOLE] = None


def correctable(kind: str) -> dict[str, Any]:
    """The fields of this kind that can be corrected, each with its mark; an exposure has those of its scene too."""
    fields = {name: mark for name, mark in fields_of(FORMS[kind]).items() if (kind, name) not in NEVER}
    return fields | fields_of(SceneForm) if kind == "exposure" else fields


def standing(kind: str, thing: Kept) -> dict[str, str]:
    """What stands in every field that can be corrected, as text that can be typed again; empty fields are left out."""
    scene = thing.scene if isinstance(thing, Exposure) else {}
    found = {name: scene.get(name) if name in scene or not hasattr(thing, name) else getattr(thing, name) for name in correctable(kind)}
    marks = correctable(kind)
    return {name: _typed(marks[name], value) for name, value in found.items() if value is not None and value not in ("", [], ())}


def _typed(mark: Mark, value: object) -> str:
    """What stands in a field: a table line by line, anything else as a person would type it."""
    return as_lines(mark.row, value) if isinstance(mark, Rows) and isinstance(value, list | tuple) else as_typed(value)


def as_typed(value: object) -> str:
    """A value of the book as a person would type it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def _correct(doing: Doing[CorrectForm]) -> Done:
    form = doing.form
    thing = named_in(form)
    changes = {change.field: change.to for change in form.changes}
    _known(form.kind, changes)
    before = standing(form.kind, thing)
    _fresh(thing, form, before, changes)
    scene = set(fields_of(SceneForm)) if form.kind == "exposure" else set()
    after = {name: text for name, text in {**before, **changes}.items() if text != ""}
    typed = _checked(FORMS[form.kind], {name: text for name, text in after.items() if name not in scene}, thing)
    metered = _checked(SceneForm, {name: text for name, text in after.items() if name in scene}, None) if scene else {}
    values = {name: value for name, value in {**typed, **metered}.items() if name in changes}
    for happened in HAPPENED & set(values):
        moment(doing, values[happened], "changes")
    _write(thing, form.kind, values, scene)
    kind, name = called(thing)
    now, marks = standing(form.kind, thing), correctable(form.kind)
    told = [f"{label_of(one, marks[one])}: {_shown(marks[one], before.get(one))}, now {_shown(marks[one], now.get(one))}." for one in changes]
    was = {field: before.get(field, "") for field in changes}
    says = f"Corrected {of_kind(kind, name)}. {' '.join(told)}"
    return doing.done((kind, name), says, before=was, after=changes, version=thing.version)


def _shown(mark: Mark, typed: str | None) -> str:
    """What stands in a field, as people read it."""
    if not typed:
        return "nothing"
    if isinstance(mark, Rows):
        lines = typed.split("\n")
        rows = lines[1:] if set(lines[0].split(",")) <= set(fields_of(mark.row)) else lines
        return f"“{'; '.join(row.replace(',', ' ') for row in rows)}”"
    if not isinstance(mark, Quantity):
        return f"“{typed}”"
    try:
        return show(mark, float(typed))
    except ValueError:  # a row of numbers
        return typed


def _known(kind: str, changes: Mapping[str, str]) -> None:
    fields = correctable(kind)
    if not changes:
        raise BadQuestion([Fault("changes", "", f"Nothing to correct. Fields of a {kind}: {', '.join(fields)}.")])
    strange = [name for name in changes if name not in fields]
    if strange:
        a = "An" if kind[0] in "aeiou" else "A"
        has = ", ".join(fields)
        raise BadQuestion([Fault("changes", name, f"{a} {kind} has no field “{name}” to correct. It has: {has}.") for name in strange])


def _fresh(thing: Kept, form: CorrectForm, now: Mapping[str, str], changes: Mapping[str, str]) -> None:
    """Refuse when one of these fields was changed since the version that was seen: both values are shown."""
    if form.seen is None or form.seen == thing.version:
        return
    then = thing.history.filter(version=int(form.seen)).order_by("history_id").last()
    if then is None:
        raise BadQuestion([Fault("seen", f"{form.seen:g}", f"There is no such version; the newest is {thing.version}.")])
    seen = standing(form.kind, then.instance)
    if any(seen.get(name, "") != now.get(name, "") for name in changes):
        raise Stale(form.kind, form.name, mine=dict(changes), theirs={name: now.get(name, "") for name in changes})


def _checked(form: type[Typed], given: dict[str, str], thing: Kept | None) -> dict[str, Any]:
    """The values that the form reads, things as rows; every fault at once."""
    if form is FORMS["verdict"] and thing is not None:
        given["sheet"] = str(getattr(thing, "sheet", ""))
    wanted = {name: mark.kind for name, mark in fields_of(form).items() if isinstance(mark, Thing)}
    things, faults = find_things(wanted, given)
    try:
        read = form.model_validate(given)
    except BadQuestion as bad:
        faults = [*bad.faults, *(fault for fault in faults if fault.field not in {one.field for one in bad.faults})]
        raise BadQuestion(faults) from None
    if faults:
        raise BadQuestion(faults)
    return read.model_dump() | {name: things.get(name) for name in wanted}


def _write(thing: Kept, kind: str, values: Mapping[str, Any], scene: set[str]) -> None:
    if kind in BY_NAME and "name" in values:
        twin = type(thing).objects.filter(name__iexact=values["name"]).exclude(pk=thing.pk).first()  # type: ignore[attr-defined]
        if twin is not None:
            raise BadQuestion([Fault("name", values["name"], f"There is already a {kind} called “{twin}”.")])
    for name, value in values.items():
        if isinstance(thing, Exposure) and name in scene:
            thing.scene = {key: one for key, one in {**thing.scene, name: value}.items() if one is not None}
        else:
            setattr(thing, name, int(value) if name in {"sheets_left", "strip"} and value is not None else value)
    thing.save()
    follow(thing, values)
    if isinstance(thing, Sheet) and thing.whole is None:
        shared = {name: values[name] for name in SHARED_WITH_PIECES if name in values}
        for piece in thing.pieces.all() if shared else ():
            for name, value in shared.items():
                setattr(piece, name, value)
            piece.save()


CORRECT: Final[Deed[Any]] = Deed(
    name="correct",
    says="Correct what the book says; what stood there stays in its history.",
    form=CorrectForm,
    perform=_correct,
    examples={"boatyard": {"kind": "lens", "name": "210 mm lens in a leaf shutter", "changes": "focal_mm; 215", "seen": 1}},
)
