"""What is in the hand at the camera: paper, lens, the holder side that is ready, and what each of them brings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from silverwright.asking.operation import Rests
from silverwright.errors import Fault
from silverwright.questions.entry import stops_said
from silverwright.vocabulary import EXTENSION_MM, FOCAL_MM
from silverwright.vocabulary_lens import STOP_MM
from silverwright.web.fields import Field, Option
from silverwright.web.pages.camera_asked import AS_USUAL, SIDE, Asked, loaded_sides, named
from silverwright.workshop.plan import THINGS, FromBook

IN_HAND: Final = ("paper", "lens", "camera", "light", "meter", "process")
FIRST: Final = ("paper", "lens")  # what is worth entering before anything else


@dataclass(frozen=True, slots=True)
class InHand:
    """One thing of the book that is in use, and what it brings."""

    name: str
    rests: Rests
    words: str


def hand_of(asked: Asked, shown: Sequence[Field], faults: Mapping[str, Fault], *, alone: bool) -> dict[str, object]:
    """What is in use, what the book has to choose from, and what it lacks; while somebody types, with the answer alone, the choices stand there."""
    used = {**AS_USUAL, **asked.typed}
    chosen = [name for name in IN_HAND if name in used and (name != "process" or THINGS.keys() & asked.typed.keys())]
    things = [InHand(used[name], *_brings(name, asked)) for name in chosen]
    if asked.side is not None:
        things.insert(len({"paper", "lens"} & set(chosen)), InHand(str(asked.side), "own", f"holds {asked.side.lot}"))
    lacks = [{"href": f"/book/do/{field.name}", "words": f"Enter a {field.name}"} for field in shown if not field.choices and field.name in FIRST]
    fields = [field for field in shown if field.choices]
    if not alone and (side := _side_field(asked, faults)) is not None:
        fields.insert(len([field for field in fields if field.name in FIRST]), side)
    return {"things": things, "fields": fields, "lacks": lacks, "open": any(field.problem for field in fields)}


def _side_field(asked: Asked, faults: Mapping[str, Fault]) -> Field | None:
    """The holder sides that wait for their exposure, to choose from; nothing where none is loaded."""
    ready = {named(side): f"{side}: {side.lot.paper}, {side.lot}" if side.lot else str(side) for side in loaded_sides()}
    if asked.side_named and asked.side_named not in ready:
        ready = {asked.side_named: asked.side_named.replace("/", ", side "), **ready}
    if not ready:
        return None
    options = [Option(value, label, value == asked.side_named) for value, label in ready.items()]
    empty = Option("", "not said", not asked.side_named)
    words = "Which one is in the camera: it names its paper, and the sheet is recorded from it."
    return Field(SIDE, "Holder side", words, "choice", asked.side_named, problem=_problem(faults), choices=(empty, *options))


def side_place(asked: Asked, faults: Mapping[str, Fault]) -> list[Field]:
    """Where the problem of the holder side is told; the place is there once a side was named."""
    return [Field(SIDE, "Holder side", "", "choice", asked.side_named, problem=_problem(faults))] if asked.side_named else []


def _problem(faults: Mapping[str, Fault]) -> str:
    return faults[SIDE].problem if SIDE in faults else ""


def _brings(name: str, asked: Asked) -> tuple[Rests, str]:
    """What a thing in hand brings, or what is taken because it says nothing; of a paper whose EI was not asked for, nothing."""
    known = {one.field: one for one in asked.either.from_book} if asked.either else {}
    if name == "paper":
        silent = asked.either is None or "paper_ei" in asked.typed
        return ("own", known["paper_ei"].says) if "paper_ei" in known else ("judgement", "" if silent else "none of your own sheets yet")
    if name == "lens":
        return _of_the_lens(known)
    return "own", _of_the_camera(known) if name == "camera" else ""


def _of_the_lens(known: Mapping[str, FromBook]) -> tuple[Rests, str]:
    """Its focal length or its hole, and what is known of its shutter; that its pupils are taken as equal, where a lens has some."""
    parts = [FOCAL_MM.unit.show(known["focal_mm"].value)] if "focal_mm" in known else []
    parts += [f"a hole of {STOP_MM.unit.show(known['stop_mm'].value)}"] if "stop_mm" in known else []
    parts += ["measured speeds"] if "measured_speeds" in known else []
    kind = known["camera_kind"].value if "camera_kind" in known else "ordinary lens"
    if "pupil_factor" in known or kind == "pinhole":
        return "own", ", ".join(parts)
    return "judgement", ", ".join([*parts, "pupils not measured" if kind == "telephoto lens" else "pupils taken as equal"])


def _of_the_camera(known: Mapping[str, FromBook]) -> str:
    """Its depth where nobody racks it out, and what its mirror takes."""
    parts = [f"{EXTENSION_MM.unit.show(known['extension_mm'].value)} deep"] if "extension_mm" in known else []
    return ", ".join(parts + ([f"its mirror takes {stops_said(known['mirror_stops'].value)}"] if "mirror_stops" in known else []))
