"""Whatever bytes a file holds: a result, a refusal or a failure in words, never a traceback and never figures beyond the scale."""

import logging
from collections.abc import Iterator
from math import isfinite
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.scanning.files import SRGB, WHOLE, curv, jpeg, pixels, png, table_profile, tiff, with_curves

from silverwright.errors import ScanFailed, ScanRefused
from silverwright.records import Grid
from silverwright.scanning.capped import carry_out
from silverwright.scanning.child import last_word
from silverwright.scanning.orders import Look, Measure

FOUR = Grid(WHOLE, 2, 2)


@pytest.fixture(autouse=True)
def _quiet() -> Iterator[None]:
    """The reader of TIFF tells its log what it meets; here that is what we ask for."""
    log = logging.getLogger("tifffile")
    before = log.level
    log.setLevel(logging.CRITICAL)
    yield
    log.setLevel(before)


def kinds(folder: Path) -> Iterator[Path]:
    """A small file of every kind."""
    smooth = np.sort(pixels(48, 64), axis=1)
    yield tiff(folder / "plain.tif", smooth, iccprofile=with_curves(SRGB))
    yield tiff(folder / "strips.tif", smooth, rowsperstrip=5, byteorder=">", iccprofile=with_curves(curv(0x0233)))
    yield tiff(folder / "lzw.tif", smooth, compression="lzw", predictor=True, rowsperstrip=8)
    yield tiff(folder / "deflate.tif", smooth, compression="deflate", tile=(16, 16), iccprofile=table_profile(lambda share: share))
    yield tiff(folder / "apart.tif", np.moveaxis(smooth, 2, 0), planarconfig="separate", rowsperstrip=9)
    yield png(folder / "a.png", smooth)
    yield jpeg(folder / "a.jpg", (smooth >> 8).astype("u1"))


def carried_out(order: Measure | Look) -> dict[str, Any]:
    """The child's last word, checked."""
    heard: list[int] = []
    told = last_word(order, heard.append)
    assert len(told.keys() & {"result", "refused", "failed"}) == 1
    for fault in told.get("refused", []):
        assert fault["problem"].endswith(".")
    if "failed" in told:
        assert "made a mistake" not in told["failed"]
    for one in told.get("result", {}).get("patches", []):
        assert 0 <= one["grey"] <= 1.01
        assert isfinite(one["sd"])
    return told


def test_the_files_are_good_before_they_are_damaged(tmp_path: Path) -> None:
    for path in kinds(tmp_path):
        assert "result" in carried_out(Measure(str(path), "linear", FOUR)), path.name
        assert "result" in carried_out(Look(str(path), "linear", str(tmp_path / f"views of {path.name}"), find=False)), path.name


@pytest.mark.parametrize("seed", range(7))
def test_cut_off_at_fifty_places(tmp_path: Path, seed: int) -> None:
    """A whole picture is asked for, so half a file is never measured."""
    path = list(kinds(tmp_path))[seed]
    content = path.read_bytes()
    chance = np.random.default_rng(seed)
    for number, length in enumerate(chance.integers(0, len(content) - 40, 50)):
        cut = tmp_path / f"{number}{path.suffix}"
        cut.write_bytes(content[: int(length)])
        told = carried_out(Measure(str(cut), "linear", FOUR))
        seen = carried_out(Look(str(cut), "linear", str(tmp_path / f"views{number}"), find=False))
        assert "result" not in seen, f"{path.name} cut at {length} of {len(content)}"
        assert path.suffix != ".tif" or "result" not in told


@pytest.mark.parametrize("seed", range(7))
def test_flipped_bytes(tmp_path: Path, seed: int) -> None:
    path = list(kinds(tmp_path))[seed]
    content = np.frombuffer(path.read_bytes(), "u1")
    chance = np.random.default_rng(100 + seed)
    words: set[str] = set()
    for number in range(120):
        broken = content.copy()
        many = int(chance.integers(1, 6))
        reach = len(content) if number % 2 else min(len(content), 400)  # every second time where the file says what it is
        broken[chance.integers(0, reach, many)] = chance.integers(0, 256, many)
        if number % 4 == 2:  # the end, where many TIFFs keep their tags
            broken[-int(chance.integers(2, 300))] = chance.integers(0, 256)
        damaged = tmp_path / f"{number}{path.suffix}"
        damaged.write_bytes(broken.tobytes())
        words |= carried_out(Measure(str(damaged), "linear", FOUR)).keys()
        if number % 5 == 0:
            words |= carried_out(Look(str(damaged), "linear", str(tmp_path / f"views{number}"), find=False)).keys()
    assert "result" in words or "refused" in words


def test_through_the_child(tmp_path: Path) -> None:
    """The same once more from outside: only our two kinds of error come out."""
    chance = np.random.default_rng(9)
    for path in kinds(tmp_path):
        content = np.frombuffer(path.read_bytes(), "u1").copy()
        content[chance.integers(0, len(content), 8)] = 255
        path.write_bytes(content.tobytes())
        try:
            found = carry_out(Measure(str(path), "linear", FOUR), lambda _: None)
        except (ScanRefused, ScanFailed) as error:
            assert str(error).endswith(".")
        else:
            assert len(found["patches"]) == 4
