"""How strong is the peroxide, by a test strip?"""

from math import hypot, log, sqrt
from typing import Annotated, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.operation import Estimate, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.chemistry.strength import PEROXIDE, mass_fraction, strength_in
from silverwright.chemistry.strips import between_colours, colour_sd_share, dilution_factor, read_again_sd_share, wanted_factor
from silverwright.errors import OutOfRange
from silverwright.facts.load import facts
from silverwright.notes import Note
from silverwright.questions.assayed import (
    MEASURED_WITH,
    SAID_IN,
    AssayAnswer,
    Glass,
    LabelFields,
    Missing,
    label_mol_per_l,
    less_than_taken,
    missing,
    of_label,
    too_much,
    volume_share,
)
from silverwright.questions.entry import around_stops, says
from silverwright.questions.guides import guide
from silverwright.questions.ingredients import ROOM_CELSIUS
from silverwright.questions.strength import SaidUnit, density_says, known_substance
from silverwright.records_chemistry import Strength, StrengthUnit
from silverwright.vocabulary_chemistry import MADE_UP_ML, STRIP_MG_PER_L, STRIP_SCALE_MG_PER_L, TAKEN_ML, WANTED_FACTOR

LOOK: Final = "the volumes of each step, and how many steps there were"
MILLIGRAMS: Final = 1000  # arithmetic: in a gram
FEWEST_COLOURS: Final = 2  # arithmetic: two colours make a step
FEW_ROWS: Final = 6  # our judgement: more steps than any strip needs
EYE_SHARE: Final = 0.2  # our judgement: by so much two people, or one in another light, read the same colour differently, one standard deviation


class DilutionRow(Record):
    """One step of a dilution."""

    taken_ml: Annotated[float, TAKEN_ML]
    made_up_ml: Annotated[float, MADE_UP_ML]


class StripFields(Question):
    """What a strip showed, and how far the sample had been diluted."""

    strip_mg_per_l: Annotated[float, STRIP_MG_PER_L]
    diluted: Annotated[
        tuple[DilutionRow, ...],
        Rows(row=DilutionRow, help="How it was diluted, a line for each step: taken, made up to.", example="1 100", label="Diluted"),
    ] = ()
    colours_mg_per_l: Annotated[tuple[float, ...], STRIP_SCALE_MG_PER_L, Field(validate_default=True)] = ()
    measured_with: Annotated[Glass | None, MEASURED_WITH] = None

    @field_validator("colours_mg_per_l")
    @classmethod
    def _on_the_scale(cls, colours: tuple[float, ...], seen: ValidationInfo) -> tuple[float, ...]:
        scale = sorted({one for one in colours if one > 0})
        if colours and len(scale) < FEWEST_COLOURS:
            raise refuse("A scale has at least two colours above 0: give all that stand on the tube.")
        read, last = seen.data.get("strip_mg_per_l"), (scale or usual_scale())[-1]
        if read is not None and read > last:
            more = "dilute ten times more and dip a new strip" if scale else "give the colours of your tube, or dilute ten times more"
            raise refuse(f"The strip reads {read:g} mg/L, and the last colour of the scale is {last:g} mg/L: {more}.", field="strip_mg_per_l")
        return colours

    @field_validator("diluted")
    @classmethod
    def _each_step_can_be(cls, rows: tuple[DilutionRow, ...]) -> tuple[DilutionRow, ...]:
        if len(rows) > FEW_ROWS:
            raise refuse(f"{len(rows)} steps: at most {FEW_ROWS} are counted here.")
        for row in rows:
            if row.made_up_ml < row.taken_ml:
                raise refuse(less_than_taken(row.taken_ml, row.made_up_ml))
        return rows


class StripQuestion(LabelFields, StripFields):
    """A strip, and the label that it is compared with."""

    @field_validator("stock_unit")
    @classmethod
    def _can_be(cls, unit: SaidUnit, seen: ValidationInfo) -> SaidUnit:
        """A strip may be half off, so that only what cannot be is refused."""
        if "strip_mg_per_l" in seen.data and "diluted" in seen.data:
            found = seen.data["strip_mg_per_l"] * _factor(seen.data["diluted"]) / MILLIGRAMS / facts("molar")[PEROXIDE].value
            if why := too_much(found, {}, ROOM_CELSIUS, LOOK):
                raise refuse(why, field="diluted")
        return unit


class StripAnswer(AssayAnswer):
    """The strength by a strip, and how far one should dilute."""

    better_factor: Annotated[Estimate | None, WANTED_FACTOR] = None


def usual_scale() -> list[float]:
    """The colours of a usual tube."""
    return sorted(one.value for key, one in facts("assay").items() if key.startswith("strip_colour_"))


def _factor(rows: tuple[DilutionRow, ...]) -> float:
    return dilution_factor([row.taken_ml for row in rows], [row.made_up_ml for row in rows])


def answer(question: StripQuestion) -> StripAnswer:
    """The colour between its neighbours, times the dilution."""
    scale = [one for one in question.colours_mg_per_l if one > 0] or usual_scale()
    factor = _factor(question.diluted)
    low, high = between_colours(question.strip_mg_per_l, scale)
    found = question.strip_mg_per_l * factor / MILLIGRAMS
    share = _volumes_share(question)
    label = label_mol_per_l(dict(question), ROOM_CELSIUS)
    strength = _between(found, low, high, share, factor)
    molar = facts("molar")[PEROXIDE].value
    how = guide("strip")
    return StripAnswer(
        **_in_units(strength),
        of_label_percent=_of_label(strength, label, molar),
        better_factor=Estimate(value=wanted_factor(MILLIGRAMS * molar * max(label), scale)) if label else None,
        good_for=how.good_for,
        needs=how.needs,
        steps=how.steps,
        ledger=(),
        notes=(*how.cautions, *_notes(question, low, high, share)),
        sources=(
            "the tube's own scale" if question.colours_mg_per_l else says(facts("assay")["strip_colour_1"]),
            density_says(known_substance(PEROXIDE)),
        ),
    )


def _volumes_share(question: StripQuestion, glass: Glass | None = None) -> float:
    """All volumes of the steps, one standard deviation as a share."""
    glass = glass or question.measured_with
    shares = [volume_share(one, glass, vessel) for row in question.diluted for one, vessel in ((row.taken_ml, "pipette"), (row.made_up_ml, "flask"))]
    return hypot(*shares)


def _between(found: float, low: float | None, high: float | None, share: float, factor: float) -> Estimate:
    """In grams in a litre: limits where both neighbours are known, else an open end."""
    if low is not None and high is not None:
        sd = read_again_sd_share(hypot(colour_sd_share(low, high), EYE_SHARE), (share,))
        told = around_stops(found, sd / log(2))
        return Estimate(value=found, low=min(found, told.low or 0.0), high=max(found, told.high or 0.0), percent=80)
    sd = read_again_sd_share(EYE_SHARE, (share,))
    if high is None:
        bottom = (low or 0.0) * factor / MILLIGRAMS
        return Estimate(value=found, low=min(found, bottom / 2 ** (sd / log(2))), percent=80)
    top = high * factor / MILLIGRAMS
    return Estimate(value=found, high=max(found, top * 2 ** (sd / log(2))), percent=80)


def _in_units(strength: Estimate) -> dict[str, Estimate]:
    """In every unit, open ends left open, nothing above peroxide without water."""
    known = known_substance(PEROXIDE)

    def one(amount: float | None, unit: StrengthUnit) -> float | None:
        if amount is None:
            return None
        try:
            fraction = mass_fraction(Strength(amount, "g/L"), known, ROOM_CELSIUS)
        except OutOfRange:
            fraction = 1.0
        return strength_in(unit, fraction, known, ROOM_CELSIUS)

    return {
        name: Estimate(value=one(strength.value, unit), low=one(strength.low, unit), high=one(strength.high, unit), percent=80)
        for name, unit in SAID_IN.items()
    }


def _of_label(strength: Estimate, label: tuple[float, ...], molar: float) -> Estimate | None:
    """As a share of the label; the middle of two readings of it."""
    if not label or strength.value is None:
        return None
    middle = of_label(strength.value / molar, 0.0, label)
    if middle is None or middle.value is None or strength.value <= 0:
        return middle
    times = middle.value / strength.value
    low, high = (None if one is None else one * times for one in (strength.low, strength.high))
    return Estimate(value=middle.value, low=low, high=high, percent=80)


def _notes(question: StripQuestion, low: float | None, high: float | None, share: float) -> tuple[Remark, ...]:
    notes = [remark(Note.STRIP_ROUGH), remark(Note.PH_STRIP_BLEACHED)]
    if high is None:
        notes.append(remark(Note.STRIP_BEYOND))
    elif low is None:
        notes.append(remark(Note.STRIP_PALE))
    fine = _volumes_share(question, "class B glass")
    adds = sqrt(max(0.0, share**2 - fine**2)) if question.measured_with is None else 0.0
    colour = EYE_SHARE if low is None or high is None else hypot(EYE_SHARE, colour_sd_share(low, high))
    return (*notes, *missing([Missing("with what the steps were measured (syringes and cylinders are taken)", adds)], hypot(colour, share)))


STRIP: Final = Operation(
    name="chemistry.strip",
    version=1,
    asks="How strong is the peroxide, by a test strip?",
    question=StripQuestion,
    answer=StripAnswer,
    compute=answer,
    examples={
        "a bath of 9 %, diluted twice": {
            "strip_mg_per_l": 10,
            "colours_mg_per_l": "0.5 2 5 10 25",
            "diluted": [{"taken_ml": 1, "made_up_ml": 100}, {"taken_ml": 1, "made_up_ml": 100}],
            "stock_amount": 9,
            "stock_unit": "% w/w",
        },
        "the last colour": {"strip_mg_per_l": 25, "diluted": [{"taken_ml": 1, "made_up_ml": 100}]},
        "hardly any colour": {"strip_mg_per_l": 0.5, "diluted": [{"taken_ml": 1, "made_up_ml": 100}], "measured_with": "class B glass"},
    },
)
