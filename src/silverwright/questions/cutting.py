"""How do I cut a sheet of paper down to my holder's own size?"""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil
from typing import Annotated, ClassVar, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Plain, Words
from silverwright.asking.operation import Answer, Estimate, Operation, Question, Remark, refuse, remark
from silverwright.facts.load import Fact, fact
from silverwright.notes import Note
from silverwright.processing.cutparts import Part, factory_edges, parts_of, too_large_share
from silverwright.processing.cutting import Block, Cutting, cutting_of
from silverwright.questions.entry import around, says
from silverwright.questions.sheetsize import SHEET_SIZE, SheetSize, sheet_size, size_said
from silverwright.units import FINE_MILLIMETRE as MILLIMETRE
from silverwright.vocabulary_shelf import (
    FACTORY_EDGES,
    PAPER_USED_PERCENT,
    PART_HEIGHT_MM,
    PART_LEFT_MM,
    PART_TOP_MM,
    PART_WIDTH_MM,
    PIECE_HEIGHT_MM,
    PIECE_WIDTH_MM,
    PIECES_CUT,
    PIECES_EACH,
    PIECES_WANTED,
    SHEETS_CUT,
    SHEETS_TO_CUT,
    TOO_LARGE_PERCENT,
    TRIM_MM,
)

HOLDER_SIZE: Final = Words(help="The size that the holder is called by.", example="4x5 in", longest=40, label="Holder's size")
OPENING_SIZE: Final = Words(
    help="The holder's own opening, measured from guide to guide: a sheet must go in between.",
    example="101.4 x 126.6 mm",
    longest=40,
    label="Opening",
)
FAR_OFF: Final = 0.06  # our judgement: no opening differs so much, as a share, from what its holder is called by
MOST_PIECES: Final = 400  # our judgement: whoever gets more from one sheet took another unit than was meant


class CuttingQuestion(Question):
    """The sheet, the holder, and how many are cut or wanted."""

    sheet_size: Annotated[str, SHEET_SIZE]
    holder_size: Annotated[str, HOLDER_SIZE]
    opening_size: Annotated[str, OPENING_SIZE] = ""
    trim_mm: Annotated[float | None, TRIM_MM, Field(validate_default=True)] = None
    sheets_to_cut: Annotated[float | None, SHEETS_TO_CUT] = None
    pieces_wanted: Annotated[float | None, PIECES_WANTED] = None

    @field_validator("sheet_size", "holder_size")
    @classmethod
    def _a_size(cls, written: str) -> str:
        sheet_size(written)
        return written

    @field_validator("opening_size")
    @classmethod
    def _the_opening_of_that_holder(cls, written: str, seen: ValidationInfo) -> str:
        if written and "holder_size" in seen.data:
            opening, holder = sheet_size(written), sheet_size(seen.data["holder_size"])
            for told, named in ((opening.short_mm, holder.short_mm), (opening.long_mm, holder.long_mm)):
                if abs(told / named - 1) > FAR_OFF:
                    raise refuse(
                        f"{MILLIMETRE.show(told)} is far from the {MILLIMETRE.show(named)} of {holder.says}. Measure from guide to guide, "
                        "where the sheet slides in, or give the holder's other size."
                    )
        return written

    @field_validator("trim_mm")
    @classmethod
    def _goes_into_the_sheet(cls, trim_mm: float | None, seen: ValidationInfo) -> float | None:
        if not {"sheet_size", "holder_size", "opening_size"} <= seen.data.keys():
            return trim_mm
        sheet, holder = sheet_size(seen.data["sheet_size"]), sheet_size(seen.data["holder_size"])
        if trim_mm is not None and trim_mm > holder.short_mm / 2:
            raise refuse("Nothing is left of the piece: one or two millimetres are common practice.")
        piece = piece_for(seen.data["holder_size"], seen.data["opening_size"], trim_mm)
        if piece.short_mm > sheet.short_mm or piece.long_mm > sheet.long_mm:
            raise refuse(f"A piece of {piece.says} does not go into a sheet of {sheet.says}: take a larger sheet.", field="sheet_size")
        if sheet.short_mm * sheet.long_mm > MOST_PIECES * piece.short_mm * piece.long_mm:
            problem = f"A sheet of {sheet.says} would give over {MOST_PIECES} pieces of {piece.says}: is one of the units another one?"
            raise refuse(problem, field="sheet_size")
        return trim_mm

    @field_validator("sheets_to_cut", "pieces_wanted")
    @classmethod
    def _whole(cls, count: float | None) -> float | None:
        if count is not None and count != round(count):
            raise refuse("A whole number, please.")
        return count


class CuttingAnswer(Answer):
    """The size of the pieces, how many there are, the cuts one by one, and where each part of a sheet lies."""

    table: ClassVar[tuple[str, ...]] = ("part", "part_width_mm", "part_height_mm", "part_left_mm", "part_top_mm", "edges")
    piece_width_mm: Annotated[Estimate, PIECE_WIDTH_MM]
    piece_height_mm: Annotated[Estimate, PIECE_HEIGHT_MM]
    pieces_each: Annotated[Estimate, PIECES_EACH]
    sheets: Annotated[Estimate, SHEETS_CUT]
    pieces: Annotated[Estimate, PIECES_CUT]
    paper_used_percent: Annotated[Estimate, PAPER_USED_PERCENT]
    too_large_percent: Annotated[Estimate | None, TOO_LARGE_PERCENT] = None
    cuts: Annotated[tuple[str, ...], Plain(help="The cuts of each sheet, one after the other.", example="Stop at 125.5 mm: cut 2 rows.")] = ()
    strips: Annotated[tuple[str, ...], Plain(help="What is left of each sheet.", example="1 strip of 26.9 x 254 mm: wide enough for tests.")] = ()
    part: Annotated[tuple[str, ...], Plain(help="What each part of a sheet is.", example="piece")] = ()
    part_width_mm: Annotated[Sequence[float], PART_WIDTH_MM] = ()
    part_height_mm: Annotated[Sequence[float], PART_HEIGHT_MM] = ()
    part_left_mm: Annotated[Sequence[float], PART_LEFT_MM] = ()
    part_top_mm: Annotated[Sequence[float], PART_TOP_MM] = ()
    edges: Annotated[Sequence[float], FACTORY_EDGES] = ()


def answer(question: CuttingQuestion) -> CuttingAnswer:
    """The holder less the trim gives the piece; the plan with most pieces gives the cuts."""
    piece = piece_for(question.holder_size, question.opening_size, question.trim_mm)
    sheet = sheet_size(question.sheet_size)
    cutting = cutting_of((sheet.width_mm, sheet.height_mm), (piece.short_mm, piece.long_mm))
    parts, by_hand = parts_of(cutting), fact("cutting", "by_hand")
    shares = cutting.pieces * piece.short_mm * piece.long_mm / (sheet.width_mm * sheet.height_mm)
    sheets = _sheets(question, cutting.pieces)
    return CuttingAnswer(
        piece_width_mm=around(piece.short_mm, by_hand.sd),
        piece_height_mm=around(piece.long_mm, by_hand.sd),
        pieces_each=Estimate(value=cutting.pieces),
        sheets=Estimate(value=sheets),
        pieces=Estimate(value=sheets * cutting.pieces),
        paper_used_percent=Estimate(value=100 * shares),
        too_large_percent=_too_large(question, piece),
        cuts=tuple(_cuts(cutting)),
        strips=tuple(_strips(parts)),
        part=tuple(part.kind for part in parts),
        part_width_mm=tuple(part.width_mm for part in parts),
        part_height_mm=tuple(part.height_mm for part in parts),
        part_left_mm=tuple(part.left_mm for part in parts),
        part_top_mm=tuple(part.top_mm for part in parts),
        edges=tuple(factory_edges(part, cutting) for part in parts),
        notes=tuple(_notes(question, cutting, sheets)),
        sources=(says(*([_trim(question.opening_size)] if question.trim_mm is None else []), by_hand, fact("cutting", "narrow_strip")),),
    )


def _trim(opening_size: str) -> Fact:
    """What is taken off where nobody says it: less under an opening that was measured."""
    return fact("cutting", "trim_opening" if opening_size else "trim_nominal")


def piece_for(holder_size: str, opening_size: str, trim_mm: float | None) -> SheetSize:
    """What goes into the holder, the short side first."""
    room = sheet_size(opening_size or holder_size)
    trim = _trim(opening_size).value if trim_mm is None else trim_mm
    short_mm, long_mm = room.short_mm - trim, room.long_mm - trim
    return SheetSize(short_mm, long_mm, size_said(short_mm, long_mm))


def _too_large(question: CuttingQuestion, piece: SheetSize) -> Estimate | None:
    """How often a piece sticks, by the opening that was measured; its limits are a trimmer twice as true and one half as true."""
    if not question.opening_size:
        return None
    opening, sd_mm = sheet_size(question.opening_size), fact("cutting", "by_hand").sd
    ruler_mm = fact("cutting", "opening_by_ruler").sd
    aimed, room = (piece.short_mm, piece.long_mm), (opening.short_mm, opening.long_mm)
    true, usual, rough = (100 * too_large_share(aimed, room, ((sd_mm * factor) ** 2 + ruler_mm**2) ** 0.5) for factor in (0.5, 1, 2))
    return Estimate(value=usual, low=min(true, usual), high=max(rough, usual), percent=80)


def _sheets(question: CuttingQuestion, each: int) -> int:
    """How many sheets are cut: as many as were said, or as the wanted pieces need, or one."""
    if question.sheets_to_cut is not None:
        return int(question.sheets_to_cut)
    return ceil(question.pieces_wanted / each) if question.pieces_wanted else 1


def _cuts(cutting: Cutting) -> Iterator[str]:
    """The cuts of a sheet as sentences, larger areas first."""
    blocks = cutting.blocks
    if len(blocks) > 1:
        sizes = ", ".join(size_said(block.width_mm, block.height_mm) for block in blocks)
        yield f"Divide the sheet of {size_said(cutting.width_mm, cutting.height_mm)} into {len(blocks)} parts: {sizes}."
    for block in blocks:
        of = f"Of the part of {size_said(block.width_mm, block.height_mm)}: s" if len(blocks) > 1 else "S"
        first, second = _two_stops(block)
        yield f"{of}top at {MILLIMETRE.show(first[0])}, cut {_counted(first[1], 'band')} of {size_said(*first[2])}."
        yield f"Stop at {MILLIMETRE.show(second[0])}, cut {_counted(second[1], 'piece')} from each band."


def _two_stops(block: Block) -> tuple[tuple[float, int, tuple[float, float]], tuple[float, int]]:
    """The stop for the bands, how many and how large they are; the stop for the pieces, and how many each band gives."""
    if block.rows_first:
        return (block.piece_height_mm, block.rows, (block.width_mm, block.piece_height_mm)), (block.piece_width_mm, block.columns)
    return (block.piece_width_mm, block.columns, (block.piece_width_mm, block.height_mm)), (block.piece_height_mm, block.rows)


def _strips(parts: Sequence[Part]) -> Iterator[str]:
    """The strips of a sheet, the widest first, and what they are good for."""
    narrow_mm = fact("cutting", "narrow_strip").value
    sizes = Counter((round(min(p.width_mm, p.height_mm), 2), round(max(p.width_mm, p.height_mm), 2)) for p in parts if p.kind == "strip")
    for (short_mm, long_mm), count in sorted(sizes.items(), reverse=True):
        use = "wide enough for test strips and chips" if short_mm >= narrow_mm else f"too narrow for a test, under {MILLIMETRE.show(narrow_mm)}"
        yield f"{_counted(count, 'strip')} of {size_said(short_mm, long_mm)}: {use}."


def _counted(count: int, what: str) -> str:
    """`1 piece`, `4 pieces`."""
    return f"{count}\N{NO-BREAK SPACE}{what}{'' if count == 1 else 's'}"


def _notes(question: CuttingQuestion, cutting: Cutting, sheets: int) -> Iterator[Remark]:
    yield remark(Note.BLADE_IN_THE_DARK)
    wanted = question.pieces_wanted
    if wanted is not None and wanted > sheets * cutting.pieces:
        missing, needed = int(wanted) - sheets * cutting.pieces, ceil(wanted / cutting.pieces)
        given, pieces = _counted(sheets, "sheet"), _counted(sheets * cutting.pieces, "piece")
        yield remark(Note.TOO_FEW_PIECES, sheets=given, pieces=pieces, missing=missing, wanted=int(wanted), needed=_counted(needed, "sheet"))
    usual = fact("cutting", "trim_nominal")
    if question.trim_mm is not None and not question.opening_size and not (usual.low or 0) <= question.trim_mm <= (usual.high or 0):
        low, high = (MILLIMETRE.show(end or 0) for end in (usual.low, usual.high))
        yield remark(Note.TRIM_UNUSUAL, trim=MILLIMETRE.show(question.trim_mm), low=low, high=high)
    if not question.opening_size:
        yield remark(Note.OPENING_NOT_MEASURED)
    edges = [factory_edges(part, cutting) for part in parts_of(cutting) if part.kind == "piece"]
    least, most = min(edges), max(edges)
    yield remark(Note.FACTORY_EDGE, edges=f"{least} of them" if least == most else f"{least} to {most}")
    yield remark(Note.EMULSION_SIDE)


CUTTING: Final = Operation(
    name="paper.cutting",
    version=1,
    asks="How do I cut a sheet of paper down to my holder's own size?",
    question=CuttingQuestion,
    answer=CuttingAnswer,
    compute=answer,
    examples={
        "two sheets for three holders": {"sheet_size": "8x10 in", "holder_size": "4x5 in", "sheets_to_cut": 2},
        "an opening that was measured": {"sheet_size": "8x10 in", "holder_size": "5x7 in", "opening_size": "126.6 x 177.2 mm", "pieces_wanted": 6},
        "in centimetres": {"sheet_size": "24x30.5 cm", "holder_size": "9x12 cm", "trim_mm": 1},
    },
)
