"""What does my step sheet say about the paper: its curve, range and speed?"""

from collections.abc import Sequence
from math import log2, log10
from typing import TYPE_CHECKING, Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag, Plain, Words
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.facts.load import fact, facts
from silverwright.notes import Note
from silverwright.questions.stated import curve_prior, point_rules
from silverwright.questions.tone import READ_BY, ReadBy, grade_class, reading_sd
from silverwright.vocabulary import (
    BAND_HIGH,
    BAND_LOW,
    CAMERA_EI,
    CURVE_DENSITY,
    CURVE_LOG10,
    DENSITY,
    DENSITY_SD,
    DMAX,
    DMIN,
    DOUBT_STOPS,
    EXPOSURE_LOG10,
    EXPOSURE_SD_LOG10,
    FIXED_OUT_DENSITY,
    GRADIENT,
    HIGHLIGHT_LOG10,
    INDEX_2240,
    LEFT_OUT_DENSITY,
    MIDDLE_LOG10,
    PAPER_SPEED,
    PATCH_NOISE,
    RANGE_LOG10,
    RANGE_STOPS,
    SHADOW_LOG10,
    VEIL,
)

if TYPE_CHECKING:
    from silverwright.sensitometry.fit import Patches
    from silverwright.sensitometry.learn import Learnt, Wanted
    from silverwright.sensitometry.limits import Limits
    from silverwright.sensitometry.speed import Rules

PERCENT: Final = 80  # our judgement: the limits of this house
SEED: Final = 1  # our judgement: any number does; always the same one, so that the same patches give the same answer
FINEST_LOG10: Final = 6  # our judgement: exposures are told apart to so many decimals; nobody knows one to a millionth
ABOVE_NOISE: Final = 3.0  # our judgement: a step back of three standard deviations is no reading noise
STOP_LOG10: Final = log10(2)
FIGURES: Final = {
    "dmin": "Dmin",
    "dmax": "Dmax",
    "low_log10": "shadow point",
    "high_log10": "highlight point",
    "veil": "veil",
    "range_log10": "range",
    "gradient": "average gradient",
    "middle_log10": "grey",
    "camera_ei": "camera EI",
    "ends_ei": "index from both ends",
    "paper_speed": "paper speed",
}
PROCESSES: Final = {-1.0: "direct positive", 1.0: "negative"}


class Patch(Record):
    """One patch of a step sheet."""

    density: Annotated[float | None, DENSITY] = None
    exposure_log10: Annotated[float | None, EXPOSURE_LOG10] = None
    note: Annotated[str | None, Words(help="Anything odd about this patch.", example="scratched")] = None


class CurveQuestion(Question):
    """The patches of a step sheet: a table, or densities and log exposures in the same order. A patch without density is skipped."""

    exposure_log10: Annotated[tuple[float, ...], EXPOSURE_LOG10] = ()
    densities: Annotated[tuple[float, ...], DENSITY] = ()
    patches: Annotated[
        tuple[Patch, ...],
        Field(validate_default=True),
        Rows(row=Patch, help="A line for each patch: density, and its log exposure unless those are given in a row.", example="1.88, -0.9"),
    ] = ()
    metered: Annotated[
        bool, Flag(help="Log exposures are in lux seconds, because the light was metered.", example=True, label="Light was metered")
    ] = False
    process: Annotated[
        Literal["direct positive", "negative"] | None,
        Choice(help="What the sheet was processed to; unknown: told from the densities.", example="direct positive"),
    ] = None
    read_by: Annotated[ReadBy, READ_BY] = "densitometer"
    density_sd: Annotated[float | None, DENSITY_SD] = None
    exposure_sd_log10: Annotated[float, EXPOSURE_SD_LOG10] = 0.0
    light_sd_stops: Annotated[float | None, DOUBT_STOPS] = None
    fixed_out_density: Annotated[float | None, FIXED_OUT_DENSITY] = None
    shape_wanted: Annotated[
        Literal["best", "logistic", "Richards", "double logistic", "monotone spline"], Choice(help="Line to draw.", example="best")
    ] = "best"

    @field_validator("densities")
    @classmethod
    def _one_for_each_exposure(cls, densities: tuple[float, ...], seen: ValidationInfo) -> tuple[float, ...]:
        exposures = seen.data.get("exposure_log10")
        if densities and exposures:
            _check(list(zip(exposures, densities, strict=False)), len(exposures), len(densities))
        return densities

    @field_validator("patches")
    @classmethod
    def _enough_to_learn(cls, patches: tuple[Patch, ...], seen: ValidationInfo) -> tuple[Patch, ...]:
        exposures, densities = seen.data.get("exposure_log10"), seen.data.get("densities")
        if exposures is None or densities is None:
            return patches
        if patches and densities:
            raise refuse("Densities are given twice, in the table and in a row. Leave one of them out.")
        if not patches:
            if not densities:
                raise refuse("Needed. Densities with their log exposures, such as 1.88, -0.9 in each line.")
            if not exposures:
                raise refuse("Each density needs its log exposure. How the patches got their exposure tells it: see the step sheet question.")
            return patches
        own = [one.exposure_log10 for one in patches]
        if any(place is None for place in own):
            if any(place is not None for place in own):
                first = own.index(None) + 1
                raise refuse(f"Row {first} has no log exposure, others have. Give it in every row, or in none and all in a row.")
            if not exposures:
                raise refuse("Each density needs its log exposure. How the patches got their exposure tells it: see the step sheet question.")
            own = list(exposures)
        read = [(x, one.density) for x, one in zip(own, patches, strict=False) if x is not None and one.density is not None]
        _check(read, len(own), len(patches))
        return patches

    def pairs(self) -> list[tuple[float, float]]:
        """Log exposure and density of each patch that was read, in rising order of exposure."""
        own = [one.exposure_log10 for one in self.patches if one.exposure_log10 is not None] or list(self.exposure_log10)
        read = [one.density for one in self.patches] if self.patches else list(self.densities)
        return sorted((round(x, FINEST_LOG10), d) for x, d in zip(own, read, strict=True) if d is not None)


def _check(read: list[tuple[float, float]], exposures: int, densities: int) -> None:
    """Refuse patches from which no curve can be learnt."""
    if exposures != densities:
        more = "exposures" if exposures > densities else "densities"
        raise refuse(f"{densities} densities for {exposures} log exposures: from number {min(exposures, densities) + 1} on there are only {more}.")
    fewest = round(fact("curve", "fewest_patches").value)
    different = len({round(x, FINEST_LOG10) for x, _ in read})
    if different < fewest:
        raise refuse(f"{different} patch{'es' * (different != 1)} of different exposure; at least {fewest} are needed.")
    spread, depth = (max(column) - min(column) for column in zip(*read, strict=True))
    if spread < fact("curve", "narrowest_log10").value:
        raise refuse("All patches had nearly the same exposure: a curve needs exposures that differ by a third of a stop at the very least.")
    if depth < fact("curve", "flattest_density").value:
        raise refuse("All densities are nearly the same: no curve can be told from them. Were the patches exposed, and read on the sheet?")


class CurveAnswer(Answer):
    """The paper's curve in this process: ends, usable range, index, and the line to draw with its band."""

    dmin: Annotated[Estimate, DMIN]
    dmax: Annotated[Estimate, DMAX]
    shadow_log10: Annotated[Estimate, SHADOW_LOG10]
    highlight_log10: Annotated[Estimate, HIGHLIGHT_LOG10]
    range_log10: Annotated[Estimate, RANGE_LOG10]
    range_stops: Annotated[Estimate, RANGE_STOPS]
    middle_log10: Annotated[Estimate, MIDDLE_LOG10]
    camera_ei: Annotated[Estimate | None, CAMERA_EI] = None
    ei_sd_stops: Annotated[Estimate | None, DOUBT_STOPS] = None
    gradient: Annotated[Estimate, GRADIENT]
    veil: Annotated[Estimate | None, VEIL] = None
    ends_ei: Annotated[Estimate | None, INDEX_2240] = None
    paper_speed: Annotated[Estimate | None, PAPER_SPEED] = None
    grade_class: Annotated[str, Words(help="Class of contrast that this range falls in; no filter number.", example="3 hard")] = ""
    process: Annotated[str, Words(help="Which way the curve goes.", example="direct positive")]
    shape: Annotated[str, Words(help="Line that is drawn.", example="double logistic")]
    shapes_tried: Annotated[tuple[str, ...], Plain(help="Lines among which the best was chosen.", example="double logistic, monotone spline")] = ()
    left_out_density: Annotated[Sequence[float], LEFT_OUT_DENSITY] = ()
    patch_noise: Annotated[Estimate, PATCH_NOISE]
    patch_log10: Annotated[Sequence[float], EXPOSURE_LOG10] = ()
    patch_density: Annotated[Sequence[float], DENSITY] = ()
    curve_log10: Annotated[Sequence[float], CURVE_LOG10] = ()
    curve_density: Annotated[Sequence[float], CURVE_DENSITY] = ()
    band_low: Annotated[Sequence[float], BAND_LOW] = ()
    band_high: Annotated[Sequence[float], BAND_HIGH] = ()


def answer(question: CurveQuestion) -> CurveAnswer:
    """The line that foretells a left-out patch best, and limits counted from likely curves."""
    from silverwright.sensitometry.learn import learn_curve

    patches, rules = _patches(question), point_rules()
    wanted = _wanted(question)
    learnt = learn_curve(patches, curve_prior(patches, known=question.density_sd is not None), rules, wanted)
    figures = {name: _estimate(limits) for name, limits in learnt.figures.items()}
    ei = figures.get("camera_ei")
    return CurveAnswer(
        dmin=figures["dmin"],
        dmax=figures["dmax"],
        shadow_log10=figures["low_log10"],
        highlight_log10=figures["high_log10"],
        range_log10=figures["range_log10"],
        range_stops=_scaled(figures["range_log10"], 1 / STOP_LOG10),
        middle_log10=figures["middle_log10"],
        camera_ei=ei,
        ei_sd_stops=_sd_stops(ei),
        gradient=figures.get("gradient", Estimate()),
        veil=figures.get("veil"),
        ends_ei=figures.get("ends_ei"),
        paper_speed=figures.get("paper_speed"),
        grade_class=grade_class(figures["range_log10"].value),
        process=PROCESSES[patches.sign],
        shape=learnt.line.shape,
        shapes_tried=tuple(line.shape for line in learnt.tried),
        left_out_density=tuple(line.left_out_rms for line in learnt.tried),
        patch_noise=Estimate(value=learnt.noise_density),
        patch_log10=tuple(patches.exposure_log10.tolist()),
        patch_density=tuple(patches.density.tolist()),
        curve_log10=tuple(learnt.drawn_log10.tolist()),
        curve_density=tuple(learnt.drawn_density.tolist()),
        band_low=tuple(learnt.band[0].tolist()),
        band_high=tuple(learnt.band[1].tolist()),
        ledger=_ledger(question, figures, rules, wanted),
        notes=tuple(_notes(question, patches, learnt)),
        sources=_sources(),
    )


def _patches(question: CurveQuestion) -> "Patches":
    import numpy as np

    from silverwright.sensitometry.fit import Patches

    exposures, densities = zip(*question.pairs(), strict=True)
    sd = reading_sd(question.read_by, question.density_sd)
    return Patches(np.array(exposures), np.array(densities), sd, question.exposure_sd_log10)


def _wanted(question: CurveQuestion) -> "Wanted":
    from silverwright.sensitometry.learn import Wanted

    usual = fact("meter", "reading_again").sd
    light = question.light_sd_stops if question.light_sd_stops is not None else usual
    return Wanted(
        shape="" if question.shape_wanted == "best" else question.shape_wanted,
        percent=PERCENT,
        seed=SEED,
        light_sd_stops=light if question.metered else None,
        fixed_out_density=question.fixed_out_density,
    )


def _estimate(limits: "Limits") -> Estimate:
    unknown = limits.value is None and limits.low is None and limits.high is None
    return Estimate(value=limits.value, low=limits.low, high=limits.high, percent=None if unknown else PERCENT)


def _scaled(estimate: Estimate, factor: float) -> Estimate:
    """The same estimate in another unit."""
    value, low, high = (None if one is None else one * factor for one in (estimate.value, estimate.low, estimate.high))
    return Estimate(value=value, low=low, high=high, percent=estimate.percent)


def _sd_stops(ei: Estimate | None) -> Estimate | None:
    """One standard deviation of an index in stops, from its limits."""
    if ei is None or ei.low is None or ei.high is None:
        return None
    return Estimate(value=log2(ei.high / ei.low) / (2 * EIGHTY_PERCENT_SD))


def _ledger(question: CurveQuestion, figures: dict[str, Estimate], rules: "Rules", wanted: "Wanted") -> tuple[Line, ...]:
    """The index as a sum in stops: the meter's constant, less the exposure of the grey, with the light's own doubt."""
    middle = figures["middle_log10"]
    if wanted.light_sd_stops is None or middle.value is None or middle.low is None or middle.high is None:
        return ()
    doubt = (middle.high - middle.low) / (2 * EIGHTY_PERCENT_SD * STOP_LOG10)
    constant, light = fact("meter", "paper_plane"), fact("meter", "reading_again")
    who = light.says if question.light_sd_stops is None else "as it was given"
    return (
        Line(what="meter's equation, q K = 8.125", amount=log2(rules.camera_lx_s), doubt=0, unit="stops", source=constant.says, rests="published"),
        Line(what="exposure of the grey", amount=-middle.value / STOP_LOG10, doubt=doubt, unit="stops", source="your own sheet", rests="own"),
        Line(what="metered light", amount=0, doubt=wanted.light_sd_stops, unit="stops", source=who, rests=light.rests),
    )


def _notes(question: CurveQuestion, patches: "Patches", learnt: "Learnt") -> list[Remark]:
    """What is worth saying about this curve."""
    notes, figures = [remark(Note.DERIVED_NOT_ISO)], learnt.figures
    if not question.metered:
        notes.append(remark(Note.NOT_METERED))
    if figures["low_log10"].value is None:
        notes.append(remark(Note.SHADOWS_BEYOND, first=f"{patches.exposure_log10[0]:.2f}"))
    if figures["high_log10"].value is None:
        notes.append(remark(Note.HIGHLIGHTS_BEYOND, last=f"{patches.exposure_log10[-1]:.2f}"))
    if figures["middle_log10"].value is None:
        notes.append(remark(Note.GREY_BEYOND, density=f"{point_rules().grey_density:.3f}"))
    if len(learnt.tried) == 1 and question.shape_wanted == "best":
        from silverwright.sensitometry.fit import FEW_PATCHES

        notes.append(remark(Note.FEW_PATCHES, patches=len(patches.density), needed=FEW_PATCHES))
    notes += _odd_patches(question, patches, learnt)
    wider = [FIGURES[name] for name, limits in figures.items() if limits.widened]
    if wider:
        notes.append(remark(Note.SHAPE_OUTSIDE, shape=learnt.line.shape, figures=", ".join(wider)))
    return notes


def _odd_patches(question: CurveQuestion, patches: "Patches", learnt: "Learnt") -> list[Remark]:
    """Patches that turn back, run the other way, or scatter more than a reading does."""
    from silverwright.sensitometry.fit import steps_back

    notes = []
    back = steps_back(patches, ABOVE_NOISE)
    if back:
        named = ", ".join(f"log exposure {patches.exposure_log10[index]:.2f}" for index, _ in back)
        amounts = ", ".join(f"{amount:.2f}" for _, amount in back)
        notes.append(remark(Note.TURNS_BACK, patches=named, amounts=amounts, doubt=f"{patches.density_sd:.2f}"))
    if learnt.noise_density > 2 * patches.density_sd:
        notes.append(remark(Note.SCATTERED_PATCHES, noise=f"{learnt.noise_density:.2f}", doubt=f"{patches.density_sd:.2f}"))
    is_process = PROCESSES[patches.sign]
    if question.process not in {None, is_process}:
        does = "rises" if patches.sign > 0 else "falls"
        notes.append(remark(Note.OTHER_WAY_ROUND, does=does, instead=is_process, process=question.process))
    return notes


def _sources() -> tuple[str, ...]:
    used = (*(row for row in facts("curve").values() if row.kind in {"handbook", "memory"}), fact("meter", "paper_plane"), fact("meter", "meter_k"))
    return tuple(dict.fromkeys(f"{row.source} ({row.says})" if row.kind == "memory" else row.says for row in used))


CURVE: Final = Operation(
    name="sensitometry.curve",
    version=1,
    asks="What does my step sheet say about the paper: its curve, range and speed?",
    question=CurveQuestion,
    answer=CurveAnswer,
    compute=answer,
    examples={
        "twelve patches, metered": {
            "exposure_log10": "-0.9 -0.75 -0.6 -0.45 -0.3 -0.15 0 0.15 0.3 0.45 0.6 0.75",
            "densities": "1.88 1.87 1.85 1.81 1.68 1.41 0.98 0.55 0.28 0.15 0.11 0.09",
            "metered": True,
            "process": "direct positive",
        },
        "five strips, read by eye": {
            "patches": "density,exposure_log10\n1.6,-0.6\n1.3,-0.3\n0.7,0\n0.3,0.3\n0.1,0.6",
            "read_by": "grey scale by eye",
            "fixed_out_density": 0.05,
        },
        "a paper negative": {
            "exposure_log10": "-0,75 -0,6 -0,45 -0,3 -0,15 0 0,15 0,3 0,45 0,6",
            "densities": "0,09 0,11 0,16 0,29 0,56 0,98 1,40 1,67 1,80 1,85",
            "metered": True,
            "process": "negative",
        },
    },
)
