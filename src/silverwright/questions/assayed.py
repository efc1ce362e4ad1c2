"""What every test of strength has in common: the sample and its dilution, the label to compare with, and the strength that comes out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Question, Remark, refuse, remark
from silverwright.chemistry.mixing import cylinder_for
from silverwright.chemistry.strength import PEROXIDE, mass_fraction, strength_in
from silverwright.facts.load import fact, facts
from silverwright.notes import Note
from silverwright.questions.dilution import cylinders
from silverwright.questions.entry import around
from silverwright.questions.guides import GOOD_FOR, NEEDS, TEST_STEPS
from silverwright.questions.ingredients import tidy_unit
from silverwright.questions.strength import STOCK_UNIT, SaidUnit, known_substance, readings_of, told, too_strong
from silverwright.records_chemistry import Strength, StrengthUnit
from silverwright.vocabulary_chemistry import (
    ALIQUOT_ML,
    EXPECTED_ML,
    LABEL_STRENGTH,
    MADE_UP_ML,
    OF_LABEL_PERCENT,
    SAMPLE_ML,
    STRENGTH_G_PER_L,
    STRENGTH_MOL_PER_L,
    STRENGTH_PERCENT_WV,
    STRENGTH_PERCENT_WW,
    STRENGTH_VOLUMES,
)

Glass = Literal["class A glass", "class B glass", "syringes and cylinders"]
MEASURED_WITH: Final = Choice(
    help="With what the volumes were measured; left open, syringes and cylinders are taken.", example="class B glass", label="Measured with"
)
SAID_IN: Final[dict[str, StrengthUnit]] = {
    "strength_percent_ww": "% w/w",
    "strength_percent_wv": "% w/v",
    "strength_g_per_l": "g/L",
    "strength_mol_per_l": "mol/L",
    "strength_volumes": "volumes",
}
ABOVE_LABEL: Final = 1.1  # our judgement: bottles are filled to their label; a tenth more is a slip far more often than a strong bottle
BELOW_LABEL_PERCENT: Final = 90  # our judgement: from a tenth less on, mixing by the label goes wrong
MOST_SHARE: Final = 10.0  # our judgement: a doubt of ten times the figure says that there is no figure
_LEAST_SHARE: Final = 0.5  # our judgement: above it the middle of two labels is no help, and limits need not be finer
_RECTANGLE: Final = sqrt(3)  # arithmetic: half the width of a rectangle over its standard deviation
_SYRINGE_MOST_ML: Final = 20.0  # our judgement: more than that is measured in a cylinder


class LabelFields(Question):
    """What the label says, if one wants to compare."""

    stock_amount: Annotated[float | None, LABEL_STRENGTH] = None
    stock_unit: Annotated[SaidUnit, STOCK_UNIT, BeforeValidator(tidy_unit), Field(validate_default=True)] = "%, label unclear"

    @field_validator("stock_unit")
    @classmethod
    def _label_can_be(cls, unit: SaidUnit, seen: ValidationInfo) -> SaidUnit:
        amount = seen.data.get("stock_amount")
        if amount is not None and (why := too_strong(PEROXIDE, amount, unit)):
            raise refuse(why, field="stock_amount")
        return unit


class BelievedFields(LabelFields):
    """The label, and whether a result far above it stands."""

    looked_again: Annotated[
        bool,
        Flag(
            help="You have looked again at volumes, dilution and reagent, and it is stronger than its label by more than a tenth.",
            example="no",
            label="Looked again",
        ),
        Field(validate_default=True),
    ] = False


class SampleFields(Question):
    """What was taken, how far it was diluted, and with what the volumes were measured."""

    sample_ml: Annotated[float, SAMPLE_ML]
    made_up_ml: Annotated[float | None, MADE_UP_ML] = None
    aliquot_ml: Annotated[float | None, ALIQUOT_ML, Field(validate_default=True)] = None
    measured_with: Annotated[Glass | None, MEASURED_WITH] = None

    @field_validator("made_up_ml")
    @classmethod
    def _not_less(cls, made_up_ml: float | None, seen: ValidationInfo) -> float | None:
        sample_ml = seen.data.get("sample_ml")
        if made_up_ml is not None and sample_ml is not None and made_up_ml < sample_ml:
            raise refuse(less_than_taken(sample_ml, made_up_ml))
        return made_up_ml

    @field_validator("aliquot_ml")
    @classmethod
    def _of_what_there_is(cls, aliquot_ml: float | None, seen: ValidationInfo) -> float | None:
        if "made_up_ml" not in seen.data:
            return aliquot_ml
        made_up_ml = seen.data["made_up_ml"]
        if made_up_ml is None and aliquot_ml is not None:
            raise refuse("A part of a diluted sample belongs to a dilution: say to how much the sample was made up, or empty this.")
        if made_up_ml is not None and aliquot_ml is None:
            raise refuse(
                f"The sample was made up to {made_up_ml:g} mL: say how much of that went into the test. All of it? Then give {made_up_ml:g}."
            )
        if made_up_ml is not None and aliquot_ml is not None and aliquot_ml > made_up_ml:
            raise refuse(f"There are {made_up_ml:g} mL of it, and {aliquot_ml:g} mL were given as tested: one of the two is wrong.")
        return aliquot_ml


def less_than_taken(taken_ml: float, made_up_ml: float) -> str:
    """Why a dilution cannot be."""
    return f"{taken_ml:g} mL cannot be made up to {made_up_ml:g} mL: give the volume after the water was added."


class AssayAnswer(Answer):
    """The strength in every unit, what the label would have given, and how the test is done."""

    strength_percent_ww: Annotated[Estimate, STRENGTH_PERCENT_WW]
    strength_percent_wv: Annotated[Estimate, STRENGTH_PERCENT_WV]
    strength_g_per_l: Annotated[Estimate, STRENGTH_G_PER_L]
    strength_mol_per_l: Annotated[Estimate, STRENGTH_MOL_PER_L]
    strength_volumes: Annotated[Estimate, STRENGTH_VOLUMES]
    of_label_percent: Annotated[Estimate | None, OF_LABEL_PERCENT] = None
    expected_ml: Annotated[Estimate | None, EXPECTED_ML] = None
    good_for: Annotated[str, GOOD_FOR] = ""
    needs: Annotated[tuple[str, ...], NEEDS] = ()
    steps: Annotated[tuple[str, ...], TEST_STEPS] = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that was not given: in words with what is taken instead, and what it adds to the doubt, as a share of the figure."""

    words: str
    adds_share: float


def missing(unknown: Sequence[Missing], now_share: float) -> tuple[Remark, ...]:
    """What was not given, and what knowing it would bring."""
    told_of = [one for one in unknown if one.adds_share > 0]
    if not told_of:
        return ()
    then = sqrt(max(0.0, now_share**2 - sum(one.adds_share**2 for one in told_of)))
    now, later = f"{100 * now_share:.2g}", f"{100 * then:.2g}"
    words = "; ".join(one.words for one in told_of)
    return () if now == later else (remark(Note.TEST_NOT_GIVEN, what=words, now=now, then=later),)


def dilution_of(question: SampleFields) -> float:
    """To how many times its volume the sample was made up, over the part of that which was tested."""
    return 1.0 if question.made_up_ml is None or question.aliquot_ml is None else question.made_up_ml / question.aliquot_ml


def sample_shares(question: SampleFields, glass: Glass | None = None) -> tuple[float, ...]:
    """How unsure the volumes of the sample are, each as a share of itself, one standard deviation."""
    glass = glass or question.measured_with
    shares = [volume_share(question.sample_ml, glass, "pipette")]
    if question.made_up_ml is not None and question.aliquot_ml is not None:
        shares += [volume_share(question.made_up_ml, glass, "flask"), volume_share(question.aliquot_ml, glass, "pipette")]
    return tuple(shares)


def glass_missing(question: SampleFields) -> Missing:
    """What it adds that nobody said with what the volumes were measured."""
    if question.measured_with is not None:
        return Missing("", 0.0)
    rough, fine = hypot(*sample_shares(question)), hypot(*sample_shares(question, "class B glass"))
    return Missing("with what the volumes were measured (syringes and cylinders are taken, not class B glass)", sqrt(max(0.0, rough**2 - fine**2)))


def volume_share(volume_ml: float, glass: Glass | None, vessel: str) -> float:
    """How unsure a volume is, as a share of it, one standard deviation."""
    return share_of(volume_sd_ml(volume_ml, glass, vessel), volume_ml)


def volume_sd_ml(volume_ml: float, glass: Glass | None, vessel: str) -> float:
    """How unsure a volume is, one standard deviation; a tolerance counts as a rectangle."""
    if glass is None or glass == "syringes and cylinders":
        if volume_ml <= _SYRINGE_MOST_ML:
            return volume_ml * fact("assay", "syringe").value / _RECTANGLE
        return cylinder_for(volume_ml, cylinders()).sd_ml
    return tolerance_ml(volume_ml, vessel) * (fact("assay", "class_b").value if glass == "class B glass" else 1) / _RECTANGLE


def tolerance_ml(volume_ml: float, vessel: str) -> float:
    """By how much glass of class A of the next size may be off; beyond the largest, as the largest filled several times."""
    rows = [one for key, one in facts("assay").items() if key.startswith(f"{vessel}_")]
    next_size = min((one for one in rows if one.value >= volume_ml), key=lambda one: one.value, default=None)
    largest = max(rows, key=lambda one: one.value)
    return next_size.sd if next_size else largest.sd * volume_ml / largest.value


def label_mol_per_l(given: Mapping[str, Any], celsius: float) -> tuple[float, ...]:
    """What the label means, in moles in a litre: two readings where it says % and no more; nothing where no label was given."""
    amount, unit = given.get("stock_amount"), given.get("stock_unit")
    if amount is None or unit is None:
        return ()
    known = known_substance(PEROXIDE)
    return tuple(strength_in("mol/L", one, known, celsius) for one in readings_of(known, amount, unit, celsius))


def most_mol_per_l(celsius: float) -> float:
    """What a litre of peroxide without water holds."""
    return strength_in("mol/L", 1.0, known_substance(PEROXIDE), celsius)


def too_much(found_mol_per_l: float, given: Mapping[str, Any], celsius: float, look: str) -> str:
    """Why a result is not believed, in a sentence; nothing when it may be."""
    if found_mol_per_l > most_mol_per_l(celsius):
        return f"That would be stronger than peroxide without any water. Look at {look}."
    label = label_mol_per_l(given, celsius)
    if not label or given.get("looked_again") or found_mol_per_l <= ABOVE_LABEL * max(label):
        return ""
    over = 100 * (found_mol_per_l / max(label) - 1)
    return (
        f"That is {over:.0f} % stronger than the label, {given['stock_amount']:g} {given['stock_unit']}. Peroxide grows weaker, not stronger: "
        f"look at {look}. If all of it is right, say that you looked again."
    )


def strengths(found_mol_per_l: float, sd_mol_per_l: float, celsius: float, *, at_most: bool = False) -> dict[str, Estimate]:
    """The strength in every unit, its limits carried over; where other things were counted with it, the lower end is open."""
    most = most_mol_per_l(celsius)
    reach = EIGHTY_PERCENT_SD * sd_mol_per_l
    ends = [min(most, max(0.0, one)) for one in (found_mol_per_l, found_mol_per_l - reach, found_mol_per_l + reach)]
    known = known_substance(PEROXIDE)
    fractions = [mass_fraction(Strength(one, "mol/L"), known, celsius) if one < most else 1.0 for one in ends]
    found = {}
    for name, unit in SAID_IN.items():
        value, low, high = (strength_in(unit, one, known, celsius) for one in fractions)
        found[name] = Estimate(value=value, low=None if at_most else min(low, value), high=max(high, value), percent=80)
    return found


def of_label(found_mol_per_l: float, sd_mol_per_l: float, label: Sequence[float]) -> Estimate | None:
    """What was found as a share of the label."""
    if not label:
        return None
    values = [100 * found_mol_per_l / one for one in label]
    if len(values) == 1:
        return around(values[0], 100 * sd_mol_per_l / label[0], least=0.0)
    return told(values, min(_LEAST_SHARE, share_of(sd_mol_per_l, found_mol_per_l)))


def share_of(sd: float, amount: float) -> float:
    """A doubt as a share of its figure, as far as it has one."""
    return sd / amount if amount * MOST_SHARE > sd else MOST_SHARE


def label_notes(share_percent: Estimate | None) -> tuple[Remark, ...]:
    """What follows from it."""
    if share_percent is None or share_percent.value is None:
        return ()
    if (share_percent.high or share_percent.value) < BELOW_LABEL_PERCENT:
        return (remark(Note.ASSAY_WEAK, share=f"{share_percent.value:.0f}"),)
    if share_percent.value > 100 * ABOVE_LABEL:
        return (remark(Note.ASSAY_LOOKED, over=f"{share_percent.value - 100:.0f}"),)
    return ()
