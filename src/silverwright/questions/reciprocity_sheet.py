"""What does my equal-exposure sheet say about reciprocity?"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, log2, sqrt
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.equalexposure import exponent_found, loss_stops
from silverwright.exposure.reciprocity import start_s
from silverwright.exposure.shutter import hand_doubt_stops, true_f_number
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Unknown, around_stops, not_given, says, stops_said
from silverwright.questions.marks import aperture_marks
from silverwright.questions.reciprocity import first_guess
from silverwright.questions.reciprocity_plan import process_sign, strip_sd_stops
from silverwright.records import ExponentFound, ReciprocityLaw, StripLoss
from silverwright.units import F_NUMBER, SECOND
from silverwright.vocabulary import APERTURE_F, DENSITY_SD, EXPONENT_FACTOR, EXPONENT_SD, GIVEN_S, THRESHOLD_S, TONE_DENSITY
from silverwright.vocabulary_camera import DENSITY_PER_STOP, LOST_SD_STOPS, LOST_STOPS, MINUTE_S, OWN_METERED_S, PLAN_F, PLAN_S

MINUTE: Final = 60.0  # arithmetic
FAR_STOPS: Final = 0.3  # our judgement: so far beyond the scale a middle tone is still nearly straight
SAME_APERTURE: Final = 0.01  # our judgement: openings nearer to one another than this share are one
FEWEST_SCALE: Final = 2  # arithmetic: a slope needs two strips


class StripRow(Record):
    """One strip: its aperture, the time that it really got, and its density."""

    aperture_f: Annotated[float, APERTURE_F]
    given_s: Annotated[float, GIVEN_S]
    density: Annotated[float, TONE_DENSITY]
    note: Annotated[str | None, Words(help="Anything odd about this strip.", example="counted late")] = None


class SheetQuestion(Question):
    """The strips of one sheet; those at the widest aperture are the scale."""

    process: Annotated[
        Literal["direct positive", "negative"], Choice(help="What became of the sheet.", example="direct positive", label="Process")
    ] = "direct positive"
    aperture_scale: Annotated[
        Literal["marked", "exact"], Choice(help="As marked on the lens, or measured f-numbers.", example="marked", label="Aperture scale")
    ] = "marked"
    density_per_stop: Annotated[float | None, DENSITY_PER_STOP] = None
    density_sd: Annotated[float | None, DENSITY_SD] = None
    strip_rows: Annotated[
        tuple[StripRow, ...],
        Rows(row=StripRow, help="A line for each strip.", example="f/8 2 1.31\nf/8 4 0.75\nf/45 128 1.0", label="Strips"),
        Field(validate_default=True),
    ] = ()

    @field_validator("strip_rows")
    @classmethod
    def _short_and_long(cls, rows: tuple[StripRow, ...], seen: ValidationInfo) -> tuple[StripRow, ...]:
        if not rows:
            raise refuse("Needed. A line for each strip: aperture, time, density, such as f/8 4 0.75.")
        short, long = _split(rows)
        if not long:
            raise refuse("All strips have one aperture. The test needs short times at a wide aperture and long ones at a small one.")
        shortest = min(row.given_s for row in long)
        if shortest <= max(row.given_s for row in short):
            raise refuse(f"A strip of {SECOND.show(shortest)} at a smaller aperture is no longer than those at the widest: there is nothing to lose.")
        process = seen.data.get("process")
        if process is not None and len({row.given_s for row in short}) >= FEWEST_SCALE:
            _right_way(short, process)
        return rows


class SheetAnswer(Answer):
    """The exponent that the sheet tells, what each strip lost, and the own points of the paper."""

    table: ClassVar[tuple[str, ...]] = ("strip_f", "strip_s", "strip_lost_stops", "strip_lost_sd_stops", "own_metered_s")
    exponent: Annotated[Estimate, EXPONENT_FACTOR]
    exponent_sd: Annotated[Estimate, EXPONENT_SD]
    minute_s: Annotated[Estimate, MINUTE_S]
    threshold_s: Annotated[Estimate, THRESHOLD_S]
    density_per_stop: Annotated[Estimate, DENSITY_PER_STOP]
    strip_f: Annotated[Sequence[float], PLAN_F]
    strip_s: Annotated[Sequence[float], PLAN_S]
    strip_lost_stops: Annotated[Sequence[float], LOST_STOPS]
    strip_lost_sd_stops: Annotated[Sequence[float], LOST_SD_STOPS]
    own_metered_s: Annotated[Sequence[float], OWN_METERED_S]


@dataclass(frozen=True, slots=True)
class Scale:
    """The short strips: their middle in stops of exposure and in density, how density goes with stops, and the doubt of that slope."""

    middle_stops: float
    middle_density: float
    density_per_stop: float
    density_per_stop_sd: float
    short_s: float
    spread_stops: float
    strips: int


def _split(rows: Sequence[StripRow]) -> tuple[list[StripRow], list[StripRow]]:
    """The strips at the widest aperture, and the others by their time."""
    widest = min(row.aperture_f for row in rows)
    short = [row for row in rows if row.aperture_f <= widest * (1 + SAME_APERTURE)]
    return short, sorted((row for row in rows if row not in short), key=lambda row: row.given_s)


def _right_way(short: Sequence[StripRow], process: str) -> None:
    """Refuse a scale whose densities go the other way."""
    slope, _ = _slope([(log2(row.given_s), row.density) for row in short])
    if slope * process_sign(process) >= 0:
        goes = "lighter" if process == "direct positive" else "darker"
        raise refuse(f"At the widest aperture more time comes out {goes} in a {process}. Are two strips changed about, or is it the other process?")


def _slope(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Density for a stop by least squares, and the sum of squares of the stops."""
    middle = sum(stops for stops, _ in points) / len(points)
    spread = sum((stops - middle) ** 2 for stops, _ in points)
    return sum((stops - middle) * density for stops, density in points) / spread, spread


def _given_stops(question: SheetQuestion, row: StripRow) -> float:
    """What the meter says that a strip got, in stops from 1 s at f/1."""
    f_number = true_f_number(row.aperture_f, aperture_marks()) if question.aperture_scale == "marked" else row.aperture_f
    return log2(row.given_s) - 2 * log2(f_number)


def _scale(question: SheetQuestion, short: Sequence[StripRow], law: ReciprocityLaw) -> Scale:
    """The scale of the sheet itself where it has one, else what is known of the paper; what its strips lose is off by our guess."""
    short_s = 2 ** (sum(log2(row.given_s) for row in short) / len(short))
    usual_loss = loss_stops(short_s, law)
    points = [(_given_stops(question, row) - loss_stops(row.given_s, law) + usual_loss, row.density) for row in short]
    usual, sign = fact("reciprocity", "density_per_stop"), -process_sign(question.process)
    per_stop, sd = (usual.value, usual.sd) if question.density_per_stop is None else (question.density_per_stop, 0.0)
    slope, spread = sign * per_stop, 0.0
    if len({stops for stops, _ in points}) >= FEWEST_SCALE:
        slope, spread = _slope(points)
        sd = hypot(_density_sd(question), slope * hand_doubt_stops(short_s, fact("lens", "hand_count").sd)) / sqrt(spread)
    middle = sum(stops for stops, _ in points) / len(points)
    reach = max(abs(stops - middle) for stops, _ in points)
    return Scale(middle, sum(density for _, density in points) / len(points), slope, sd, short_s, reach, len(points))


def _density_sd(question: SheetQuestion) -> float:
    return fact("curve", "density_sd").value if question.density_sd is None else question.density_sd


def _loss(question: SheetQuestion, scale: Scale, row: StripRow) -> StripLoss:
    """What one strip lost: what it got by the meter, less the exposure that its density amounts to on the scale."""
    off = (row.density - scale.middle_density) / scale.density_per_stop
    lost = _given_stops(question, row) - scale.middle_stops - off
    own = strip_sd_stops(row.given_s, _density_sd(question) / abs(scale.density_per_stop))
    return StripLoss(row.given_s, scale.short_s, lost, hypot(own, off * scale.density_per_stop_sd / scale.density_per_stop))


def _shared_sd(question: SheetQuestion, scale: Scale) -> float:
    """What all strips share: the opening of the short ones, and the mean of their densities and counts."""
    each = hypot(_density_sd(question) / scale.density_per_stop, hand_doubt_stops(scale.short_s, fact("lens", "hand_count").sd))
    return hypot(fact("lens", "aperture_marking").sd, each / sqrt(scale.strips))


def answer(question: SheetQuestion) -> SheetAnswer:
    """Densities to stops by the scale, stops to an exponent, drawn towards our first guess as far as the strips leave room."""
    short, long = _split(question.strip_rows)
    scale = _scale(question, short, first_guess())
    losses = [_loss(question, scale, row) for row in long]
    found = exponent_found(losses, first_guess(), _shared_sd(question, scale), MINUTE)
    law = found.law
    return SheetAnswer(
        exponent=Estimate(value=law.exponent, low=min(law.exponent, found.exponent_low), high=max(law.exponent, found.exponent_high), percent=80),
        exponent_sd=Estimate(value=law.exponent_sd),
        minute_s=around_stops(MINUTE * 2**found.longer.amount_stops, found.longer.doubt_stops),
        threshold_s=Estimate(value=start_s(law)),
        density_per_stop=Estimate(value=abs(scale.density_per_stop)),
        strip_f=tuple(row.aperture_f for row in long),
        strip_s=tuple(row.given_s for row in long),
        strip_lost_stops=tuple(one.lost_stops for one in losses),
        strip_lost_sd_stops=tuple(hypot(one.sd_stops, _shared_sd(question, scale)) for one in losses),
        own_metered_s=tuple(_metered_s(one) for one in losses),
        ledger=_working(question, long[-1], losses[-1], scale),
        notes=_notes(question, long, losses, scale, found),
        sources=("maker2017, formula", says(fact("curve", "density_sd"), fact("reciprocity", "paper_exponent"))),
    )


def _metered_s(loss: StripLoss) -> float:
    """The metered time that the strip's own time was needed for, with an EI that was found at the short time."""
    return loss.given_s * float(2**-loss.lost_stops)


def _working(question: SheetQuestion, row: StripRow, loss: StripLoss, scale: Scale) -> tuple[Line, ...]:
    """What the longest strip got and what its density amounts to."""
    got = _given_stops(question, row) - scale.middle_stops
    marking, density = fact("lens", "aperture_marking"), fact("curve", "density_sd")
    shown = f"{SECOND.show(row.given_s)} at {F_NUMBER.show(row.aperture_f)}"
    first = hypot(marking.sd, marking.sd)
    rest = sqrt(max(0.0, loss.sd_stops**2 + _shared_sd(question, scale) ** 2 - first**2))
    what = f"By the meter {shown} got, against the middle of the short strips"
    return (
        Line(what=what, amount=got, doubt=first, unit="stops", source=marking.says, rests="trade"),
        Line(what="Less what it got by its density", amount=loss.lost_stops - got, doubt=rest, unit="stops", source=density.says, rests="own"),
    )


def _off_sds(loss: StripLoss, law: ReciprocityLaw, shared_sd_stops: float) -> tuple[float, float]:
    """How far a strip lies from what the sheet tells, in stops and in standard deviations."""
    off = loss.lost_stops - loss_stops(loss.given_s, law) + loss_stops(loss.short_s, law)
    return abs(off), abs(off) / hypot(loss.sd_stops, law.misfit_stops, shared_sd_stops)


def _notes(question: SheetQuestion, long: Sequence[StripRow], losses: Sequence[StripLoss], scale: Scale, found: ExponentFound) -> tuple[Remark, ...]:
    """The point to write down, strips that do not fit, and what a scale on the sheet would bring."""
    shared, most_sd = _shared_sd(question, scale), fact("forecast", "odd_sd").value
    fitting, odd = [], []
    for row, one in zip(long, losses, strict=True):
        off, sds = _off_sds(one, found.law, shared)
        if sds > most_sd:
            odd.append(remark(Note.STRIP_ODD, strip=_said(row), off=stops_said(off), sd=f"{sds:.1f}"))
        elif one.lost_stops > 0:
            fitting.append(one)
    notes = [*_point_to_keep(fitting), *odd, *_beyond(long, scale)]
    if scale.spread_stops == 0 and question.density_per_stop is None:
        off = abs(losses[-1].lost_stops - _given_stops(question, long[-1]) + scale.middle_stops)
        adds = off * scale.density_per_stop_sd / abs(scale.density_per_stop)
        whole = hypot(losses[-1].sd_stops, shared)
        words = f"how much a stop moves the density ({scale_guess()} taken; two short strips of other times would tell)"
        notes.append(not_given((Unknown(words, adds),), whole, sqrt(max(0.0, whole**2 - adds**2))))
    return tuple(notes)


def _said(row: StripRow) -> str:
    return f"{SECOND.show(row.given_s)} at {F_NUMBER.show(row.aperture_f)}"


def _point_to_keep(fitting: Sequence[StripLoss]) -> list[Remark]:
    """The longest strip that fits, as an own test of the paper."""
    if not fitting:
        return []
    return [remark(Note.OWN_POINT, metered=SECOND.show(_metered_s(fitting[-1])), needed=SECOND.show(fitting[-1].given_s))]


def _beyond(long: Sequence[StripRow], scale: Scale) -> list[Remark]:
    """Strips whose density lies beyond the scale of the sheet."""
    notes = []
    for row in long:
        beyond = abs((row.density - scale.middle_density) / scale.density_per_stop) - scale.spread_stops
        if scale.spread_stops > 0 and beyond > FAR_STOPS:
            notes.append(remark(Note.BEYOND_SCALE, strip=_said(row), off=stops_said(beyond)))
    return notes


def scale_guess() -> str:
    """Our guess of what a stop does to a middle tone."""
    return f"{fact('reciprocity', 'density_per_stop').value:g}"


RECIPROCITY_SHEET: Final = Operation(
    name="exposure.reciprocity-sheet",
    version=1,
    asks="What does my equal-exposure sheet say about reciprocity?",
    question=SheetQuestion,
    answer=SheetAnswer,
    compute=answer,
    examples={
        "six strips": {"strip_rows": "aperture_f,given_s,density\nf/8,2,1.31\nf/8,3,1\nf/8,4,0.75\nf/16,16,0.86\nf/22,32,0.9\nf/45,128,1.01"},
        "two halves of a sheet": {"strip_rows": "f/8 4 0.75\nf/32 64 0.95", "density_per_stop": 0.7},
    },
)
