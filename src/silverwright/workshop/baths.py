"""What happens to a bath between its mixing and its end: used, tested, filtered, left open, split, poured to another, matched to what was written."""

from datetime import datetime
from typing import Annotated, Any, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag, Thing, Words
from silverwright.asking.operation import Remark, Typed, refuse
from silverwright.book import words
from silverwright.book.happenings import minute
from silverwright.book.ledger import contents_in
from silverwright.book.models import Bath, BathEvent, ProcessingStep, Sheet
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.questions.ingredients import key_of
from silverwright.questions.sheetsize import SHEET_SIZE, known_size
from silverwright.questions.substances import SUBSTANCE, named
from silverwright.units import MILLILITRE
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_shelf import (
    BATH_ML,
    BATH_STRENGTH_PERCENT,
    CLEARING_S,
    FRESH_CLEARING_S,
    HIGHEST_PERCENT_WW,
    LEVEL_ML,
    LOWEST_PERCENT_WW,
    OPEN_DAYS,
    SHEETS_THROUGH,
    SILVER_G_PER_L,
)
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.apart import refuse_apart
from silverwright.workshop.forms import DATED, ONE_LINE, REMARKS, WHEN, WHOLE
from silverwright.workshop.mixing import BATH_THING, KEPT_IN, VENTED, gas_in, more_than_none
from silverwright.workshop.once import refuse_twice
from silverwright.workshop.pouring import moment
from silverwright.workshop.settling import settle
from silverwright.workshop.stocks import OVER_THE_LABEL, around, found_at_least, over_the_label
from silverwright.workshop.through import MM2_PER_M2, area_m2, sizes_missing, went_through


class OfBath(Typed):
    """A bath, and when."""

    bath: Annotated[str, BATH_THING]
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


class UseForm(OfBath):
    """Sheets that went through a bath without being in the book, or one that is."""

    sheet: Annotated[str | None, Thing(kind="sheet", help="Which sheet, where it is one of the book.", example="26-018")] = None
    sheets: Annotated[float | None, SHEETS_THROUGH, WHOLE] = None
    size: Annotated[str, SHEET_SIZE] = ""

    @field_validator("size")
    @classmethod
    def _readable(cls, size: str) -> str:
        if size and known_size(size) is None:
            raise refuse("This is not the size of a sheet. Write both sides and the unit, such as 8x10 in or 9x12 cm.")
        return size


class TestForm(OfBath):
    """What a test found."""

    tested_by: Annotated[words.TestedBy, Choice(help="How it was tested.", example="bleach-out test")]
    substance: Annotated[str, SUBSTANCE] = ""
    strength_percent_ww: Annotated[float | None, BATH_STRENGTH_PERCENT] = None
    low_percent_ww: Annotated[float | None, LOWEST_PERCENT_WW] = None
    high_percent_ww: Annotated[float | None, HIGHEST_PERCENT_WW] = None
    clearing_s: Annotated[float | None, CLEARING_S] = None
    fresh_clearing_s: Annotated[float | None, FRESH_CLEARING_S, Field(validate_default=True)] = None
    silver_g_per_l: Annotated[float | None, SILVER_G_PER_L] = None
    temperature_celsius: Annotated[float | None, TEMPERATURE_CELSIUS] = None

    @field_validator("low_percent_ww", "high_percent_ww")
    @classmethod
    def _around(cls, end: float | None, seen: ValidationInfo) -> float | None:
        return around(end, seen, "strength_percent_ww")


class LevelForm(OfBath):
    """A bath, and how much of it there is afterwards."""

    volume_ml: Annotated[float | None, LEVEL_ML] = None

    @field_validator("volume_ml")
    @classmethod
    def _some(cls, volume_ml: float | None) -> float | None:
        return None if volume_ml is None else more_than_none(volume_ml)


class OpenForm(LevelForm):
    """A bath that stood open."""

    open_days: Annotated[float, OPEN_DAYS]


class SplitForm(OfBath):
    """A part of a bath that goes into a vessel of its own."""

    volume_ml: Annotated[float, BATH_ML]
    into: Annotated[str, Words(help="What the new one is called.", example="bleach 1, bottle", longest=80, label="Name of the new one"), ONE_LINE]
    kept_in: Annotated[words.KeptIn, KEPT_IN] = "bottle"
    vented: Annotated[bool, VENTED] = False

    @field_validator("volume_ml")
    @classmethod
    def _some(cls, volume_ml: float) -> float:
        return more_than_none(volume_ml)


class MergeForm(OfBath):
    """A bath that is poured to another one."""

    into: Annotated[str, Thing(kind="bath", help="The bath that takes it in.", example="bleach 2", label="Poured into")]


class MatchForm(Typed):
    """A name that was written down in the trays, and the bath that it meant."""

    bath: Annotated[str, BATH_THING]
    written: Annotated[
        str, Words(help="What was written down for the bath.", example="bleach, tray 2", longest=80, label="As it was written"), ONE_LINE
    ]
    count_sheets: Annotated[
        bool, Flag(help="The sheets count for the bath, as if they had been recorded there.", example="yes", label="Count its sheets")
    ] = True


def _use(doing: Doing[UseForm]) -> Done:
    form, bath = doing.form, doing.things["bath"]
    sheet: Sheet | None = doing.things.get("sheet")
    many = 1.0 if form.sheets is None else form.sheets
    if not many:
        raise BadQuestion([Fault("sheets", "0", "No sheet: then the bath was not used. Write how many went through it.")])
    each_m2 = area_m2(sheet) if sheet else None
    if (size := known_size(form.size)) is not None:
        each_m2 = size.width_mm * size.height_mm / MM2_PER_M2
    elif each_m2 is None:
        raise BadQuestion([Fault("size", "", "How large is the sheet? What it carries out of the bath goes by its area: write 4x5 in, or 9x12 cm.")])
    BathEvent.objects.create(
        bath=bath, what="used", happened_at=moment(doing, form.when), sheets=many, area_m2=many * each_m2, remarks=_of(sheet, form.remarks)
    )
    account = settle(bath)
    return doing.done(("bath", bath.name), f"Bath “{bath}”: {many:g} more through it, {sheets_said(account.sheets)} in all.", sheets=account.sheets)


def sheets_said(sheets: float) -> str:
    """`1 sheet`, `4 sheets`."""
    return f"{sheets:g} sheet{'' if sheets == 1 else 's'}"


def _of(sheet: Sheet | None, remarks: str) -> str:
    return " ".join(part for part in (f"Sheet {sheet}." if sheet else "", remarks) if part)


def _test(doing: Doing[TestForm]) -> Done:
    form, bath = doing.form, doing.things["bath"]
    found = _found(form, bath)
    BathEvent.objects.create(
        bath=bath,
        what="tested",
        happened_at=moment(doing, form.when),
        substance=key_of(form.substance) if form.substance else "",
        **form.model_dump(exclude={"bath", "when", "substance"}),
    )
    settle(bath)
    return doing.done(("bath", bath.name), f"Bath “{bath}”, {form.tested_by}: {found}. It counts from now on.")


def _found(form: TestForm, bath: Bath) -> str:
    """What the test found, in words; a test without a result and one that cannot be right are refused."""
    told = []
    if form.strength_percent_ww is not None:
        told.append(f"{_of_what(form, bath)} {form.strength_percent_ww:.3g} % by weight")
    if form.clearing_s is not None:
        if form.fresh_clearing_s is None:
            problem = "How long does the same strip take in a fresh bath? Without that a clearing time says nothing."
            raise BadQuestion([Fault("fresh_clearing_s", "", problem)])
        told.append(f"a black strip cleared in {form.clearing_s / form.fresh_clearing_s:.2g} times the time of a fresh bath")
    if form.silver_g_per_l is not None:
        told.append(f"silver {form.silver_g_per_l:.2g} g/L")
    if not told:
        raise BadQuestion([Fault("strength_percent_ww", "", "What did it find? A strength, a clearing time with that of a fresh bath, or silver.")])
    return ", ".join(told)


def _of_what(form: TestForm, bath: Bath) -> str:
    """The substance that was tested, refused where it is not in the bath or stronger than it was mixed."""
    if not form.substance:
        raise BadQuestion([Fault("substance", "", "Needed: of which substance is it the strength?")])
    key = key_of(form.substance)
    mixed = bath.ledger.get("percent_ww", {}).get(key)
    if mixed is None:
        has = ", ".join(named(one) for one in bath.ledger.get("percent_ww", {})) or "nothing that is known"
        raise BadQuestion([Fault("substance", form.substance, f"By the book there is none of it in “{bath}”; there is {has}.")])
    most = max(mixed["high"], bath.ledger.get("as_mixed_percent_ww", {}).get(key, 0.0))
    if found_at_least(form.strength_percent_ww or 0.0, form.low_percent_ww) > most * OVER_THE_LABEL:
        problem = over_the_label(form.strength_percent_ww or 0.0, most, "its mixing")
        raise BadQuestion([Fault("strength_percent_ww", f"{form.strength_percent_ww:g}", problem)])
    return named(key)


def _level(what: words.BathEventName) -> Any:  # noqa: ANN401 (a deed's function)
    def perform(doing: Doing[Any]) -> Done:
        form, bath = doing.form, doing.things["bath"]
        columns = form.model_dump(exclude={"bath", "when"})
        BathEvent.objects.create(bath=bath, what=what, happened_at=moment(doing, form.when), **columns)
        account = settle(bath)
        return doing.done(("bath", bath.name), f"Bath “{bath}” was {what}: {MILLILITRE.show(account.volume_ml)} now.", volume_ml=account.volume_ml)

    return perform


def _split(doing: Doing[SplitForm]) -> Done:
    form, bath = doing.form, doing.things["bath"]
    refuse_twice("bath", form.into, "into")
    at = moment(doing, form.when)
    new = Bath.objects.create(
        name=form.into,
        role=bath.role,
        kept_in=form.kept_in,
        vented=form.vented,
        recipe_name=bath.recipe_name,
        recipe=bath.recipe,
        made_at=bath.made_at,
        remarks=form.remarks,
    )
    BathEvent.objects.create(bath=bath, what="split", happened_at=at, volume_ml=form.volume_ml, other=new, remarks=form.remarks)
    account = settle(bath)
    says = f"{MILLILITRE.show(form.volume_ml)} of bath “{bath}” are “{new}” now; {MILLILITRE.show(account.volume_ml)} stay."
    return doing.done(("bath", new.name), says, gas_in(new), volume_ml=form.volume_ml)


def _merge(doing: Doing[MergeForm]) -> Done:
    form, bath, into = doing.form, doing.things["bath"], doing.things["into"]
    if bath.pk == into.pk:
        raise BadQuestion([Fault("into", form.into, "This is the same bath. Choose the one that takes it in.")])
    notes = refuse_apart("into", contents_in(bath.ledger), contents_in(into.ledger))
    BathEvent.objects.create(bath=bath, what="merged", happened_at=moment(doing, form.when), other=into, remarks=form.remarks)
    settle(bath)
    into.refresh_from_db()
    volume_ml = into.ledger["volume_ml"]
    says = f"Bath “{bath}” was poured into “{into}”: {MILLILITRE.show(volume_ml)} now."
    return doing.done(("bath", into.name), says, [*notes, *gas_in(into)], volume_ml=volume_ml)


def _match(doing: Doing[MatchForm]) -> Done:
    form, bath = doing.form, doing.things["bath"]
    loose = ProcessingStep.objects.filter(in_bath=None, archived_at=None, bath__iexact=" ".join(form.written.split()))
    steps = list(loose.select_related("processing__sheet__lot").order_by("processing__processed_at", "position"))
    if not steps:
        raise BadQuestion(
            [Fault("written", form.written, "No step of any sheet has this written down for its bath, or all of them have one already.")]
        )
    early = [one for one in steps if one.processing.processed_at < bath.made_at]
    if len(early) == len(steps):
        raise BadQuestion([Fault("bath", bath.name, f"All of these sheets were in the trays before “{bath}” was made on {minute(bath.made_at)}.")])
    for step in steps:
        if step in early:
            continue
        if form.count_sheets:
            went_through(step, bath, step.processing.processed_at)
        else:
            step.in_bath = bath
            step.save()
    account = settle(bath, "bath")
    many = len(steps) - len(early)
    before = f" {len(early)} from before it was made stay as they are." if early else ""
    notes: list[Remark] = sizes_missing({one.processing.sheet for one in steps if one not in early}) if form.count_sheets else []
    belong = "1 step belongs" if many == 1 else f"{many} steps belong"
    says = f"“{form.written}”: {belong} to bath “{bath}” now, {sheets_said(account.sheets)} in all.{before}"
    return doing.done(("bath", bath.name), says, notes, steps=many)


USE_BATH: Final[Deed[Any]] = Deed(
    name="use-bath",
    says="Count sheets that went through a bath.",
    form=UseForm,
    perform=_use,
    caution=Note.AT_THE_TRAYS,
    examples={"three sheets": {"bath": "bleach 1", "sheets": 3, "size": "4x5 in"}},
)
TEST_BATH: Final[Deed[Any]] = Deed(
    name="test-bath",
    says="Record what a test of a bath found.",
    form=TestForm,
    perform=_test,
    caution=Note.AT_THE_TRAYS,
    examples={
        "bleach-out": {"bath": "bleach 1", "tested_by": "bleach-out test", "clearing_s": "4m", "fresh_clearing_s": "2m30s"},
        "titration": {
            "bath": "bleach 1",
            "tested_by": "permanganate titration",
            "substance": "hydrogen peroxide",
            "strength_percent_ww": 7.8,
            "low_percent_ww": 7.5,
            "high_percent_ww": 8.1,
        },
    },
)
FILTER_BATH: Final[Deed[Any]] = Deed(
    name="filter-bath",
    says="Record that a bath was filtered.",
    form=LevelForm,
    perform=_level("filtered"),
    examples={"boatyard": {"bath": "bleach 1"}},
)
LEAVE_OPEN: Final[Deed[Any]] = Deed(
    name="leave-open",
    says="Record that a bath stood open, and its level afterwards.",
    form=OpenForm,
    perform=_level("left open"),
    examples={"over night": {"bath": "bleach 1", "open_days": 1, "volume_ml": 970}},
)
SPLIT_BATH: Final[Deed[Any]] = Deed(
    name="split-bath",
    says="Pour a part of a bath into a vessel of its own.",
    form=SplitForm,
    perform=_split,
    caution=Note.AT_THE_BENCH,
    examples={"a bottle of it": {"bath": "bleach 1", "volume_ml": 400, "into": "bleach 1, bottle", "vented": True}},
)
MERGE_BATHS: Final[Deed[Any]] = Deed(
    name="merge-baths",
    says="Pour a bath into another one.",
    form=MergeForm,
    perform=_merge,
    caution=Note.AT_THE_BENCH,
    examples={"back into its tray": {"bath": "bleach 1, bottle", "into": "bleach 1"}},
)
MATCH_BATH: Final[Deed[Any]] = Deed(
    name="match-bath",
    says="Say which bath was meant by what was written down in the trays.",
    form=MatchForm,
    perform=_match,
    examples={"boatyard": {"bath": "bleach 1", "written": "bleach, tray 2"}},
)
