"""Cut paper: the plan of a sheet drawn before the blade, and what was cut recorded where its plan stands."""

import secrets
from collections.abc import Mapping
from dataclasses import replace
from typing import Final, cast

from django.http import HttpRequest, HttpResponse
from django.utils.safestring import SafeString

from silverwright.book.find import find_thing
from silverwright.book.models import Holder, Lot
from silverwright.book.queries import gear
from silverwright.questions.cutting import CUTTING, CuttingAnswer
from silverwright.questions.sheetsize import known_size
from silverwright.web.answers import shown
from silverwright.web.asked import Asked, Page, as_page, ask_as_typed, fields_of_page
from silverwright.web.fields import sent_text
from silverwright.web.figures import figures
from silverwright.web.live import address
from silverwright.web.pages.doing import form_fields, sent
from silverwright.web.vessels import Taken
from silverwright.workshop.cutpaper import CUT_PAPER, sheet_size_of

PAGE: Final = Page("shelf/ask.html", "parts/cut_answer.html")
SHOWN: Final = ("piece_width_mm", "piece_height_mm", "pieces_each", "sheets", "pieces", "paper_used_percent", "too_large_percent")
RECORDED: Final = ("name", "marked", "remarks")
SAME: Final = ("holder_size", "opening_size", "trim_mm")


def page(request: HttpRequest) -> HttpResponse:
    """The plan for what stands in the address; a box of the book says how large its sheets are, the holders how large theirs."""
    typed = sent_text(request.GET)
    found = find_thing("lot", typed["lot"]) if "lot" in typed else None
    lot = found if isinstance(found, Lot) else None
    asked = ask_as_typed(CUTTING, typed, _usual(lot))
    answer = asked.answer
    more: dict[str, object] = {
        "title": "Cut paper",
        "question": "How do I cut a sheet down to my holder's own size?",
        "act": "Show the cuts",
        "part": PAGE.part,
        "choices": _boxes(request.path, lot),
        "choices_head": "From which box",
        "choices_says": "A box of the book says how large its sheets are.",
        "kept": {"lot": lot.name} if lot else {},
    }
    if isinstance(answer, CuttingAnswer):
        more |= {
            "figures": figures(answer, [name for name in SHOWN if getattr(answer, name) is not None]),
            "rows": replace(shown(answer), lists=(), picture=SafeString("")),
            "lot": lot,
            "record": _record(lot, asked, answer) if lot else {},
            "fields_recorded": form_fields(CUT_PAPER.form, sent(CUT_PAPER.form, {}), {}, RECORDED) if lot else [],
            "key": secrets.token_urlsafe(12),
        }
    begun = asked if typed.keys() - {"lot"} else replace(asked, faults={})  # a box was chosen, and nothing is wrong yet
    return as_page(request, begun, fields_of_page(request, CUTTING, begun), PAGE, more)


def _usual(lot: Lot | None) -> dict[str, str]:
    """What a person would type: the size of the box's sheets, and that of the holders where all have one."""
    sizes = {cast("Holder", holder).size for holder in gear()["holder"]} - {""}
    only = next(iter(sizes)) if len(sizes) == 1 else ""
    usual = {"sheet_size": sheet_size_of(lot) if lot else "", "holder_size": only if known_size(only) else ""}
    return {name: text for name, text in usual.items() if text}


def _boxes(path: str, lot: Lot | None) -> list[Taken]:
    """The boxes with something in them."""
    boxes = [cast("Lot", one) for one in gear()["lot"]]
    return [Taken(one.name, _holds(one), address(path, {"lot": one.name}), one == lot) for one in boxes if one.sheets_left != 0]


def _holds(lot: Lot) -> str:
    """`8x10 in, 12 left`."""
    left = f"{lot.sheets_left} left" if lot.sheets_left is not None else ""
    return ", ".join(part for part in (lot.size, left) if part)


def _record(lot: Lot, asked: Asked, answer: CuttingAnswer) -> Mapping[str, str]:
    """What the act needs besides what is typed below the plan: the box, the sheets, and the same sizes."""
    same = {name: asked.typed[name] for name in SAME if asked.typed.get(name)}
    own = {} if asked.typed.get("sheet_size") == sheet_size_of(lot) else {"sheet_size": asked.typed.get("sheet_size", "")}
    return {"lot": lot.name, "sheets_to_cut": f"{answer.sheets.value:g}", **same, **own}
