"""Where the pieces of a cut sheet lie, which strips are left of it, and how well the pieces go into the holder."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import erf, sqrt
from typing import Literal

from silverwright.errors import OutOfRange
from silverwright.processing.cutting import TOUCHES_MM, Block, Cutting

Kind = Literal["piece", "strip"]


@dataclass(frozen=True, slots=True)
class Part:
    """A piece for the holder or a strip that is left, where it lies on the sheet."""

    kind: Kind
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


def parts_of(cutting: Cutting) -> tuple[Part, ...]:
    """
    Where does each piece lie on the sheet, and which strips are left?

    Pieces are laid against the far edges of an area, too, so that they keep the edges of the factory; what is left lies between the last two.

    Args:
        cutting: How the sheet is divided.

    Returns:
        Pieces first, then strips; together they cover the sheet. [mm]. No uncertainty: it is what is aimed at.

    Source:
        our judgement: an edge cut in the factory is straight, and the trimmer's stop wants a straight one.
    """
    parts = [part for block in cutting.blocks for part in (*_pieces(block), *_strips(block))]
    if not cutting.blocks:
        parts = [Part("strip", 0.0, 0.0, cutting.width_mm, cutting.height_mm)]
    return tuple(sorted(parts, key=lambda part: part.kind))


def factory_edges(part: Part, cutting: Cutting) -> int:
    """
    How many edges of this piece were cut in the factory?

    One for each side of the part that lies on a side of the sheet.

    Args:
        part: A piece or a strip.
        cutting: The plan that it belongs to.

    Returns:
        0 to 4. No uncertainty: it is counted.

    Source:
        our judgement: arithmetic.
    """
    far_mm = (part.left_mm + part.width_mm - cutting.width_mm, part.top_mm + part.height_mm - cutting.height_mm)
    return sum(abs(away_mm) < TOUCHES_MM for away_mm in (part.left_mm, part.top_mm, *far_mm))


def too_large_share(aimed_mm: Sequence[float], opening_mm: Sequence[float], sd_mm: float) -> float:
    """
    How often does a piece turn out too large for the holder's opening?

    p = 1 - Phi((a - w) / s) Phi((b - h) / s)

    Args:
        aimed_mm: Width and height that are aimed at. [mm] > 0
        opening_mm: Width and height of the opening, in the same order. [mm] > 0
        sd_mm: How far a cut strays, one standard deviation. [mm] > 0

    Returns:
        The share of the pieces, 0 to 1. Uncertainty: that of `sd_mm`, which is another for every trimmer and hand.

    Raises:
        OutOfRange: a spread that is not above 0.

    Source:
        our judgement: both cuts stray alike, and independently.
    """
    if sd_mm <= 0:
        raise OutOfRange("sd_mm", sd_mm, "above 0")
    fits = 1.0
    for aimed, opening in zip(aimed_mm, opening_mm, strict=True):
        fits *= (1 + erf((opening - aimed) / (sd_mm * sqrt(2)))) / 2
    return 1 - fits


def _pieces(block: Block) -> Iterator[Part]:
    """The pieces of an area, row by row; the last of each row and column at its far edge."""
    for row in range(block.rows):
        for column in range(block.columns):
            left_mm = block.left_mm + _at(column, block.columns, block.piece_width_mm, block.spare_width_mm)
            top_mm = block.top_mm + _at(row, block.rows, block.piece_height_mm, block.spare_height_mm)
            yield Part("piece", left_mm, top_mm, block.piece_width_mm, block.piece_height_mm)


def _at(place: int, count: int, side_mm: float, spare_mm: float) -> float:
    return place * side_mm + (spare_mm if 0 < place == count - 1 else 0.0)


def _strips(block: Block) -> Iterator[Part]:
    """What falls off: one strip through the whole area, and a short one of each row or column that is cut from it."""
    across_mm, down_mm = block.spare_width_mm, block.spare_height_mm
    left_mm = block.left_mm + max(1, block.columns - 1) * block.piece_width_mm
    top_mm = block.top_mm + max(1, block.rows - 1) * block.piece_height_mm
    if block.rows_first:
        if down_mm > TOUCHES_MM:
            yield Part("strip", block.left_mm, top_mm, block.width_mm, down_mm)
        if across_mm > TOUCHES_MM:
            for row in range(block.rows):
                row_mm = block.top_mm + _at(row, block.rows, block.piece_height_mm, down_mm)
                yield Part("strip", left_mm, row_mm, across_mm, block.piece_height_mm)
        return
    if across_mm > TOUCHES_MM:
        yield Part("strip", left_mm, block.top_mm, across_mm, block.height_mm)
    if down_mm > TOUCHES_MM:
        for column in range(block.columns):
            column_mm = block.left_mm + _at(column, block.columns, block.piece_width_mm, across_mm)
            yield Part("strip", column_mm, top_mm, block.piece_width_mm, down_mm)
