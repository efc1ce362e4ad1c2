"""Files of scans for the browser: pictures for the eye, and the original as it came, in pieces."""

import asyncio
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Final
from urllib.parse import quote

from django.http import HttpRequest, HttpResponse, StreamingHttpResponse

from silverwright.book.files import PIECE_BYTES, VIEWS, find_file
from silverwright.book.find import find_thing
from silverwright.book.models import Scan
from silverwright.web.pages.wrong import NOTHING_THERE, wrong

KINDS: Final = {".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".dzi": "application/xml"}
A_YEAR: Final = "private, max-age=31536000, immutable"  # a view never changes: it lies under the sum of its file


def view(request: HttpRequest, name: str, path: str) -> HttpResponse:
    """One of the pictures that were made from a scan: `preview.png`, `thumb.png`, a tile."""
    scan = _scan(name)
    folder = (VIEWS / scan.views).resolve()
    file = (folder / path).resolve()
    if folder not in file.parents or file.suffix not in KINDS or not file.is_file():
        return wrong(request, NOTHING_THERE)
    return HttpResponse(file.read_bytes(), content_type=KINDS[file.suffix], headers={"Cache-Control": A_YEAR})


def original(request: HttpRequest, name: str) -> StreamingHttpResponse:  # noqa: ARG001 (Django's shape)
    """The file as it was handed in, byte for byte."""
    scan = _scan(name)
    path = find_file(scan.file.sha256)
    called = quote(scan.file.handed_in_as or f"{scan}.bin")
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{called}", "Content-Length": str(path.stat().st_size)}
    return StreamingHttpResponse(_pieces(path), content_type="application/octet-stream", headers=headers)


def _scan(name: str) -> Scan:
    found = find_thing("scan", name)
    assert isinstance(found, Scan)  # noqa: S101 (the kind says so)
    return found


async def _pieces(path: Path) -> AsyncIterator[bytes]:
    with path.open("rb") as file:
        while piece := await asyncio.to_thread(file.read, PIECE_BYTES):
            yield piece
