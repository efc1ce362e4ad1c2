"""Calibration and patches as questions: what is said of odd tablets and patches, what is refused and in which words."""

from typing import Any

import pytest

from silverwright.errors import BadQuestion
from silverwright.notes import Note
from silverwright.questions.calibration import CALIBRATION, CalibrationAnswer
from silverwright.questions.patches import PATCHES, PatchesAnswer

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


def test_few_bits_widen_the_doubt_and_say_by_how_much() -> None:
    coarse, fine = patches({"grey": 0.02}, bits=8), patches({"grey": 0.02}, bits=16)
    assert coarse.density_sds[0] > fine.density_sds[0]
    assert Note.EIGHT_BITS in notes_of(coarse)
    assert Note.EIGHT_BITS not in notes_of(fine)


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
