"""What each patch got: worked by hand in lux seconds, and by the ledger read backwards."""

from math import hypot, log2, log10
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.api import ask
from silverwright.errors import BadQuestion, OutOfRange
from silverwright.records import PatchLight
from silverwright.sensitometry.steps import between_strips_log10, even_tablet, patch_log10

METERED = {"reading_ev": 10, "meter_k": 12.5, "magnification_factor": 0, "pupil_factor": 1, "reciprocity_model": "none"}


def test_light_time_and_density_by_hand() -> None:
    """2 lx for 5 s behind density 0.30: 10 lx s less half of it, 5.01 lx s."""
    assert 10 ** patch_log10(PatchLight(2.0, 5.0, 0.30)) == pytest.approx(10 * 10**-0.30)
    with pytest.raises(OutOfRange):
        patch_log10(PatchLight(0.0, 5.0))


def test_the_usual_tablet() -> None:
    """21 steps of 0.15 from 0.05 end at 3.05."""
    tablet = even_tablet(0.05, 0.15, 21)
    assert (len(tablet), tablet[0]) == (21, 0.05)
    assert tablet[-1] == pytest.approx(3.05)


def test_behind_a_tablet_in_lux_seconds() -> None:
    answer: Any = ask("sensitometry.steps", how="step tablet", tablet_densities="0.05 0.2 0.35", paper_lx=2, given_s=5, reciprocity_model="none")
    assert answer.metered
    assert answer.exposure_log10 == pytest.approx([1 - 0.05, 1 - 0.2, 1 - 0.35])
    assert answer.strip_ei == pytest.approx([8.125 / 10**one for one in answer.exposure_log10])


def test_in_the_camera_the_equation_of_the_meter_holds() -> None:
    """EV 10 at f/16 exact: 1/4 s is what EI 100 asks for; H = 8.125/100 there, and 64 times that in 16 s."""
    answer: Any = ask("sensitometry.steps", how="timed strips", strip_times_s="0.25 16", aperture_f=16, aperture_scale="exact", **METERED)
    assert answer.strip_ei == pytest.approx([100, 100 / 64])
    assert answer.exposure_log10 == pytest.approx([log10(0.08125), log10(0.08125 * 64)])


def test_the_dark_slide_adds_up_and_reciprocity_counts_each_strip() -> None:
    """8, 3.3, 4.7, 6.6, 9.4 s make 8 to 32 s in half stops; above 3 s each amounts to 3 (t/3)^(1/1.08)."""
    answer: Any = ask("sensitometry.steps", how="dark slide", strip_times_s="8 3.3 4.7 6.6 9.4")
    assert answer.strip_s == pytest.approx([8, 11.3, 16, 22.6, 32])
    assert answer.effective_s == pytest.approx([3 * (t / 3) ** (1 / 1.08) for t in answer.strip_s])
    assert not answer.metered
    assert answer.exposure_log10[4] - answer.exposure_log10[0] == pytest.approx(log10(4) / 1.08)
    assert [one.note.value for one in answer.notes] == ["relative-only"]


def test_apertures_are_taken_at_their_true_size() -> None:
    """Marked f/22 is f/22.6: a whole stop from f/16."""
    answer: Any = ask("sensitometry.steps", how="apertures", strip_apertures_f="f/22 f/16 f/11")
    assert [b - a for a, b in zip(answer.exposure_log10, answer.exposure_log10[1:], strict=False)] == pytest.approx([log10(2)] * 2)
    exact: Any = ask("sensitometry.steps", how="apertures", strip_apertures_f="f/22 f/11", aperture_scale="exact")
    assert exact.exposure_log10[1] - exact.exposure_log10[0] == pytest.approx(2 * log10(2))


def test_strip_three_is_right() -> None:
    """Its index, with the eye's 0.25 stop and the light's own doubt."""
    answer: Any = ask("sensitometry.steps", how="dark slide", strip_times_s="8 3.3 4.7 6.6 9.4", aperture_f="f/16", right_strip=3, **METERED)
    assert answer.right_ei.value == pytest.approx(answer.strip_ei[2])
    assert answer.right_sd_stops.value == pytest.approx(hypot(0.25, answer.light_sd_stops.value))
    between: Any = ask("sensitometry.steps", how="dark slide", strip_times_s="8 3.3 4.7 6.6 9.4", aperture_f="f/16", right_strip="3,5", **METERED)
    assert log2(between.right_ei.value) == pytest.approx((log2(answer.strip_ei[2]) + log2(answer.strip_ei[3])) / 2)


def test_the_ledger_adds_up_to_the_exposure_of_the_right_strip() -> None:
    answer: Any = ask(
        "sensitometry.steps", how="timed strips", strip_times_s="4 8 16", right_strip=2, aperture_f="f/8", reading_ev=6, filter_factor=2
    )
    assert sum(line.amount for line in answer.ledger) == pytest.approx(answer.exposure_log10[1] / log10(2))


def test_strips_and_ledger_are_the_same_arithmetic() -> None:
    """A strip whose index the ledger is given asks for that strip's time again, reciprocity, bellows and filter included."""
    scene = {"reading_ev": 9, "meter_k": 12.5, "focal_mm": 210, "extension_mm": 280, "filter_factor": 2}
    strips: Any = ask("sensitometry.steps", how="dark slide", strip_times_s="20 20 40", aperture_f="f/16", **scene)
    for given_s, ei in zip(strips.strip_s, strips.strip_ei, strict=True):
        ledger: Any = ask("exposure.ledger", aperture_f="f/16", paper_ei=ei, **scene)
        assert ledger.time_s.value == pytest.approx(given_s, rel=1e-6)


@given(st.lists(st.floats(-3, 3), min_size=2, max_size=9), st.data())
def test_between_two_strips(exposures: list[float], data: st.DataObject) -> None:
    strip = data.draw(st.floats(1, len(exposures)))
    found = between_strips_log10(exposures, strip)
    before = int(strip)
    pair = exposures[before - 1 : before + 1]
    assert min(pair) - 1e-9 <= found <= max(pair) + 1e-9
    assert between_strips_log10(exposures, before) == exposures[before - 1]


@pytest.mark.parametrize(
    ("given_", "field", "words"),
    [
        ({}, "how", "Needed"),
        ({"how": "dark slide"}, "strip_times_s", "in the order given"),
        ({"how": "apertures"}, "strip_apertures_f", "aperture of each patch"),
        ({"how": "typed"}, "exposure_log10", "log exposure of each patch"),
        ({"how": "step tablet", "tablet_steps": 21}, "tablet_densities", "how many steps"),
        ({"how": "step tablet", "tablet_densities": "0 1", "paper_lx": 1}, "given_s", "time is needed"),
        ({"how": "timed strips", "strip_times_s": "1 2", "reading_ev": 9}, "aperture_f", "aperture is needed"),
        ({"how": "timed strips", "strip_times_s": "1 2", "right_strip": 4}, "right_strip", "2 strips"),
        ({"how": "timed strips", "strip_times_s": "1 2", "dial_time_s": 1}, "dial_ei", "EI that it was set to"),
        ({"how": "timed strips", "strip_times_s": "1 zwei"}, "strip_times_s", "not a number"),
    ],
)
def test_what_is_missing_is_said_beside_its_field(given_: dict[str, object], field: str, words: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        ask("sensitometry.steps", **given_)
    assert words in {one.field: one.problem for one in caught.value.faults}[field]
