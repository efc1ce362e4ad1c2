"""Units: how a hand writes a number in them, and how we show one."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

_VULGAR: Final = str.maketrans(
    {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "\N{MINUS SIGN}": "-", "\N{NO-BREAK SPACE}": " ", "′": "'", "″": '"'}
)
_PLAIN: Final = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?")
_FRACTION: Final = re.compile(r"([+-]?)(?:(\d+) +)?(\d+(?:\.\d+)?) ?/ ?(\d+(?:\.\d+)?)")
_COLON: Final = re.compile(r"(?:(\d+):(?=[0-5]?\d:))?(\d+):([0-5]\d(?:\.\d+)?)(?: ?min)?")
_HOUR_MINUTE: Final = re.compile(r"(\d+) ?h ?([0-5]?\d)()")
_HOUR: Final = re.compile(r"([+-]?)(\d+)(?:[:h] ?([0-5]\d))? ?(am|pm)?")
_CLOCK: Final = re.compile(r"(?:(\d+) ?h(?:ours?)?)? ?(?:(\d+) ?(?:m(?:in(?:utes?)?)?|\'))? ?(?:(\d+(?:\.\d+)?) ?(?:s(?:ec(?:onds?)?)?|\")?)?")
_PARTS: Final = (
    ("seconds", 1),
    ("second", 1),
    ("sec", 1),
    ("s", 1),
    ("minutes", 60),
    ("minute", 60),
    ("min", 60),
    ("m", 60),
    ("hours", 3600),
    ("h", 3600),
)
_AMBIGUOUS: Final = re.compile(r"([+-]?[1-9]\d{0,2}),(\d{3})(?=\D|$)")
KILOBYTE: Final = 1000  # arithmetic
MEGABYTE: Final = 1_000_000  # arithmetic
ONE_DIGIT: Final = 100  # our judgement: from a hundred megabytes on, tenths are no help
_MINUTE_S: Final = 60
_HALF_DAY_HOURS: Final = 12  # arithmetic
_HOUR_S: Final = 3600
_CLOCK_FROM_S: Final = 60.0  # our judgement: from a minute on, people count minutes and seconds


def _plain_text(written: str) -> str:
    """Small letters, single blanks, and the signs that a keyboard has."""
    return " ".join(written.translate(_VULGAR).lower().split())


def _number(text: str) -> float | None:
    """`5`, `.5`, `1e-3`, `1/4`, `1 1/2`."""
    if _PLAIN.fullmatch(text):
        return float(text)
    if (match := _FRACTION.fullmatch(text)) and float(match[4]):
        size = float(match[2] or 0) + float(match[3]) / float(match[4])
        return -size if match[1] == "-" else size
    return None


def _clock(text: str) -> float | None:
    """`90`, `1/15 s`, `1.5 min`, `2m30s`, `2'30"`, `1 h 5 min`, `1h30`, `1:37`."""
    if (number := _number(text)) is not None:
        return number
    for sign, second_count in _PARTS:
        if text.endswith(sign) and (number := _number(text.removesuffix(sign).rstrip())) is not None:
            return number * second_count
    for pattern in (_COLON, _HOUR_MINUTE, _CLOCK):
        if text and (match := pattern.fullmatch(text)):
            hours, minutes, seconds = (float(part or 0) for part in match.groups())
            return hours * _HOUR_S + minutes * _MINUTE_S + seconds
    return None


def _hour_of_day(text: str) -> float | None:
    """`14:30`, `14h30`, `2:30 pm`, `14.5`, `-7`, `+5:30`."""
    if (match := _HOUR.fullmatch(text)) is None:
        return _number(text)
    hours = int(match[2]) % _HALF_DAY_HOURS + _HALF_DAY_HOURS * (match[4] == "pm") if match[4] else int(match[2])
    return (hours + int(match[3] or 0) / _MINUTE_S) * (-1 if match[1] == "-" else 1)


def show_hour(hours: float) -> str:
    """`14:30`, `−7:00`."""
    whole, minutes = divmod(round(abs(hours) * _MINUTE_S), _MINUTE_S)
    return f"{'−' if hours < 0 else ''}{whole}:{minutes:02}"


def _aperture(text: str) -> float | None:
    """`5.6`, `f5.6`, `f/5.6`."""
    return _number(text.removeprefix("f").removeprefix("/").lstrip())


def _significant(value: float, digits: int) -> str:
    """A number with so many digits that count, and no zeros that do not."""
    places = max(0, digits - len(f"{abs(value):.0f}")) if abs(value) >= 1 else digits
    shown = f"{value:.{places}f}"
    shown = shown.rstrip("0").rstrip(".") if "." in shown else shown
    return "0" if shown == "-0" else shown.replace("-", "\N{MINUS SIGN}")


def show_time(time_s: float) -> str:
    """`1/8 s`, `6.6 s`, `97 s (1:37)`, `1:02:05`."""
    if 1e-6 < time_s < 0.4 and abs(time_s * round(1 / time_s) - 1) < 0.05:  # noqa: PLR2004 (people say fractions, where one is near enough)
        return f"1/{round(1 / time_s)}\N{NO-BREAK SPACE}s"
    if time_s < _CLOCK_FROM_S:
        return f"{_significant(time_s, 2 if time_s < 10 else 3)}\N{NO-BREAK SPACE}s"  # noqa: PLR2004 (a hand counts no tenths above ten)
    return f"{round(time_s)}\N{NO-BREAK SPACE}s ({clock(time_s)})"


def flashes_said(flashes: float) -> str:
    """`1 flash`, `4 flashes`."""
    return f"{flashes:g}\N{NO-BREAK SPACE}flash{'' if flashes == 1 else 'es'}"


def clock(time_s: float) -> str:
    """`0:45`, `1:37`, `1:02:05`."""
    minutes, seconds = divmod(round(time_s), _MINUTE_S)
    hours, minutes = divmod(minutes, _MINUTE_S)
    return f"{hours}:{minutes:02}:{seconds:02}" if hours else f"{minutes}:{seconds:02}"


@dataclass(frozen=True, slots=True)
class Unit:
    """
    A unit: its sign, the end of every name measured in it, and what a hand may write.

    `others` are (sign, factor, offset): value in this unit = typed * factor + offset. `leads` are signs that may stand in front.
    """

    sign: str
    suffix: str
    reads: Callable[[str], float | None] = _number
    others: tuple[tuple[str, float, float], ...] = ()
    leads: tuple[str, ...] = ()
    digits: int = 3
    shows: Callable[[float], str] | None = None

    def read(self, written: object) -> object:
        """The number that a hand wrote; what is not text is passed on unread."""
        if not isinstance(written, str):
            return written
        text, own = _plain_text(written), _plain_text(self.sign)
        lead = next((sign for sign in self.leads if text.startswith(sign)), "")
        text = text.removeprefix(lead).lstrip()
        if two := _AMBIGUOUS.match(text):
            raise ValueError(f"{two[0]} can mean {two[1]}{two[2]} or {two[1]}.{two[2]}: write it with a point, or without a comma.")
        text = text.replace(",", ".")
        for sign, factor, offset in ((own, 1.0, 0.0), *self.others):
            if sign and text.endswith(sign) and (number := self.reads(text.removesuffix(sign).rstrip())) is not None:
                return number * factor + offset
        if (number := self.reads(text)) is None:
            raise ValueError("This is not a number that can be read here.")
        return number

    def show(self, value: float) -> str:
        """The number for people, with its sign."""
        if self.shows is not None:
            return self.shows(value)
        return f"{_significant(value, self.digits)}\N{NO-BREAK SPACE}{self.sign}".strip()


def _north_south(value: float) -> str:
    return f"{abs(value):.1f}° {'S' if value < 0 else 'N'}"


def _east_west(value: float) -> str:
    return f"{abs(value):.1f}° {'W' if value < 0 else 'E'}"


def file_size(size_bytes: int) -> str:
    """How large a file is, for people: `640 kB`, `3.3 MB`, `120 MB`; a megabyte is a million bytes, here as on every page."""
    if size_bytes < KILOBYTE:
        return f"{size_bytes} bytes"
    if size_bytes < MEGABYTE:
        return f"{max(1, round(size_bytes / KILOBYTE))} kB"
    return f"{size_bytes / MEGABYTE:.{1 if size_bytes < ONE_DIGIT * MEGABYTE else 0}f} MB"


RATIO: Final = Unit("", "_factor", others=(("x", 1.0, 0.0), ("×", 1.0, 0.0)), leads=("x", "×"))
BARE: Final = Unit("", "")
MILLIMETRE: Final = Unit(
    "mm", "_mm", others=(("cm", 10.0, 0.0), ("in", 25.4, 0.0), ("inch", 25.4, 0.0), ('"', 25.4, 0.0), ("ft", 304.8, 0.0), ("m", 1000.0, 0.0))
)
FINE_MILLIMETRE: Final = Unit("mm", "_mm", others=MILLIMETRE.others, digits=4)  # what a trimmer's stop is set to
NANOMETRE: Final = Unit("nm", "_nm")
SECOND: Final = Unit("s", "_s", _clock, shows=show_time)
CELSIUS: Final = Unit("°C", "_celsius", others=(("°f", 5 / 9, -160 / 9), ("f", 5 / 9, -160 / 9), ("c", 1.0, 0.0)))
F_NUMBER: Final = Unit("", "_f", _aperture, shows=lambda value: f"f/{_significant(value, 3)}")
STOP: Final = Unit("stops", "_stops", others=(("stop", 1.0, 0.0),), leads=("±",), digits=2)
DEGREE: Final = Unit("°", "_deg", others=(("deg", 1.0, 0.0), ("degrees", 1.0, 0.0)), shows=lambda value: f"{_significant(value, 2)}°")
LATITUDE: Final = Unit(
    "°", "_deg", others=tuple((sign, way, 0.0) for end, way in (("n", 1.0), ("s", -1.0)) for sign in (f"° {end}", f"°{end}", end)), shows=_north_south
)
LONGITUDE: Final = Unit(
    "°", "_deg", others=tuple((sign, way, 0.0) for end, way in (("e", 1.0), ("w", -1.0)) for sign in (f"° {end}", f"°{end}", end)), shows=_east_west
)
HOUR: Final = Unit("h", "_hours", _hour_of_day, leads=("utc", "gmt"), shows=show_hour)
STOP_PER_MINUTE: Final = Unit("stops/min", "_stops_per_min", others=(("stop/min", 1.0, 0.0),), digits=2)
LOG10: Final = Unit("log10", "_log10")
EXPOSURE_INDEX: Final = Unit("EI", "_ei", leads=("ei", "iso"))
EXPOSURE_VALUE: Final = Unit("EV", "_ev", leads=("ev",))
LUX: Final = Unit("lx", "_lx", others=(("lux", 1.0, 0.0), ("klx", 1000.0, 0.0), ("fc", 10.7639, 0.0)))
LUX_SECOND: Final = Unit("lx s", "_lx_s", others=(("lx·s", 1.0, 0.0),))
LUMINANCE: Final = Unit("cd/m²", "_cd_per_m2", others=(("cd/m2", 1.0, 0.0), ("fl", 3.42626, 0.0)))
PERCENT: Final = Unit("%", "_percent")
ROUGH_PERCENT: Final = Unit("%", "_percent", digits=2)  # chances: nobody counts tenths of them
WATT_SECOND: Final = Unit("W s", "_ws", others=(("ws", 1.0, 0.0), ("w·s", 1.0, 0.0), ("j", 1.0, 0.0)))
GRAM: Final = Unit("g", "_g", others=(("kg", 1000.0, 0.0), ("mg", 0.001, 0.0), ("oz", 28.349523, 0.0), ("lb", 453.59237, 0.0)), digits=3)
SCALE_GRAM: Final = Unit("g", "_g", others=GRAM.others, shows=lambda value: f"{value:.1f}\N{NO-BREAK SPACE}g")  # as a scale for tenths shows it
MILLILITRE: Final = Unit(
    "mL",
    "_ml",
    others=(("fl oz", 29.5735296, 0.0), ("qt", 946.352946, 0.0), ("gal", 3785.411784, 0.0), ("cl", 10.0, 0.0), ("l", 1000.0, 0.0)),
)
GRAM_PER_LITRE: Final = Unit("g/L", "_g_per_l", others=(("mg/l", 0.001, 0.0),))
MILLIGRAM_PER_LITRE: Final = Unit("mg/L", "_mg_per_l", others=(("ppm", 1.0, 0.0), ("g/l", 1000.0, 0.0)))
MOL_PER_LITRE: Final = Unit("mol/L", "_mol_per_l", others=(("mmol/l", 0.001, 0.0), ("m", 1.0, 0.0)))
MILLIMOL_PER_LITRE: Final = Unit(
    "mmol/L", "_mmol_per_l", others=(("°dh", 0.1783, 0.0), ("°fh", 0.0999, 0.0), ("mg/l caco3", 0.00999, 0.0), ("ppm caco3", 0.00999, 0.0))
)
GRAM_PER_MILLILITRE: Final = Unit("g/mL", "_g_per_ml", others=(("kg/l", 1.0, 0.0),), digits=4)
GRAM_PER_MOL: Final = Unit("g/mol", "_g_per_mol", digits=6)
VOLUMES_OF_OXYGEN: Final = Unit("volumes", "_volumes", others=(("vol", 1.0, 0.0),))
SQUARE_METRE: Final = Unit("m²", "_m2")
GRAM_PER_SQUARE_METRE: Final = Unit(
    "g/m²", "_g_per_m2", others=(("mg/ft2", 0.0107639104, 0.0), ("ug/cm2", 0.01, 0.0), ("µg/cm2", 0.01, 0.0), ("µg/cm²", 0.01, 0.0))
)
MILLILITRE_PER_SQUARE_METRE: Final = Unit("mL/m²", "_ml_per_m2")
KILOPASCAL: Final = Unit("kPa", "_kpa", others=(("hpa", 0.1, 0.0), ("mbar", 0.1, 0.0), ("mmhg", 0.133322, 0.0)), digits=4)
DAY: Final = Unit("days", "_days", others=(("day", 1.0, 0.0), ("d", 1.0, 0.0), ("weeks", 7.0, 0.0), ("week", 7.0, 0.0)))
KILOJOULE_PER_MOL: Final = Unit("kJ/mol", "_kj_per_mol")
GRAM_PER_100_ML: Final = Unit("g/100\N{NO-BREAK SPACE}mL", "_g_per_100ml")
MOL: Final = Unit("mol", "_mol", others=(("mmol", 0.001, 0.0),))
PERCENT_PER_DAY: Final = Unit("%\N{NO-BREAK SPACE}a\N{NO-BREAK SPACE}day", "_percent_per_day", digits=2)
VOLT: Final = Unit("V", "_v", others=(("mv", 0.001, 0.0),))
MILLIGRAM: Final = Unit("mg", "_mg", others=(("g", 1000.0, 0.0),))
