"""The Camera: how long, and how sure is that? The address is the state; a record is made on its own page, after the exposure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.queries import names
from silverwright.web.fields import Field, fields, sent_text
from silverwright.web.live import address, keep_address, left, live, swapped, told
from silverwright.web.pages.camera_answer import answered, flashed
from silverwright.web.pages.camera_asked import UNSAID, WAYS, Asked, ask, ask_as_last_time
from silverwright.web.pages.camera_beside import line_pressed, sections, small
from silverwright.web.pages.camera_hand import IN_HAND, hand_of, side_place
from silverwright.web.pages.camera_sections import besides
from silverwright.workshop.plan import THINGS
from silverwright.workshop.scene import EitherForm

BY_GUIDE: Final = ("guide_number", "guide_unit", "guide_ei", "flash_distance_mm")  # for whoever has no flash meter
ALONG: Final = frozenset({"paper", "lens", "camera", "light", "meter", "process", "paper_ei", "aperture_f"})  # what a trip is prepared with
MAIN: Final = ("extension_mm", "aperture_f")
DRAWERS: Final[dict[str, tuple[str, ...]]] = {
    "Light": ("light_class", "sensitivity", "metered_through", "through_stops", "light_offset_stops", "light_offset_sd_stops"),
    "Paper's EI": ("paper_ei", "paper_ei_sd_stops"),
    "Lens": (
        "camera_kind",
        "focal_mm",
        "pupil_factor",
        "aperture_scale",
        "timed_by",
        "infinity_extension_mm",
        "stop_mm",
        "stop_sd_mm",
        "measured_apertures",
        "measured_speeds",
        "hand_sd_s",
    ),
    "Distance or sizes": (
        *("subject_mm", "distance_from", "image_size_mm", "subject_size_mm"),
        *("target_image_mm", "target_mm", "magnification_factor", "ruler_sd_mm"),
    ),
    "Meter": ("incident_head", "meter_k", "meter_c", "reading_sd_stops"),
    "Filter": ("filter_kind", "filter_factor", "filter_in_stops", "filter_by_density", "filter_passes"),
    "Tone": ("reading_tone",),
    "Flash": (
        *("flash_meter_tenths_stops", "energy_ws", "modifier", "modifier_stops", "heads"),
        *("recycle_s", "short_flash_stops", "short_flash_sd_stops", "flash_exponent_factor"),
    ),
    "Reciprocity": ("reciprocity_model", "own_points", "exponent_factor", "exponent_sd", "surest_at_s"),
    "Image": ("turned", "mirror_stops", "mirror_sd_stops"),
}
ON_THE_PAGE: Final = frozenset(chain(IN_HAND, MAIN, chain.from_iterable(names for _, names in WAYS.values()), chain.from_iterable(DRAWERS.values())))
TAKEN: Final = {
    "Light": "as the light in hand has it; noon daylight where nothing names it",
    "Paper's EI": "from your own sheets; its doubt as theirs, or as usual for a typed one",
    "Lens": "as the lens in hand has it, aperture as marked",
    "Distance or sizes": "not needed with the extension",
    "Meter": "as the meter in hand has it",
    "Filter": "none",
    "Tone": "the reading is of a mid-grey",
    "Flash": "one head in its own reflector",
    "Reciprocity": "our first guess for paper, until your own sheets and tests say more",
    "Image": "mirror image, unless the camera in hand turns it",
}


@dataclass(frozen=True, slots=True)
class Way:
    """One way to give the reading, with its fields."""

    name: str
    label: str
    chosen: bool
    fields: Sequence[Field]
    folded: Sequence[Field] = ()

    @property
    def folded_open(self) -> bool:
        """Whether something was typed there, or is wrong."""
        return any(field.typed or field.problem for field in self.folded)


@dataclass(frozen=True, slots=True)
class Drawer:
    """What is seldom changed, and what is taken while it is closed."""

    label: str
    says: str
    open: bool
    fields: Sequence[Field]
    of: str = ""  # the one way of exposing for which it is there


def camera(request: HttpRequest) -> HttpResponse:
    """Show the exposure for what stands in the address; a bare address shows the last one again."""
    sent = sent_text(request.GET)
    again = None if sent or live(request) else ask_as_last_time()
    asked, beside = again or ask(sent), besides(request)
    state = asked.state | beside.state
    if line_pressed(request):
        told_anew = {"sections": sections(request, asked, beside), "later": True}
        return keep_address(render(request, "parts/besides.html", told_anew), request, state)
    context = {"as_last_time": again is not None, **page_of(request, asked), "sections": sections(request, asked, beside), "state": state}
    if live(request) and not left(request) and asked.either is None:
        response = render(request, "parts/camera_waits.html", context)
        response["HX-Reswap"] = "none"  # the last answer stays, pale, while somebody is still typing
        return keep_address(response, request, state)
    response = render(request, "parts/camera_live.html" if live(request) else "camera.html", context)
    return keep_address(response, request, state)


def page_of(request: HttpRequest, asked: Asked) -> dict[str, object]:
    """Everything that the page and its live part show."""
    faults = told(request, asked.faults) if asked.typed or asked.side_named else {}
    things = None if live(request) else names  # while somebody types, what there is to choose from stands there already
    shown = {field.name: field for field in fields(EitherForm, asked.typed, faults, things=things, unsaid=UNSAID)}
    ways = [_way(name, asked.way, shown) for name in WAYS]
    main = [shown[name] for name in (*(("focal_mm",) if "lens" not in asked.typed else ()), *MAIN, *(() if _own_sheets(asked) else ("paper_ei",)))]
    seen = {field.name for field in main}
    drawers = [_drawer(label, [shown[name] for name in names if name not in seen]) for label, names in DRAWERS.items()]
    return {
        "ways": ways,
        "main": main,
        "drawers": [drawer for drawer in drawers if drawer.fields],
        "bracket": shown["bracket_sheets"],
        "hand": hand_of(asked, [shown[name] for name in IN_HAND], faults, alone=live(request)),
        "swapped": swapped(request, [*_places(shown, asked), *side_place(asked, faults)], asked.faults),
        "along_href": address("/camera/fieldpage", {name: text for name, text in asked.to_record.items() if name in ALONG}),
        "waiting": _waiting(asked, shown),
        "waits_for": ", ".join(dict.fromkeys(small(shown[name].label) for name in asked.faults if name in shown)),
        **(answered(asked, asked.planned) if asked.planned else flashed(asked, asked.flashes) if asked.flashes else {}),
    }


def _waiting(asked: Asked, shown: Mapping[str, Field]) -> str:
    """What the answer waits for, in words; nothing is wrong with a page that nobody has filled in yet."""
    if not asked.typed:
        return ""
    labels = {name: small(shown[name].label) if name in shown else fault.problem for name, fault in asked.faults.items()}
    missing = [labels[name] for name, fault in asked.faults.items() if not fault.given]
    unread = [f"To mend: {labels[name]}. {fault.problem}" for name, fault in asked.faults.items() if fault.given]
    parts = (f"Still needed: {', '.join(missing)}." if missing else "", *unread)
    return " ".join(part for part in parts if part)


def _own_sheets(asked: Asked) -> bool:
    """Whether own sheets say the paper's EI: without them it is the largest doubt, and stands open."""
    return asked.either is not None and any(one.field == "paper_ei" for one in asked.either.from_book)


def _way(name: str, chosen: str, shown: Mapping[str, Field]) -> Way:
    label, names = WAYS[name]
    told = {one: replace(shown[one], placeholder=shown[one].placeholder or " ") for one in names}  # a style sheet sees so whether a field is empty
    return Way(name, label, name == chosen, [told[one] for one in names if one not in BY_GUIDE], [shown[one] for one in names if one in BY_GUIDE])


def _drawer(label: str, of: Sequence[Field]) -> Drawer:
    """A drawer says what is in it: what was typed, or what is taken instead."""
    typed = [" ".join(filter(None, (field.label if field.label != label else "", _first_line(field), field.sign))) for field in of if field.typed]
    return Drawer(label, ", ".join(typed) or TAKEN[label], any(field.problem for field in of), of, "flash" if label == "Flash" else "")


def _first_line(field: Field) -> str:
    lines = field.typed.splitlines()
    return lines[0] if len(lines) == 1 else f"{len(lines)} lines"


def _places(shown: Mapping[str, Field], asked: Asked) -> list[Field]:
    """The fields that the page has; a thing in hand has one only where the book has some to choose from."""
    return [field for name, field in shown.items() if name in ON_THE_PAGE and (name not in THINGS or name in asked.typed)]
