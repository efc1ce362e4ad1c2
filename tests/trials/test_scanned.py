"""Grids and densities of made scans: found where they are, and never surely somewhere else."""

from pathlib import Path

import numpy as np
import pytest
from tests.trials.scanned import is_right, read_sheet, seek_picture, seek_sheet, seek_tablet
from trials.scans.made import step_sheet

from silverwright.records import Grid

SEEDS = range(60_000, 60_020)


def test_a_grid_is_judged_by_the_truth() -> None:
    made = step_sheet(4, longest_px=300)
    first, second, third, fourth = made.corners
    assert is_right(Grid((first, second, third, fourth), made.rows, made.columns), made)
    assert not is_right(Grid((first, second, third, fourth), made.rows, made.columns + 1), made)
    pushed = (first[0] + 0.3 * (second[0] - first[0]) / made.columns, first[1])
    assert not is_right(Grid((pushed, second, third, fourth), made.rows, made.columns), made)
    assert not is_right(None, made)


@pytest.mark.slow
@pytest.mark.parametrize("told", [True, False], ids=["told", "not told"])
def test_step_sheets(*, told: bool) -> None:
    found = [seek_sheet(seed, told=told) for seed in SEEDS]
    assert [seed for seed, one in zip(SEEDS, found, strict=True) if one.sure and not one.right] == []
    if told:  # `make bench` counts a hundred others
        assert sum(one.sure and one.right for one in found) >= 0.95 * len(found)
    else:
        assert not any(one.sure for one in found), "nobody said how many rows and columns there are"
        assert sum(one.right for one in found) >= 0.8 * len(found)


@pytest.mark.slow
def test_step_tablets() -> None:
    found = [seek_tablet(seed, told=True) for seed in SEEDS]
    assert [seed for seed, one in zip(SEEDS, found, strict=True) if one.sure and not one.right] == []
    assert sum(one.sure and one.right for one in found) >= 0.8 * len(found)


@pytest.mark.slow
def test_a_photograph_has_no_grid() -> None:
    assert [seed for seed in SEEDS if seek_picture(seed).sure] == []


@pytest.mark.slow
def test_densities_lie_within_their_limits(tmp_path: Path) -> None:
    """80 % of some 200 patches; those of one sheet go together, so the share is good to four points or so."""
    patches = [one for seed in SEEDS for one in read_sheet(seed, tmp_path)]
    assert 100 * np.mean([one.held for one in patches]) == pytest.approx(80, abs=13)
    assert np.sqrt(np.mean([(one.read - one.true) ** 2 for one in patches if one.true < 1.4])) < 0.01
