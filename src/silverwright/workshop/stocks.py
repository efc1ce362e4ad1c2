"""Bottles, bags and cans come onto the shelf, are tested, and get the data sheet of their maker."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Annotated, Any, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag, Moment, Thing, Upload, Words
from silverwright.asking.operation import Remark, Typed, refuse, remark
from silverwright.book import words
from silverwright.book.bottles import label_percent_ww, readings, said, unclear
from silverwright.book.files import find_file
from silverwright.book.models import ScanFile, Stock, StockTest
from silverwright.chemistry.strength import PEROXIDE
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.notes import Note
from silverwright.questions.ingredients import ROOM_CELSIUS, IngredientRow, Ingredients, impossible, key_of
from silverwright.questions.substances import SUBSTANCE, substance
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import STRENGTH
from silverwright.vocabulary_shelf import (
    BOUGHT_G,
    BOUGHT_ML,
    HIGHEST_PERCENT_WW,
    LEFT_G,
    LEFT_ML,
    LOWEST_PERCENT_WW,
    PRICE,
    STOCK_STRENGTH_PERCENT,
)
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, ONE_LINE, REMARKS, WHEN
from silverwright.workshop.once import refuse_twice
from silverwright.workshop.pouring import moment

OVER_THE_LABEL: Final = 1.1  # our judgement: a test that finds a tenth more than the label says was done wrongly, or the label is another bottle's
STOCK_THING: Final = Thing(kind="stock", help="Which bottle.", example="peroxide 35 %", label="Bottle")


class StockForm(Typed):
    """A bottle, bag or can as bought."""

    name: Annotated[str, Words(help="What you call it; it stands on labels and in lists.", example="peroxide 35 %", longest=80), ONE_LINE]
    substance: Annotated[str, SUBSTANCE, ONE_LINE]
    strength_unit: Annotated[
        words.StrengthSaid,
        Choice(
            help="What the label says the strength in; “%, label unclear” where it does not say of what.",
            example="%, label unclear",
            label="Strength in",
        ),
    ] = "not stated"
    strength: Annotated[float | None, STRENGTH] = None
    ingredients: Ingredients = ()
    bought_ml: Annotated[float | None, BOUGHT_ML] = None
    bought_g: Annotated[float | None, BOUGHT_G] = None
    left_ml: Annotated[float | None, LEFT_ML] = None
    left_g: Annotated[float | None, LEFT_G] = None
    price: Annotated[float | None, PRICE] = None
    bought_on: Annotated[date | None, Moment(help="The day on which it was bought.", example="2026-01-02"), DATED] = None
    opened_on: Annotated[date | None, Moment(help="The day on which it was opened.", example="2026-01-05"), DATED] = None
    best_before: Annotated[date | None, Moment(help="The day until which its maker stands for it.", example="2027-06-30"), DATED] = None
    container: Annotated[words.Container, Choice(help="What it is in.", example="plastic bottle")] = "unknown"
    vented: Annotated[bool, Flag(help="Its cap lets gas out.", example="yes", label="Vented cap")] = False
    kept_where: Annotated[str, Words(help="Where it stands.", example="low shelf, in a tub", longest=80)] = ""
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("strength")
    @classmethod
    def _can_be(cls, strength: float | None, seen: ValidationInfo) -> float | None:
        unit, name = seen.data.get("strength_unit"), seen.data.get("substance")
        if unit is None or name is None or strength is None:
            return strength
        if unit in {"not stated", "undiluted"}:
            raise refuse("This strength has no unit: say % w/w, % w/v, g/L, mol/L or volumes, or that the label is unclear.", "strength_unit")
        if why := _no_such_strength(name, strength, unit):
            raise refuse(why)
        return strength

    @field_validator("opened_on")
    @classmethod
    def _after_it_was_bought(cls, opened_on: date | None, seen: ValidationInfo) -> date | None:
        bought_on = seen.data.get("bought_on")
        if opened_on is not None and bought_on is not None and opened_on < bought_on:
            raise refuse(f"It was opened before it was bought on {bought_on}. Look at both days.")
        return opened_on


class StockTestedForm(Typed):
    """What a strength test of a bottle found."""

    stock: Annotated[str, STOCK_THING]
    tested_by: Annotated[words.TestedBy, Choice(help="How it was tested.", example="permanganate titration")]
    strength_percent_ww: Annotated[float, STOCK_STRENGTH_PERCENT]
    low_percent_ww: Annotated[float | None, LOWEST_PERCENT_WW] = None
    high_percent_ww: Annotated[float | None, HIGHEST_PERCENT_WW] = None
    temperature_celsius: Annotated[float | None, TEMPERATURE_CELSIUS] = None
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("low_percent_ww", "high_percent_ww")
    @classmethod
    def _around(cls, end: float | None, seen: ValidationInfo) -> float | None:
        return around(end, seen, "strength_percent_ww")


class DataSheetForm(Typed):
    """The data sheet of a bottle."""

    stock: Annotated[str, STOCK_THING]
    file: Annotated[str, Upload(help="The safety data sheet of its maker, as a file.", example="data-sheet.pdf")]
    handed_in_as: Annotated[str, Words(help="What the file was called.", example="data-sheet.pdf", longest=200, label="Name of the file")] = ""


def around(end: float | None, seen: ValidationInfo, of: str) -> float | None:
    """A limit lies on its side of what was found."""
    value = seen.data.get(of)
    if end is None or value is None:
        return end
    low = (seen.field_name or "").startswith("low")
    if (low and end > value) or (not low and end < value):
        raise refuse(f"This limit lies on the wrong side of {value:g} %.")
    return end


def _no_such_strength(name: str, strength: float, unit: str) -> str:
    """Why nothing of that name can be so strong, in a sentence."""
    if not readings(name, strength, unit):
        return f"{name}, {strength:g} {unit}: stronger than the substance itself, or not said of it. Look at the unit."
    plain = "% w/v" if unit == words.listed(words.StrengthSaid)[-2] else unit
    return impossible([IngredientRow.model_validate({"substance": name, "amount": strength, "unit": plain})], 1000, ROOM_CELSIUS)


def _stock(doing: Doing[StockForm]) -> Done:
    form = doing.form
    refuse_twice("stock", form.name)
    _not_tomorrow(doing)
    columns = form.model_dump(mode="python") | {"ingredients": [row.model_dump(mode="json") for row in form.ingredients]}
    for bought, left in (("bought_ml", "left_ml"), ("bought_g", "left_g")):
        columns[left] = columns[bought] if columns[left] is None else columns[left]
    if form.strength is None and form.strength_unit == "not stated" and _solid(form.substance):
        columns["strength_unit"] = "undiluted"
    bottle = Stock.objects.create(**columns)
    strong = f", {said(bottle)}" if said(bottle) else ""
    return doing.done(("stock", bottle.name), f"Bottle “{bottle}” is on the shelf: {bottle.substance}{strong}.", _doubts(bottle))


def _not_tomorrow(doing: Doing[StockForm]) -> None:
    """Nothing was bought or opened on a day that has not come."""
    today = (doing.at + timedelta(days=1)).date()  # wherever the clock stands, tomorrow has begun nowhere else
    late = [(name, day) for name in ("bought_on", "opened_on") if (day := getattr(doing.form, name)) is not None and day > today]
    if late:
        raise BadQuestion([Fault(name, str(day), "This day has not come yet. Look at the year.") for name, day in late])


def _solid(name: str) -> bool:
    known = substance(name)
    return known is not None and known.state == "solid"


def _doubts(bottle: Stock) -> list[Remark]:
    notes = []
    if unclear(bottle):
        by_weight, by_volume = readings(bottle.substance, bottle.strength, bottle.strength_unit)
        notes.append(remark(Note.BOTTLE_UNCLEAR, by_weight=f"{by_weight:.3g}", by_volume=f"{by_volume:.3g}"))
    held = [bottle.substance, *(row["substance"] for row in bottle.ingredients)]
    if bottle.container == "can" and PEROXIDE in map(key_of, held):
        notes.append(remark(Note.PEROXIDE_IN_METAL))
    unknown = [bottle.substance] if substance(bottle.substance) is None and not bottle.ingredients else []
    unknown += [row["substance"] for row in bottle.ingredients if substance(row["substance"]) is None]
    return notes + ([remark(Note.NO_DATA_HERE, names=" and ".join(unknown))] if unknown else [])


def _tested(doing: Doing[StockTestedForm]) -> Done:
    form, bottle = doing.form, doing.things["stock"]
    label = label_percent_ww(bottle.substance, bottle.strength, bottle.strength_unit)
    most = max(readings(bottle.substance, bottle.strength, bottle.strength_unit), default=100.0 if label else None)
    if most is not None and found_at_least(form.strength_percent_ww, form.low_percent_ww) > most * OVER_THE_LABEL:
        raise BadQuestion(
            [Fault("strength_percent_ww", f"{form.strength_percent_ww:g}", over_the_label(form.strength_percent_ww, most, said(bottle)))]
        )
    columns = form.model_dump(exclude={"when", "stock"})
    StockTest.objects.create(stock=bottle, tested_at=moment(doing, form.when), **columns)
    return doing.done(
        ("stock", bottle.name), f"Bottle “{bottle}”: {form.strength_percent_ww:.3g} % by weight by {form.tested_by}. It counts from now on."
    )


def found_at_least(found: float, low: float | None) -> float:
    """What a test found at least: a rough one, such as a strip, contradicts no label that lies within its limits."""
    return found if low is None else low


def over_the_label(found: float, most: float, says: str) -> str:
    """What to do about a test that finds more than there can be."""
    return (
        f"{found:.3g} % by weight is more than a tenth above the {most:.3g} % that {says or 'its mixing'} makes: nothing grows stronger by itself. "
        "Test again with a blank and a fresh solution; where the label is wrong, correct that first."
    )


def _file_faults(given: Mapping[str, object]) -> Sequence[Fault]:
    if not isinstance(file := given.get("file"), str):
        return []
    try:
        find_file(file)
    except UnknownName:
        return [Fault("file", file[:40], "This file was not handed in, or did not arrive whole. Send it again.")]
    return []


def _data_sheet(doing: Doing[DataSheetForm]) -> Done:
    form, bottle = doing.form, doing.things["stock"]
    size_bytes = find_file(form.file).stat().st_size
    kept, _ = ScanFile.objects.get_or_create(sha256=form.file, defaults={"size_bytes": size_bytes, "handed_in_as": form.handed_in_as})
    bottle.data_sheet = kept
    bottle.save()
    return doing.done(("stock", bottle.name), f"Bottle “{bottle}” has its data sheet: read it before the bottle is opened.", sha256=kept.sha256)


STOCK: Final[Deed[Any]] = Deed(
    name="stock",
    says="Enter a bottle, bag or can of a chemical.",
    form=StockForm,
    perform=_stock,
    examples={
        "label unclear": {
            "name": "peroxide 35 %",
            "substance": "hydrogen peroxide",
            "strength": 35,
            "strength_unit": "%, label unclear",
            "bought_ml": "1 L",
        },
        "crystals": {"name": "citric acid", "substance": "citric acid monohydrate", "bought_g": "1 kg", "container": "bag"},
    },
)
STOCK_TESTED: Final[Deed[Any]] = Deed(
    name="stock-tested",
    says="Record a strength test of a bottle.",
    form=StockTestedForm,
    perform=_tested,
    examples={"boatyard": {"stock": "peroxide 12 %", "tested_by": "permanganate titration", "strength_percent_ww": 11.4}},
)
DATA_SHEET: Final[Deed[Any]] = Deed(
    name="data-sheet",
    says="Hand in the safety data sheet of a bottle.",
    form=DataSheetForm,
    perform=_data_sheet,
    faults=_file_faults,
    examples={"a bottle": {"stock": "peroxide 12 %", "file": "data-sheet.pdf"}},
)
