"""Sheets as cards: the number, what is on it, how it was exposed, and where it stands."""

from typing import Final

from django.utils.safestring import SafeString, mark_safe

from silverwright.book.life import verdict_words
from silverwright.book.models import Exposure
from silverwright.book.queries import SheetLine
from silverwright.units import F_NUMBER, SECOND, clock, flashes_said
from silverwright.web.figures import CLOCK_FROM_S, SheetCard
from silverwright.web.scanned import view_href
from silverwright.web.swatch import patches

MARKS: Final = {"exposed": "exposed", "cut": "exposed", "processed": "dry", "measured": "measured"}
SAYS: Final = {"exposed": "Exposed, not processed", "cut": "Cut into pieces", "processed": "Processed, not measured", "measured": "Measured"}
IN_THE_HOLDER: Final = "Not processed yet"
NO_PICTURE: Final = "No picture in the book"


def sheet_card(line: SheetLine) -> SheetCard:
    """A sheet of the book as a card."""
    return SheetCard(
        number=line.sheet.number,
        subject=line.sheet.subject or "No words yet",
        line=exposed_as(line.exposures),
        state=MARKS[line.state],
        says=SAYS[line.state],
        instead=instead(line),
        picture=mark_safe(patches(line.densities, f"{len(line.densities)} patches")) if line.densities else SafeString(""),  # noqa: S308 (drawn from numbers)
        thumb=view_href(line.scan, "thumb.png") if line.scan else "",
    )


def instead(line: SheetLine) -> str:
    """What stands where a picture will stand: what the eye said of it, where it said something."""
    if line.verdict is not None:
        words = verdict_words(line.verdict.looks, line.verdict.off_stops, line.verdict.strip)
        return f"{words[0].upper()}{words[1:]}"
    return IN_THE_HOLDER if line.state in {"exposed", "cut"} else NO_PICTURE


def exposed_as(exposures: tuple[Exposure, ...]) -> str:
    """`1:37 at f/22`; an exposure of which nothing was written down says so."""
    if len(exposures) > 1:
        return f"exposed {len(exposures)} times"
    return given(exposures[0]) if exposures else "exposure not in the book"


def given(exposure: Exposure) -> str:
    """What was given: `1:37 at f/22`, `4 flashes at f/8`."""
    time_s, flashes = exposure.given_s, exposure.flashes_given
    time = "" if time_s is None else clock(time_s) if time_s >= CLOCK_FROM_S else SECOND.show(time_s)
    time = time if flashes is None else flashes_said(flashes)
    aperture = "" if exposure.aperture_f is None else f"at {F_NUMBER.show(exposure.aperture_f)}"
    return " ".join(part for part in (time, aperture) if part) or "time and aperture not said"
