"""The lines of a log that was kept outdoors, by a phone or by hand: read one by one, so that a damaged line costs no other."""

import csv
import hashlib
import json
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Annotated, Any, Final

from pydantic import create_model

from silverwright.asking.fields import Mark, Quantity, Thing, Words, fields_of
from silverwright.asking.operation import Record
from silverwright.book.models import Holder
from silverwright.report.kit import COLUMNS
from silverwright.workshop.expose import ExposeForm

MOST_LINES: Final = 500  # our judgement: two years of going out
LONGEST_CELL: Final = 4000  # our judgement: a page of remarks
BY_HAND: Final = ("when", "place", "reading", "extension_mm", "aperture_f", "given_s", "subject", "remarks")  # the columns of the printed log
FAR: Final = frozenset({"far", "far away", "infinity", "\N{INFINITY}"})
_HOUR: Final = re.compile(r"\d{1,2}[:.]\d{2}")
_LX: Final = re.compile(r"(.+?)\s*(lx|lux|klx|fc)", re.IGNORECASE)
_CD: Final = re.compile(r"(.+?)\s*(cd/m2|cd/m²|fl)", re.IGNORECASE)
_OWN: Final[dict[str, Words]] = {
    "entry": Words(help="The line's own name, made by the field page.", example="qx7m2vnd4hpt9wka", label="Line's own name", longest=LONGEST_CELL),
    "place": Words(help="Holder and side in one.", example="holder 1/2", label="Holder and side", longest=LONGEST_CELL),
    "reading": Words(help="The reading in EV, or with its unit.", example="640 lx", label="Reading with its unit", longest=LONGEST_CELL),
    "planned_s": Words(help="The time that the field page said.", example="97", label="Planned on the field page", longest=LONGEST_CELL),
    "page": Words(help="What the field page knew of paper and lens.", example='{"paper_ei": 1.5}', label="What the page knew", longest=LONGEST_CELL),
    "beyond": Words(help="What stands in no column.", example="?", label="In no column", longest=LONGEST_CELL),
}


def _as_words(mark: Mark) -> Mark:
    """A cell is read later, with the whole line; here it may hold anything."""
    return mark if isinstance(mark, Quantity | Thing) else Words(help=mark.help, example=mark.example, label=mark.label, longest=LONGEST_CELL)


_MARKS: Final = fields_of(ExposeForm)
_NAMES: Final = dict.fromkeys(
    (*COLUMNS, *_OWN, "light", "lot", "told_apart", "aperture_given_f", "reading_cd_per_m2", "image_size_mm", "subject_size_mm")
)
_CELLS: Final[dict[str, Any]] = {name: (Annotated[str, _OWN.get(name) or _as_words(_MARKS[name])], "") for name in _NAMES}


# The columns are those of an exposure, whatever it asks.
class LogRow(create_model("Cells", __base__=Record, **_CELLS)):  # type: ignore[misc]
    """One exposure as it was noted outdoors."""


def read_log(given: object) -> object:
    """The lines of a pasted or typed log; what is neither is passed on unread."""
    if isinstance(given, str):
        return _from_text(given)
    if isinstance(given, list | tuple):
        rows = [_from_mapping(row) if isinstance(row, Mapping) else row for row in given]
        return [row for row in rows if row]
    return given


def _from_text(text: str) -> list[dict[str, str]]:
    lines = [line for line in text.removeprefix("\ufeff").replace("\r", "\n").split("\n") if line.strip()]
    if len(lines) > MOST_LINES:
        raise ValueError(f"{len(lines)} lines; at most {MOST_LINES} are read at a time. Hand it in in parts.")
    between = next((sign for sign in (";", "\t") if any(sign in line for line in lines)), ",")
    columns: Sequence[str] = BY_HAND
    rows = []
    for line in lines:
        cells = [cell.strip() for cell in next(csv.reader([line], delimiter=between, skipinitialspace=True))]
        if _is_header(cells):
            columns = [cell.lower() for cell in cells]
        elif row := _from_mapping(dict(zip(columns, cells, strict=False)), cells[len(columns) :]):
            rows.append(row)
    return rows


def _is_header(cells: Sequence[str]) -> bool:
    """A line of nothing but names, most of them ours: two logs in one text have two of them."""
    return sum(cell.lower() in _NAMES for cell in cells) > len(cells) / 2 and len(cells) > 1


def _from_mapping(row: Mapping[object, object], rest: Sequence[str] = ()) -> dict[str, str]:
    """A line by its columns; what belongs to none is kept aside, to be told."""
    typed = {str(name): str(value).replace("\0", "\N{REPLACEMENT CHARACTER}").strip() for name, value in row.items() if value is not None}
    known = {name: text[:LONGEST_CELL] for name, text in typed.items() if name in _NAMES and text}
    beyond = [f"{name}: {text}" for name, text in typed.items() if name not in _NAMES and text]
    beyond += [text[LONGEST_CELL:] for text in typed.values() if len(text) > LONGEST_CELL] + [one for one in rest if one]
    return known | ({"beyond": "; ".join(beyond)[:LONGEST_CELL]} if beyond else {})


def names_of(rows: Sequence[Mapping[str, str]]) -> list[str]:
    """Each line's own name: the one that the phone gave it, or one made from all its words, so that the same line typed again is the same line."""
    seen: Counter[str] = Counter()
    names = []
    for row in rows:
        words = json.dumps(row, sort_keys=True, ensure_ascii=False)
        seen[words] += 1
        typed = hashlib.sha256(f"{words} {seen[words]}".encode()).hexdigest()
        names.append(row.get("entry") or typed)
    return names


def given_of(row: Mapping[str, str], usual: Mapping[str, str], day: date | None) -> dict[str, str]:
    """A line as the form of an exposure takes it: what the line does not say is as usual."""
    own = {name: text for name, text in row.items() if name in _MARKS}
    own |= _holder_of(row.get("place", "")) | _reading_of(row.get("reading", ""))
    if own.get("extension_mm", "").lower() in FAR:
        own |= {"extension_mm": "", "magnification_factor": "0"}
    own["when"] = _when_of(own.get("when", ""), day)
    return {name: text for name, text in {**usual, **own}.items() if text}


def _holder_of(place: str) -> dict[str, str]:
    """`holder 1/2`; `1/2` too, where only one holder's name ends so."""
    holder, slash, side = (part.strip() for part in place.rpartition("/"))
    if not slash:
        return {"holder": side} if side else {}
    known = Holder.objects.filter(archived_at=None)
    if not known.filter(name=holder).exists():
        ends = [one.name for one in known if one.name.split()[-1] == holder]
        holder = ends[0] if len(ends) == 1 else holder
    return {"holder": holder, "side": side}


def _reading_of(reading: str) -> dict[str, str]:
    if not reading:
        return {}
    if _LX.fullmatch(reading):
        return {"reading_lx": reading}
    return {"reading_cd_per_m2" if _CD.fullmatch(reading) else "reading_ev": reading}


def _when_of(when: str, day: date | None) -> str:
    """An hour alone belongs to the day that the log is of."""
    if _HOUR.fullmatch(when):
        return f"{day or date.today()} {when.replace('.', ':')}".replace(" ", "T" if len(when) > 4 else "T0")  # noqa: DTZ011, PLR2004
    return when or (f"{day}T12:00" if day else "")


def page_of(row: Mapping[str, str]) -> dict[str, Any] | None:
    """What the field page knew of paper and lens, or nothing where no page kept this line."""
    if not row.get("page"):
        return None
    found = json.loads(row["page"])
    if not isinstance(found, dict):
        raise ValueError("no fields")  # noqa: TRY004 (whoever asks waits for one kind of error)
    return found
