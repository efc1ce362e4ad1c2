"""How dense are the patches of my scan, by the scanner's calibration?"""

from collections.abc import Sequence
from math import hypot, sqrt
from typing import TYPE_CHECKING, Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Answer, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.calibration import CLIPPED, COLOURS, STEPS, TURNED, Channel, StepRow, calibrations, check_steps, named, paired, sort_rows
from silverwright.vocabulary import (
    BLUE_SCAN_DENSITY,
    BLUE_SIGNAL,
    FILE_BITS,
    GREEN_SCAN_DENSITY,
    GREEN_SIGNAL,
    HALO_PERCENT,
    LEFT_OUT_POSITIONS,
    POSITION,
    RED_SCAN_DENSITY,
    RED_SIGNAL,
    SCAN_DENSITY,
    SCAN_DENSITY_SD,
    SIGNAL,
    SIGNAL_SD,
    STEPS_LEFT_OUT,
    TABLET_SD,
)

if TYPE_CHECKING:
    from silverwright.densitometry.calibration import Calibration, Reading

COARSE_BITS: Final = 8  # our judgement: from here down one number of the file is a visible step of density in the shadows
FILE_GAMMA: Final = 2.2  # common practice: files of few bits hold light by about this power
UNIFORM_SD: Final = 1 / sqrt(12)  # arithmetic: standard deviation of a value known to the nearest whole number
MOST_BEYOND_STEPS: Final = 1.0  # our judgement: one step of the tablet beyond its end a straight line still holds, further nobody knows


class PatchRow(Record):
    """One patch of a scan: its light, and how that was measured."""

    position: Annotated[float | None, POSITION] = None
    grey: Annotated[float, SIGNAL]
    red: Annotated[float | None, RED_SIGNAL] = None
    green: Annotated[float | None, GREEN_SIGNAL] = None
    blue: Annotated[float | None, BLUE_SIGNAL] = None
    sd: Annotated[float, SIGNAL_SD] = 0.0
    clipped: Annotated[Literal["", "white", "black"], CLIPPED] = ""
    note: Annotated[str | None, Words(help="Anything odd about this patch.", example="dust")] = None


PATCH_ROWS: Final = Rows(
    row=PatchRow, help="A line for each patch: its number, its linear light on the scale of the steps.", example="position,grey\n1,0.5\n2,0.1"
)


class PatchesQuestion(Question):
    """Patches of a scan, and the step tablet that the same scanner scanned."""

    turned: Annotated[bool, TURNED] = False
    left_out_steps: Annotated[tuple[float, ...], STEPS_LEFT_OUT] = ()
    steps: Annotated[tuple[StepRow, ...], STEPS, Field(validate_default=True)] = ()
    channel: Annotated[Channel, Choice(help="Whose densities are given with their doubt.", example="grey")] = "grey"
    bits: Annotated[float | None, FILE_BITS] = None
    tablet_sd: Annotated[float | None, TABLET_SD] = None
    halo_percent: Annotated[float | None, HALO_PERCENT] = None
    patches: Annotated[tuple[PatchRow, ...], PATCH_ROWS, Field(validate_default=True)] = ()

    @field_validator("steps")
    @classmethod
    def _a_tablet(cls, steps: tuple[StepRow, ...], seen: ValidationInfo) -> tuple[StepRow, ...]:
        if {"turned", "left_out_steps"} <= seen.data.keys():
            check_steps(steps, turned=seen.data["turned"], left_out=seen.data["left_out_steps"])
        return steps

    @field_validator("patches")
    @classmethod
    def _in_the_same_channels(cls, patches: tuple[PatchRow, ...], seen: ValidationInfo) -> tuple[PatchRow, ...]:
        if not patches:
            raise refuse("Needed. A line for each patch: its number and its light, such as 1, 0.5 under the heading position, grey.")
        places = [_position(one, at) for at, one in enumerate(patches)]
        if len(set(places)) < len(places):
            twice = next(one for one in places if places.count(one) > 1)
            raise refuse(f"Patch {twice:g} stands in two rows. Each patch has a number of its own.")
        steps, channel = seen.data.get("steps"), seen.data.get("channel")
        if steps and channel and any(getattr(one, channel) is None for one in (steps[0], *patches)):
            raise refuse(f"The {channel} channel is asked for, but not every step and patch has it.", field="channel")
        return patches


def _position(row: PatchRow, at: int) -> float:
    """A patch without a number has that of its row."""
    return at + 1.0 if row.position is None else row.position


class PatchesAnswer(Answer):
    """A scan density for each patch that can be read."""

    table: ClassVar[tuple[str, ...]] = ("positions", "densities", "density_sds", "red_densities", "green_densities", "blue_densities")
    positions: Annotated[Sequence[float], POSITION] = ()
    densities: Annotated[Sequence[float], SCAN_DENSITY] = ()
    density_sds: Annotated[Sequence[float], SCAN_DENSITY_SD] = ()
    red_densities: Annotated[Sequence[float], RED_SCAN_DENSITY] = ()
    green_densities: Annotated[Sequence[float], GREEN_SCAN_DENSITY] = ()
    blue_densities: Annotated[Sequence[float], BLUE_SCAN_DENSITY] = ()
    left_out_positions: Annotated[Sequence[float], LEFT_OUT_POSITIONS] = ()
    channel: Annotated[str, Words(help="Whose densities these are.", example="grey")] = "grey"


def answer(question: PatchesQuestion) -> PatchesAnswer:
    """Each patch through the calibration; what is clipped or too far beyond the tablet is left out by name."""
    rows = paired(question.steps, turned=question.turned)
    made = calibrations(rows, sort_rows(rows, question.left_out_steps).usable)
    readings = [_reading(question, made[question.channel], row) for row in question.patches]
    kept = [at for at, one in enumerate(readings) if one is not None]
    places = [_position(one, at) for at, one in enumerate(question.patches)]
    red, green, blue = (_in_colour(question, made, colour, kept) for colour in COLOURS)
    return PatchesAnswer(
        positions=tuple(places[at] for at in kept),
        densities=tuple(one.density for one in readings if one is not None),
        density_sds=tuple(one.sd for one in readings if one is not None),
        red_densities=red,
        green_densities=green,
        blue_densities=blue,
        left_out_positions=tuple(place for at, place in enumerate(places) if at not in kept),
        channel=question.channel,
        notes=tuple(_remarks(question, made[question.channel], readings)),
        sources=(fact("scan", "indicative_density").says, "our judgement"),
    )


def _reading(question: PatchesQuestion, made: "Calibration", row: PatchRow) -> "Reading | None":
    """The density of one patch; nothing where it cannot be told."""
    from dataclasses import replace

    from silverwright.densitometry.calibration import Doubts, read_density

    light = getattr(row, question.channel)
    if row.clipped or light <= made.offset:
        return None
    together = fact("scan", "tablet_together").sd if question.tablet_sd is None else question.tablet_sd
    read = read_density(made, light, row.sd, Doubts(together, fact("scan", "stray_light").sd))
    if read.beyond_steps > MOST_BEYOND_STEPS:
        return None
    if question.bits is None or question.bits > COARSE_BITS:
        return read
    return replace(read, sd=hypot(read.sd, UNIFORM_SD * _file_step(question, made, light)))


def _file_step(question: PatchesQuestion, made: "Calibration", light: float) -> float:
    """Density from one number of a file of few bits to the next, at this light; the tablet's lightest step stands for white."""
    from silverwright.densitometry.calibration import step_of_scale

    white = 10 ** float(made.log_signals[-1]) + made.offset
    numbers = 2 ** (question.bits or COARSE_BITS) - 1
    return step_of_scale(made, light, FILE_GAMMA * white * (light / white) ** (1 - 1 / FILE_GAMMA) / numbers)


def _in_colour(question: PatchesQuestion, made: "dict[Channel, Calibration]", colour: Channel, kept: list[int]) -> tuple[float, ...]:
    """Densities through one colour of the patches that are kept; none where the colour is missing or one of them cannot be told in it."""
    from silverwright.densitometry.calibration import Doubts, read_density

    light = [getattr(question.patches[at], colour) for at in kept]
    if colour not in made or any(one is None or one <= made[colour].offset for one in light):
        return ()
    return tuple(read_density(made[colour], one, 0.0, Doubts()).density for one in light)


def _remarks(question: PatchesQuestion, made: "Calibration", readings: "list[Reading | None]") -> list[Remark]:
    """What is odd about these patches."""
    clipped = {end: _places(question, [at for at, row in enumerate(question.patches) if row.clipped == end]) for end in ("white", "black")}
    notes = [remark(Note.SCAN_DENSITY)]
    notes += [remark(Note.PATCH_CLIPPED, patches=patches, end=end) for end, patches in clipped.items() if patches]
    notes += _beyond(question, made, readings)
    if (question.halo_percent or 0) >= fact("scan", "halo_percent").value:
        notes.append(remark(Note.PATCHES_OVERSHOOT, percent=f"{question.halo_percent:.0f} %"))
    indicative = fact("scan", "indicative_density").value
    if high := _places(question, [at for at, one in enumerate(readings) if one is not None and one.density > indicative]):
        notes.append(remark(Note.INDICATIVE, patches=high, density=f"{indicative:g}"))
    light = [getattr(row, question.channel) for row, one in zip(question.patches, readings, strict=True) if one is not None]
    if question.bits is not None and question.bits <= COARSE_BITS and light:
        ends = [f"{_file_step(question, made, one):.3f}" for one in (max(light), min(light))]
        notes.append(remark(Note.EIGHT_BITS, bits=round(question.bits), light=ends[0], dark=ends[1]))
    return notes


def _beyond(question: PatchesQuestion, made: "Calibration", readings: "list[Reading | None]") -> list[Remark]:
    """Patches lighter or darker than the tablet: drawn on a little, or left out."""
    ends = {"lightest": f"{made.densities[-1]:.2f}", "darkest": f"{made.densities[0]:.2f}"}
    drawn_on = _places(question, [at for at, one in enumerate(readings) if one is not None and one.beyond_steps > 0])
    lost = _places(question, [at for at, one in enumerate(readings) if one is None and not question.patches[at].clipped])
    notes = []
    if drawn_on:
        notes.append(remark(Note.BEYOND_TABLET, patches=drawn_on, what="the line is drawn on for less than a step, with more doubt", **ends))
    if lost:
        notes.append(remark(Note.BEYOND_TABLET, patches=lost, what="too far for a density, so left out", **ends))
    return notes


def _places(question: PatchesQuestion, at: Sequence[int]) -> str:
    """`Patches 3 and 4`, by their own numbers; nothing where there are none."""
    return named("Patch", [_position(question.patches[one], one) - 1 for one in at]) if at else ""


PATCHES: Final = Operation(
    name="densitometry.patches",
    version=1,
    asks="How dense are the patches of my scan?",
    question=PatchesQuestion,
    answer=PatchesAnswer,
    compute=answer,
    examples={
        "four patches, one clipped": {
            "steps": "0.05 0.803\n0.25 0.507\n0.45 0.319\n0.65 0.202\n0.85 0.127\n1.05 0.0803\n1.25 0.0508\n1.45 0.0322\n"
            "1.65 0.0206\n1.85 0.0133\n2.05 0.0088",
            "patches": "position,grey,sd,clipped\n1,0.9,0.001,white\n2,0.61,0.002,\n3,0.14,0.003,\n4,0.015,0.01,",
        },
        "a file of 8 bits": {
            "steps": "0.05 208\n0.35 104\n0.65 52.3\n0.95 26.2\n1.25 13.3\n1.55 6.8",
            "bits": 8,
            "patches": "position,grey\n1,180\n2,90\n3,12",
        },
    },
)
