"""Every figure of a field page as tables, asked of the ledger: a phone only looks up and adds."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log2
from typing import Any, Final

from silverwright.asking.operation import EIGHTY_PERCENT_SD
from silverwright.questions.camera import by_hand
from silverwright.questions.marks import aperture_marks, counted_steps, time_marks
from silverwright.report.kit import Asker, Kit, Taken, ask, asked, metered
from silverwright.report.knots import Row, knots
from silverwright.report.target import TARGET_MM

READING_EV: Final = (-8.0, 24.0)  # arithmetic: as far as a reading may go; stops run straight with it
FIRST_LX: Final = 0.1  # our judgement: less light than that makes no picture on paper
DOUBLINGS_LX: Final = 21  # arithmetic: from a tenth of a lux to direct sun and beyond
DIAL_EI: Final = (0.1, 1.0, 10.0, 100.0, 1000.0, 6400.0)  # arithmetic: as far as a dial may go
METERED_FROM: Final = -7  # our judgement: 1/128 s before reciprocity, shorter than a leaf shutter's shortest with this paper
METERED_TO: Final = 14  # our judgement: four and a half hours; nobody stays longer
SURE_SD_STOPS: Final = 0.2  # our judgement: doubts of a reading between which the ledger's doubt is taken to grow evenly
UNSURE_SD_STOPS: Final = 0.6  # our judgement: see above
MARK_STEP: Final = 12  # our judgement: marks of a shutter change at a twelfth of a stop, they are a third apart
SHORT_FACTOR: Final = 0.96  # our judgement: a lens focused far away measures up to so much shorter than its focal length
LONG_FACTOR: Final = 3.2  # our judgement: twice life size and a little
NEAREST_FACTOR: Final = 1.32  # our judgement: a subject nearer than that is three times life size
FARTHEST_MM: Final = 100_000.0  # our judgement: nothing changes any more
FILTERS: Final = (1.0, 1.01, 2.0, 8.0, 64.0, 1000.0)  # arithmetic: ten stops and what lies between
APERTURES: Final = (0.7, 1.0, 4.0, 16.0, 64.0, 256.0, 512.0)  # arithmetic: as far as an aperture may go
NOT_OF_A_LAW: Final = frozenset({"focal_mm", "pupil_factor"})  # they move the bellows line and nothing after it


@dataclass(frozen=True, slots=True)
class Law:
    """What follows the metered sum: apertures, reciprocity, the clock; lenses that differ in focal length only share one."""

    fields: Mapping[str, Any]
    table: Mapping[str, Any]


def tables(kit: Kit) -> dict[str, Any]:
    """The whole page's figures."""
    laws: list[Law] = []
    lenses = [_lens(Asker(kit, lens), lens, laws) for lens in kit.lenses]
    first = Asker(kit, kit.lenses[0])
    steps = counted_steps()
    return {
        "reach": EIGHTY_PERCENT_SD,
        "target": TARGET_MM,
        "readings": _readings(first),
        "filters": _rounded(knots(lambda factor: first.part(filter_factor=factor), FILTERS)),
        "lights": [[light.name, *_short(first.part(**light.fields))] for light in kit.lights],
        "lenses": lenses,
        "laws": [law.table for law in laws],
        "counts": [[0, 0.5], [steps.whole_second_s, 1], [steps.ten_seconds_s, 10], [steps.minute_s, 60]],
    }


def _short(row: Sequence[float]) -> list[float]:
    """Figures as a page needs them: four places, and of a large number no more."""
    return [round(value, 4) for value in row]


def _rounded(rows: Sequence[Row]) -> list[list[float]]:
    return [_short(row) for row in rows]


def _readings(first: Asker) -> dict[str, Any]:
    """Stops and variance of a reading against EV 10, in every way that a meter may show it."""

    def lux(reading_lx: float) -> Row:
        return first.part(reading_ev=None, reading_lx=reading_lx)

    def dial(time_s: float = 1.0, aperture_f: float = 8.0, dial_ei: float = 100.0) -> Row:
        return first.part(reading_ev=None, dial_time_s=time_s, dial_aperture_f=aperture_f, dial_ei=dial_ei)

    start = dial()
    return {
        "ev": _rounded(knots(lambda ev: first.part(reading_ev=ev), READING_EV)),
        "lx": _rounded(knots(lux, [FIRST_LX * 2**doubling for doubling in range(DOUBLINGS_LX + 1)])),
        "dial": _short(start),
        "times": {f"{mark:g}": round(dial(time_s=mark)[0] - start[0], 4) for mark in time_marks()},
        "apertures": {f"{mark:g}": round(dial(aperture_f=mark)[0] - start[0], 4) for mark in aperture_marks()},
        "eis": _rounded(knots(lambda ei: (dial(dial_ei=ei)[0] - start[0],), DIAL_EI)),
    }


def _lens(asker: Asker, lens: Taken, laws: list[Law]) -> dict[str, Any]:
    """One lens: where its sum starts, what every nearness adds, and which law follows."""
    focal_mm: float | None = asker.question.get("focal_mm")
    near: dict[str, Any] = {
        "size": _rounded(knots(lambda mm: asker.near(target_image_mm=mm, target_mm=TARGET_MM), _sizes())),
        "unknown": _short(asker.near()),
    }
    if focal_mm is not None:
        near["extension"] = _rounded(knots(lambda mm: asker.near(extension_mm=mm), _extensions(asker, focal_mm)))
        near["distance"] = _rounded(knots(lambda mm: asker.near(subject_mm=mm), _distances(focal_mm)))
    shared = {name: value for name, value in asker.question.items() if name not in NOT_OF_A_LAW}
    place = next((number for number, law in enumerate(laws) if law.fields == shared), len(laws))
    if place == len(laws):
        laws.append(Law(shared, _law(asker, hole=lens.is_hole)))
    return {"name": lens.name, "start": _short(asker.start), "near": near, "law": place, "hole": lens.is_hole}


def _sizes() -> list[float]:
    """Sizes of the ruler target on the ground glass, to three times life size."""
    return [TARGET_MM * factor for factor in (0.01, 0.1, 0.5, 1.0, 3.0)]


def _extensions(asker: Asker, focal_mm: float) -> list[float]:
    """From as short as a lens focused far away measures, to twice life size; a telephoto lens counts from its own extension at infinity."""
    far_mm: float | None = asker.question.get("infinity_extension_mm")
    if far_mm is not None:
        return [far_mm + focal_mm * size for size in (0.0, 0.5, 1.0, LONG_FACTOR - 1)]
    return [focal_mm * factor for factor in (SHORT_FACTOR, 1.0, 1.5, 2.0, LONG_FACTOR)]


def _distances(focal_mm: float) -> list[float]:
    """From three times life size to as good as infinity, doubling."""
    found = [NEAREST_FACTOR * focal_mm]
    while found[-1] < FARTHEST_MM / 2:
        found.append(2 * found[-1])
    return [*found, FARTHEST_MM]


def _law(asker: Asker, *, hole: bool) -> dict[str, Any]:
    """Apertures, and what the ledger does after the metered sum."""
    places = [float(metered_stops) for metered_stops in range(METERED_FROM, METERED_TO + 1)]
    apertures = {"marks": {}, "apertures": []} if hole else _apertures(asker)
    return {**apertures, "rest": _rounded(knots(lambda stops: _rest(asker, stops), places)), **_clock(asker)}


def _apertures(asker: Asker) -> dict[str, Any]:
    """Marks mean what they stand for, every other f-number means itself."""
    marked = asker.question.get("aperture_scale", "marked") == "marked"
    free = {"aperture_scale": "exact"} if marked else {}
    return {
        "marks": {f"{mark:g}": round(asker.part(aperture_f=mark)[0], 4) for mark in aperture_marks()} if marked else {},
        "apertures": _rounded(knots(lambda aperture_f: (asker.part(aperture_f=aperture_f, **free)[0],), APERTURES)),
    }


def _rest(asker: Asker, metered_stops: float) -> Row:
    """What comes to a metered sum: stops; and of the whole variance, the part that stands by itself and how the sum's own variance is stretched."""
    reading_ev = asker.question["reading_ev"] + asker.start[0] - metered_stops
    found = []
    for sd_stops in (SURE_SD_STOPS, UNSURE_SD_STOPS):
        answer = ask(asker.question, reading_ev=reading_ev, reading_sd_stops=sd_stops)
        found.append((metered(answer)[1], (answer.doubt_stops.value or 0.0) ** 2))
    (sure, whole), (unsure, wider) = found
    stretch = (wider - whole) / (unsure - sure)
    return (answer.total_stops.value or 0.0) - metered_stops, whole - stretch * sure, stretch


def _clock(asker: Asker) -> dict[str, Any]:
    """From which metered sum on somebody counts, and which mark of the shutter is set below it."""
    hand: float | None = None
    marks: list[list[float]] = []
    for step in range(METERED_FROM * MARK_STEP, METERED_TO * MARK_STEP + 1):
        reading_ev = asker.question["reading_ev"] + asker.start[0] - step / MARK_STEP
        question = asked(asker.question, reading_ev=reading_ev)
        answer = ask(asker.question, reading_ev=reading_ev)
        time_s, settable_s = answer.time_s.value or 0.0, answer.settable_s.value or 0.0
        if by_hand(question, time_s):
            hand = round(log2(time_s), 4)
            break
        if not marks or marks[-1][1] != settable_s:
            marks.append([round(log2(time_s) - 1 / (2 * MARK_STEP), 4), settable_s])
    return {"hand": hand, "shutter": marks}
