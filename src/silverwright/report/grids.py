"""Printed tables of a kit: reading by extension, and what to add to a reading for something else; all asked of the ledger."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from silverwright.asking.operation import Estimate
from silverwright.questions.marks import aperture_marks
from silverwright.report.kit import Asker, Kit, Taken, ask, lit
from silverwright.report.target import TARGET_MM
from silverwright.units import clock

MAGNIFICATIONS: Final = {"far": 0.0, "1:10": 0.1, "1:5": 0.2, "1:3": 1 / 3, "1:2": 0.5, "1:1": 1.0}
READINGS_EV: Final = (-2, 18)  # our judgement: from a dark workshop to snow in the sun
FIRST_LX: Final = 2.5  # our judgement: EV 0 for a flat receptor; doubled from row to row
DOUBLINGS_LX: Final = 17  # our judgement: to direct sun
SHORTEST_S: Final = 0.5  # our judgement: shorter times are a shutter's, and no card's
LONGEST_S: Final = 3600.0  # our judgement: nobody stays longer beside a camera
MOST_ROWS: Final = 14  # our judgement: as many as a card holds and an eye finds
TENTHS_UNDER_S: Final = 20.0  # our judgement: below it a whole second is more than a twentieth
FILTERS: Final = (2, 4, 8)
FLASH: Final = "flash"  # it has no time, and no place in a table of times
NEAR_APERTURES: Final = (-3, 4)  # our judgement: stops to either side of the card's aperture


@dataclass(frozen=True, slots=True)
class Column:
    """How near: the extension in words, and the image's size beside its subject's."""

    extension: str
    scale: str
    fields: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Line:
    """A reading, and the time in every column; nothing where a time is too short or too long for a card."""

    reading: str
    fields: Mapping[str, Any]
    times: Sequence[Estimate | None]


@dataclass(frozen=True, slots=True)
class TimeGrid:
    """Reading by extension at one aperture of one lens."""

    title: str
    unit: str
    columns: Sequence[Column]
    lines: Sequence[Line]


@dataclass(frozen=True, slots=True)
class Shift:
    """What to add to the reading for something else than the grid was made for, and the same as a factor on lux."""

    name: str
    reading_stops: float

    @property
    def said(self) -> str:
        """`+1`, `−0.7`, `0`"""
        tenths = f"{self.reading_stops:+.1f}".replace("-", "\N{MINUS SIGN}").removesuffix(".0")
        return "0" if tenths[1:] == "0" else tenths


def columns_of(lens: Taken) -> list[Column]:
    """By extension where the focal length is known, by the image's size where it is not."""
    focal_mm: float | None = lens.fields.get("focal_mm")
    if focal_mm is None:
        return [Column("", scale, {"magnification_factor": size}) for scale, size in MAGNIFICATIONS.items()]
    extensions = {scale: extension_mm(lens, focal_mm, size) for scale, size in MAGNIFICATIONS.items()}
    return [Column(f"{mm}", scale, {"magnification_factor": None, "extension_mm": mm}) for scale, mm in extensions.items()]


def extension_mm(lens: Taken, focal_mm: float, size: float) -> int:
    """To a whole millimetre; a telephoto lens counts from its own extension at infinity."""
    far_mm = float(lens.fields.get("infinity_extension_mm", focal_mm))
    return round(far_mm + focal_mm * size)


def readings(reads: str) -> list[tuple[str, dict[str, Any]]]:
    """Every reading that a card may have, dark ones first."""
    if reads == "lx":
        rising = [FIRST_LX * 2**doubling for doubling in range(DOUBLINGS_LX)]
        return [(f"{lx:g}", {"reading_ev": None, "reading_lx": lx}) for lx in rising]
    return [(str(ev).replace("-", "\N{MINUS SIGN}"), {"reading_ev": ev}) for ev in range(READINGS_EV[0], READINGS_EV[1] + 1)]


def time_grid(kit: Kit, lens: Taken) -> TimeGrid:
    """The grid of a lens at the kit's aperture: rows from the darkest light whose far subject still is worth waiting for."""
    question = {**Asker(kit, lens).question, **lit(kit)} | ({} if lens.is_hole else {"aperture_f": kit.aperture_f})
    columns = columns_of(lens)
    lines = []
    for reading, fields in readings(kit.reads):
        times = [_printed(ask(question, **fields, **column.fields).time_s) for column in columns]
        if times[0] is not None:
            lines.append(Line(reading, fields, times))
    title = lens.name if lens.is_hole else f"{lens.name}, f/{kit.aperture_f:g}"
    return TimeGrid(title, "lx" if kit.reads == "lx" else "EV", columns, lines[:MOST_ROWS])


def _printed(time_s: Estimate) -> Estimate | None:
    return time_s if time_s.value is not None and SHORTEST_S <= time_s.value <= LONGEST_S else None


def apertures(kit: Kit, lens: Taken) -> list[Shift]:
    """Whole stops around the grid's aperture; none for a hole."""
    if lens.is_hole:
        return []
    asker = Asker(kit, lens)
    here = asker.part(aperture_f=kit.aperture_f)[0]
    marks = {mark: stops for mark, stops in aperture_marks().items() if stops == round(stops)}
    found = [(mark, here - asker.part(aperture_f=mark)[0]) for mark in marks]
    return [Shift(f"f/{mark:g}", stops) for mark, stops in found if NEAR_APERTURES[0] <= -stops <= NEAR_APERTURES[1]]


def lights(kit: Kit) -> list[Shift]:
    """Every light that is taken along."""
    asker = Asker(kit, kit.lenses[0])
    here = asker.part(**lit(kit))[0]
    return [Shift(light.name, here - asker.part(**light.fields)[0]) for light in kit.lights]


def filters(kit: Kit) -> list[Shift]:
    """Neutral filters."""
    asker = Asker(kit, kit.lenses[0])
    found = [(factor, asker.part(filter_factor=factor)) for factor in FILTERS]
    return [Shift(f"filter ×{factor}", -stops) for factor, (stops, _) in found]


def how_near(lens: Taken) -> list[tuple[str, str, str, str]]:
    """Scale, extension, distance from lens to subject, and size of the ruler target on the ground glass, for each column of the grid."""
    focal_mm: float | None = lens.fields.get("focal_mm")
    rows = []
    for scale, size in MAGNIFICATIONS.items():
        extension = f"{extension_mm(lens, focal_mm, size)}" if focal_mm else ""
        distance = f"{focal_mm * (1 + 1 / size) / 1000:.2f}" if focal_mm and size else ""
        rows.append((scale, extension, distance, f"{TARGET_MM * size:.0f}" if size else ""))
    return rows


def card_time(time_s: float) -> str:
    """As short as a cell: `0.71`, `6.6`, `37`, `1:37`, `1:02:05`; below a minute in seconds."""
    if time_s < 1:
        return f"{time_s:.2f}"
    if time_s < TENTHS_UNDER_S:
        return f"{time_s:.1f}"
    return f"{time_s:.0f}" if round(time_s) < 60 else clock(time_s)  # noqa: PLR2004 (a minute)
