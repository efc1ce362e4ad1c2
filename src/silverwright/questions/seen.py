"""A table of patches and judgements, as the forecast takes it: which sheets there are, and what each of them showed."""

from collections.abc import Sequence
from math import hypot, log10
from typing import TYPE_CHECKING, Annotated, Final, Literal

from silverwright.asking.fields import Choice, Flag, Words
from silverwright.asking.operation import Record
from silverwright.facts.load import fact
from silverwright.questions.believed import SIGNS, Process, tone_of
from silverwright.questions.light import doubt_of_light
from silverwright.questions.paper import Tone as ToneWord
from silverwright.vocabulary import DARK_STOPS, EVIDENCE_SD, EXPOSURE_LOG10, GIVEN_S, LIGHT_SD_STOPS, LIGHT_STOPS, SHEETS_BEFORE, TONE_DENSITY

if TYPE_CHECKING:
    from silverwright.sensitometry.darkroom import Conditions, Darkroom, Judgement, Patch

Kind = Literal["step sheet", "control", "scene patch", "verdict", "strip by eye", "typed"]
MEASURED: Final = ("step sheet", "control", "scene patch")
USUAL_SD: Final[dict[Kind, str]] = {"strip by eye": "strip_by_eye", "verdict": "half_stop_verdict", "typed": "ei_typed"}
MOST_SHEETS: Final = 80  # our judgement: the newest ones; older baths and hands say little of the next sheet
FIXED_LAMP: Final = "fixed lamp"
LEAST_STOPS: Final = 0.01  # our judgement: nothing is surer than this
STOP_LOG10: Final = log10(2)  # arithmetic
LAMP_SIGN: Final = "lamp "
TONE: Final = Choice(help="Which tone the reading meant.", example="mid-grey", label="The reading is of")
LIGHT: Final = Words(help="Class of the light, or the word of a fixed lamp.", example="daylight", label="Light")
DAY: Final = Words(help="Day in the darkroom.", example="2026-11-21", label="Day")
BATCH: Final = Words(help="Batch of baths that it went through.", example="A4", label="Bath batch")
LOT: Final = Words(help="Lot of the paper, or the box.", example="box A", label="Lot")


class SeenRow(Record):
    """One patch that was measured, or one judgement."""

    sheet: Annotated[str | None, Words(help="Number of the sheet.", example="26-018", label="Sheet")] = None
    kind: Annotated[Kind, Choice(help="What it is.", example="step sheet", label="Kind")]
    exposure_log10: Annotated[float, EXPOSURE_LOG10]
    time_s: Annotated[float | None, GIVEN_S] = None
    density: Annotated[float | None, TONE_DENSITY] = None
    sd: Annotated[float | None, EVIDENCE_SD] = None
    dark_stops: Annotated[float | None, DARK_STOPS] = None
    tone: Annotated[ToneWord, TONE] = "mid-grey"
    light: Annotated[str | None, LIGHT] = None
    day: Annotated[str | None, DAY] = None
    batch: Annotated[str | None, BATCH] = None
    age: Annotated[float | None, SHEETS_BEFORE] = None
    lot: Annotated[str | None, LOT] = None
    metered: Annotated[bool, Flag(help="The light was metered.", example=True, label="Light was metered")] = True
    judged: Annotated[Literal["dry", "wet"], Choice(help="State of the sheet when it was judged.", example="dry", label="Judged")] = "dry"
    lamp: Annotated[Literal["usual", "unknown"], Choice(help="Lamp that it was judged under.", example="usual", label="Judged under")] = "usual"
    light_sd_stops: Annotated[float | None, LIGHT_SD_STOPS] = None
    light_stops: Annotated[float | None, LIGHT_STOPS] = None


def faults(rows: Sequence[SeenRow]) -> list[str]:
    """What is missing in rows, each as a sentence."""
    found = []
    for number, row in enumerate(rows, 1):
        if row.kind in MEASURED and row.density is None:
            found.append(f"Row {number}: a {row.kind} needs the density that was measured.")
        if row.kind not in MEASURED and row.density is not None:
            found.append(f"Row {number}: a {row.kind} has no density. Take the density out, or call it a scene patch or step sheet.")
    return found


def newest(rows: Sequence[SeenRow]) -> tuple[list[SeenRow], int]:
    """The rows of the newest sheets, by day and then as they stand, and how many sheets are left out."""
    last: dict[str, tuple[str, int]] = {}
    for number, row in enumerate(rows):
        name = _name(number, row)
        day = max(row.day or "", last[name][0]) if name in last else row.day or ""
        last[name] = (day, number)
    kept = set(sorted(last, key=lambda name: last[name])[-MOST_SHEETS:])
    return [row for number, row in enumerate(rows) if _name(number, row) in kept], len(last) - len(kept)


def darkroom_of(rows: Sequence[SeenRow], process: Process) -> "tuple[Darkroom, tuple[str, ...]]":
    """Sheets, patches and judgements as records, and a name for each piece: sheets in their order, then typed indices."""
    from silverwright.sensitometry.darkroom import Darkroom

    names: dict[str, int] = {}
    of_sheet: list[list[SeenRow]] = []
    patches: list[Patch] = []
    judgements: list[Judgement] = []
    for number, row in enumerate(rows):
        if row.kind != "typed":
            place = names.setdefault(_name(number, row), len(names))
            if place == len(of_sheet):
                of_sheet.append([])
            of_sheet[place].append(row)
        if row.kind in MEASURED:
            patches.append(_patch(row, place))
        else:
            judgements.append(_judgement(row, None if row.kind == "typed" else place, process))
    typed = tuple(f"typed EI {number}" for number in range(1, sum(row.kind == "typed" for row in rows) + 1))
    whole = (*(name if given[0].sheet else f"row {name.removeprefix(' ')}" for name, given in zip(names, of_sheet, strict=True)), *typed)
    return Darkroom(tuple(_conditions(given) for given in of_sheet), tuple(patches), tuple(judgements)), whole


def _name(number: int, row: SeenRow) -> str:
    """A sheet's number; a row without one is a sheet of its own."""
    return row.sheet or f" {number + 1}"


def _conditions(rows: Sequence[SeenRow]) -> "Conditions":
    """What a sheet shares with others: the first that any of its rows says."""
    from silverwright.sensitometry.darkroom import Conditions

    def first(name: str) -> str:
        return next((str(value) for row in rows if (value := getattr(row, name))), "")

    lamp = any(row.kind == "control" for row in rows)
    light = first("light")
    return Conditions(
        light=lamp_light(light) if lamp else light,
        day=first("day"),
        batch=first("batch"),
        lot=first("lot"),
        age=round(max((row.age or 0.0) for row in rows)),
        light_sd_stops=None if lamp else next((row.light_sd_stops for row in rows if row.light_sd_stops is not None), None),
        lamp=lamp,
        one_reading=any(row.kind == "step sheet" for row in rows),
        metered=all(row.metered for row in rows if row.kind in MEASURED),
        class_sd_stops=None if lamp or all(row.light_stops is None for row in rows) else doubt_of_light(light),
    )


def lamp_light(word: str) -> str:
    """The light of a fixed lamp: never the same as a class of light of that name."""
    return LAMP_SIGN + (word or FIXED_LAMP)


def _at_reference(row: SeenRow) -> float:
    """The log exposure as if it had been given in noon daylight: more where the paper gets more of its light than the meter tells."""
    return row.exposure_log10 + (row.light_stops or 0.0) * STOP_LOG10


def _patch(row: SeenRow, sheet: int) -> "Patch":
    from silverwright.sensitometry.darkroom import Patch

    sd = fact("curve", "density_sd").value if row.sd is None else row.sd
    metering = fact("forecast", "place" if row.kind == "scene patch" else "step").sd
    return Patch(sheet, _at_reference(row), row.density or 0.0, row.time_s, sd, metering)


def _judgement(row: SeenRow, sheet: int | None, process: Process) -> "Judgement":
    """Half a stop too dark: the right exposure was half a stop more in a direct positive, half a stop less in a negative."""
    from silverwright.sensitometry.darkroom import Judgement

    dark = row.dark_stops or 0.0
    own = max(fact("paper", USUAL_SD[row.kind]).sd if row.sd is None else row.sd, abs(dark) * fact("paper", "large_verdict").value, LEAST_STOPS)
    by_eye = row.kind != "typed"
    reading = () if sheet is None or row.kind == "strip by eye" else (fact("forecast", "place").sd,)
    added = [
        fact("paper", name).sd for name, holds in (("judged_wet", row.judged == "wet"), ("unknown_lamp", row.lamp == "unknown")) if holds and by_eye
    ]
    right = _at_reference(row) - SIGNS[process] * dark * STOP_LOG10
    return Judgement(sheet, right, tone_of(row.tone, process), hypot(own, *reading, *added), row.time_s)
