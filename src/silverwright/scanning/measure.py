"""The patches of a grid, or the places of a picture, as signals."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from math import ceil
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from silverwright.densitometry.grid import Quad, middle_half, patch_quads
from silverwright.densitometry.patch import FEWEST_PIXELS, PatchSignal, patch_signal
from silverwright.errors import Fault, OutOfRange, ScanRefused
from silverwright.scanning.bands import Band, bands
from silverwright.scanning.halo import Edge, edges_of, halo_percent
from silverwright.scanning.header import Header, stored_place
from silverwright.scanning.judging import notes, refuse_if_any
from silverwright.scanning.kinds import read_header
from silverwright.scanning.light import ToLight, to_light
from silverwright.scanning.orders import Measure, Place
from silverwright.scanning.profile import Samples

ENOUGH_PIXELS: Final = 250_000  # our judgement: grain of 5 % averages to 0.01 % over so many; of larger patches every second row and so on is taken
ENOUGH_ROWS: Final = 64  # our judgement: so many rows of a patch are always taken
COLOURS: Final = ("red", "green", "blue")
OnPercent = Callable[[int], None]


@dataclass(slots=True)
class Patch:
    """Which pixels belong to a patch: for each of its rows the first column, and the one after the last; and those met so far."""

    first_row: int
    starts: NDArray[np.int64]
    ends: NDArray[np.int64]
    every: int
    met: list[Samples] = field(default_factory=list)

    @property
    def last_row(self) -> int:
        """The row after the last."""
        return self.first_row + len(self.starts)

    def pixels(self) -> int:
        """How many there are."""
        return int((self.ends - self.starts)[:: self.every].sum())

    def meet(self, first: int, band: Samples) -> None:
        """Take what lies in this band."""
        begin, end = max(first, self.first_row), min(first + len(band), self.last_row)
        begin += (self.first_row - begin) % self.every
        for row in range(begin, end, self.every):
            at = row - self.first_row
            self.met.append(band[row - first, self.starts[at] : self.ends[at]].copy())


def measure(order: Measure, on_percent: OnPercent) -> dict[str, Any]:
    """Each patch with its signals, and what is worth saying of the file."""
    path = Path(order.path)
    header = read_header(path)
    refuse_if_any(header, order.untagged)
    quads = _wanted(order)
    patches = [_patch(quad, header) for quad in quads]
    _refuse_small(patches)
    edges = edges_of(quads, order.grid.columns, header) if order.grid else []
    light = to_light(header, order.untagged)
    wanted = [*((one.first_row, one.last_row) for one in patches), *(edge.reach for edge in edges)]
    signals = signals_of(bands(path, header, wanted), patches, edges, light, on_percent)
    return {
        "bits": header.bits,
        "patches": [_row(place, one) for place, one in enumerate(signals, 1)],
        "halo_percent": halo_percent(edges, light),
        "notes": notes(header, order.untagged),
    }


def _wanted(order: Measure) -> list[Quad]:
    """The middle half of each patch, or the places as they are; in shares of the picture as it is seen."""
    if order.grid is None:
        return [_around(place) for place in order.places]
    try:
        return [middle_half(quad) for quad in patch_quads(order.grid)]
    except OutOfRange as wrong:
        raise ScanRefused([Fault("grid", "", "These corners enclose no field of patches. Move them apart, in order around the field.")]) from wrong


def _around(place: Place) -> Quad:
    left, right = place.x - place.width / 2, place.x + place.width / 2
    top, bottom = place.y - place.height / 2, place.y + place.height / 2
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _patch(quad: Quad, header: Header) -> Patch:
    """The pixels of the picture as it is stored whose middle lies within four corners."""
    corners = [stored_place(header.orientation, x, y) for x, y in quad]
    places = [(x * header.width_px, y * header.height_px) for x, y in corners]
    top = min(max(ceil(min(y for _, y in places) - 0.5), 0), header.height_px)
    bottom = min(max(ceil(max(y for _, y in places) - 0.5), top), header.height_px)
    middles = np.arange(top, bottom) + 0.5
    left, right = np.full(len(middles), np.inf), np.full(len(middles), -np.inf)
    for (x0, y0), (x1, y1) in zip(places, [*places[1:], places[0]], strict=True):
        if y0 != y1:
            crossed = (middles >= min(y0, y1)) & (middles < max(y0, y1))
            at = x0 + (middles[crossed] - y0) / (y1 - y0) * (x1 - x0)
            left[crossed], right[crossed] = np.minimum(left[crossed], at), np.maximum(right[crossed], at)
    starts = np.clip(np.ceil(np.where(np.isfinite(left), left, 0) - 0.5), 0, header.width_px).astype(np.int64)
    ends = np.clip(np.ceil(np.where(np.isfinite(right), right, 0) - 0.5), starts, header.width_px).astype(np.int64)
    every = max(1, min(int((ends - starts).sum()) // ENOUGH_PIXELS, len(middles) // ENOUGH_ROWS))
    return Patch(top, starts, ends, every)


def _refuse_small(patches: Sequence[Patch]) -> None:
    """Every patch that is too small to be measured."""
    small = [
        Fault("grid", str(place), f"Patch {place} holds {patch.pixels()} pixels of the picture; needed are {FEWEST_PIXELS}. Scan finer, or move it.")
        for place, patch in enumerate(patches, 1)
        if patch.pixels() < FEWEST_PIXELS
    ]
    if small or not patches:
        raise ScanRefused(small or [Fault("grid", "", "Nothing was marked that could be measured. Place the grid, or mark places.")])


def signals_of(read: Iterable[Band], patches: Sequence[Patch], edges: Sequence[Edge], light: ToLight, on_percent: OnPercent) -> list[PatchSignal]:
    """The signals in the patches' order; each is worked out as soon as its last row has passed, and its pixels are let go."""
    found: dict[int, PatchSignal] = {}
    waiting = sorted(range(len(patches)), key=lambda place: patches[place].last_row)
    last = patches[waiting[-1]].last_row
    for first, band in read:
        for place in waiting:
            patches[place].meet(first, band)
        for edge in edges:
            edge.meet(first, band)
        while waiting and patches[waiting[0]].last_row <= first + len(band):
            place = waiting.pop(0)
            found[place] = _signal(patches[place], light)
        on_percent(100 * min(first + len(band), last) // last)
    return [found[place] for place in range(len(patches))]


def _signal(patch: Patch, light: ToLight) -> PatchSignal:
    pixels = np.concatenate(patch.met)
    patch.met.clear()
    return patch_signal(light(pixels))


def _row(position: int, signal: PatchSignal) -> dict[str, Any]:
    """A patch as the book keeps it."""
    colours = dict(zip(COLOURS, signal.channel_signals, strict=True)) if len(signal.channel_signals) > 1 else dict.fromkeys(COLOURS)
    told = {name: getattr(signal, name) for name in ("grey", "sd", "spread_share", "clipped", "pixels")}
    return {"position": position, **colours, **told}
