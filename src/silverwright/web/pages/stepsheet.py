"""A step sheet comes into the book: first how its patches got their exposure, then what that way needs, then their densities."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from typing import Final
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book import words
from silverwright.book.queries import names, sheet_story
from silverwright.book.scans import measured_scans
from silverwright.errors import BadQuestion, UnknownName
from silverwright.web.fields import Field, sent_text
from silverwright.web.live import kept, live
from silverwright.web.pages.doing import Grid, Sent, Trouble, carry_out, form_fields, fresh, sent, strangers
from silverwright.workshop.act import AnyDeed
from silverwright.workshop.deeds import do, find_deed

SAYS: Final = {
    "step tablet": "a tablet lay on the paper, one exposure",
    "timed strips": "each strip by itself, each its own time",
    "dark slide": "the slide pushed in step by step",
    "apertures": "one patch for each aperture, one time",
    "typed": "log exposures worked out elsewhere",
}
NEEDS: Final[Mapping[str, tuple[str, ...]]] = {
    "step tablet": ("tablet_steps", "tablet_step_density", "tablet_first_density", "tablet_densities", "given_s"),
    "timed strips": ("strip_times_s",),
    "dark slide": ("strip_times_s",),
    "apertures": ("strip_apertures_f", "given_s"),
    "typed": ("exposure_log10", "metered"),
}
READ: Final = ("densities", "read_by", "density_sd", "fixed_out_density")
TABLE: Final = ("patches",)
SCANNED: Final = ("scan", "fixed_out_density")  # where a scan gives the densities, the rest is folded away
TYPED_INSTEAD: Final = ("densities", "read_by", "density_sd", "patches")
LIGHT: Final = (
    "paper_lx",
    "reading_ev",
    "reading_lx",
    "reading_cd_per_m2",
    "reading_sd_stops",
    "aperture_f",
    "focal_mm",
    "extension_mm",
    "filter_factor",
    "timed_by",
)
LAST: Final = ("lamp", "remarks")
LARGEST_TABLE_BYTES: Final = 65_536  # our judgement: many times the longest table of patches
SCAN_HELP: Final = "The scan of this sheet that gives its densities; then none need be typed."
NO_TEXT: Final = "This file is no table of text. Save it as CSV, or paste the densities."


def page(request: HttpRequest) -> HttpResponse:
    """Show the form for one way of exposing patches, or record the sheet and, if wanted, learn its curve at once."""
    if live(request):
        return kept(request)
    deed = find_deed("step-sheet")
    typed = sent_text(request.POST if request.method == "POST" else request.GET)
    found, trouble = sent(deed.form, typed), Trouble()
    if request.method == "POST":
        found, trouble = _with_file(request, found)
        if not trouble.says:
            _first_lamp(found)
        outcome = trouble if trouble.says else carry_out(deed, found, on="/findings")
        if isinstance(outcome, HttpResponse):
            if typed.get("then") == "learn":
                _learn(found)
            return outcome
        trouble = outcome
    return _form(request, deed, found, trouble)


def _form(request: HttpRequest, deed: AnyDeed, found: Sent, trouble: Trouble) -> HttpResponse:
    how = found.typed.get("how", "")
    how = how if how in NEEDS else "dark slide"
    again = ("again",) if "again" in found.typed or _is_read(found.typed.get("sheet", "")) else ()
    scans = measured_scans(found.typed.get("sheet", ""))
    control = found.typed.get("control") == "yes"  # the day's control step sheet: its lamp is what makes it one, and stands first
    groups = {**_groups(how), "last": (*again, *LAST)}
    if control:
        groups |= {"which": ("sheet", "lamp"), "last": (*again, "remarks")}
    if scans or "scan" in found.typed:
        groups |= {"read": SCANNED, "table": TYPED_INSTEAD} if "scan" in found.typed else {"read": ("scan", *READ)}
    context = {
        **{name: form_fields(deed.form, found, trouble.faults, group) for name, group in groups.items()},
        "read": [_of_this_sheet(one, scans) for one in form_fields(deed.form, found, trouble.faults, groups["read"])],
        "how": how,
        "scanned": "scan" in found.typed,
        "control": control,
        "no_lamp": not names("light"),
        "ways": [(way, SAYS[way], way == how, _address(found, way)) for way in words.listed(words.HowExposed)],
        "strangers": strangers(deed.form, trouble.faults),
        "elsewhere": [fault for name, fault in trouble.faults.items() if name == "how"],
        "light_open": any(name in found.typed or name in trouble.faults for name in groups["light"]),
        "table_open": any(name in found.typed or name in trouble.faults for name in groups["table"]),
        "says": trouble.says,
        "key": fresh(found, trouble).key,
    }
    return render(request, "stepsheet.html", context, status=trouble.status)


def _first_lamp(found: Sent) -> None:
    """The first lamp of a control step sheet is entered by its name alone, as the first scanner is."""
    lamp = found.typed.get("lamp", "")
    if not lamp or found.typed.get("control") != "yes" or names("light"):
        return
    with suppress(BadQuestion):  # a name that cannot be one is said beside its field
        do("light", {"name": lamp}, key=f"{found.key}-lamp")


def _of_this_sheet(field: Field | Grid, scans: Sequence[str]) -> Field | Grid:
    """Of all scans only those of the sheet can be meant."""
    if field.name != "scan" or not isinstance(field, Field):
        return field
    choices = tuple(one for one in field.choices if not one.value or one.value in scans or one.chosen)
    return replace(field, help=SCAN_HELP, choices=choices)


def _groups(how: str) -> dict[str, tuple[str, ...]]:
    """The fields that this way asks, by where they stand on the page."""
    light = tuple(name for name in LIGHT if name not in NEEDS[how])
    return {"which": ("sheet",), "needs": NEEDS[how], "read": READ, "table": TABLE, "light": light}


def _is_read(number: str) -> bool:
    """Whether the book has readings of this sheet already."""
    try:
        return bool(number) and bool(sheet_story(number).readings)
    except UnknownName:
        return False


def _address(found: Sent, how: str) -> str:
    """The same page for another way."""
    kept = {name: found.typed.get(name, "") for name in ("sheet", "scan", "control")} | {"how": how}
    return f"/findings/step-sheet?{urlencode({name: text for name, text in kept.items() if text})}"


def _with_file(request: HttpRequest, found: Sent) -> tuple[Sent, Trouble]:
    """A table that came as a file stands where it would have been pasted."""
    file = request.FILES.get("file")
    if file is None or not file.size:
        return found, Trouble()
    try:
        text = file.read(LARGEST_TABLE_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError:
        return found, Trouble(says=NO_TEXT, status=422)
    return Sent({**found.typed, "patches": text}, {**found.given, "patches": text}, found.key), Trouble()


def _learn(found: Sent) -> None:
    """Learn at once; what hinders it is said on the page that comes next, where it can be asked again."""
    try:
        do("learn", {"sheet": found.typed["sheet"]}, key=f"{found.key}-learn")
    except BadQuestion:
        return
