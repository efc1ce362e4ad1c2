"""How a hand writes a number, and how we show one."""

from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright import units
from silverwright.facts.load import fact
from silverwright.units import (
    BARE,
    CELSIUS,
    EXPOSURE_INDEX,
    EXPOSURE_VALUE,
    F_NUMBER,
    GRAM_PER_SQUARE_METRE,
    LUMINANCE,
    LUX,
    MILLIMETRE,
    RATIO,
    SECOND,
    STOP,
    Unit,
    clock,
    file_size,
    show_time,
)

UNITS = [one for one in vars(units).values() if isinstance(one, Unit)]


@pytest.mark.parametrize(
    ("unit", "written", "number"),
    [
        (BARE, "1/4", 0.25),
        (BARE, "1 1/2", 1.5),
        (BARE, "1½", 1.5),
        (BARE, "-1/3", -1 / 3),
        (BARE, "−3", -3),
        (BARE, "1,25", 1.25),
        (BARE, "0,125", 0.125),
        (BARE, "1,2500", 1.25),
        (BARE, ".5", 0.5),
        (BARE, "1e-3", 0.001),
        (BARE, "  7 ", 7),
        (SECOND, "90", 90),
        (SECOND, "1/15 s", 1 / 15),
        (SECOND, "2m30s", 150),
        (SECOND, "2 m 30", 150),
        (SECOND, "2′30″", 150),
        (SECOND, "1.5 min", 90),
        (SECOND, "2,5 min", 150),
        (SECOND, "½ min", 30),
        (SECOND, "3 seconds", 3),
        (SECOND, "1:37", 97),
        (SECOND, "1:37 min", 97),
        (SECOND, "1:02:05", 3725),
        (SECOND, "1 h 5 min", 3900),
        (SECOND, "1h30", 5400),
        (MILLIMETRE, "12 in", 304.8),
        (MILLIMETRE, '8½"', 215.9),
        (MILLIMETRE, "12 inch", 304.8),
        (MILLIMETRE, "0,63 m", 630),
        (MILLIMETRE, "30cm", 300),
        (MILLIMETRE, "2 ft", 609.6),
        (F_NUMBER, "f/5,6", 5.6),
        (F_NUMBER, "F22", 22),
        (F_NUMBER, "f 22", 22),
        (EXPOSURE_VALUE, "EV 10", 10),
        (EXPOSURE_VALUE, "9⅓ EV", 9 + 1 / 3),
        (EXPOSURE_INDEX, "ISO 100", 100),
        (EXPOSURE_INDEX, "EI 1,5", 1.5),
        (LUX, "640 lux", 640),
        (LUX, "1 klx", 1000),
        (LUX, "10 fc", 107.639),
        (RATIO, "2×", 2),
        (RATIO, "x 2", 2),
        (STOP, "1/3 stop", 1 / 3),
        (STOP, "±0.5", 0.5),
        (CELSIUS, "68 °F", 20),
    ],
)
def test_read(unit: Unit, written: str, number: float) -> None:
    assert unit.read(written) == pytest.approx(number)


@pytest.mark.parametrize(
    ("unit", "written"),
    [
        (BARE, ""),
        (BARE, "abc"),
        (BARE, "1/0"),
        (BARE, "1 2"),
        (BARE, "nan"),
        (BARE, "inf"),
        (BARE, "0x10"),
        (BARE, "1,2,3"),
        (SECOND, "s"),
        (SECOND, "h"),
        (SECOND, "1:5"),
        (SECOND, "1:75"),
        (SECOND, "1:61:05"),
        (EXPOSURE_INDEX, "EI"),
        (F_NUMBER, "f/"),
        (MILLIMETRE, "12 parsec"),
    ],
)
def test_not_read(unit: Unit, written: str) -> None:
    with pytest.raises(ValueError, match="not a number"):
        unit.read(written)


@pytest.mark.parametrize(("unit", "written"), [(BARE, "1,250"), (MILLIMETRE, "1,250 mm"), (EXPOSURE_INDEX, "EI 1,250"), (SECOND, "1,250s")])
def test_a_thousand_or_one(unit: Unit, written: str) -> None:
    with pytest.raises(ValueError, match=r"1,250 can mean 1250 or 1\.250"):
        unit.read(written)


@given(st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.lists(st.integers())))
def test_what_is_no_text_is_passed_on(given: object) -> None:
    assert BARE.read(given) is given


@given(st.sampled_from(UNITS), st.text(max_size=12))
def test_any_text_is_a_number_or_refused(unit: Unit, written: str) -> None:
    try:
        assert isinstance(unit.read(written), float | int)
    except ValueError as error:
        assert str(error)


@given(st.sampled_from(UNITS), st.floats(0.5, 1e4))
def test_what_is_shown_can_be_read_again(unit: Unit, value: float) -> None:
    """To the digits that are shown; a time from a minute on is shown twice and read by its clock."""
    shown = unit.show(value)
    shown = shown.partition("(")[2].rstrip(")") or shown
    assert unit.read(shown) == pytest.approx(value, rel=0.06)


@given(st.floats(1e-4, 0.3))
def test_a_fraction_is_the_nearest_one(time_s: float) -> None:
    shown = show_time(time_s).removesuffix("\xa0s")
    assert time_s == pytest.approx(float(Fraction(shown)), rel=0.05)


@pytest.mark.parametrize(
    ("time_s", "shown"),
    [
        (1 / 60, "1/60 s"),
        (0.39, "0.39 s"),
        (1 / 3, "1/3 s"),
        (6.6274, "6.6 s"),
        (22.63, "22.6 s"),
        (59.96, "60 s"),
        (97.03, "97 s (1:37)"),
        (3725, "3725 s (1:02:05)"),
        (0, "0 s"),
    ],
)
def test_times_as_people_say_them(time_s: float, shown: str) -> None:
    assert show_time(time_s).replace("\xa0", " ") == shown


def test_clock() -> None:
    assert [clock(time_s) for time_s in (45, 97, 3725, 59.6)] == ["0:45", "1:37", "1:02:05", "1:00"]


def test_minus_is_a_minus() -> None:
    assert BARE.show(-1.25) == "−1.25"
    assert BARE.show(-0.0001) == "0"


def test_foreign_units_by_their_definitions() -> None:
    """A foot is 304.8 mm: a foot-candle is a lumen on a square foot, a foot-lambert is a foot-candle over pi."""
    assert LUX.read("1 fc") == pytest.approx(1 / 0.3048**2, abs=5e-5)
    assert LUMINANCE.read("1 fL") == pytest.approx(1 / 0.3048**2 / pi, abs=5e-6)
    assert MILLIMETRE.read("1 ft") == pytest.approx(304.8)
    assert CELSIUS.read("32 F") == pytest.approx(0)
    assert CELSIUS.read("212 F") == pytest.approx(100)


@pytest.mark.parametrize(
    ("size_bytes", "shown"),
    [(0, "0 bytes"), (999, "999 bytes"), (1000, "1 kB"), (640_400, "640 kB"), (3_250_001, "3.3 MB"), (1 << 20, "1.0 MB"), (120_400_000, "120 MB")],
)
def test_a_megabyte_is_a_million_bytes(size_bytes: int, shown: str) -> None:
    assert file_size(size_bytes) == shown


@pytest.mark.parametrize("written", ["1.4 ug/cm2", "1.4 µg/cm2", "1.4 µg/cm²", "0.014"])
def test_a_limit_of_thiosulphate_in_both_units_is_one(written: str) -> None:
    """The same limit of film that is to last is printed as 1.4 µg/cm² and as 0.014 g/m² (gosmicro; nishimura1997)."""
    assert GRAM_PER_SQUARE_METRE.read(written) == pytest.approx(fact("carry", "thiosulphate_limit").value)
