"""What a sheet holds: its area, its silver, and what it carries from bath to bath; for silver and washing alike."""

from dataclasses import dataclass
from math import hypot, log, log2
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Question, refuse
from silverwright.chemistry.carryover import carried_by_weight_ml, carried_ml
from silverwright.facts.load import Fact, fact
from silverwright.questions.sheetsize import SHEET_SIZE, sheet_size
from silverwright.vocabulary_chemistry import DRAINED_G, DRY_G
from silverwright.vocabulary_shelf import SHEETS_THROUGH

Base = Literal["unknown", "RC", "fibre"]
SQUARE_MM_PER_M2: Final = 1e6  # arithmetic
MOST_HELD: Final = 1500.0  # our judgement: mL on a square metre; no drained paper holds a layer of a millimetre and a half


class SheetFields(Question):
    """Size, base and number of the sheets, and a sheet weighed dry and drained where somebody did."""

    sheet_size: Annotated[str, SHEET_SIZE]
    sheets: Annotated[float, SHEETS_THROUGH] = 1
    paper_base: Annotated[Base, Choice(help="RC or fibre; fibre-based paper soaks up more.", example="RC", label="Base of the paper")] = "unknown"
    drained: Annotated[
        Literal["held up", "squeegee"],
        Choice(help="How a sheet leaves the bath before: held up until it drips slowly, or wiped with a squeegee.", example="held up"),
    ] = "held up"
    dry_g: Annotated[float | None, DRY_G] = None
    drained_g: Annotated[float | None, DRAINED_G, Field(validate_default=True)] = None

    @field_validator("sheet_size")
    @classmethod
    def _a_size(cls, written: str) -> str:
        sheet_size(written)
        return written

    @field_validator("drained_g")
    @classmethod
    def _heavier_than_dry(cls, drained_g: float | None, seen: ValidationInfo) -> float | None:
        dry_g, size = seen.data.get("dry_g"), seen.data.get("sheet_size")
        if drained_g is None and dry_g is None:
            return None
        if drained_g is None or dry_g is None:
            raise refuse("Weigh the same sheet twice: dry, and drained out of the bath. One weight alone says nothing; leave both out then.")
        if drained_g <= dry_g:
            raise refuse(f"A drained sheet is heavier than a dry one: {drained_g:g} g and {dry_g:g} g stand there. Are they the wrong way round?")
        if size is not None and drained_g - dry_g > MOST_HELD * area_m2(size):
            raise refuse(f"{drained_g - dry_g:.3g} g on such a sheet is a puddle, not what is left after draining: let it drain and weigh again.")
        return drained_g


@dataclass(frozen=True, slots=True)
class Held:
    """A figure of a sheet, its doubt in stops, and who says so."""

    value: float
    sd_stops: float
    source: str
    own: bool = False


def area_m2(written: str) -> float:
    """The area of a sheet, one side of it."""
    size = sheet_size(written)
    return size.width_mm * size.height_mm / SQUARE_MM_PER_M2


def held_by(question: SheetFields) -> Held:
    """What one drained sheet carries along, in millilitres: by its own weights, else by its base and area."""
    if question.dry_g is not None and question.drained_g is not None:
        held_ml = carried_by_weight_ml(question.dry_g, question.drained_g, 1.0)
        return Held(held_ml, fact("carry", "wet_own").sd / log(2), "your own weighing", own=True)
    coated, fibre = fact("carry", "rc_carry"), fact("carry", "fibre_carry")
    wiped = fact("carry", "squeegee") if question.drained == "squeegee" else None
    area = area_m2(question.sheet_size) * (wiped.value if wiped else 1.0)
    unsure = spread_stops(wiped) if wiped else 0.0
    if question.paper_base == "unknown":
        low, high = coated.low or coated.value, fibre.high or fibre.value
        either = log2(high / low) / (2 * EIGHTY_PERCENT_SD)
        return Held(carried_ml(area, (coated.value * fibre.value) ** 0.5), hypot(either, unsure), coated.says)
    usual = coated if question.paper_base == "RC" else fibre
    return Held(carried_ml(area, usual.value), hypot(spread_stops(usual), unsure), usual.says)


def weighing() -> str:
    """What a sheet's own weights are, in words."""
    return f"a sheet weighed dry, and drained for {fact('carry', 'drain').value:g} s"


def spread_stops(usual: Fact) -> float:
    """One standard deviation of a figure whose limits hold 80 %, in stops."""
    return log2((usual.high or usual.value) / (usual.low or usual.value)) / (2 * EIGHTY_PERCENT_SD)
