"""What a scan looks like: pictures for the eye, tiles for the zoom, and where its patches seem to lie."""

from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path
from typing import Any, Final

import numpy as np
import pyvips
from numpy.typing import NDArray

from silverwright.densitometry.patch import GREY_WEIGHTS
from silverwright.scanning.bands import bands, opened, short_of_memory
from silverwright.scanning.header import Header
from silverwright.scanning.judging import notes, refuse_if_any
from silverwright.scanning.kinds import read_header
from silverwright.scanning.light import curves_of, to_light
from silverwright.scanning.orders import Look

AROUND_PX: Final = 1400  # our judgement: about the longest side of the picture that everything small is made of
ROWS_OF_SQUARE: Final = 3  # our judgement: of a square's rows at least so many are taken, and every one of small squares
SEARCHED_PX: Final = 1200  # our judgement: the longest side of the picture in which patches are looked for
PREVIEW_PX: Final = 1600  # our judgement: the longest side of a picture that fills a page
THUMB_PX: Final = 320  # our judgement: the longest side of a small one in a list
TILE_PX: Final = 256  # our judgement: a tile is fetched in a moment
OVERLAP_PX: Final = 1  # our judgement: one pixel hides the seam
QUALITY: Final = 90  # our judgement: for the eye alone, nothing is measured on it
FULL_8: Final = 255  # arithmetic: the largest number of 8 bits
# IEC 61966-2-1 from light to numbers for the eye.
START_SLOPE, START_ENDS, SCALE, POWER = 12.92, 0.0031308, 1.055, 1 / 2.4  # source: IEC 61966-2-1
REDUCED_BY: Final = 50  # our judgement: percent of the work that is done when the reduced picture stands
OnPercent = Callable[[int], None]
Picture = Any  # of a library without types


def look(order: Look, on_percent: OnPercent) -> dict[str, Any]:
    """What the file says of itself, its pictures in the folder, and the grid as it was found."""
    path, folder = Path(order.path), Path(order.tiles_folder)
    header = read_header(path)
    refuse_if_any(header, order.untagged)
    pyvips.cache_set_max(0)
    folder.mkdir(parents=True)
    reduced = _reduced(path, header, order.untagged, lambda percent: on_percent(percent * REDUCED_BY // 100))
    try:  # the whole picture was read by now: what fails is the writing
        _small_pictures(reduced, folder)
        _tiles(path, header, order.untagged, folder, lambda percent: on_percent(REDUCED_BY + percent * (100 - REDUCED_BY) // 100))
    except pyvips.Error as error:
        raise MemoryError if short_of_memory(error) else OSError(str(error)) from error
    told: dict[str, Any] = {"header": header.as_json(), "problems": [], "notes": notes(header, order.untagged)}
    told |= {"grid": None, "grid_sure": False, "grid_why": ""}
    if order.find:
        from silverwright.densitometry.find_grid import find_grid  # noqa: PLC0415 (a picture has no patches to look for)

        found = find_grid(_searched(reduced), order.rows, order.columns)
        told |= {"grid": found.grid and asdict(found.grid), "grid_sure": found.sure, "grid_why": found.why}
    return told


def _reduced(path: Path, header: Header, untagged: str, on_percent: OnPercent) -> Picture:
    """The picture in linear light, small, and as it is seen: means of squares of pixels. What is left over at its far edges is less than one."""
    curves, light = curves_of(header, untagged), to_light(header, untagged)
    each = max(1, round(max(header.width_px, header.height_px) / AROUND_PX))
    wide, high = max(1, header.width_px // each), max(1, header.height_px // each)
    wide_each, high_each = header.width_px // wide, header.height_px // high
    every = max(1, high_each // ROWS_OF_SQUARE)
    small = np.zeros((high, wide, header.channels), np.float32)
    summed = np.zeros((wide * wide_each, header.channels), np.float32)
    for first, band in bands(path, header, [(0, header.height_px)]):
        for row in range(first + -first % every, min(first + len(band), high * high_each), every):
            numbers = band[row - first, : wide * wide_each]
            summed += light(numbers) if curves else numbers
            if (row + every) // high_each > row // high_each:  # the last of its squares
                small[row // high_each] = summed.reshape(wide, wide_each, -1).mean(axis=1)
                summed[:] = 0
        on_percent(100 * (first + len(band)) // header.height_px)
    small /= np.bincount(np.arange(0, high * high_each, every) // high_each)[:, None, None]
    if not curves:
        small = light(np.rint(small).astype(f"u{header.bits // 8}").reshape(-1, header.channels)).reshape(small.shape)
    return _turned(pyvips.Image.new_from_array(small), header.orientation)


def _watched(picture: Picture, on_percent: OnPercent) -> Picture:
    picture.set_progress(True)
    picture.signal_connect("eval", lambda _, progress: on_percent(progress.percent))
    return picture


def _turned(picture: Picture, orientation: int) -> Picture:
    """As it is seen."""
    turned = picture.copy()
    turned.set_type(pyvips.GValue.gint_type, "orientation", orientation)
    return turned.autorot()


def _searched(light: Picture) -> NDArray[np.float64]:
    """The grey of the reduced picture, for the search."""
    grey = light if light.bands == 1 else light.recomb([list(GREY_WEIGHTS)])
    scale = min(1.0, SEARCHED_PX / max(grey.width, grey.height))
    small = grey.resize(scale, kernel="linear") if scale < 1 else grey
    found: NDArray[np.float64] = small.numpy().reshape(small.height, small.width).astype(np.float64)
    return found


def _small_pictures(light: Picture, folder: Path) -> None:
    """For the page and for lists."""
    for name, longest_px in (("preview", PREVIEW_PX), ("thumb", THUMB_PX)):
        scale = min(1.0, longest_px / max(light.width, light.height))
        small = light.resize(scale, kernel="linear") if scale < 1 else light
        seen = _for_the_eye(small.numpy().reshape(small.height, small.width, light.bands))
        pyvips.Image.new_from_array(seen).pngsave(str(folder / f"{name}.png"), keep="none")


def _for_the_eye(light: NDArray[np.float32]) -> NDArray[np.uint8]:
    """Light as the numbers of a screen: sRGB, 8 bits."""
    share = np.clip(light, 0, 1)
    numbers = np.where(share <= START_ENDS, START_SLOPE * share, SCALE * share**POWER - (SCALE - 1))
    seen: NDArray[np.uint8] = np.rint(numbers * FULL_8).astype(np.uint8)
    return seen


def _tiles(path: Path, header: Header, untagged: str, folder: Path, on_percent: OnPercent) -> None:
    """The whole picture in tiles of every size."""
    curves = curves_of(header, untagged)
    picture = opened(path, header)[: header.channels]
    if curves:
        seen = picture.maplut(pyvips.Image.new_from_array(_for_the_eye(np.stack(curves, axis=1)[None])))
    else:
        named = picture.copy()
        named.set_type(pyvips.GValue.blob_type, "icc-profile-data", header.icc)
        seen = named.icc_transform("srgb", embedded=True, intent="relative", depth=8)
    seen = seen.copy(interpretation="b-w" if header.channels == 1 else "srgb")
    if header.orientation != 1:  # what is turned is read in another order than it is stored in: it waits on the disk
        waiting = folder.parent / "temporary" / "upright.v"
        seen.write_to_file(str(waiting))
        seen = _turned(pyvips.Image.new_from_file(str(waiting), access="random"), header.orientation)
    _watched(seen, on_percent)
    seen.dzsave(str(folder / "tiles"), tile_size=TILE_PX, overlap=OVERLAP_PX, suffix=f".jpg[Q={QUALITY}]", keep="none")
