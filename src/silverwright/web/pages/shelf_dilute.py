"""Dilute a stock: how much of the bottle, how much water; the label is asked for, the caution stands before the amounts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse

from silverwright.asking.show import show
from silverwright.book.shelf import StockKnown, shelf, stock_known
from silverwright.book.strongest import strongest_in
from silverwright.errors import Fault
from silverwright.questions.dilution import DILUTION, DilutionAnswer
from silverwright.vocabulary_chemistry import MEASURE_ML, WATER_ML, WEIGH_G
from silverwright.web.asked import Asked, Page, as_page, ask_as_typed, fields_of_page
from silverwright.web.dangers import dangers_of, held_by, ticks_of
from silverwright.web.fields import Field, sent_text
from silverwright.web.figures import figures
from silverwright.web.live import address
from silverwright.web.pages.shelf_record import Noted, record_form, recorded_here
from silverwright.web.vessels import Step, Taken

PAGE: Final = Page("shelf/ask.html", "parts/bench_answer.html")
MAIN: Final = ("substance", "stock_amount", "stock_unit", "wanted_amount", "wanted_unit", "volume_ml", "temperature_celsius")
SHOWN: Final = ("weigh_g", "measure_ml", "water_ml", "weighed_percent", "measured_percent", "strength_g_per_l", "naive_ml", "naive_percent")
LABELS: Final = (
    ("% w/w", "By weight", "% w/w, “% by mass”, “g/100 g”"),
    ("% w/v", "By volume", "% w/v, “g/100 mL”"),
    ("%, label unclear", "The label does not say", "Widens the limits, and says by how much."),
)


@dataclass(frozen=True, slots=True)
class Which:
    """What is asked back: a sentence, and the ways to answer it."""

    says: str
    ways: Sequence[tuple[str, str, str]]


def page(request: HttpRequest) -> HttpResponse:
    """One stock and water, from what stands in the address."""
    outcome, trouble, typed = recorded_here(request)
    if outcome is not None:
        return outcome
    sent = sent_text(request.GET)
    stock = stock_known(sent["stock"]) if "stock" in sent else None
    asked = ask_as_typed(DILUTION, sent, label_of_stock(stock) if stock else {})
    shown = _without_the_question_back(fields_of_page(request, DILUTION, asked, MAIN), asked)
    answer = asked.answer
    more: dict[str, object] = {
        "title": "Dilute a stock",
        "question": "How much of the bottle, and how much water?",
        "act": "Show the steps",
        "part": PAGE.part,
        "choices": taken(request.path, sent.get("stock", "")),
        "choices_head": "From the shelf",
        "choices_says": "A bottle of the book fills in its label.",
        "kept": {"stock": sent["stock"]} if "stock" in sent else {},
        "which": _which(request.path, sent, asked),
        "which_ticks": ticks_of(held_by([stock] if stock else [])),
        "ready": "Before you open the bottle",
        "scale_says": "Weighed is surer. For a scale that shows 0.1 g.",
    }
    if isinstance(answer, DilutionAnswer):
        more |= {
            "steps": _steps(asked, answer, stock),
            "figures": figures(answer, [name for name in SHOWN if getattr(answer, name) is not None]),
            "hurts": [(stock.stock.name, dangers_of(strongest_in(stock.stock)))] if stock else [],
            "ticks": ticks_of(held_by([stock] if stock else [])),
            "form": record_form(
                request, made_of(asked, answer, stock), trouble, typed, noted_of([stock] if stock else [], asked.typed.get("stock_unit", ""))
            ),
        }
    return as_page(request, asked, shown, PAGE, more | {"status": trouble.status})


def taken(path: str, chosen: str) -> list[Taken]:
    """The bottles of the book, each with its label; the chosen one is marked."""
    return [
        Taken(one.stock.name, one.strength_said or one.stock.substance, address(path, {"stock": one.stock.name}), one.stock.name == chosen)
        for one in shelf().stocks
    ]


def label_of_stock(known: StockKnown) -> Mapping[str, str]:
    """What its label, or its newest test, would make somebody type; where the label leaves open which percent it means, that is asked."""
    stock, found = known.stock, known.strength_percent_ww
    if known.tested and found is not None and found.value is not None:
        return {"substance": stock.substance, "stock_amount": f"{found.value:.4g}", "stock_unit": "% w/w"}
    if known.unclear:
        return {"substance": stock.substance, "stock_amount": f"{stock.strength:g}", "stock_unit": "%"}
    if stock.strength_unit == "undiluted":
        return {"substance": stock.substance, "stock_amount": "100", "stock_unit": "% w/w"}
    if stock.strength is None or stock.strength_unit == "not stated":
        return {"substance": stock.substance}
    return {"substance": stock.substance, "stock_amount": f"{stock.strength:g}", "stock_unit": stock.strength_unit}


def noted_of(stocks: Sequence[StockKnown], unit: str) -> Noted:
    """The bottles whose label was asked about, and what was answered; where nobody knows, nothing is noted."""
    return Noted([one.stock.name for one in stocks if one.unclear], unit) if unit in {"% w/w", "% w/v"} else Noted()


def made_of(asked: Asked, answer: DilutionAnswer, stock: StockKnown | None) -> dict[str, str]:
    """What the deed is told: so much of the bottle, or the strength where it is no bottle of the book."""
    typed = {"wanted_unit": "% w/w", "volume_ml": "1000", **asked.typed}
    made = {"volume_ml": typed["volume_ml"], "temperature_celsius": typed.get("temperature_celsius", "")}
    if stock is not None and answer.set_g.value is not None:
        return made | {"taken": f"{stock.stock.name}; {answer.set_g.value:.1f}; g", "anyway": "yes" if stock.unclear else ""}
    return made | {"ingredients": f"{typed['substance']}; {typed['wanted_amount']}; {typed['wanted_unit']}"}


def _steps(asked: Asked, answer: DilutionAnswer, stock: StockKnown | None) -> list[Step]:
    """Water first; the amount large, the sentence of the answer below it."""
    water, pour, *rest = answer.steps
    bottle = f", from “{stock.stock.name}”" if stock else ""
    name = f"{asked.typed['substance']}, {asked.typed['stock_amount']} {asked.typed.get('stock_unit', '%')}{bottle}"
    measured = answer.measure_ml and f"or {show(MEASURE_ML, answer.measure_ml.value)}"  # crystals are weighed only
    care = "Goggles and gloves on before the cap comes off."
    return [
        Step("Water first", show(WATER_ML, answer.water_ml.value), "", water),
        Step(f"{name[:1].upper()}{name[1:]}", show(WEIGH_G, answer.weigh_g.value), measured or "", pour, care),
        *(Step(one) for one in rest),
    ]


def _which(path: str, sent: Mapping[str, str], asked: Asked) -> Which | None:
    """By weight or by volume: asked with both amounts in the sentence, when nothing else is open."""
    fault = _asked_back(asked)
    if fault is None:
        return None
    ways = [(words, f"{path}?{urlencode({**sent, 'stock_unit': unit})}", says) for unit, words, says in LABELS]
    return Which(fault.problem, ways)


def _asked_back(asked: Asked) -> Fault | None:
    """The fault that asks which percent is meant, if it is the only one."""
    fault = asked.faults.get("stock_unit")
    return fault if fault is not None and len(asked.faults) == 1 and asked.typed.get("stock_unit", "%").strip() == "%" else None


def _without_the_question_back(shown: list[Field], asked: Asked) -> list[Field]:
    """What is asked in large letters below need not stand beside the field as well."""
    if _asked_back(asked) is None:
        return shown
    return [replace(one, problem="Which one? It is asked below." if one.name == "stock_unit" else one.problem) for one in shown]
