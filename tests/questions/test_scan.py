"""Calibration and patches as questions: what is said of odd tablets and patches, what is refused and in which words."""

from math import hypot, log, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.densitometry.test_calibration import formula, published
from tests.scanning.files import WHOLE, steps, tiff

from silverwright.densitometry import calibration as densitometry_calibration
from silverwright.errors import BadQuestion
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions import calibration as calibration_question
from silverwright.questions.calibration import CALIBRATION, CalibrationAnswer
from silverwright.questions.patches import PATCHES, PatchesAnswer
from silverwright.records import Grid
from silverwright.scanning.measure import measure
from silverwright.scanning.orders import Measure

DENSITIES = [round(0.05 + 0.2 * step, 2) for step in range(11)]
LIGHT = [0.9 * 10**-one for one in DENSITIES]


def table(densities: list[float] = DENSITIES, light: list[float] = LIGHT) -> list[dict[str, Any]]:
    return [{"density": one, "grey": other} for one, other in zip(densities, light, strict=True)]


def calibration(**given: Any) -> CalibrationAnswer:
    return CALIBRATION.ask(given)


def patches(*rows: dict[str, Any], **given: Any) -> PatchesAnswer:
    return PATCHES.ask({"steps": table(), "patches": list(rows)} | given)


def notes_of(answer: CalibrationAnswer | PatchesAnswer) -> set[Note]:
    return {one.note for one in answer.notes}


def faults(**given: Any) -> dict[str, str]:
    with pytest.raises(BadQuestion) as refused:
        calibration(**given)
    return {one.field: one.problem for one in refused.value.faults}


def test_the_fewest_steps_are_those_that_the_line_needs() -> None:
    """The question says so without loading the numbers."""
    assert calibration_question.FEWEST_STEPS == densitometry_calibration.FEWEST_STEPS


def test_a_good_tablet() -> None:
    found = calibration(steps=table())
    assert found.largest_miss.value == pytest.approx(0, abs=1e-6)
    assert found.steps_used == tuple(range(1, 12))
    assert len(found.step_misses) == len(found.step_density) == 11
    assert found.red_misses == ()
    assert notes_of(found) == {Note.INDICATIVE_ABOVE}


def test_the_other_way_round_is_offered_and_taken() -> None:
    upside_down = table(light=LIGHT[::-1])
    said = faults(steps=upside_down)
    assert "other way round" in said["turned"]
    found = calibration(steps=upside_down, turned=True)
    assert Note.TABLET_TURNED in notes_of(found)
    assert found.largest_miss.value == pytest.approx(0, abs=1e-6)
    assert "as it lies" in faults(steps=table(), turned=True)["turned"]


def test_a_step_that_turns_back_is_left_out_by_name() -> None:
    light = [*LIGHT[:4], LIGHT[2], *LIGHT[5:]]
    found = calibration(steps=table(light=light))
    assert found.steps_used == (1, 2, 3, 4, 6, 7, 8, 9, 10, 11)
    assert any("Step 5" in one.sentence for one in found.notes if one.note == Note.NOT_MONOTONE)


def test_a_tablet_in_disorder_is_refused_by_its_steps() -> None:
    light = [LIGHT[at] for at in (0, 5, 1, 7, 2, 9, 3, 6, 4, 10, 8)]
    assert "Light must fall" in faults(steps=table(light=light))["steps"]


def test_clipped_ends_are_left_out_by_name() -> None:
    light = [1.0, 1.0, *LIGHT[2:-1], 0.0]
    found = calibration(steps=table(light=light))
    ends = [one.sentence for one in found.notes if one.note == Note.ENDS_CLIPPED]
    assert any("Steps 1 and 2" in one and "light" in one for one in ends)
    assert any("Step 11" in one and "dark" in one for one in ends)
    said = table()
    said[0]["clipped"] = "white"
    assert calibration(steps=said).steps_used[0] == 2


def test_halo_and_few_steps() -> None:
    assert Note.HALO_SUSPECTED in notes_of(calibration(steps=table(), halo_percent=8))
    assert Note.HALO_SUSPECTED not in notes_of(calibration(steps=table(), halo_percent=1))
    assert Note.FEW_STEPS in notes_of(calibration(steps=table(DENSITIES[:6], LIGHT[:6])))


def test_an_end_that_is_missed_by_far_more_is_said() -> None:
    """By hand: eleven steps on a straight line, the darkest 0.04 off it: foretold from the others it is missed by 0.04, they by far less."""
    light = [*LIGHT[:-1], LIGHT[-1] * 10**-0.04]
    found = calibration(steps=table(light=light))
    said = [one.sentence for one in found.notes if one.note == Note.ENDS_MISSED]
    assert found.dark_end_miss.value == pytest.approx(0.04, abs=0.002)
    assert len(said) == 1
    assert said[0].startswith(f"The darkest step is missed by {found.dark_end_miss.value:.3f}: ")
    assert "lightest" not in said[0]
    both = calibration(steps=table(light=[light[0] * 10**0.04, *light[1:]]))
    assert any("and the lightest step is missed by 0.0" in one.sentence for one in both.notes)
    noisy = [one * 10 ** (0.02 * (-1) ** place) for place, one in enumerate(LIGHT)]
    assert Note.ENDS_MISSED not in notes_of(calibration(steps=table(light=noisy))), "missed no more than the others"


@pytest.mark.parametrize(
    ("steps", "word"),
    [
        ([], "at least 5"),
        (table()[:4], "at least 5"),
        ([*table(), {"density": 0.05, "grey": 0.8}], "two rows"),
        ([*table()[:-1], table()[-1] | {"red": 0.1}], "no red"),
        ("0.05 1\n0.25 1\n0.45 1\n0.65 1\n0.85 1", "can be used"),
    ],
)
def test_what_is_no_tablet_is_refused(steps: Any, word: str) -> None:
    assert word in faults(steps=steps)["steps"]


def test_colours_have_their_own_line() -> None:
    rows = [row | {"red": row["grey"] ** 1.1, "green": row["grey"], "blue": row["grey"] ** 0.9} for row in table()]
    found = PATCHES.ask({"steps": rows, "patches": [{"grey": 0.1, "red": 0.1**1.1, "green": 0.1, "blue": 0.1**0.9}]})
    one = found.densities[0]
    assert (found.red_densities[0], found.green_densities[0], found.blue_densities[0]) == pytest.approx((one, one, one), abs=1e-6)
    assert len(CALIBRATION.ask({"steps": rows}).blue_misses) == 11
    with pytest.raises(BadQuestion, match="red channel"):
        patches({"grey": 0.1}, channel="red")


def test_patches_with_their_doubt_and_what_is_left_out() -> None:
    found = patches(
        {"position": 1, "grey": 0.95, "clipped": "white"},
        {"position": 2, "grey": 0.09, "sd": 0.01},
        {"position": 4, "grey": 0.9 * 10**-2.15},
        {"position": 5, "grey": 0.9 * 10**-2.9},
    )
    assert found.positions == (2, 4)
    assert found.densities == pytest.approx((1.0, 2.15), abs=1e-6)
    assert found.density_sds[1] > found.density_sds[0] > 0.01 / 2.31
    assert found.left_out_positions == (1, 5)
    assert {Note.SCAN_DENSITY, Note.PATCH_CLIPPED, Note.BEYOND_TABLET, Note.INDICATIVE} == notes_of(found)


def test_overshoot_beside_the_patches_of_a_sheet_is_told() -> None:
    """The tablet may have been scanned without sharpening, and the sheet with it."""
    assert Note.PATCHES_OVERSHOOT in notes_of(patches({"grey": 0.1}, halo_percent=8))
    assert Note.PATCHES_OVERSHOOT not in notes_of(patches({"grey": 0.1}, halo_percent=1))
    assert Note.PATCHES_OVERSHOOT not in notes_of(patches({"grey": 0.1}))


def test_few_bits_widen_the_doubt_and_say_by_how_much() -> None:
    coarse, fine = patches({"grey": 0.02}, bits=8), patches({"grey": 0.02}, bits=16)
    assert coarse.density_sds[0] > fine.density_sds[0]
    assert Note.EIGHT_BITS in notes_of(coarse)
    assert Note.EIGHT_BITS not in notes_of(fine)


@pytest.mark.parametrize("density", [0.65, 2.0])
def test_what_eight_bits_cost_is_half_a_step_of_the_file(density: float) -> None:
    """A line of gradient 1 and gamma 2.2 from the lightest step on: one number is 2.2 s^(-1/2.2) / 255 / ln 10, and its doubt the root of 12 less."""
    white, light = LIGHT[0], 0.9 * 10**-density
    step = 2.2 * (light / white) ** (-1 / 2.2) / 255 / log(10)
    coarse, fine = (patches({"grey": light}, bits=bits).density_sds[0] for bits in (8, 16))
    assert sqrt(coarse**2 - fine**2) == pytest.approx(step / sqrt(12), rel=0.01)


def test_the_note_of_eight_bits_gives_the_step_at_both_ends() -> None:
    found = patches({"grey": LIGHT[0]}, {"grey": LIGHT[0] * 10**-2}, bits=8)
    (said,) = [one.sentence for one in found.notes if one.note == Note.EIGHT_BITS]
    assert f"by {2.2 / 255 / log(10):.3f} at the lightest and by 0.030 at the darkest" in said, "published: 0.03 two densities below white"


def test_without_a_word_on_the_tablet_our_own_doubts_count() -> None:
    """A tablet that is met exactly: what remains is what all steps are off together, and stray light, a share of white."""
    found = patches({"grey": 0.9 * 10**-0.25}, {"grey": 0.9 * 10**-1.75})
    together, stray = fact("scan", "tablet_together").sd, fact("scan", "stray_light").sd
    assert found.density_sds == pytest.approx([hypot(together, stray * 10**one / log(10)) for one in (0.25, 1.75)], rel=1e-3)
    assert min(together, stray) > 0


def test_a_published_tablet_through_a_file(tmp_path: Path) -> None:
    """
    The published pixel values as a linear file of 16 bits: read, calibrated, and read between the steps.

    Inner steps foretold to 0.018 when left out; between the steps the published formula, which has its own error of up to 0.01 up to 1.65.
    """
    signal, _, known = published()
    between = (signal[1:14] + signal[2:15]) / 2
    shares = np.concatenate([signal, between]) / 255
    path = tiff(tmp_path / "a.tif", steps(shares.tolist(), noise=0.0), compression="lzw", predictor=True)
    read = measure(Measure(str(path), "linear", Grid(WHOLE, 1, len(shares))), lambda _: None)["patches"]
    tablet = [{"density": density, "grey": row["grey"], "red": row["red"]} for density, row in zip(known, read, strict=False)]
    told = calibration(steps=tablet)
    assert told.largest_miss.value is not None
    assert told.largest_miss.value <= 0.018
    assert told.offset.value == 0
    assert told.suspect_steps == ()
    found = PATCHES.ask({"steps": tablet, "patches": [{"grey": row["grey"], "red": row["red"]} for row in read[len(known) :]], "bits": 16})
    assert found.densities == pytest.approx(formula(between), abs=0.015)
    assert found.red_densities == pytest.approx(found.densities, abs=1e-3)


def test_the_doubt_of_the_tablet_counts() -> None:
    assert patches({"grey": 0.2}, tablet_sd=0.02).density_sds[0] == pytest.approx(0.02, rel=0.01)


def test_a_turned_tablet_reads_the_same() -> None:
    turned = PATCHES.ask({"steps": table(light=LIGHT[::-1]), "turned": True, "patches": [{"grey": 0.2}]})
    assert turned.densities == pytest.approx(patches({"grey": 0.2}).densities)


@pytest.mark.parametrize(("rows", "word"), [([], "Needed"), ([{"position": 3, "grey": 0.1}, {"position": 3, "grey": 0.2}], "two rows")])
def test_what_are_no_patches_is_refused(rows: list[dict[str, Any]], word: str) -> None:
    with pytest.raises(BadQuestion, match=word):
        patches(*rows)


def test_the_book_can_hand_a_calibration_on() -> None:
    """What is kept of a calibration is its question: the same steps read patches."""
    kept = {"steps": table(), "turned": False}
    assert calibration(**kept).largest_miss.value is not None
    assert PATCHES.ask(kept | {"patches": [{"grey": 0.1}], "bits": None}).positions == (1,)
