"""How much silver have the sheets brought, and how much does the bath hold?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot, log, log2
from typing import Annotated, ClassVar, Final, Literal

from silverwright.asking.fields import Choice
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Remark, remark
from silverwright.chemistry.acidity import ph_of
from silverwright.chemistry.carryover import built_up, share_left
from silverwright.chemistry.redox import acid_for_silver_mol, peroxide_couple_v, peroxide_for_silver_g, silver_couple_v
from silverwright.chemistry.silver import silver_a_sheet_g, silver_to_bleach_g
from silverwright.chemistry.wear import sheets_to_limit, silver_limit_mol_per_l, worn
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.acidbath import AcidBathFields
from silverwright.questions.acidity import acidity_of_ions, ion_of, ions_of, water_pk
from silverwright.questions.entry import around_stops, says
from silverwright.questions.ingredients import contents_of
from silverwright.questions.papersheet import Held, SheetFields, area_m2, held_by, spread_stops, weighing
from silverwright.questions.ph import cautions_of
from silverwright.questions.reactions import reactions
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Acidity, IonAt, SheetBrings
from silverwright.units import MILLIGRAM_PER_LITRE
from silverwright.vocabulary_chemistry import (
    AT_SHEETS,
    COATED,
    LEFT_PERCENT,
    LIMIT_THEN,
    PEROXIDE_USED,
    PH_NOW,
    PH_THEN,
    SHEETS_TO_LIMIT,
    SILVER_EACH,
    SILVER_FOUND,
    SILVER_LIMIT,
    SILVER_NOW,
    SILVER_THEN,
    STAYS_PERCENT,
)

MILLI: Final = 1000.0  # arithmetic
STEPS: Final = (0.0, 5.0, 10.0, 20.0, 40.0, 80.0)  # our judgement: an afternoon's sheets, a month's, and more than a litre should see
COATED_TOLD: Final = 0.1  # our judgement: stops that a paper's own figure for its silver is off
RINSES: Final = {"none": "rinse_none", "water bath": "rinse_bath", "running water": "rinse_running"}
LEAST_SHARE: Final = 0.03  # our judgement: even a black picture gives that share of its silver to the bleach


class SilverQuestion(SheetFields, AcidBathFields):
    """The bath, the sheets that went through it, and what is known of paper, picture and rinse."""

    bath_kind: Annotated[Literal["bleach", "fixer"], Choice(help="Which bath the silver goes to.", example="bleach", label="Bath")] = "bleach"
    process: Annotated[
        Literal["reversal", "negative"],
        Choice(help="Reversal processing, or a paper negative: what the fixer gets differs much.", example="reversal"),
    ] = "reversal"
    coated_g_per_m2: Annotated[float | None, COATED] = None
    picture: Annotated[
        Literal["not said", "light", "middling", "dark"],
        Choice(help="How dark the pictures are on the whole.", example="middling", label="Pictures"),
    ] = "not said"
    stays_percent: Annotated[float | None, STAYS_PERCENT] = None
    rinse: Annotated[
        Literal["none", "water bath", "running water"],
        Choice(help="What stands between the developer and this bath.", example="water bath", label="Rinse before it"),
    ] = "water bath"
    found_mg_per_l: Annotated[float | None, SILVER_FOUND] = None


class SilverAnswer(Answer):
    """Silver by sheet and bath, what the bath holds, and when that is reached."""

    table: ClassVar[tuple[str, ...]] = ("at_sheets", "silver_then_mg_per_l", "limit_then_mg_per_l", "then_ph")
    silver_a_sheet_mg: Annotated[Estimate, SILVER_EACH]
    silver_now_mg_per_l: Annotated[Estimate, SILVER_NOW]
    limit_mg_per_l: Annotated[Estimate, SILVER_LIMIT]
    sheets_to_limit: Annotated[Estimate, SHEETS_TO_LIMIT]
    now_ph: Annotated[Estimate, PH_NOW]
    left_percent: Annotated[Estimate, LEFT_PERCENT]
    peroxide_used_g: Annotated[Estimate, PEROXIDE_USED]
    at_sheets: Annotated[Sequence[float], AT_SHEETS] = ()
    silver_then_mg_per_l: Annotated[Sequence[float], SILVER_THEN] = ()
    limit_then_mg_per_l: Annotated[Sequence[float], LIMIT_THEN] = ()
    then_ph: Annotated[Sequence[float], PH_THEN] = ()


@dataclass(frozen=True, slots=True)
class Bath:
    """The bath as the sums take it: what was in it, what each sheet brings, and how unsure that is, in stops."""

    ions: tuple[IonAt, ...]
    bath_ml: float
    celsius: float
    brings: SheetBrings
    silver_sd_stops: float
    alkali_sd_stops: float

    def then(self, sheets: float) -> tuple[IonAt, ...]:
        """What is in it after so many sheets."""
        return worn(self.ions, ion_of("carbonate", 0.0, self.celsius), self.bath_ml, self.brings, sheets)

    def ph(self, sheets: float) -> float:
        """How acid it is by then."""
        return ph_of(self.then(sheets), water_pk(self.celsius))

    def silver_mg_per_l(self, sheets: float) -> float:
        """Silver by then."""
        mol_per_l = built_up(MILLI * self.brings.silver_mol / self.bath_ml, self.bath_ml, self.brings.carried_ml, sheets)
        return MILLI * mol_per_l * _silver_g_per_mol()

    def limit_mg_per_l(self, sheets: float, pksp: float) -> float | None:
        """What it is sure to hold by then; nothing without citrate."""
        found = silver_limit_mol_per_l(self.then(sheets), self.ph(sheets), pksp)
        return None if found is None else MILLI * found * _silver_g_per_mol()

    def sheets_to_limit(self, pksp: float) -> float | None:
        """Sheets until the one reaches the other."""
        return sheets_to_limit(self.ions, ion_of("carbonate", 0.0, self.celsius), self.bath_ml, self.brings, (water_pk(self.celsius), pksp))


def answer(question: SilverQuestion) -> SilverAnswer:
    """What a sheet gives adds up, less what the sheets carry out; what citrate holds follows the pH, and the pH follows the carbonate."""
    carried = held_by(question)
    each, lacks = _by_paper(question) if question.found_mg_per_l is None or question.sheets == 0 else (_by_test(question, carried), [])
    bath = _bath(question, each, carried)
    now_mg_per_l = bath.silver_mg_per_l(question.sheets)
    left = [
        share_left(question.volume_ml, carried.value * float(2 ** (side * EIGHTY_PERCENT_SD * carried.sd_stops)), question.sheets)
        for side in (1, 0, -1)
    ]
    limit, sheets = _fixer_limit(bath) if question.bath_kind == "fixer" else _bleach_limit(bath, question.sheets)
    acidity = acidity_of_ions(bath.then(question.sheets), bath.celsius) if question.bath_kind == "bleach" and question.ingredients else None
    peroxide_g = peroxide_for_silver_g(each.value * question.sheets, substances()["hydrogen_peroxide"].molar_g_per_mol, _silver_g_per_mol())
    return SilverAnswer(
        silver_a_sheet_mg=around_stops(MILLI * each.value, each.sd_stops),
        silver_now_mg_per_l=around_stops(now_mg_per_l, each.sd_stops),
        limit_mg_per_l=limit,
        sheets_to_limit=sheets,
        now_ph=_ph_now(bath, question.sheets, acidity) if acidity else Estimate(),
        left_percent=Estimate(low=100 * left[0], value=100 * left[1], high=100 * left[2], percent=80),
        peroxide_used_g=around_stops(peroxide_g, each.sd_stops) if _has(bath, "peroxide") else Estimate(),
        **(_table(bath) if acidity and limit.value is not None else {}),
        ledger=_working(question, bath, each, carried),
        notes=(*_notes(question, bath, acidity, limit), *_lacking(lacks, carried)),
        sources=(*dict.fromkeys((each.source, carried.source)), says(fact("silver", "citrate_pksp"))),
    )


def _silver_g_per_mol() -> float:
    return substances()["silver"].molar_g_per_mol


def _by_test(question: SilverQuestion, carried: Held) -> Held:
    """Grams of silver that a sheet gave, by the silver that was found in the bath; what the sheets took out again is counted."""
    counted = built_up(1.0, question.volume_ml, carried.value, question.sheets)
    found_g = silver_a_sheet_g((question.found_mg_per_l or 0.0) / MILLI, question.volume_ml, counted)
    return Held(found_g, fact("silver", "found").sd / log(2), "silver found in the bath", own=True)


def _by_paper(question: SilverQuestion) -> tuple[Held, list[tuple[str, float]]]:
    """Grams of silver that a sheet gives to this bath, by its paper and picture, and what was not given for it."""
    paper, lacks = fact("silver", "coated"), []
    coated, coated_sd = question.coated_g_per_m2 or paper.value, COATED_TOLD
    if question.coated_g_per_m2 is None:
        coated_sd = spread_stops(paper)
        lacks.append(("silver in the paper", coated_sd))
    area = area_m2(question.sheet_size)
    if question.bath_kind == "fixer" and question.process == "reversal":
        halide = fact("silver", "left_halide")
        high = log2((halide.high or halide.value) / halide.value) / EIGHTY_PERCENT_SD
        return Held(area * coated * halide.value, hypot(coated_sd, high), says(paper, halide)), lacks
    stays, stays_sd = _stays(question)
    gives = max(LEAST_SHARE, 1 - stays)
    if question.stays_percent is None and question.picture == "not said":
        lacks.append(("how dark the pictures are", stays_sd / gives / log(2)))
    return Held(silver_to_bleach_g(area, coated, 1 - gives), hypot(coated_sd, stays_sd / gives / log(2)), says(paper)), lacks


def _stays(question: SilverQuestion) -> tuple[float, float]:
    """The share of its silver that a picture keeps, and one standard deviation of it."""
    if question.stays_percent is not None:
        return question.stays_percent / 100, fact("silver", "share_by_density").sd
    usual = fact("silver", "mean_share" if question.picture == "not said" else f"share_{question.picture}")
    return usual.value, usual.sd


def _bath(question: SilverQuestion, each: Held, carried: Held) -> Bath:
    rinse, carbonate = fact("carry", RINSES[question.rinse]), fact("carry", "developer_carbonate")
    contents = contents_of(question.ingredients, question.volume_ml, question.temperature_celsius)
    return Bath(
        ions_of(contents, question.temperature_celsius) or (),
        question.volume_ml,
        question.temperature_celsius,
        SheetBrings(each.value / _silver_g_per_mol(), carried.value, carbonate.value * rinse.value),
        each.sd_stops,
        hypot(carried.sd_stops, spread_stops(rinse), spread_stops(carbonate)),
    )


def _worse(bath: Bath, silver_sd: float, alkali_sd: float) -> Bath:
    """The same bath with so many standard deviations more of silver and of alkali."""
    brings = replace(
        bath.brings,
        silver_mol=bath.brings.silver_mol * float(2 ** (silver_sd * bath.silver_sd_stops)),
        carbonate_mol_per_l=bath.brings.carbonate_mol_per_l * float(2 ** (alkali_sd * bath.alkali_sd_stops)),
    )
    return replace(bath, brings=brings)


def _bleach_limit(bath: Bath, sheets: float) -> tuple[Estimate, Estimate]:
    """What it holds now and how many sheets it takes until then, both at least: the limit is a lower bound."""
    product = fact("silver", "citrate_pksp")
    limit = bath.limit_mg_per_l(sheets, product.value)
    if limit is None:
        return Estimate(), Estimate()
    others = (bath.limit_mg_per_l(sheets, product.value + product.sd), _worse(bath, 0, 1).limit_mg_per_l(sheets, product.value))
    held = Estimate(value=limit, low=_lowest(limit, others), percent=80)
    until = bath.sheets_to_limit(product.value)
    if until is None:
        return held, Estimate()
    worse = (_worse(bath, 1, 0).sheets_to_limit(product.value), _worse(bath, 0, 1).sheets_to_limit(product.value))
    return held, Estimate(value=until, low=_lowest(until, (*worse, bath.sheets_to_limit(product.value + product.sd))), percent=80)


def _fixer_limit(bath: Bath) -> tuple[Estimate, Estimate]:
    """What a single fixing bath may hold in common use, and the sheets until then."""
    limit = MILLI * fact("silver", "fixer_commercial").value
    return Estimate(value=limit), _sheets_to(bath, limit)


def _sheets_to(bath: Bath, limit_mg_per_l: float) -> Estimate:
    """Sheets until so much silver is in it, where nothing but silver counts."""
    each = bath.silver_mg_per_l(1)
    return around_stops(limit_mg_per_l / each, bath.silver_sd_stops) if each > 0 else Estimate()


def _lowest(value: float, others: Sequence[float | None]) -> float:
    """The lower limit, out of what each doubt by itself makes of it at one standard deviation."""
    below = hypot(*(log2(value / other) for other in others if other is not None and 0 < other < value))
    return value * float(2 ** -(EIGHTY_PERCENT_SD * below))


def _ph_now(bath: Bath, sheets: float, acidity: Acidity) -> Estimate:
    """The pH after the sheets; most of its doubt is how much alkali they carried in."""
    more, less = (_worse(bath, 0, side).ph(sheets) - acidity.ph for side in (1, -1))
    low, high = (acidity.ph + side * EIGHTY_PERCENT_SD * hypot(acidity.ph_sd, moved) for side, moved in ((-1, less), (1, more)))
    return Estimate(value=acidity.ph, low=low, high=high, percent=80)


def _table(bath: Bath) -> dict[str, tuple[float, ...]]:
    """How it goes with the sheets."""
    product = fact("silver", "citrate_pksp").value
    return {
        "at_sheets": STEPS,
        "silver_then_mg_per_l": tuple(bath.silver_mg_per_l(sheets) for sheets in STEPS),
        "limit_then_mg_per_l": tuple(bath.limit_mg_per_l(sheets, product) or 0.0 for sheets in STEPS),
        "then_ph": tuple(bath.ph(sheets) for sheets in STEPS),
    }


def _working(question: SilverQuestion, bath: Bath, each: Held, carried: Held) -> tuple[Line, ...]:
    """The silver of the bath: what the sheets gave, less what they took out again."""
    gave = MILLI * MILLI * each.value / question.volume_ml * question.sheets
    out = bath.silver_mg_per_l(question.sheets) - gave
    unsure = log(2) * each.sd_stops
    what = f"{question.sheets:g} sheets of {MILLI * each.value:.3g} mg"
    return (
        Line(what=what, amount=gave, doubt=gave * unsure, unit="mg/L", source=each.source, rests="own" if each.own else "judgement"),
        Line(
            what=f"Carried out again, {carried.value:.2g} mL a sheet",
            amount=out,
            doubt=abs(out) * log(2) * carried.sd_stops,
            unit="mg/L",
            source=carried.source,
            rests="own" if carried.own else "judgement",
        ),
    )


def _has(bath: Bath, ion: str) -> bool:
    return any(one.name == ion and one.mol_per_l > 0 for one in bath.ions)


def _notes(question: SilverQuestion, bath: Bath, acidity: Acidity | None, limit: Estimate) -> list[Remark]:
    """What can hurt, what the figures mean, and what may go wrong on the sheets."""
    notes = [remark(Note.SILVER_IN_WASTE), *_counted(question)]
    now = bath.silver_mg_per_l(question.sheets)
    if question.bath_kind == "fixer":
        to_last = MILLI * fact("silver", "fixer_archival").value
        sheets = _sheets_to(bath, to_last).value
        if question.process == "reversal":
            notes.append(remark(Note.FIXER_BY_TEST))
        if sheets is not None:
            notes.append(remark(Note.FIXER_TO_LAST, limit=MILLIGRAM_PER_LITRE.show(to_last), sheets=f"after about {sheets:.2g} of these sheets"))
        return notes
    if acidity is not None:
        notes = [*cautions_of(bath.ions, acidity), *notes]
        if _has(bath, "peroxide") and now > 0:
            notes += [_reforming(acidity.ph, now), _a_gram()]
    if limit.value is None:
        return [*notes, remark(Note.SILVER_NO_CITRATE)]
    if now > limit.value:
        notes.append(remark(Note.SILVER_PAST_LIMIT))
    return [*notes, remark(Note.SILVER_LOWER_BOUND, most=f"{fact('silver', 'citrate_most').value:g}")]


def _counted(question: SilverQuestion) -> list[Remark]:
    """What the sheets alone would have told, where silver was found by a test."""
    if question.found_mg_per_l is None or question.sheets == 0:
        return []
    by_paper_mg_per_l = MILLI * MILLI * _by_paper(question)[0].value / question.volume_ml * question.sheets
    return [remark(Note.SILVER_AS_FOUND, counted=MILLIGRAM_PER_LITRE.show(by_paper_mg_per_l))]


def _reforming(ph: float, silver_mg_per_l: float) -> Remark:
    """Which way peroxide and silver drive each other here."""
    silver_v = silver_couple_v(fact("silver", "silver_couple").value, silver_mg_per_l / MILLI / _silver_g_per_mol())
    bleaching = peroxide_couple_v(fact("silver", "peroxide_couple").value, ph) - silver_v
    reforming = silver_v - peroxide_couple_v(fact("silver", "oxygen_couple").value, ph)
    return remark(Note.SILVER_REFORMS, bleaching=f"{bleaching:.2f}", reforming=f"{reforming:.2f}".replace("-", "\N{MINUS SIGN}"))


def _a_gram() -> Remark:
    """What a gram of silver takes."""
    peroxide_g = peroxide_for_silver_g(1.0, substances()["hydrogen_peroxide"].molar_g_per_mol, _silver_g_per_mol())
    acid_mol = acid_for_silver_mol(1.0, _silver_g_per_mol())
    equation = reactions()["bleach_peroxide"].equation
    return remark(Note.SILVER_REACTION, equation=equation, peroxide=f"{MILLI * peroxide_g:.0f}", acid=f"{MILLI * acid_mol:.1f}")


def _lacking(lacks: list[tuple[str, float]], carried: Held) -> tuple[Remark, ...]:
    """What was not given, with what each adds."""
    if not carried.own:
        lacks = [*lacks, (weighing(), carried.sd_stops)]
    return (remark(Note.LIMITS_HOLD, what="; ".join(f"{what}, ±{sd:.2f} stop" for what, sd in lacks)),) if lacks else ()


SILVER: Final = Operation(
    name="chemistry.silver",
    version=1,
    asks="How much silver have the sheets brought, and how much does the bath hold?",
    question=SilverQuestion,
    answer=SilverAnswer,
    compute=answer,
    examples={
        "ten sheets, rinsed in a tray": {
            "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/v",
            "sheet_size": "8x10 in",
            "sheets": 10,
            "paper_base": "RC",
        },
        "out of the developer into the bleach": {
            "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/v",
            "sheet_size": "8x10 in",
            "sheets": 20,
            "rinse": "none",
            "coated_g_per_m2": 1.5,
            "picture": "middling",
            "dry_g": 12.4,
            "drained_g": 16.1,
        },
        "a silver test of the fixer": {"bath_kind": "fixer", "process": "negative", "sheet_size": "4x5 in", "sheets": 30, "found_mg_per_l": 150},
    },
)
