"""What does a scanned step tablet say about the scanner: which density belongs to which light?"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag, Words
from silverwright.asking.operation import Answer, Estimate, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.vocabulary import (
    BLUE_SIGNAL,
    BLUE_STEP_MISS,
    END_MISS,
    GREEN_SIGNAL,
    GREEN_STEP_MISS,
    HALO_PERCENT,
    LARGEST_MISS,
    RED_SIGNAL,
    RED_STEP_MISS,
    RMS_MISS,
    SIGNAL,
    SIGNAL_OFFSET,
    SPREAD_SHARE,
    STEP_DENSITY,
    STEP_MISS,
    STEP_NUMBER,
    STEPS_LEFT_OUT,
    STEPS_TO_LOOK_AT,
)

if TYPE_CHECKING:
    from silverwright.densitometry.calibration import Calibration
    from silverwright.densitometry.odd_steps import OddStep
    from silverwright.densitometry.tablet import TabletSteps

Channel = Literal["grey", "red", "green", "blue"]
COLOURS: Final[tuple[Channel, ...]] = ("red", "green", "blue")
FEWEST_STEPS: Final = 5  # our judgement: as many as densitometry/calibration.py needs, which is not imported before it is asked
SMALLEST_DENSITY: Final = 0.001  # our judgement: nothing finer is ever said of a miss
FAR_MORE: Final = 2  # our judgement: an end is foretold from one side only, so twice the miss is usual
LEAST_END_MISS: Final = 0.02  # our judgement: what two readings of one patch differ by
TURNED: Final = Flag(help="The tablet lay the other way round: its last patch is the first density.", example=False)
CLIPPED: Final = Choice(help="Pixels pile up at an end of the scale: white, black, or empty.", example="white")


class StepRow(Record):
    """One step of the tablet: its known density, and its light in the scan."""

    density: Annotated[float, STEP_DENSITY]
    grey: Annotated[float, SIGNAL]
    red: Annotated[float | None, RED_SIGNAL] = None
    green: Annotated[float | None, GREEN_SIGNAL] = None
    blue: Annotated[float | None, BLUE_SIGNAL] = None
    clipped: Annotated[Literal["", "white", "black"], CLIPPED] = ""
    note: Annotated[str | None, Words(help="Anything odd about this step.", example="scratched")] = None
    spread_share: Annotated[float, SPREAD_SHARE] = 0.0


STEPS: Final = Rows(
    row=StepRow,
    help="A line for each step of the tablet: its known density, and its linear light in the scan.",
    example="0.05 0.81\n0.35 0.41\n0.65 0.2",
)


class CalibrationQuestion(Question):
    """The steps of a scanned tablet."""

    turned: Annotated[bool, TURNED] = False
    halo_percent: Annotated[float | None, HALO_PERCENT] = None
    left_out_steps: Annotated[tuple[float, ...], STEPS_LEFT_OUT] = ()
    steps: Annotated[tuple[StepRow, ...], STEPS, Field(validate_default=True)] = ()

    @field_validator("steps")
    @classmethod
    def _a_tablet(cls, steps: tuple[StepRow, ...], seen: ValidationInfo) -> tuple[StepRow, ...]:
        if {"turned", "left_out_steps"} <= seen.data.keys():
            check_steps(steps, turned=seen.data["turned"], left_out=seen.data["left_out_steps"])
        return steps


def check_steps(steps: tuple[StepRow, ...], *, turned: bool, left_out: Sequence[float]) -> None:
    """Refuse a tablet from which no density can be told, with what mends it."""
    if not steps:
        raise refuse(
            f"Needed: at least {FEWEST_STEPS} lines, one for each step of the tablet, with its known density and its light, such as 0.05 0.81."
        )
    if len(steps) < FEWEST_STEPS:
        raise refuse(f"{len(steps)} step{'s' * (len(steps) != 1)}; at least {FEWEST_STEPS} are needed, each with its density and its light.")
    for colour in COLOURS:
        there = [getattr(one, colour) is not None for one in steps]
        if any(there) and not all(there):
            raise refuse(f"Row {there.index(False) + 1} has no {colour}, others have. Give it in every row, or in none.")
    densities = [one.density for one in steps]
    if len(set(densities)) < len(densities):
        twice = next(one for one in densities if densities.count(one) > 1)
        raise refuse(f"The density {twice:g} stands in two rows. Each step of a tablet has a density of its own: which is right?")
    if nowhere := sorted(set(left_out) - {place + 1.0 for place in range(len(steps))}):
        raise refuse(f"There is no step {nowhere[0]:g}: the tablet has {len(steps)}, counted from 1.", field="left_out_steps")
    rows = paired(steps, turned=turned)
    _check_way([one for place, one in enumerate(rows, start=1) if place not in left_out], turned=turned)
    _check_enough(sort_rows(rows, left_out), len(steps), len(set(left_out)))


def _check_way(rows: Sequence[StepRow], *, turned: bool) -> None:
    from silverwright.densitometry.tablet import falls_better_turned

    if not falls_better_turned([one.density for one in rows], [one.grey for one in rows]):
        return
    if turned:
        raise refuse("Turned, light would rise while density rises; as it was given it falls. Leave the tablet as it lies.", field="turned")
    raise refuse(
        "Light rises while density rises: the tablet seems to lie the other way round in the scan. "
        "Say that it is turned, and its last patch counts as the first density.",
        field="turned",
    )


def _check_enough(found: "TabletSteps", given: int, left_out: int) -> None:
    if len(found.turning_back) > fact("scan", "most_left_out_percent").value / 100 * given:
        raise refuse(
            f"Light must fall from step to step while density rises, but it does not at {named('step', found.turning_back)}. "
            "Are densities and patches in the same order, and does the grid lie on the tablet?"
        )
    if len(found.usable) < FEWEST_STEPS:
        raise refuse(_too_few(found, left_out), field="left_out_steps" if left_out else "")


def _too_few(found: "TabletSteps", left_out: int) -> str:
    """Why so few steps are left, and what mends it."""
    lost = sorted({*found.clipped_light, *found.clipped_dark, *found.turning_back})
    why = [f"{left_out} left out by you"] if left_out else []
    why += [f"{named('step', lost)} clipped or turning back"] if lost else []
    mend = "Let some of them count again." if left_out else "Scan the tablet again with every automatic correction off."
    return f"Only {len(found.usable)} steps can be used, {FEWEST_STEPS} are needed: {', '.join(why)}. {mend}"


def paired(steps: tuple[StepRow, ...], *, turned: bool) -> tuple[StepRow, ...]:
    """The rows with each density beside its own light: turned, the last light belongs to the first density."""
    if not turned:
        return steps
    return tuple(light.model_copy(update={"density": step.density}) for step, light in zip(steps, reversed(steps), strict=True))


def sort_rows(rows: tuple[StepRow, ...], left_out: Sequence[float]) -> "TabletSteps":
    """Which rows can be believed: in every channel that is there, not clipped by its own word, and not left out by number."""
    from silverwright.densitometry.tablet import TabletSteps, sort_steps

    flat_share = fact("scan", "flat_end_percent").value / 100
    counting = [place for place in range(len(rows)) if place + 1 not in left_out]
    open_rows = [place for place in counting if not rows[place].clipped]
    densities = [rows[place].density for place in open_rows]
    found = [sort_steps(densities, [getattr(rows[place], one) for place in open_rows], flat_share) for one in channels_of(rows)]

    def places(of: str) -> tuple[int, ...]:
        return tuple(sorted({open_rows[place] for one in found for place in getattr(one, of)}))

    said = {word: tuple(place for place in counting if rows[place].clipped == word) for word in ("white", "black")}
    light, dark, turning = places("clipped_light") + said["white"], places("clipped_dark") + said["black"], places("turning_back")
    out = {*light, *dark, *turning}
    usable = tuple(place for place in sorted(counting, key=lambda one: rows[one].density) if place not in out)
    return TabletSteps(usable, tuple(sorted(set(turning) - {*light, *dark})), tuple(sorted(light)), tuple(sorted(dark)))


def channels_of(rows: Sequence[StepRow]) -> tuple[Channel, ...]:
    """Grey, and the colours that are given."""
    return ("grey", *(colour for colour in COLOURS if rows[0].model_dump()[colour] is not None))


def named(what: str, places: Sequence[float]) -> str:
    """`steps 3, 4 and 9`, counted from 1."""
    numbers = [f"{place + 1:g}" for place in places]
    if len(numbers) == 1:
        return f"{what} {numbers[0]}"
    return f"{what}{'es' if what.endswith('ch') else 's'} {', '.join(numbers[:-1])} and {numbers[-1]}"


class CalibrationAnswer(Answer):
    """How well the scanner's light tells density: each step foretold from the others."""

    table: ClassVar[tuple[str, ...]] = ("steps_used", "step_density", "step_misses", "red_misses", "green_misses", "blue_misses")
    largest_miss: Annotated[Estimate, LARGEST_MISS]
    rms_miss: Annotated[Estimate, RMS_MISS]
    light_end_miss: Annotated[Estimate, END_MISS]
    dark_end_miss: Annotated[Estimate, END_MISS]
    offset: Annotated[Estimate, SIGNAL_OFFSET]
    steps_used: Annotated[Sequence[float], STEP_NUMBER] = ()
    step_density: Annotated[Sequence[float], STEP_DENSITY] = ()
    step_misses: Annotated[Sequence[float], STEP_MISS] = ()
    suspect_steps: Annotated[Sequence[float], STEPS_TO_LOOK_AT] = ()
    left_out_steps: Annotated[Sequence[float], STEPS_LEFT_OUT] = ()
    red_misses: Annotated[Sequence[float], RED_STEP_MISS] = ()
    green_misses: Annotated[Sequence[float], GREEN_STEP_MISS] = ()
    blue_misses: Annotated[Sequence[float], BLUE_STEP_MISS] = ()


def answer(question: CalibrationQuestion) -> CalibrationAnswer:
    """A monotone line through the steps, tried on each step that is left out."""
    rows = paired(question.steps, turned=question.turned)
    found = sort_rows(rows, question.left_out_steps)
    made = calibrations(rows, found.usable)
    grey = made["grey"]
    odd, uneven = _odd(grey, found.usable), _uneven(rows, found.usable)
    return CalibrationAnswer(
        largest_miss=Estimate(value=grey.largest_miss),
        rms_miss=Estimate(value=grey.rms_miss),
        light_end_miss=Estimate(value=abs(float(grey.misses[-1]))),
        dark_end_miss=Estimate(value=abs(float(grey.misses[0]))),
        offset=Estimate(value=grey.offset),
        steps_used=tuple(place + 1.0 for place in found.usable),
        step_density=tuple(rows[place].density for place in found.usable),
        step_misses=_misses(grey),
        suspect_steps=tuple(place + 1.0 for place in sorted({*(one.place for one in odd), *uneven})),
        left_out_steps=tuple(sorted(set(question.left_out_steps))),
        red_misses=_misses(made.get("red")),
        green_misses=_misses(made.get("green")),
        blue_misses=_misses(made.get("blue")),
        notes=(*_of_single_steps(question, odd, uneven), *_of_ends(grey), *_remarks(question, found)),
        sources=(fact("scan", "indicative_density").says, "fritsch1984, from memory, unverified", "our judgement"),
    )


def calibrations(rows: Sequence[StepRow], usable: Sequence[int]) -> dict[Channel, "Calibration"]:
    """The calibration of grey, and of each colour that is there."""
    import numpy as np

    from silverwright.densitometry.calibration import calibrate

    densities = np.array([rows[place].density for place in usable])
    return {channel: calibrate(densities, np.array([getattr(rows[place], channel) for place in usable])) for channel in channels_of(rows)}


def _misses(made: "Calibration | None") -> tuple[float, ...]:
    """Lightest step first."""
    return () if made is None else tuple(made.misses[::-1].tolist())


def _odd(grey: "Calibration", usable: Sequence[int]) -> "list[OddStep]":
    """Steps that the others foretell badly, by their row."""
    from dataclasses import replace

    from silverwright.densitometry.odd_steps import odd_steps

    darkest_first = usable[::-1]
    return [replace(one, place=darkest_first[one.place]) for one in odd_steps(grey)]


def _uneven(rows: Sequence[StepRow], usable: Sequence[int]) -> list[int]:
    """Steps whose own pixels differ by far more than those of their neighbours, by their row."""
    from silverwright.densitometry.odd_steps import uneven_steps

    return [usable[place] for place in uneven_steps([rows[place].spread_share for place in usable])]


def _of_single_steps(question: CalibrationQuestion, odd: "Sequence[OddStep]", uneven: Sequence[int]) -> list[Remark]:
    """What is to be said of one step or another."""
    by_row = sorted(odd, key=lambda one: one.place)
    notes = [remark(Note.STEP_ODD, step=f"Step {one.place + 1}", miss=f"{abs(one.miss_density):.3f}", usual=_small(one)) for one in by_row]
    if uneven:
        notes.append(remark(Note.STEP_UNEVEN, steps=named("step", uneven).capitalize()))
    if question.left_out_steps:
        places = [step - 1 for step in sorted(set(question.left_out_steps))]
        notes.append(remark(Note.STEPS_LEFT_OUT, steps=named("step", places).capitalize()))
    return notes


def _of_ends(grey: "Calibration") -> list[Remark]:
    """An end that the others miss by far more than the largest miss says, so that nobody takes that figure for the whole tablet."""
    enough = max(FAR_MORE * grey.largest_miss, LEAST_END_MISS)
    misses = {"darkest": abs(float(grey.misses[0])), "lightest": abs(float(grey.misses[-1]))}
    told = [f"the {end} step is missed by {miss:.3f}" for end, miss in misses.items() if miss > enough]
    return [remark(Note.ENDS_MISSED, ends=_capital(" and ".join(told)))] if told else []


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _small(one: "OddStep") -> str:
    """What the others miss one another by."""
    return f"{one.usual_density:.3f}" if one.usual_density >= SMALLEST_DENSITY else f"less than {SMALLEST_DENSITY}"


def _remarks(question: CalibrationQuestion, found: "TabletSteps") -> list[Remark]:
    """What is odd about this tablet."""
    notes = []
    if question.turned:
        notes.append(remark(Note.TABLET_TURNED))
    if found.turning_back:
        notes.append(remark(Note.NOT_MONOTONE, steps=named("step", found.turning_back).capitalize()))
    for end, lost in (("light", found.clipped_light), ("dark", found.clipped_dark)):
        if lost:
            notes.append(remark(Note.ENDS_CLIPPED, steps=named("step", lost).capitalize(), end=end))
    if (question.halo_percent or 0) >= fact("scan", "halo_percent").value:
        notes.append(remark(Note.HALO_SUSPECTED, percent=f"{question.halo_percent:.0f} %"))
    enough = fact("scan", "many_steps").value
    if len(found.usable) < enough:
        notes.append(remark(Note.FEW_STEPS, steps=len(found.usable), enough=round(enough)))
    indicative = fact("scan", "indicative_density").value
    if question.steps and max(one.density for one in question.steps) > indicative:
        notes.append(remark(Note.INDICATIVE_ABOVE, density=f"{indicative:g}"))
    return notes


CALIBRATION: Final = Operation(
    name="densitometry.calibration",
    version=2,
    asks="How well does my scanner tell density?",
    question=CalibrationQuestion,
    answer=CalibrationAnswer,
    compute=answer,
    examples={
        "a tablet of eleven steps": {
            "steps": "0.05 0.803\n0.25 0.507\n0.45 0.319\n0.65 0.202\n0.85 0.127\n1.05 0.0803\n1.25 0.0508\n1.45 0.0322\n"
            "1.65 0.0206\n1.85 0.0133\n2.05 0.0088"
        },
        "the tablet lay the other way round": {
            "turned": True,
            "steps": "0.05 0.0203\n0.35 0.0395\n0.65 0.0781\n0.95 0.157\n1.25 0.313\n1.55 0.622",
        },
    },
)
