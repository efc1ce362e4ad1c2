"""
How a sheet of paper is cut down to a holder's own size.

Only cuts from edge to edge, as a trimmer makes them: the sheet is divided into areas, and each area into rows of equal pieces that all stand
one way. What is left over falls off as strips.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from math import floor
from typing import Final

from silverwright.errors import OutOfRange

TOUCHES_MM: Final = 1e-6  # arithmetic: what doubles leave of a millimetre
MANY: Final = 40  # our judgement: nobody divides a sheet twice for a piece more among so many
KEPT_PLANS: Final = 4096  # our judgement: the areas of a few plans


@dataclass(frozen=True, slots=True)
class Block:
    """An area of the sheet that is cut into rows and columns of equal pieces; `rows_first` tells which cuts go through the whole of it."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    piece_width_mm: float
    piece_height_mm: float
    columns: int
    rows: int
    rows_first: bool

    @property
    def pieces(self) -> int:
        """How many pieces it gives."""
        return self.columns * self.rows

    @property
    def spare_width_mm(self) -> float:
        """What its rows leave over."""
        return self.width_mm - self.columns * self.piece_width_mm

    @property
    def spare_height_mm(self) -> float:
        """What its columns leave over."""
        return self.height_mm - self.rows * self.piece_height_mm


@dataclass(frozen=True, slots=True)
class Cutting:
    """How one sheet is divided: its size, and its blocks; each block but the first lies beside or below what was cut before."""

    width_mm: float
    height_mm: float
    blocks: tuple[Block, ...]

    @property
    def pieces(self) -> int:
        """How many pieces the sheet gives."""
        return sum(block.pieces for block in self.blocks)


def cutting_of(sheet_mm: tuple[float, float], piece_mm: tuple[float, float]) -> Cutting:
    """
    Into how many pieces does a sheet go, and how?

    n = floor(W / w) floor(H / h) for each area and each way round; the sheet is taken whole, or divided once or twice at whole pieces. Most
    pieces win, then the fewest areas, then the widest strip.

    Args:
        sheet_mm: Width and height of the sheet. [mm] > 0
        piece_mm: Width and height of a piece; it may lie either way. [mm] > 0

    Returns:
        The plan; it has no block where no piece fits. No uncertainty of its own: a trimmer's is `chance_too_large_share`.

    Raises:
        OutOfRange: a side that is not above 0.

    Source:
        our judgement: the best of these plans, as more divisions give nothing at the sizes that papers and holders have.
    """
    sides = {"sheet width": sheet_mm[0], "sheet height": sheet_mm[1], "piece width": piece_mm[0], "piece height": piece_mm[1]}
    for name, side_mm in sides.items():
        if side_mm <= 0:
            raise OutOfRange(name, side_mm, "above 0")
    grid = max(_grid(*sheet_mm, *piece_mm), _grid(*sheet_mm, *reversed(piece_mm)), key=_worth)
    divisions = 1 if sum(block.pieces for block in grid) > MANY else 2
    return Cutting(*sheet_mm, _best(sheet_mm, piece_mm, divisions))


def _fit(room_mm: float, side_mm: float) -> int:
    """How often a side goes into a room."""
    return floor((room_mm + TOUCHES_MM) / side_mm)


def _grid(width_mm: float, height_mm: float, wide_mm: float, high_mm: float) -> tuple[Block, ...]:
    """One block of pieces that all stand one way, or none; the wider of the two rests stays whole."""
    columns, rows = _fit(width_mm, wide_mm), _fit(height_mm, high_mm)
    if not columns * rows:
        return ()
    rows_first = height_mm - rows * high_mm >= width_mm - columns * wide_mm
    return (Block(0.0, 0.0, width_mm, height_mm, wide_mm, high_mm, columns, rows, rows_first),)


def _worth(blocks: tuple[Block, ...]) -> tuple[int, int, float]:
    """Most pieces, then the fewest areas, then the widest strip."""
    widest_mm = max((max(block.spare_width_mm, block.spare_height_mm) for block in blocks), default=0.0)
    return sum(block.pieces for block in blocks), -len(blocks), widest_mm


@lru_cache(maxsize=KEPT_PLANS)
def _best(area_mm: tuple[float, float], piece_mm: tuple[float, float], divisions: int) -> tuple[Block, ...]:
    """The best blocks of an area that may still be divided so often; each lies where it lies in this area."""
    width_mm, height_mm = area_mm
    found = max(_grid(width_mm, height_mm, *piece_mm), _grid(width_mm, height_mm, piece_mm[1], piece_mm[0]), key=_worth)
    if not divisions:
        return found
    for at_mm in _whole_pieces(width_mm, piece_mm):
        one, other = (_best((side_mm, height_mm), piece_mm, divisions - 1) for side_mm in (at_mm, width_mm - at_mm))
        if one and other:
            found = max(found, one + _moved(other, at_mm, 0.0), key=_worth)
    for at_mm in _whole_pieces(height_mm, piece_mm):
        one, other = (_best((width_mm, side_mm), piece_mm, divisions - 1) for side_mm in (at_mm, height_mm - at_mm))
        if one and other:
            found = max(found, one + _moved(other, 0.0, at_mm), key=_worth)
    return found


def _whole_pieces(room_mm: float, piece_mm: tuple[float, float]) -> Iterator[float]:
    """Where a cut leaves whole pieces on one side and something on the other."""
    return (side_mm * count for side_mm in piece_mm for count in range(1, _fit(room_mm, side_mm) + 1) if side_mm * count < room_mm - TOUCHES_MM)


def _moved(blocks: tuple[Block, ...], right_mm: float, down_mm: float) -> tuple[Block, ...]:
    return tuple(replace(one, left_mm=one.left_mm + right_mm, top_mm=one.top_mm + down_mm) for one in blocks)
