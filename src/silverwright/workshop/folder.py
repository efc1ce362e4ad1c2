"""Which sheet a file shows, by its name."""

import re
from typing import Final

from silverwright.book.find import find_thing
from silverwright.errors import UnknownName

_NUMBER: Final = re.compile(r"(\d{2}|\d{4})[-_ ](\d{1,6})([a-z]{0,2})(?![0-9a-z])", re.IGNORECASE)


def sheet_of(file_name: str) -> str | None:
    """The number of the sheet in the book with which a file's name begins: `26-018.tif`, `2026_18a toned.tiff`; nothing where there is none."""
    match = _NUMBER.match(file_name)
    if match is None:
        return None
    try:
        return str(find_thing("sheet", f"{match[1][-2:]}-{match[2]}{match[3].lower()}"))
    except UnknownName:
        return None
