"""What is known of the paper's curve: its own step sheet, a typed range, its grade, or nothing."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from math import exp, hypot, log, log10
from typing import Annotated, Any, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Question, Record, Remark, Rests, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.densitometry.density import density_of_reflectance
from silverwright.exposure.papercurve import curve_ends, exposure_for_density, moved_papers, usual_curve
from silverwright.facts.load import fact, facts
from silverwright.notes import Note
from silverwright.questions.entry import stops_said
from silverwright.questions.paper import Tone
from silverwright.records import PaperCurve, UsualPaper
from silverwright.vocabulary import EXPOSURE_LOG10, GRADE, HIGHLIGHT_LOG10, MIDDLE_LOG10, RANGE_STOPS, SHADOW_LOG10
from silverwright.vocabulary_camera import HIGHLIGHT_SD_LOG10, POINT_DENSITY, POINT_HIGH, POINT_LOW, RANGE_SD_STOPS, SHADOW_SD_LOG10

COUNTED_ON_THE_CURVE: Final = ("shadow_log10", "shadow_sd_log10", "highlight_log10", "highlight_sd_log10", "middle_log10")
Moved = Callable[[], tuple[tuple[PaperCurve, PaperCurve], ...]]  # one doubt after the other, moved up and down by one standard deviation
STOP_LOG10: Final = log10(2)  # arithmetic
FEWEST_POINTS: Final = 3  # arithmetic: two points are a line, and a curve has two ends
MIN_APART_LOG10: Final = 1e-6  # our judgement: nobody exposes patches closer together


class CurvePoint(Record):
    """One point of a paper's curve, as the question about its step sheet draws it."""

    exposure_log10: Annotated[float, EXPOSURE_LOG10]
    density: Annotated[float, POINT_DENSITY]
    low: Annotated[float | None, POINT_LOW] = None
    high: Annotated[float | None, POINT_HIGH] = None


class CurveFields(Question):
    """The paper's curve as points with its figures, or its range, or its grade; nothing of it must be known."""

    process: Annotated[
        Literal["direct positive", "negative"], Choice(help="What becomes of the sheet.", example="direct positive", label="Process")
    ] = "direct positive"
    grade: Annotated[float | None, GRADE] = None
    range_stops: Annotated[float | None, RANGE_STOPS] = None
    range_sd_stops: Annotated[float | None, RANGE_SD_STOPS] = None
    shadow_log10: Annotated[float | None, SHADOW_LOG10] = None
    shadow_sd_log10: Annotated[float | None, SHADOW_SD_LOG10] = None
    highlight_log10: Annotated[float | None, HIGHLIGHT_LOG10] = None
    highlight_sd_log10: Annotated[float | None, HIGHLIGHT_SD_LOG10] = None
    middle_log10: Annotated[float | None, MIDDLE_LOG10] = None
    curve: Annotated[
        tuple[CurvePoint, ...],
        Rows(
            row=CurvePoint,
            help="The paper's curve from its step sheet: log exposure, density, and the band if you have it.",
            example="exposure_log10,density,low,high\n-0.6,1.8,1.7,1.9\n0,0.8,0.7,0.9\n0.6,0.1,0.05,0.15",
        ),
        Field(validate_default=True),
    ] = ()
    curve_from: Annotated[str, Words(help="Which step sheet the curve is of.", example="step sheet 26-018", label="Curve from")] = ""

    @field_validator("range_stops")
    @classmethod
    def _a_range(cls, range_stops: float | None) -> float | None:
        least = fact("curve", "narrowest_log10").value / STOP_LOG10
        if range_stops is not None and range_stops < least:
            raise refuse(f"A paper that holds less than {least:.2f} stop shows black and white only. Leave it open if you do not know it.")
        return range_stops

    @field_validator("highlight_log10")
    @classmethod
    def _above_the_shadow_point(cls, highlight_log10: float | None, seen: ValidationInfo) -> float | None:
        low = seen.data.get("shadow_log10")
        if low is not None and highlight_log10 is not None and low >= highlight_log10:
            said = f"Shadow point {low:g} lies not below highlight point {highlight_log10:g}: more light is in the highlights."
            raise refuse(said, field="shadow_log10")
        return highlight_log10

    @field_validator("curve")
    @classmethod
    def _a_curve(cls, curve: tuple[CurvePoint, ...], seen: ValidationInfo) -> tuple[CurvePoint, ...]:
        alone = [name for name in COUNTED_ON_THE_CURVE if seen.data.get(name) is not None]
        if not curve and alone:
            raise refuse("It counts in the log exposure of a curve: give the curve too, or say the paper's range in stops.", field=alone[0])
        if curve:
            points = sorted(curve, key=lambda one: one.exposure_log10)
            _check_points(points)
            _check_direction(points, seen.data)
        return curve


def _check_points(points: list[CurvePoint]) -> None:
    """Refuse points that are no curve."""
    if len(points) < FEWEST_POINTS:
        raise refuse(f"{len(points)} points are no curve; {FEWEST_POINTS} at the very least, and better a dozen.")
    for one in points:
        if (one.low is not None and one.low > one.density) or (one.high is not None and one.high < one.density):
            band = f"{'' if one.low is None else f'{one.low:g}'} to {'' if one.high is None else f'{one.high:g}'}"
            raise refuse(f"At {one.exposure_log10:g} the density {one.density:g} lies outside its own band, {band}. Mend one of them.")
    fall = points[-1].density - points[0].density
    for one, other in pairwise(points):
        if other.exposure_log10 - one.exposure_log10 < MIN_APART_LOG10:
            raise refuse(f"Two points have the log exposure {one.exposure_log10:g}. The curve's own points are asked here, one for each exposure.")
        if (other.density - one.density) * fall < 0:
            raise refuse(
                f"Between {one.exposure_log10:g} and {other.exposure_log10:g} the density turns back. "
                "Give the points of the drawn curve, not the patches."
            )
    if abs(fall) < fact("curve", "flattest_density").value:
        raise refuse("All densities are nearly the same: no tones can be told from such a curve.")


def _check_direction(points: list[CurvePoint], given: dict[str, Any]) -> None:
    """Refuse a curve that runs against the process, or that never comes to the mid-grey."""
    falls = points[0].density > points[-1].density
    if "process" in given and falls != (given["process"] == "direct positive"):
        does, of = ("falls", "a direct positive") if falls else ("rises", "a negative")
        raise refuse(f"The curve {does} with more light, as that of {of}; the process says {given['process']}. Change one of them.", field="process")
    densities, grey = [one.density for one in points], grey_density()
    if given.get("middle_log10", 0) is None and not min(densities) < grey < max(densities):
        raise refuse(f"The curve does not come to the density of a mid-grey, {grey:.3f}: say where the grey lies.", field="middle_log10")
    middle = _middle(points, given.get("middle_log10"))
    shadow, highlight = _points_log10(
        _as_drawn(points, middle), _less(given.get("shadow_log10"), middle), _less(given.get("highlight_log10"), middle)
    )
    if shadow >= highlight:
        raise refuse(
            f"With these points shadows end at {shadow + middle:.2f} and highlights at {highlight + middle:.2f}: more light is in the highlights. "
            "All of them count in the curve's own log exposure.",
            field="shadow_log10" if given.get("shadow_log10") is not None else "highlight_log10",
        )


def _less(typed: float | None, middle: float) -> float | None:
    """Counted from the grey."""
    return None if typed is None else typed - middle


def _middle(points: list[CurvePoint], typed: float | None) -> float:
    """Where the mid-grey lies: as typed, else where the curve passes its density."""
    if typed is not None:
        return typed
    return exposure_for_density(_as_drawn(points, 0.0), grey_density()) or 0.0


def grey_density() -> float:
    """The density of a mid-grey."""
    return density_of_reflectance(fact("curve", "grey_reflectance_percent").value / 100)


@dataclass(frozen=True, slots=True)
class CurveInHand:
    """The curve that counts, and what it rests on."""

    curve: PaperCurve
    moved: Moved
    said: str
    source: str
    rests: Rests
    notes: tuple[Remark, ...] = ()

    @property
    def range_stops(self) -> float:
        """The paper's range."""
        return (self.curve.highlight_log10 - self.curve.shadow_log10) / STOP_LOG10

    def sd(self, figure: Callable[[PaperCurve], float]) -> float:
        """One standard deviation of a figure of the curve: every doubt moved by itself, the larger of both ways, added in quadrature."""
        here = figure(self.curve)
        return hypot(*(max(abs(figure(one) - here) for one in either_way) for either_way in self.moved()))


def curve_in_hand(question: CurveFields) -> CurveInHand:
    """Own curve before a typed range before the grade; without any of them a usual paper, with a wide doubt, and a note."""
    if question.curve:
        source = question.curve_from or "the curve as given"
        curve = _own(question)
        return CurveInHand(curve, cache(lambda: _own_moved(curve)), "The paper's range, by its own curve", source, "own")
    if question.range_stops is not None:
        usual = fact("scene", "range_typed")
        sd = usual.sd if question.range_sd_stops is None else question.range_sd_stops
        source = "as typed" if question.range_sd_stops is not None else f"as typed; its doubt is {usual.says}"
        found = _usual(question, question.range_stops, sd, "The paper's range, as typed")
        return CurveInHand(*found, source=source, rests="own", notes=_grade_apart(question, question.range_stops, sd))
    if question.grade is not None:
        stops, sd = range_of_grade(question.grade)
        source = f"{fact('grades', 'grade_2').says}; in reversal our judgement"
        note = _guessed(f"grade {question.grade:g} tells", stops, sd)
        return CurveInHand(*_usual(question, stops, sd, f"The range of grade {question.grade:g}"), source=source, rests="trade", notes=(note,))
    slope = fact("curve", "prior_log_slope")
    stops = usual_width(usual_paper(question.process, 1.0, 0.0)) / exp(slope.value) / STOP_LOG10
    sd = stops * slope.sd
    note = _guessed("a usual paper has", stops, sd)
    return CurveInHand(*_usual(question, stops, sd, "The range of a usual paper"), source=slope.says, rests=slope.rests, notes=(note,))


def _grade_apart(question: CurveFields, range_stops: float, sd_stops: float) -> tuple[Remark, ...]:
    """A typed range counts; where the grade tells another one, both are named."""
    if question.grade is None:
        return ()
    usual_stops, usual_sd = range_of_grade(question.grade)
    apart = abs(usual_stops - range_stops)
    if apart <= EIGHTY_PERCENT_SD * hypot(sd_stops, usual_sd):
        return ()
    said = f"grade {question.grade:g}, which tells {stops_said(usual_stops)},"
    return (remark(Note.ROUTES_DISAGREE, first=f"The range of {stops_said(range_stops)}", second=said, stops=stops_said(apart)),)


def _guessed(who: str, stops: float, sd_stops: float) -> Remark:
    reach = EIGHTY_PERCENT_SD * sd_stops
    return remark(Note.RANGE_GUESSED, who=who, stops=stops_said(stops), low=f"{max(0.0, stops - reach):.1f}", high=f"{stops + reach:.1f}")


def usual_paper(process: str, range_stops: float, range_sd_stops: float) -> UsualPaper:
    """A paper of this range with the ends that papers have."""
    net, dmin = fact("curve", "prior_log_net"), fact("curve", "prior_dmin")
    return UsualPaper(
        range_log10=range_stops * STOP_LOG10,
        range_ln_sd=range_sd_stops / range_stops,
        dmin=dmin.value,
        dmin_sd=dmin.sd,
        net_density=exp(net.value),
        net_ln_sd=net.sd,
        grey_density=grey_density(),
        grey_place_sd_log10=fact("scene", "grey_place").sd * STOP_LOG10,
        near_dmin=fact("curve", "near_dmin").value,
        net_share=fact("curve", "part_of_net").value,
        falls=process == "direct positive",
    )


def usual_width(paper: UsualPaper) -> float:
    """From shadow to highlight point on the plain S, in units of its slope."""
    near = paper.near_dmin / paper.net_density
    return log(paper.net_share / (1 - paper.net_share)) + log((1 - near) / near)


def _usual(question: CurveFields, range_stops: float, range_sd_stops: float, said: str) -> tuple[PaperCurve, Moved, str]:
    """A usual paper of this range, the same with one thing after the other moved, and how its range is called."""
    paper = usual_paper(question.process, range_stops, range_sd_stops)

    @cache
    def moved() -> tuple[tuple[PaperCurve, PaperCurve], ...]:
        up, down = ([usual_curve(one, EIGHTY_PERCENT_SD) for one in moved_papers(paper, side)] for side in (1.0, -1.0))
        return tuple(zip(up, down, strict=True))

    return usual_curve(paper, EIGHTY_PERCENT_SD), moved, said


def range_of_grade(grade: float) -> tuple[float, float]:
    """The range of a grade in stops with its doubt: straight between whole grades, the class's limits read as 80 % limits."""
    below = int(grade)
    classes = facts("grades")
    one, other = classes[f"grade_{below}"], classes[f"grade_{below + 1}"]
    part = grade - below
    middle = one.value + part * (other.value - one.value)
    widths = [((row.high or row.value) - (row.low or row.value)) / (2 * EIGHTY_PERCENT_SD) for row in (one, other)]
    wide = widths[0] + part * (widths[1] - widths[0])
    return middle / STOP_LOG10, hypot(wide / STOP_LOG10, fact("scene", "grade_reversed").sd)


def _as_drawn(points: list[CurvePoint], middle_log10: float) -> PaperCurve:
    """The typed points, counted from the grey; a point without a band has none."""
    return PaperCurve(
        exposure_log10=tuple(one.exposure_log10 - middle_log10 for one in points),
        density=tuple(one.density for one in points),
        low=tuple(one.density if one.low is None else min(one.low, one.density) for one in points),
        high=tuple(one.density if one.high is None else max(one.high, one.density) for one in points),
        shadow_log10=points[0].exposure_log10 - middle_log10,
        highlight_log10=points[-1].exposure_log10 - middle_log10,
    )


def _own(question: CurveFields) -> PaperCurve:
    """The own curve with both points: as typed, else by the same rules as the curve's own question takes, on these points."""
    points = sorted(question.curve, key=lambda one: one.exposure_log10)
    middle = _middle(points, question.middle_log10)
    drawn = _as_drawn(points, middle)
    shadow, highlight = _points_log10(drawn, _less(question.shadow_log10, middle), _less(question.highlight_log10, middle))
    usual = fact("scene", "own_point").sd
    shadow_sd = usual if question.shadow_sd_log10 is None else question.shadow_sd_log10
    highlight_sd = usual if question.highlight_sd_log10 is None else question.highlight_sd_log10
    return replace(
        drawn,
        shadow_log10=shadow,
        highlight_log10=highlight,
        shadow_sd_log10=shadow_sd,
        highlight_sd_log10=highlight_sd,
        range_sd_log10=hypot(shadow_sd, highlight_sd),
    )


def _points_log10(drawn: PaperCurve, shadow: float | None, highlight: float | None) -> tuple[float, float]:
    """Shadow and highlight point: as typed, else where the curve passes the densities that the curve's own question takes, else its ends."""
    first, last = curve_ends(drawn)
    dmin, net = min(first, last), abs(first - last)
    near = dmin + min(fact("curve", "near_dmin").value, net / 2)
    dark = dmin + fact("curve", "part_of_net").value * net
    if shadow is None:
        shadow = exposure_for_density(drawn, dark if drawn.falls else near)
    if highlight is None:
        highlight = exposure_for_density(drawn, near if drawn.falls else dark)
    return drawn.shadow_log10 if shadow is None else shadow, drawn.highlight_log10 if highlight is None else highlight


def _own_moved(curve: PaperCurve) -> tuple[tuple[PaperCurve, PaperCurve], ...]:
    """The own curve towards both edges of its band, and with either point moved."""

    def towards(edge: tuple[float, ...]) -> PaperCurve:
        density = tuple(here + (there - here) / EIGHTY_PERCENT_SD for here, there in zip(curve.density, edge, strict=True))
        return replace(curve, density=density)

    shadow, highlight = (
        tuple(replace(curve, **{name: getattr(curve, name) + side * sd}) for side in (1.0, -1.0))
        for name, sd in (("shadow_log10", curve.shadow_sd_log10), ("highlight_log10", curve.highlight_sd_log10))
    )
    return (towards(curve.low), towards(curve.high)), (shadow[0], shadow[1]), (highlight[0], highlight[1])


def tone_log10(paper: CurveInHand, word: Tone) -> float:
    """Where the curve has this tone, the EI of which the ledger takes; the nearest end where it does not come to it."""
    if word == "mid-grey":
        return 0.0
    curve, (first, last) = paper.curve, curve_ends(paper.curve)
    dmin = min(first, last)
    over_dmin = dmin + fact("forecast", "highlight_over_dmin").value
    far_down = dmin + fact("forecast", "shadow_part_of_net").value * abs(first - last)
    if word == "skin":
        found = exposure_for_density(curve, fact("forecast", "skin_density" if curve.falls else "negative_skin_density").value)
        return STOP_LOG10 if found is None else found
    light = word == "highlight with texture"
    found = exposure_for_density(curve, over_dmin if light == curve.falls else far_down)
    return found if found is not None else curve.highlight_log10 if light else curve.shadow_log10


def rules_from() -> tuple[str, ...]:
    """Who says where shadow point and highlight point lie."""
    rows = (fact("curve", "near_dmin"), fact("curve", "part_of_net"))
    return tuple(f"{row.source} ({row.says})" if row.kind == "memory" else row.says for row in rows)
