"""How dark is this tone, and how hard is a paper of this range?"""

from math import log10
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Operation, Question, refuse, remark
from silverwright.densitometry.density import density_of_reflectance, lightness_of_reflectance, reflectance_of_density, reflectance_of_lightness
from silverwright.densitometry.grades import GradeLimits, grade_of_range
from silverwright.facts.load import fact, facts
from silverwright.notes import Note
from silverwright.vocabulary import DENSITY_SD, LIGHTNESS, RANGE_LOG10, RANGE_STOPS, TONE_DENSITY, TONE_PERCENT

ReadBy = Literal["densitometer", "scan", "grey scale by eye"]
READ_BY: Final = Choice(help="How densities were read.", example="scan", label="Read by")
PERCENT: Final = 80  # our judgement: the limits of this house
STOP_LOG10: Final = log10(2)  # arithmetic


def reading_sd(read_by: ReadBy, density_sd: float | None) -> float:
    """How unsure one density is: as typed, else by how it was read."""
    if density_sd is not None:
        return density_sd
    return fact("curve", "density_sd_eye" if read_by == "grey scale by eye" else "density_sd").value


def grade_class(range_log10: float | None) -> str:
    """`3 hard`: the class of an exposure range, or nothing outside all of them."""
    if range_log10 is None:
        return ""
    classes = [GradeLimits(int(key.removeprefix("grade_")), row.note, row.low or 0.0, row.high or 0.0) for key, row in facts("grades").items()]
    found = grade_of_range(range_log10, classes)
    return f"{found.number} {found.word}" if found else ""


class ToneQuestion(Question):
    """One tone in any way it was told, or a range, or both."""

    density: Annotated[float | None, TONE_DENSITY] = None
    reflectance_percent: Annotated[float | None, TONE_PERCENT] = None
    lightness: Annotated[float | None, LIGHTNESS] = None
    read_by: Annotated[ReadBy, READ_BY] = "densitometer"
    density_sd: Annotated[float | None, DENSITY_SD] = None
    range_log10: Annotated[float | None, RANGE_LOG10, Field(validate_default=True)] = None

    @field_validator("range_log10")
    @classmethod
    def _one_tone(cls, range_log10: float | None, seen: ValidationInfo) -> float | None:
        ways = ("density", "reflectance_percent", "lightness")
        if any(name not in seen.data for name in ways):
            return range_log10
        given = [name for name in ways if seen.data[name] is not None]
        if len(given) > 1:
            raise refuse("One tone is told here in two ways. Leave one of them out.", field=given[1])
        if not given and range_log10 is None:
            raise refuse("Needed: a density, a reflectance or a lightness, such as 0.745; or an exposure range.", field="density")
        if given == ["lightness"] and not seen.data["lightness"] > 0:
            raise refuse("A lightness of 0 sends nothing back: it has no density.", field="lightness")
        return range_log10


class ToneAnswer(Answer):
    """The same tone in every way, and the class of the range."""

    density: Annotated[Estimate, TONE_DENSITY] = Field(default_factory=Estimate)
    reflectance_percent: Annotated[Estimate, TONE_PERCENT] = Field(default_factory=Estimate)
    lightness: Annotated[Estimate, LIGHTNESS] = Field(default_factory=Estimate)
    range_stops: Annotated[Estimate, RANGE_STOPS] = Field(default_factory=Estimate)
    grade_class: Annotated[str, Words(help="Class of contrast that this range falls in; no filter number.", example="3 hard", label="Class")] = ""


def answer(question: ToneQuestion) -> ToneAnswer:
    """Everything by way of density, whose reading has a doubt."""
    notes, sources = [], []
    tone: dict[str, Estimate] = {}
    if (density := _density(question)) is not None:
        tone = _tone(density, EIGHTY_PERCENT_SD * reading_sd(question.read_by, question.density_sd))
        sources += ["iso5, part 1", "cie15, CIE 1976 L*", fact("curve", "density_sd").says]
        if question.read_by == "scan":
            notes.append(remark(Note.SCAN_DENSITY))
    if question.range_log10 is not None:
        notes.append(remark(Note.NO_FILTER_NUMBER))
        sources.append(f"stroebel1993 ({fact('grades', 'grade_2').says})")
    return ToneAnswer(
        density=tone.get("density", Estimate()),
        reflectance_percent=tone.get("reflectance_percent", Estimate()),
        lightness=tone.get("lightness", Estimate()),
        range_stops=Estimate() if question.range_log10 is None else Estimate(value=question.range_log10 / STOP_LOG10),
        grade_class=grade_class(question.range_log10),
        notes=tuple(notes),
        sources=tuple(sources),
    )


def _density(question: ToneQuestion) -> float | None:
    if question.density is not None:
        return question.density
    if question.reflectance_percent is not None:
        return density_of_reflectance(question.reflectance_percent / 100)
    return None if question.lightness is None else density_of_reflectance(reflectance_of_lightness(question.lightness))


def _tone(density: float, half: float) -> dict[str, Estimate]:
    """The tone with its limits: what is lighter has less density."""

    def lightness(one: float) -> float:
        return lightness_of_reflectance(reflectance_of_density(one))

    def percent(one: float) -> float:
        return 100 * reflectance_of_density(one)

    light, dark = density - half, density + half
    return {
        "density": Estimate(value=density, low=light, high=dark, percent=PERCENT),
        "reflectance_percent": Estimate(value=percent(density), low=percent(dark), high=percent(light), percent=PERCENT),
        "lightness": Estimate(value=lightness(density), low=lightness(dark), high=lightness(light), percent=PERCENT),
    }


TONE: Final = Operation(
    name="densitometry.tone",
    version=1,
    asks="How dark is this tone, and how hard is a paper of this range?",
    question=ToneQuestion,
    answer=ToneAnswer,
    compute=answer,
    examples={
        "the grey that a meter looks at": {"reflectance_percent": 18},
        "matched by eye to a grey scale": {"density": "0,6", "read_by": "grey scale by eye"},
        "a range": {"range_log10": 0.854},
    },
)
