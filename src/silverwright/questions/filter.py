"""How much longer do I expose because of the filter?"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import hypot, log2
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Operation, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.colour import coloured_filter_stops, either_sensitivity
from silverwright.exposure.filters import combined_factor, factor_from_density, filter_density, filter_stops
from silverwright.facts.load import fact, facts
from silverwright.notes import Note
from silverwright.questions.entry import Entry, Remedy, Unknown, around, around_stops, stops_said
from silverwright.questions.light import LIGHTS, REFERENCE, SEES, LightSeen
from silverwright.records import LightBand, Passed, Stops
from silverwright.units import RATIO
from silverwright.vocabulary import (
    FILTER_BY_DENSITY,
    FILTER_BY_STOPS,
    FILTER_DENSITY,
    FILTER_FACTOR,
    FILTER_FACTORS,
    FILTER_PASSES_NM,
    FILTER_PASSES_PERCENT,
    FILTER_STOPS,
)

SOURCE: Final = "wikipedia-filter-factor, table"
MOST_STOPS: Final = 12.0  # our judgement: two seconds become more than two hours
BAND_NM: Final = 20  # arithmetic: the table of spectra goes by so many nanometres
Kind = Literal["neutral", "coloured, tried on this paper", "coloured, by its spectrum", "coloured, maker's factor"]
REFUSED: Final = (
    "A maker's factor for a coloured filter was found on film that sees all colours. This paper sees blue, or blue and green: a yellow filter "
    "of factor 2 can hold back nearly all of it, a blue one hardly anything. Give what the filter lets through by wavelength, or try it: the "
    "same scene with and without the filter until both sheets look alike; the second time over the first is your own factor."
)
NEEDS_SPECTRUM: Final = (
    "By its spectrum a filter needs what it lets through, at two wavelengths at least: lines like “450 5” and “500 88”, in nanometres and percent."
)


class PassesRow(Record):
    """What a filter lets through at one wavelength."""

    at_nm: Annotated[float, FILTER_PASSES_NM]
    passes_percent: Annotated[float, FILTER_PASSES_PERCENT]


class FilterFields(LightSeen):
    """A filter before the lens: neutral by any one figure, coloured by its spectrum or as it was tried on this paper."""

    filter_kind: Annotated[Kind, Choice(help="Neutral or coloured, and where its figure comes from.", example="neutral", label="Kind of filter")] = (
        "neutral"
    )
    filter_factor: Annotated[float | None, FILTER_FACTOR] = None
    filter_in_stops: Annotated[float | None, FILTER_BY_STOPS] = None
    filter_by_density: Annotated[float | None, FILTER_BY_DENSITY] = None
    filter_passes: Annotated[
        tuple[PassesRow, ...],
        Rows(
            row=PassesRow,
            help="What a coloured filter lets through: wavelength and percent, a line for each, from its data sheet.",
            example="450 5",
            label="Spectrum of the filter",
        ),
        Field(validate_default=True),
    ] = ()

    @field_validator("filter_kind")
    @classmethod
    def _no_factor_of_film(cls, kind: Kind) -> Kind:
        if kind == "coloured, maker's factor":
            raise refuse(REFUSED)
        return kind

    @field_validator("filter_passes")
    @classmethod
    def _in_rising_order(cls, rows: tuple[PassesRow, ...], seen: ValidationInfo) -> tuple[PassesRow, ...]:
        if len(rows) < 2 and (rows or seen.data.get("filter_kind") == "coloured, by its spectrum"):  # noqa: PLR2004 (a line has two ends)
            raise refuse(NEEDS_SPECTRUM)
        if any(one.at_nm >= other.at_nm for one, other in pairwise(rows)):
            raise refuse("Each wavelength once, the shortest first.")
        if rows and (problem := _not_told(rows, seen.data.get("sensitivity"), seen.data.get("light_class"))):
            raise refuse(problem)
        return rows


def _not_told(rows: tuple[PassesRow, ...], sensitivity: str | None, light_class: str | None) -> str:
    """What is wrong with a spectrum for this paper: it must span what the paper sees, and let some of it through."""
    first, last = fact("light", "blue_from"), fact("light", "blue_to" if sensitivity == "blue" else "ortho_to").value
    if rows[0].at_nm > (first.high or first.value) or rows[-1].at_nm < last:
        span = f"{rows[0].at_nm:g} to {rows[-1].at_nm:g} nm"
        return f"These points go from {span}; this paper sees to {last:g} nm. Give points from {first.high:g} nm or less to {last:g} nm or more."
    passes = [Passed(row.at_nm, row.passes_percent / 100) for row in rows]
    if coloured_filter_stops(bands_of(_named(light_class)), passes, last) > MOST_STOPS:
        return "By these figures the filter lets through hardly anything that this paper sees: no exposure makes up for it. Take another filter."
    return ""


def filter_entry(filter_factor: float | None) -> Entry:
    """The filter line of a ledger that knows a neutral filter's factor alone."""
    if filter_factor is None or filter_factor == 1:
        return Entry("No filter", Stops(0.0), SOURCE, "published")
    stops = Stops(filter_stops(filter_factor), fact("lens", "filter").sd)
    return Entry(f"Filter, factor {RATIO.show(filter_factor)}", stops, SOURCE, "published", (remark(Note.NEUTRAL_ONLY),))


def filter_line(question: FilterFields) -> Entry:
    """The filter line of the ledger: by its spectrum where that is given, else by its factor, stops or density."""
    ways = _ways(question)
    if question.filter_passes and question.filter_kind != "coloured, tried on this paper":
        line = _by_spectrum(question)
        return replace(line, notes=(*line.notes, *_disagree("its spectrum", line.stops.amount_stops, ways)))
    if not ways:
        return filter_entry(None)
    (said, factor), *others = ways
    if question.filter_passes:
        others.append(("its spectrum", float(2 ** _by_spectrum(question).stops.amount_stops)))
    notes = _disagree(said, log2(factor), others)
    stops = Stops(filter_stops(factor), fact("lens", "filter").sd if factor > 1 else 0.0)
    if question.filter_kind == "coloured, tried on this paper":
        return Entry(f"Coloured filter, {said}, tried on this paper", stops, "your own test", "own", notes, called="The filter")
    neutral = (remark(Note.NEUTRAL_ONLY),) if factor > 1 else ()
    return Entry(f"Filter, {said}", stops, SOURCE, "published", (*neutral, *notes), called="The filter")


def _disagree(said: str, amount_stops: float, others: Sequence[tuple[str, float]]) -> tuple[Remark, ...]:
    """Which other figures of one filter do not go with the one that is used."""
    apart = [(other, abs(log2(factor) - amount_stops)) for other, factor in others]
    agree = fact("meter", "agree").value
    first = said[0].upper() + said[1:]
    return tuple(remark(Note.ROUTES_DISAGREE, first=first, second=other, stops=stops_said(stops)) for other, stops in apart if stops > agree)


def _ways(question: FilterFields) -> list[tuple[str, float]]:
    """Every figure that was given, in words, and the factor that it means."""
    found = []
    if question.filter_factor is not None:
        found.append((f"factor {RATIO.show(question.filter_factor)}", question.filter_factor))
    if question.filter_in_stops is not None:
        found.append((stops_said(question.filter_in_stops), float(2**question.filter_in_stops)))
    if question.filter_by_density is not None:
        found.append((f"density {question.filter_by_density:g}", factor_from_density(question.filter_by_density)))
    return found


def _by_spectrum(question: FilterFields) -> Entry:
    """What the filter takes from this paper in this light; where the paper's sight ends is as unsure as its published limits."""
    light = _named(question.light_class)
    bands = bands_of(light)
    passes = [Passed(row.at_nm, row.passes_percent / 100) for row in question.filter_passes]
    usual = fact("lens", "filter").sd
    sights = [question.sensitivity] if question.sensitivity in SEES else list(SEES)
    found = []
    for sight in sights:
        end = fact("light", f"{sight}_to")
        last, low, high = (coloured_filter_stops(bands, passes, at) if at else 0.0 for at in (end.value, end.low, end.high))
        found.append(Stops(last, hypot(usual, (low - high) / 2)))
    seen = found[0] if len(found) == 1 else either_sensitivity(*found)
    apart = abs(found[0].amount_stops - found[-1].amount_stops) / 2
    lacks = (Unknown("what the paper sees (between blue alone and blue with green)", apart),) if apart else ()
    paper = SEES.get(question.sensitivity or "", "paper of unknown colour sense")
    what = f"Coloured filter by its spectrum, {light}, {paper}"
    tried = Remedy("trying the filter on this paper", usual)
    return Entry(what, seen, "our judgement of what the paper sees", "judgement", (), lacks, called="The filter", remedy=tried)


def _named(light_class: str | None) -> str:
    """The kind of light, noon daylight where nobody named it."""
    return light_class if light_class is not None and light_class in LIGHTS else REFERENCE


@cache
def bands_of(light_class: str) -> tuple[LightBand, ...]:
    """The spectrum of a class of light, band by band."""
    table, name = facts("spectrum"), f"{light_class.replace(' ', '_').lower()}_"
    rows = [(float(key.removeprefix(name)), row.value) for key, row in table.items() if key.startswith(name) and key.removeprefix(name).isdecimal()]
    return tuple(LightBand(start, start + BAND_NM, share) for start, share in rows)


class FilterQuestion(FilterFields):
    """The filters in front of the lens: one by any of its figures, or several neutral ones by their factors."""

    filter_factors: Annotated[tuple[float, ...], FILTER_FACTORS, Field(validate_default=True)] = ()

    @field_validator("filter_factors")
    @classmethod
    def _some_filter(cls, factors: tuple[float, ...], seen: ValidationInfo) -> tuple[float, ...]:
        told = ("filter_kind", "filter_factor", "filter_in_stops", "filter_by_density", "filter_passes")
        if not factors and all(name in seen.data for name in told) and all(seen.data[name] in (None, ()) for name in told[1:]):
            raise refuse("No filter yet: give its factor, its stops or its density, or what it lets through by wavelength.", field="filter_factor")
        return factors


class FilterAnswer(Answer):
    """All of them together."""

    factor: Annotated[Estimate, FILTER_FACTOR]
    filter_stops: Annotated[Estimate, FILTER_STOPS]
    density: Annotated[Estimate, FILTER_DENSITY]


def answer(question: FilterQuestion) -> FilterAnswer:
    """Factors multiply; stops and densities add."""
    entries = [filter_entry(one) for one in question.filter_factors]
    if question.filter_passes or _ways(question):
        entries.append(filter_line(question))
    stops = sum(entry.stops.amount_stops for entry in entries)
    doubt, factor = hypot(*(entry.stops.doubt_stops for entry in entries)), combined_factor([2**entry.stops.amount_stops for entry in entries])
    return FilterAnswer(
        factor=around_stops(factor, doubt),
        filter_stops=around(stops, doubt, least=0.0),
        density=Estimate(value=filter_density(factor)),
        ledger=tuple(entry.line for entry in entries),
        notes=tuple(dict.fromkeys(note for entry in entries for note in entry.notes)),
        sources=tuple(dict.fromkeys(entry.source for entry in entries)),
    )


FILTER: Final = Operation(
    name="exposure.filter",
    version=2,
    asks="How much longer do I expose because of the filter?",
    question=FilterQuestion,
    answer=FilterAnswer,
    compute=answer,
    examples={
        "two neutral filters": {"filter_factors": "2 4"},
        "by density": {"filter_by_density": 0.9},
        "yellow, by its spectrum": {
            "filter_kind": "coloured, by its spectrum",
            "filter_passes": "400 0.1\n460 1\n480 25\n500 75\n520 88\n600 90",
            "light_class": "overcast sky",
            "sensitivity": "ortho",
        },
        "tried on this paper": {"filter_kind": "coloured, tried on this paper", "filter_factor": 6},
    },
)
