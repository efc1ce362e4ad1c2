"""How much does my tray, tank or drum take, and which sheets lie in it?"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Operation, Question, Remark, refuse, remark
from silverwright.chemistry.vessel import drum_ml, spare_in_drum_mm, spare_mm, tray_depth_mm, tray_ml, tray_volume_sd_ml
from silverwright.facts.load import fact, table
from silverwright.notes import Note
from silverwright.questions.entry import around, says
from silverwright.questions.sheetsize import SHEET_SIZE, SheetSize, sheet_size
from silverwright.units import MILLILITRE, MILLIMETRE
from silverwright.vocabulary_shelf import (
    ALL_ML,
    DRUM_MM,
    FITS_SPARE_MM,
    INSIDE_HEIGHT_MM,
    INSIDE_LENGTH_MM,
    INSIDE_WIDTH_MM,
    LIQUID_DEPTH_MM,
    ONE_ML,
    SLOT_MM,
    SPARE_MM,
    STANDS_MM,
    VESSELS,
)

VesselKind = Literal["tray", "pour-in tray", "slot tank", "drum", "box camera tray"]
NEEDS: Final[dict[str, tuple[str, ...]]] = {
    "tray": ("inside_length_mm", "inside_width_mm"),
    "pour-in tray": ("inside_length_mm", "inside_width_mm"),
    "box camera tray": ("inside_length_mm", "inside_width_mm"),
    "slot tank": ("inside_width_mm", "inside_height_mm", "slot_mm"),
    "drum": ("inside_length_mm", "diameter_mm"),
}
SQUARE_METRE_MM2: Final = 1e6  # arithmetic
HIGHEST_WALL_MM: Final = 300.0  # our judgement: no tray has a higher one


class VesselFields(Question):
    """A vessel, as a ruler tells it; nothing of it is needed where a volume is given."""

    vessel: Annotated[
        VesselKind | None,
        Choice(
            help="A tray for each bath; one tray into which every bath is poured; a tank with slots; a turning drum; a tray inside a box camera.",
            example="tray",
            label="Vessel",
        ),
        Field(validate_default=True),
    ] = None
    inside_length_mm: Annotated[float | None, INSIDE_LENGTH_MM, Field(validate_default=True)] = None
    inside_width_mm: Annotated[float | None, INSIDE_WIDTH_MM, Field(validate_default=True)] = None
    depth_mm: Annotated[float | None, LIQUID_DEPTH_MM] = None
    inside_height_mm: Annotated[float | None, INSIDE_HEIGHT_MM, Field(validate_default=True)] = None
    slot_mm: Annotated[float | None, SLOT_MM, Field(validate_default=True)] = None
    diameter_mm: Annotated[float | None, DRUM_MM, Field(validate_default=True)] = None
    sheet: Annotated[str, SHEET_SIZE, Field(validate_default=True)] = ""
    vessels: Annotated[float, VESSELS] = 1

    @field_validator("inside_length_mm", "inside_width_mm", "inside_height_mm", "slot_mm", "diameter_mm")
    @classmethod
    def _needed(cls, value: float | None, seen: ValidationInfo) -> float | None:
        vessel = seen.data.get("vessel")
        if value is None and vessel and seen.field_name in NEEDS[vessel]:
            raise refuse(f"Needed for a {vessel}, in millimetres, such as 250.")
        return value

    @field_validator("inside_height_mm")
    @classmethod
    def _wall_high_enough(cls, height_mm: float | None, seen: ValidationInfo) -> float | None:
        known = seen.data
        if height_mm is None or known.get("vessel") not in TRAYS:
            return height_mm
        depth_mm = known.get("depth_mm") or fact("vessel", "tray_depth").value
        most_mm = _most_depth_mm(str(known["vessel"]), height_mm)
        if depth_mm > most_mm:
            raise refuse(
                f"{MILLIMETRE.show(height_mm)} of wall hold {MILLIMETRE.show(max(0.0, most_mm))} of liquid at most, "
                f"and {MILLIMETRE.show(depth_mm)} are to stand in it: rocked or carried, it goes over the edge. Take a higher one, or less liquid."
            )
        return height_mm

    @field_validator("sheet")
    @classmethod
    def _sheet_goes_in(cls, sheet: str, seen: ValidationInfo) -> str:
        vessel = seen.data.get("vessel")
        if not sheet:
            if vessel == "drum":
                raise refuse("Needed for a drum, such as 8x10 in: what it takes goes by the area of the paper.")
            return sheet
        size = sheet_size(sheet)
        if vessel is None or any(seen.data.get(name) is None for name in NEEDS[vessel]):
            return sheet
        room = _spare(Inside.of(seen.data), size)
        if room < 0:
            raise refuse(
                f"The vessel is too small: {size.says} is {MILLIMETRE.show(-2 * room)} too large for it. Take a larger one, or cut the sheet."
            )
        return sheet


TRAYS: Final = frozenset({"tray", "pour-in tray", "box camera tray"})


@dataclass(frozen=True, slots=True)
class Inside:
    """The inside of a vessel."""

    vessel: str
    length_mm: float
    width_mm: float
    height_mm: float | None
    slot_mm: float
    diameter_mm: float

    @classmethod
    def of(cls, known: dict[str, object]) -> "Inside":
        """As the fields say it; what the vessel does not have is 0."""

        def number(name: str) -> float:
            value = known.get(name)
            return float(value) if isinstance(value, int | float) else 0.0

        height = number("inside_height_mm") or None
        return cls(str(known["vessel"]), number("inside_length_mm"), number("inside_width_mm"), height, number("slot_mm"), number("diameter_mm"))


class VesselQuestion(VesselFields):
    """A vessel as a ruler tells it, how deep the liquid stands, and a sheet that goes in."""

    @field_validator("vessel")
    @classmethod
    def _which(cls, vessel: VesselKind | None) -> VesselKind | None:
        if vessel is None:
            raise refuse(f"Needed. Choose one of {', '.join(NEEDS)}.")
        return vessel


class VesselAnswer(Answer):
    """What one of them takes, what all take, how deep it stands, and which sheets of usual sizes lie in it."""

    table: ClassVar[tuple[str, ...]] = ("fits", "fits_spare_mm")
    one_ml: Annotated[Estimate, ONE_ML]
    all_ml: Annotated[Estimate, ALL_ML]
    stands_mm: Annotated[Estimate, STANDS_MM]
    spare_mm: Annotated[float | None, SPARE_MM] = None
    working: Annotated[
        Sequence[str], Plain(help="What was multiplied, and who says how deep.", example="300 × 250 mm inside.", label="Worked out")
    ] = ()
    fits: Annotated[Sequence[str], Plain(help="Sheets of usual sizes that go in.", example="4x5 in", label="Sheet")] = ()
    fits_spare_mm: Annotated[Sequence[float], FITS_SPARE_MM] = ()


@dataclass(frozen=True, slots=True)
class Taken:
    """What one vessel takes: volume and depth with their doubt, and who says how deep."""

    volume_ml: float
    volume_sd_ml: float
    depth_mm: float
    depth_sd_mm: float
    source: str


def taken(question: VesselFields) -> Taken:
    """How much goes in: by the depth that was given, or as is common practice."""
    inside = Inside.of(question.model_dump())
    if inside.vessel == "drum":
        return _drum_takes(question)
    depth_mm, depth_sd_mm, source = _depth(inside, question)
    length_mm = inside.slot_mm if inside.vessel == "slot tank" else inside.length_mm
    side_sd_mm = fact("vessel", "side_reading").sd
    if inside.vessel == "slot tank":
        side_sd_mm = min(side_sd_mm, inside.slot_mm * SLOT_SHARE)
    sd_ml = tray_volume_sd_ml(length_mm, inside.width_mm, depth_mm, depth_sd_mm, side_sd_mm)
    return Taken(tray_ml(length_mm, inside.width_mm, depth_mm), sd_ml, depth_mm, depth_sd_mm, source)


SLOT_SHARE: Final = 0.05  # our judgement: a slot is measured across its opening, to a twentieth


def stands_mm(question: VesselFields, volume_ml: float) -> float | None:
    """How deep a volume stands in the vessel; nothing for a drum, whose liquid runs along the wall."""
    inside = Inside.of(question.model_dump())
    if inside.vessel == "drum":
        return None
    return tray_depth_mm(volume_ml, inside.slot_mm if inside.vessel == "slot tank" else inside.length_mm, inside.width_mm)


def most_ml(question: VesselFields) -> float | None:
    """What goes in without running over: as high as the wall is, or as that of any tray could be; of a drum nobody says it here."""
    inside = Inside.of(question.model_dump())
    if inside.vessel == "drum":
        return None
    length_mm = inside.slot_mm if inside.vessel == "slot tank" else inside.length_mm
    return tray_ml(length_mm, inside.width_mm, max(0.0, _most_depth_mm(inside.vessel, inside.height_mm or HIGHEST_WALL_MM)))


def answer(question: VesselQuestion) -> VesselAnswer:
    """Length times width times depth; a drum by the area of its paper."""
    inside, found = Inside.of(question.model_dump()), taken(question)
    one = around(found.volume_ml, found.volume_sd_ml, least=0.0)
    many = around(found.volume_ml * question.vessels, found.volume_sd_ml * question.vessels, least=0.0)
    usual = [sheet_size(f"{row['size']} {row['unit']}") for row in table("sheet_sizes")]
    inside_of_it = sorted(((size, room) for size in usual if (room := _spare(inside, size)) >= 0), key=lambda one: one[0].long_mm * one[0].short_mm)
    spare = _spare(inside, sheet_size(question.sheet)) if question.sheet else None
    return VesselAnswer(
        one_ml=one,
        all_ml=many,
        stands_mm=_stands(found),
        spare_mm=spare,
        fits=tuple(size.says for size, _ in inside_of_it),
        fits_spare_mm=tuple(room for _, room in inside_of_it),
        working=(f"{_says(inside, found)}: {found.source}.",),
        notes=_notes(question, inside, found, spare),
        sources=(found.source, says(fact("vessel", "side_reading"))),
    )


def _stands(found: Taken) -> Estimate:
    """How deep it stands; in a drum it runs along the wall."""
    if found.depth_mm == 0:
        return Estimate()
    return around(found.depth_mm, found.depth_sd_mm, least=0.0) if found.depth_sd_mm else Estimate(value=found.depth_mm)


def _depth(inside: Inside, question: VesselFields) -> tuple[float, float, str]:
    """How deep it stands, how unsure that is, and who says so."""
    if question.depth_mm is not None:
        return question.depth_mm, 0.0, "as typed"
    if inside.vessel == "slot tank":
        over = fact("vessel", "tank_over")
        if not question.sheet:
            return inside.height_mm or 0.0, 0.0, "as typed: full"
        level_mm = min(_upright_mm(inside, sheet_size(question.sheet)) + over.value, inside.height_mm or 0.0)
        return level_mm, 0.0, f"the sheet, and over it: {over.says}"
    usual = fact("vessel", "tray_depth")
    return usual.value, _half(usual.low, usual.high) / EIGHTY_PERCENT_SD, usual.says


def _drum_takes(question: VesselFields) -> Taken:
    film = fact("vessel", "drum_film")
    size = sheet_size(question.sheet)
    area_m2 = size.width_mm * size.height_mm / SQUARE_METRE_MM2
    sd_ml = drum_ml(area_m2, _half(film.low, film.high) / EIGHTY_PERCENT_SD)
    volume_ml = drum_ml(area_m2, film.value)
    return Taken(volume_ml, sd_ml, 0.0, 0.0, film.says)


def _half(low: float | None, high: float | None) -> float:
    return ((high or 0.0) - (low or 0.0)) / 2


def _most_depth_mm(vessel: str, height_mm: float) -> float:
    """How deep the liquid may stand under a wall."""
    if vessel == "slot tank":
        return height_mm
    if vessel == "box camera tray":
        return height_mm * fact("vessel", "box_full").value
    return height_mm - fact("vessel", "tray_brim").value


def _spare(inside: Inside, size: SheetSize) -> float:
    """Room on each side of a sheet; below 0 where it does not go in."""
    sides_mm = (size.width_mm, size.height_mm)
    if inside.vessel == "drum":
        return spare_in_drum_mm(sides_mm, inside.diameter_mm, inside.length_mm)
    if inside.vessel == "slot tank":
        return max(_spare_upright(inside, *sides_mm), _spare_upright(inside, *sides_mm[::-1]))
    return spare_mm(sides_mm, (inside.length_mm, inside.width_mm))


def _spare_upright(inside: Inside, across_mm: float, upright_mm: float) -> float:
    under_mm = (inside.height_mm or 0.0) - fact("vessel", "tank_over").value
    return min(inside.width_mm - across_mm, under_mm - upright_mm) / 2


def _upright_mm(inside: Inside, size: SheetSize) -> float:
    """Which side of a sheet stands upright in a tank: the shorter one where that goes in, as it takes less liquid."""
    lying = _spare_upright(inside, size.long_mm, size.short_mm)
    return size.short_mm if lying >= 0 else size.long_mm


def _says(inside: Inside, found: Taken) -> str:
    if inside.vessel == "drum":
        return "The paper's area, and a film of liquid on it"
    sides = (inside.slot_mm if inside.vessel == "slot tank" else inside.length_mm, inside.width_mm)
    return f"{sides[0]:g} × {sides[1]:g} mm inside, {MILLIMETRE.show(found.depth_mm)} deep"


def _notes(question: VesselQuestion, inside: Inside, found: Taken, room: float | None) -> tuple[Remark, ...]:
    notes = []
    clear = fact("vessel", "tray_clear").value
    if inside.vessel in TRAYS and question.depth_mm is None:
        usual = fact("vessel", "tray_depth")
        known_sd_ml = tray_volume_sd_ml(inside.length_mm, inside.width_mm, found.depth_mm, 0.0, fact("vessel", "side_reading").sd)
        now, then = (MILLILITRE.show(EIGHTY_PERCENT_SD * one) for one in (found.volume_sd_ml, known_sd_ml))
        ends = (MILLIMETRE.show(one or 0.0) for one in (usual.low, usual.high))
        notes.append(remark(Note.DEPTH_USUAL, depth=MILLIMETRE.show(usual.value), ends=" to ".join(ends), now=now, then=then))
    if room is not None and room < clear:
        notes.append(remark(Note.VESSEL_TIGHT, room=MILLIMETRE.show(room), clear=MILLIMETRE.show(clear)))
    if inside.vessel == "drum":
        notes.append(remark(Note.DRUM_VENT))
    if inside.vessel == "box camera tray":
        notes.append(remark(Note.BOX_CARRIED))
    notes.append(remark(Note.NOT_FOOD))
    return tuple(notes)


VESSEL: Final = Operation(
    name="chemistry.vessel",
    version=1,
    asks="How much does my tray, tank or drum take?",
    question=VesselQuestion,
    answer=VesselAnswer,
    compute=answer,
    examples={
        "four trays in a line": {"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250, "vessels": 4},
        "one tray, every bath poured in": {
            "vessel": "pour-in tray",
            "inside_length_mm": "12 in",
            "inside_width_mm": "10 in",
            "depth_mm": 12,
            "inside_height_mm": 60,
            "vessels": 5,
        },
        "a tank with slots": {
            "vessel": "slot tank",
            "inside_width_mm": 215,
            "inside_height_mm": 290,
            "slot_mm": 18,
            "sheet": "8x10 in",
            "vessels": 5,
        },
        "a drum": {"vessel": "drum", "inside_length_mm": "26 cm", "diameter_mm": "9.5 cm", "sheet": "8x10 in"},
        "trays inside a box camera": {
            "vessel": "box camera tray",
            "inside_length_mm": 190,
            "inside_width_mm": 140,
            "depth_mm": 15,
            "inside_height_mm": 45,
            "sheet": "13x18 cm",
        },
    },
)
