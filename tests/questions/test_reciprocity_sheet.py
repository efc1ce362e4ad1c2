"""The equal-exposure test: planned, made on paper, read again."""

import csv
from math import log2
from pathlib import Path
from typing import Any

import pytest

from silverwright.catalogue import find
from silverwright.errors import BadQuestion
from silverwright.exposure.equalexposure import loss_stops
from silverwright.records import ReciprocityLaw

PLAN = {"exposure_s": 4, "aperture_f": "f/8", "widest_f": "f/8", "smallest_f": "f/45"}
FILMS = Path(__file__).parents[1] / "authorities" / "reciprocity_films.csv"


def plan(**given: object) -> Any:
    return find("exposure.reciprocity-plan").ask(PLAN | given)


def read(**given: object) -> Any:
    return find("exposure.reciprocity-sheet").ask(given)


def codes(answer: Any) -> set[str]:
    return {note.note.value for note in answer.notes}


def test_a_plan_of_equal_exposures() -> None:
    answer = plan()
    long = [(f, s) for f, s in zip(answer.strip_f, answer.strip_s, strict=True) if f > 8]
    assert long == [(16, 16), (22, 32), (45, 128)]
    assert [s for f, s in zip(answer.strip_f, answer.strip_s, strict=True) if f == 8] == [2, 3, 4]
    assert answer.whole_s.value == pytest.approx(sum(answer.strip_s))
    assert answer.exponent_after_sd.value < 0.07
    assert "one-strip-once" in codes(answer)


def test_more_apertures_and_longer_strips_tell_more() -> None:
    few = plan(smallest_f="f/16", strips="2").exponent_after_sd.value
    assert plan().exponent_after_sd.value < few
    assert plan(density_sd=0.1).exponent_after_sd.value > plan().exponent_after_sd.value


@pytest.mark.parametrize("process", ["direct positive", "negative"])
def test_what_a_density_means(process: str) -> None:
    """Each density of the plan, read back off a sheet by hand, is the loss of its exponent."""
    answer = plan(process=process, density_per_stop=0.7)
    for exponent, density in zip(answer.told_exponent, answer.told_density, strict=True):
        law = ReciprocityLaw(3, exponent)
        lost = loss_stops(128, law) - loss_stops(4, law)
        assert density == pytest.approx((1 if process == "direct positive" else -1) * 0.7 * lost)
        if lost:
            told = read(process=process, density_per_stop=0.7, strip_rows=f"f/8 4 1.5\nf/45 128 {1.5 + density}")
            assert told.strip_lost_stops[0] == pytest.approx(lost, abs=1e-6)


def test_short_strips_and_hours_are_said() -> None:
    assert "short-by-hand" in codes(plan(exposure_s="1/2"))
    assert "light-long" in codes(plan(exposure_s="2h", aperture_f="f/45"))


def made_sheet(law: ReciprocityLaw, slope: float = 0.6) -> str:
    """The strips of the plan on a paper of this law."""
    answer, rows = plan(), []
    for f, s in zip(answer.strip_f, answer.strip_s, strict=True):
        got = log2(s / 4) - 2 * log2({8: 8, 16: 16, 22: 22.627, 45: 45.255}[f] / 8)
        rows.append(f"f/{f:g},{s},{0.8 - slope * (got - loss_stops(s, law) + loss_stops(4, law)):.6f}")
    return "\n".join(rows)


@pytest.mark.parametrize("exponent", [1.0, 1.05, 1.1, 1.2])
def test_a_made_sheet_is_read_back(exponent: float) -> None:
    answer = read(strip_rows=made_sheet(ReciprocityLaw(3, exponent)))
    assert answer.density_per_stop.value == pytest.approx(0.6, abs=0.03)
    assert answer.exponent.low - 0.02 <= exponent <= answer.exponent.high + 0.02
    for lost, time_s in zip(answer.strip_lost_stops, (16, 32, 128), strict=True):
        law = ReciprocityLaw(3, exponent)
        assert lost == pytest.approx(
            loss_stops(time_s, law) - loss_stops(4, law), abs=0.08
        )  # half of what leaves it in doubt: our guess of what the short strips lose
    assert codes(answer) <= {"own-point"}


def test_the_point_to_write_down_is_the_metered_time_of_the_long_strip() -> None:
    answer = read(strip_rows="f/8 4 0.75\nf/32 64 0.95", density_per_stop=0.5)
    assert answer.strip_lost_stops[0] == pytest.approx(0.4)
    assert answer.own_metered_s[0] == pytest.approx(64 * 2**-0.4)
    own = find("exposure.reciprocity").ask({"metered_s": 60, "own_points": f"{answer.own_metered_s[0]} 64"})
    assert own.exponent.value > 1.08


def test_two_films_by_their_tables() -> None:
    """A strip that got the printed needed time lost what the table says; the exponent comes out above paper's and below the films' steepest part."""
    rows = list(csv.DictReader(line for line in FILMS.read_text(encoding="utf-8").splitlines() if not line.startswith("#")))
    for film in ("ISO 400 film", "tabular-grain film"):
        points = [(float(row["metered_s"]), float(row["needed_s"])) for row in rows if row["film"] == film and float(row["metered_s"]) >= 60]
        strip_rows = ["1 1 0.8"]
        for metered_s, needed_s in points:
            strip_rows.append(f"{needed_s**0.5},{needed_s},{0.8 + 0.6 * log2(needed_s / metered_s)}".replace(",", " "))
        answer = read(strip_rows="\n".join(strip_rows), density_per_stop=0.6, aperture_scale="exact")
        assert answer.own_metered_s == pytest.approx([metered_s for metered_s, _ in points])
        assert answer.exponent.value > 1.15


def test_a_strip_that_does_not_fit_is_named() -> None:
    answer = read(strip_rows="f/8 2.8 1.1\nf/8 4 0.8\nf/8 5.6 0.5\nf/16 16 0.85\nf/22 32 2.2\nf/45 128 0.95")
    assert {"strip-odd", "beyond-scale"} <= codes(answer)
    assert any("32" in note.sentence for note in answer.notes if note.note.value == "strip-odd")


def test_a_strip_that_does_not_fit_is_no_point_to_write_down() -> None:
    gross = read(strip_rows="f/8 2 1.3\nf/8 4 0.8\nf/16 16 0.85\nf/32 64 4")
    assert "strip-odd" in codes(gross)
    assert "needed 16\N{NO-BREAK SPACE}s" in next(note.sentence for note in gross.notes if note.note.value == "own-point")
    assert "own-point" not in codes(read(strip_rows="f/8 2 1.3\nf/8 4 0.8\nf/32 64 4"))


def test_without_a_scale_it_says_what_is_taken() -> None:
    assert "not-given" in codes(read(strip_rows="f/8 4 0.75\nf/32 64 0.95"))
    assert "not-given" not in codes(read(strip_rows="f/8 4 0.75\nf/32 64 0.95", density_per_stop=0.6))


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "A line for each strip"),
        ({"strip_rows": "f/8 4 0.8\nf/8 6 0.5"}, "one aperture"),
        ({"strip_rows": "f/8 64 0.8\nf/32 4 0.5"}, "nothing to lose"),
        ({"strip_rows": "f/8 4 0.5\nf/8 6 0.8\nf/32 64 0.9"}, "comes out lighter"),
        ({"strip_rows": "f/8 4 0.8\nf/8 6 0.5\nf/32 64 0.9", "process": "negative"}, "comes out darker"),
    ],
)
def test_sheets_that_cannot_be(given: dict[str, object], words: str) -> None:
    with pytest.raises(BadQuestion, match=words):
        read(**given)


def test_a_plan_needs_two_openings() -> None:
    with pytest.raises(BadQuestion, match="one stop smaller"):
        plan(smallest_f="f/8")
