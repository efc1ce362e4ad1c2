"""Papers and boxes on the Shelf, gear in the Book: what there is, what it is like, what was changed on it."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import quote, urlencode

from django.http import HttpRequest, HttpResponse, HttpResponsePermanentRedirect
from django.shortcuts import render

from silverwright.asking.fields import Quantity, label_of
from silverwright.book.find import called, find_thing
from silverwright.book.models import Holder, HolderSide, Lens, Lot, Paper, Scanner
from silverwright.book.models.kept import Kept
from silverwright.book.queries import gear, sides, thing_history
from silverwright.book.scans import newest_calibration
from silverwright.errors import UnknownName
from silverwright.questions.aperture import ApertureRow, apertures_said
from silverwright.questions.sheetsize import size_said
from silverwright.questions.shutter import SpeedRow, speeds_said
from silverwright.web.changes import Told, told_changes
from silverwright.web.pages.calibrated import standing as standing_of
from silverwright.web.recorded import recorded, thing_href
from silverwright.web.when import short_day
from silverwright.workshop.correct import correctable, standing


@dataclass(frozen=True, slots=True)
class Shelf:
    """One kind of thing: its address and its words."""

    kind: str
    slug: str
    head: str
    asks: str
    margin: str
    enter: str
    nothing: str
    place: str = "book"
    more: tuple[str, str] | None = None

    @property
    def at(self) -> str:
        """Where everything of this kind is listed."""
        return f"/{self.place}/{self.slug}"

    @property
    def sign(self) -> str:
        """The place that the page belongs to."""
        return self.place.capitalize()

    @property
    def href(self) -> str:
        """Where a new one is entered."""
        return f"/book/do/{self.kind}"


SHELVES: Final = (
    Shelf(
        "paper",
        "papers",
        "Papers",
        "Which papers do I use?",
        "What own sheets say of a paper stands under Findings.",
        "Enter a paper",
        "No paper is in the book yet. Every sheet belongs to one; that is how its speed is learnt.",
        "shelf",
    ),
    Shelf(
        "lot",
        "boxes",
        "Boxes",
        "Which boxes of paper are open?",
        "A box counts its sheets: one fewer for every holder side loaded from it.",
        "Enter a box",
        "No box is in the book yet. With one, its sheets are counted, and a new box of the same paper can be told from the old.",
        "shelf",
    ),
    Shelf(
        "holder",
        "holders",
        "Holders",
        "What is in my holders?",
        "Light edge of the dark slide out: unexposed; dark edge out: exposed (common practice).",
        "Enter a holder",
        "No holder is in the book yet. With one, the book knows which paper is on which side, and warns of a side used twice.",
        more=("Labels with their corners", "/book/labels?what=holder+sides"),
    ),
    Shelf(
        "lens",
        "lenses",
        "Lenses",
        "Which lenses do I use?",
        "The camera page takes focal length and aperture scale from here.",
        "Enter a lens",
        "No lens is in the book yet. With one, its focal length need not be typed again.",
    ),
    Shelf(
        "camera",
        "cameras",
        "Cameras",
        "Which cameras do I use?",
        "A mirror or prism in a camera turns the picture the right way round.",
        "Enter a camera",
        "No camera is in the book yet.",
    ),
    Shelf(
        "light",
        "lights",
        "Lights",
        "In which light do I work?",
        "Paper and meter see each kind of light differently.",
        "Enter a light",
        "No light is in the book yet. With one, sheets made in the same light can be compared.",
    ),
    Shelf(
        "meter",
        "meters",
        "Meters",
        "What do I meter with?",
        "The camera page takes the meter's constant from here.",
        "Enter a meter",
        "No meter is in the book yet. With one, its constant need not be typed again.",
    ),
    Shelf(
        "scanner",
        "scanners",
        "Scanners",
        "What do I scan with?",
        "A calibration by a step tablet turns its numbers into scan density; it stands with each of them.",
        "Enter a scanner",
        "No scanner is in the book yet. With one, scans of sheets give densities once a step tablet has calibrated it.",
    ),
)
BY_SLUG: Final = {shelf.slug: shelf for shelf in SHELVES}
BY_KIND: Final = {shelf.kind: shelf for shelf in SHELVES}
UNSAID: Final = frozenset({"", "unknown"})


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a holder: its mark, what is in it, and what can be done with it."""

    label: str
    mark: str
    says: str
    sheet: str
    act: str
    href: str


@dataclass(frozen=True, slots=True)
class ThingLine:
    """A thing in its list."""

    name: str
    href: str
    says: str
    links: tuple[tuple[str, str], ...]
    sides: tuple[Side, ...]
    key: str


def moved(request: HttpRequest, rest: str) -> HttpResponse:
    """Papers and boxes stood in the Book once: their old addresses lead to the Shelf."""
    query = request.META.get("QUERY_STRING", "")
    return HttpResponsePermanentRedirect(f"/shelf/{quote(rest)}" + (f"?{query}" if query else ""))


def things(request: HttpRequest, slug: str) -> HttpResponse:
    """Everything of one kind."""
    here = _shelf(slug)
    there, old = gear()[here.kind], gear(archived=True)[here.kind]
    context = {
        "shelf": here,
        "done": recorded(request),
        "things": [_line(here.kind, thing) for thing in there],
        "archived": [_line(here.kind, thing) for thing in old],
    }
    return render(request, "things.html", context)


def thing(request: HttpRequest, slug: str, name: str) -> HttpResponse:
    """One thing: what the book says of it, and everything that was changed on it."""
    here = _shelf(slug)
    found = find_thing(here.kind, name)
    calibration = newest_calibration(found) if isinstance(found, Scanner) else None
    context = {
        "shelf": here,
        "done": recorded(request),
        "thing": _line(here.kind, found),
        "archived": found.archived_at is not None,
        "facts": facts_of(here.kind, found),
        "remarks": standing(here.kind, found).get("remarks", ""),
        "changes": _changes(here.kind, found),
        "calibration": standing_of(calibration) if calibration else None,
        "key": secrets.token_urlsafe(12),
    }
    return render(request, "thing.html", context)


def facts_of(kind: str, found: Kept) -> list[tuple[str, str]]:
    """What the book says of it: label and value, without what nobody knows."""
    marks = correctable(kind)
    shown = []
    for field, text in standing(kind, found).items():
        mark = marks[field]
        if field in {"name", "remarks"} or text in UNSAID:
            continue
        value = getattr(found, field, text)
        if isinstance(found, Lens) and field == "measured_speeds":
            said = speeds_said(tuple(SpeedRow(**row) for row in found.measured_speeds))
        elif isinstance(found, Lens) and field == "measured_apertures":
            said = apertures_said(tuple(ApertureRow(**row) for row in found.measured_apertures))
        else:
            said = mark.unit.show(value) if isinstance(mark, Quantity) and isinstance(value, int | float) else text
        shown.append((label_of(field, mark), said))
    return [*shown, *lot_facts(found)] if isinstance(found, Lot) else shown


def lot_facts(lot: Lot) -> list[tuple[str, str]]:
    """What a box is known by besides: where its pieces were cut from, the strips that are left, and its newest chips."""
    shown = [("Cut from", str(lot.cut_from))] if lot.cut_from else []
    if lot.strips:
        strips = (f"{row['count']:g} of {size_said(row['width_mm'], row['length_mm'])}" for row in lot.strips)
        shown.append(("Strips left", "; ".join(strips)))
    newest = {chip.shows: chip for chip in lot.chips.all() if chip.archived_at is None}
    return shown + [(f"Chip, {shows}", "kept" if chip.density is None else f"density {chip.density:.2f}") for shows, chip in newest.items()]


def _shelf(slug: str) -> Shelf:
    if slug not in BY_SLUG:
        raise UnknownName("shelf", slug, list(BY_SLUG)[:3])
    return BY_SLUG[slug]


def _line(kind: str, found: Kept) -> ThingLine:
    _, name = called(found)
    says = "; ".join(f"{label.lower()} {value}" for label, value in facts_of(kind, found))
    return ThingLine(name, thing_href(kind, name), says, _links(found), _sides(found), secrets.token_urlsafe(12))


def _links(found: Kept) -> tuple[tuple[str, str], ...]:
    if isinstance(found, Paper):
        return (("What is known of it", f"/findings?{urlencode({'paper': found.name})}"), ("Its sheets", f"/book?{urlencode({'paper': found.name})}"))
    if isinstance(found, Scanner):
        tablet = urlencode({"scanner": found.name, "shows": "step tablet"})
        return (("Calibrate it", f"/measure?{tablet}"), ("Hand in a scan", f"/measure?{urlencode({'scanner': found.name})}"))
    if isinstance(found, Lot):
        box = urlencode({"lot": found.name})
        return (
            ("Load from it", f"/book/do/load?{box}"),
            ("Cut its sheets", f"/shelf/cut?{box}"),
            ("Keep a chip of it", f"/book/do/chip?{box}"),
        )
    return ()


def _sides(found: Kept) -> tuple[Side, ...]:
    return tuple(side_of(side) for side in sides(found)) if isinstance(found, Holder) else ()


def side_of(side: HolderSide) -> Side:
    """A holder side in words: dashed when nothing is in it, with a dot once it was exposed."""
    place = urlencode({"holder": side.holder.name, "side": side.side})
    if side.state == "loaded":
        when = f" since {short_day(side.loaded_at)}" if side.loaded_at else ""
        corner = f", clipped {side.corner}" if side.corner else ""
        return Side(f"Side {side.side}", "loaded", f"Loaded from {side.lot}{when}{corner}", "", "Expose it", f"/book/do/expose?{place}")
    if side.state == "exposed":
        number = side.sheet.number if side.sheet else ""
        return Side(
            f"Side {side.side}", "exposed", "Exposed, not processed", number, "Process it", f"/book/do/process?{urlencode({'sheet': number})}"
        )
    return Side(f"Side {side.side}", "planned", "Empty", "", "Load it", f"/book/do/load?{place}")


def _changes(kind: str, found: Kept) -> Sequence[Told]:
    return told_changes(thing_history(kind, called(found)[1]), only_corrections=False)
