"""
The pixels of a file, some rows at a time from the top: only those rows that are wanted, and never the whole picture in memory.

Uncompressed strips are looked at where they lie in the file. Packed strips and tiles are unpacked one by one, each as a small TIFF of its
own, so that those without wanted rows are left alone. What cannot be taken apart so is read from its top.
"""

import mmap
import struct
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from math import ceil
from pathlib import Path
from typing import Any, Final

import numpy as np

from silverwright.errors import ScanRefused
from silverwright.scanning.header import Header, refused
from silverwright.scanning.profile import Samples
from silverwright.scanning.tiff import JPEG, LUMINANCE, PLAIN, Pieces, pieces_of

Rows = tuple[int, int]  # the first, and the one after the last
Band = tuple[int, Samples]  # its first row; rows, columns, channels

BAND_BYTES: Final = 1 << 24  # our judgement: 16 MiB at a time: few enough to be held, enough to be quick
MOST_PIECE_BYTES: Final = 1 << 25  # our judgement: larger strips than 32 MiB are read row by row instead
HANDS: Final = 2  # our judgement: so many pieces are unpacked at once
SHORT_OF_MEMORY: Final = ("memory", "thread", "map segment")  # what libraries say when the system gives them no more
CUT_OFF: Final = "The file is damaged or cut off: not all of its picture can be unpacked. Send it again, or scan again."

# Tags of the small TIFF around one piece, source: TIFF 6.0.
SHORT, LONG = 3, 4  # source: TIFF 6.0, types of fields
WIDTH_TAG, HEIGHT_TAG, BITS_TAG, PACKING_TAG, MEANING_TAG, FILL_TAG = 256, 257, 258, 259, 262, 266  # source: TIFF 6.0
START_TAG, SAMPLES_TAG, ROWS_TAG, LENGTH_TAG, PREDICTOR_TAG, EXTRA_TAG = 273, 277, 278, 279, 317, 338  # source: TIFF 6.0
HEAD_BYTES, FIELD_BYTES = 8, 12  # source: TIFF 6.0, header and one field
SHORTS_IN_A_FIELD: Final = 2  # source: TIFF 6.0: what is longer stands elsewhere
BLACK_IS_ZERO, COLOUR = 1, 2  # source: TIFF 6.0, PhotometricInterpretation


def bands(path: Path, header: Header, wanted: Sequence[Rows]) -> Iterator[Band]:
    """The wanted rows of the picture as it is stored, from the top, in bands; rows between may come along. 0 is black."""
    if header.kind == "TIFF":
        pieces = pieces_of(path, header.page)
        strips = pieces.piece_width_px == header.width_px
        piece_bytes = pieces.piece_width_px * pieces.piece_height_px * header.samples * header.bits // 8
        if pieces.photometric != LUMINANCE:
            if pieces.compression == PLAIN and strips:
                return _looked_at(path, header, pieces, wanted)
            if pieces.compression != JPEG and piece_bytes <= MOST_PIECE_BYTES:
                return _unpacked(path, header, pieces, wanted)
    return streamed(path, header, wanted)


def merged(wanted: Sequence[Rows]) -> list[Rows]:
    """Rows that touch as one run, from the top."""
    runs: list[Rows] = []
    for first, last in sorted(one for one in wanted if one[1] > one[0]):
        if runs and first <= runs[-1][1]:
            runs[-1] = (runs[-1][0], max(runs[-1][1], last))
        else:
            runs.append((first, last))
    return runs


def _rows_at_once(header: Header) -> int:
    return max(1, BAND_BYTES // (header.width_px * header.samples * header.bits // 8))


def _steps(wanted: Sequence[Rows], rows: int) -> Iterator[Rows]:
    for first, last in merged(wanted):
        for start in range(first, last, rows):
            yield start, min(start + rows, last)


def _looked_at(path: Path, header: Header, pieces: Pieces, wanted: Sequence[Rows]) -> Iterator[Band]:
    """Uncompressed strips, in place."""
    kind = np.dtype(f"{pieces.order}u{header.bits // 8}")
    in_piece = 1 if pieces.apart else header.samples
    per_plane = ceil(header.height_px / pieces.piece_height_px)
    row_bytes = header.width_px * in_piece * kind.itemsize
    with path.open("rb") as file:
        held = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)  # lives as long as somebody looks at its rows

        def rows_of(plane: int, first: int, last: int) -> Samples:
            """Rows of one strip after the other; strips that follow on in the file are one view."""
            views: list[Samples] = []
            row = first
            while row < last:
                strip, inside = divmod(row, pieces.piece_height_px)
                start, until = pieces.starts[plane * per_plane + strip] + inside * row_bytes, (strip + 1) * pieces.piece_height_px
                while until < last and pieces.starts[plane * per_plane + until // pieces.piece_height_px] == start + (until - row) * row_bytes:
                    until += pieces.piece_height_px
                until = min(until, last)
                flat: Samples = np.frombuffer(held, kind, (until - row) * header.width_px * in_piece, start)
                views.append(flat.reshape(until - row, header.width_px, in_piece))
                row = until
            rows: Samples = views[0] if len(views) == 1 else np.concatenate(views)
            return rows

        for first, last in _steps(wanted, _rows_at_once(header)):
            planes = [rows_of(plane, first, last) for plane in range(header.channels if pieces.apart else 1)]
            band: Samples = np.concatenate(planes, axis=2) if pieces.apart else planes[0][:, :, : header.channels]
            yield first, _upright(band, header)
            del planes, band
            if hasattr(mmap, "MADV_DONTNEED"):
                held.madvise(mmap.MADV_DONTNEED)


def _upright(band: Samples, header: Header) -> Samples:
    """0 is black, whatever the file thinks."""
    return ~band if header.white_is_zero else band


def _unpacked(path: Path, header: Header, pieces: Pieces, wanted: Sequence[Rows]) -> Iterator[Band]:
    """Packed strips and tiles, each row of them by itself."""
    across, down = ceil(header.width_px / pieces.piece_width_px), ceil(header.height_px / pieces.piece_height_px)
    planes = header.channels if pieces.apart else 1
    touched = sorted({row // pieces.piece_height_px for first, last in merged(wanted) for row in range(first, last)})

    def unpack(down_at: int, across_at: int, plane: int) -> Samples:
        place = (plane * down + down_at) * across + across_at
        tall = pieces.piece_height_px if across > 1 or pieces.piece_width_px > header.width_px else 0
        rows = tall or min(pieces.piece_height_px, header.height_px - down_at * pieces.piece_height_px)
        with path.open("rb") as file:
            file.seek(pieces.starts[place])
            packed = file.read(pieces.lengths[place])
        return _unpacked_piece(packed, rows, header, pieces)

    def row_of(down_at: int, work: Callable[..., "Future[Samples]"]) -> list[list["Future[Samples]"]]:
        return [[work(unpack, down_at, across_at, plane) for across_at in range(across)] for plane in range(planes)]

    with ThreadPoolExecutor(HANDS) as hands:
        under_way: deque[tuple[int, list[list[Future[Samples]]]]] = deque()
        for down_at in touched:
            under_way.append((down_at, row_of(down_at, hands.submit)))
            if len(under_way) > HANDS:
                yield _joined(under_way.popleft(), header, pieces)
        while under_way:
            yield _joined(under_way.popleft(), header, pieces)


def _joined(piece_row: tuple[int, list[list["Future[Samples]"]]], header: Header, pieces: Pieces) -> Band:
    """Tiles side by side, channels together; what hangs over the edge is cut."""
    down_at, planes = piece_row
    first = down_at * pieces.piece_height_px
    whole = np.concatenate([np.concatenate([piece.result() for piece in plane], axis=1) for plane in planes], axis=2)
    return first, _upright(whole[: header.height_px - first, : header.width_px, : header.channels], header)


def _unpacked_piece(packed: bytes, rows: int, header: Header, pieces: Pieces) -> Samples:
    """One strip or tile."""
    import pyvips  # noqa: PLC0415 (uncompressed files need none)

    samples = 1 if pieces.apart else header.samples
    try:
        image = pyvips.Image.new_from_buffer(
            _small_tiff(packed, rows, samples, header.bits, pieces), "", access="sequential", fail_on="truncated", unlimited=True
        )
        numbers: Samples = image.numpy().reshape(rows, pieces.piece_width_px, samples)
    except (pyvips.Error, ValueError) as error:
        raise trouble(error) from error
    return numbers


def _small_tiff(packed: bytes, rows: int, samples: int, bits: int, pieces: Pieces) -> bytes:
    """A TIFF of one strip: the piece as it is, with what has to be known to unpack it."""
    colour = samples > COLOUR
    extra = samples - (3 if colour else 1)
    fields: list[tuple[int, int, Sequence[int]]] = [
        (WIDTH_TAG, LONG, [pieces.piece_width_px]),
        (HEIGHT_TAG, LONG, [rows]),
        (BITS_TAG, SHORT, [bits] * samples),
        (PACKING_TAG, SHORT, [pieces.compression]),
        (MEANING_TAG, SHORT, [COLOUR if colour else BLACK_IS_ZERO]),
        (FILL_TAG, SHORT, [pieces.fill_order]),
        (START_TAG, LONG, [0]),
        (SAMPLES_TAG, SHORT, [samples]),
        (ROWS_TAG, LONG, [rows]),
        (LENGTH_TAG, LONG, [len(packed)]),
        (PREDICTOR_TAG, SHORT, [pieces.predictor]),
    ]
    if extra:
        fields.append((EXTRA_TAG, SHORT, [0] * extra))
    order = pieces.order
    after = HEAD_BYTES + 2 + FIELD_BYTES * len(fields) + 4
    longer = {tag: struct.pack(f"{order}{len(values)}H", *values) for tag, kind, values in fields if len(values) > SHORTS_IN_A_FIELD}
    start = after + sum(map(len, longer.values()))
    table, behind = b"", after
    for tag, kind, values in fields:
        if tag in longer:
            value, behind = struct.pack(f"{order}I", behind), behind + len(longer[tag])
        else:
            filled = [start] if tag == START_TAG else values
            value = struct.pack(f"{order}{len(filled)}{'H' if kind == SHORT else 'I'}", *filled).ljust(4, b"\0")
        table += struct.pack(f"{order}HHI", tag, kind, len(values)) + value
    head = (b"II" if order == "<" else b"MM") + struct.pack(f"{order}HIH", 42, HEAD_BYTES, len(fields))
    return b"".join([head, table, b"\0\0\0\0", *longer.values(), packed])


def streamed(path: Path, header: Header, wanted: Sequence[Rows]) -> Iterator[Band]:
    """From the top; rows that nobody wants are passed over."""
    import pyvips  # noqa: PLC0415 (uncompressed files need none)

    try:
        image = opened(path, header)
        region = pyvips.Region.new(image)
        kind = np.dtype(f"u{header.bits // 8}")
        for first, last in _steps(wanted, _rows_at_once(header)):
            fetched = region.fetch(0, first, header.width_px, last - first)
            yield first, np.frombuffer(fetched, kind).reshape(last - first, header.width_px, image.bands)[:, :, : header.channels]
    except pyvips.Error as error:
        raise trouble(error) from error


def trouble(error: Exception) -> Exception:
    """Whether the file is to blame for what a library says, or the memory that it was given."""
    return MemoryError() if short_of_memory(error) else refused(CUT_OFF)


def short_of_memory(error: Exception) -> bool:
    """Whether an error says that the system gave no more memory."""
    return isinstance(error, MemoryError) or any(sign in str(error) for sign in SHORT_OF_MEMORY)


def opened(path: Path, header: Header) -> Any:  # noqa: ANN401 (pictures of a library without types)
    """The picture, to be read once from its top; 0 is black."""
    import pyvips  # noqa: PLC0415 (uncompressed files need none)

    of_tiff = {"page": header.page, "unlimited": True} if header.kind == "TIFF" else {}  # large strips; our own caps hold
    image = pyvips.Image.new_from_file(str(path), access="sequential", fail_on="truncated", **of_tiff)
    if (image.width, image.height) != (header.width_px, header.height_px) or image.bands < header.channels:
        raise ScanRefused(refused(CUT_OFF).faults, header.as_json())
    return image
