"""Test a strength: which test, what it needs, its steps with what can hurt first, what was read; and the result goes into the book."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from django.http import HttpRequest, HttpResponse

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Estimate
from silverwright.book.shelf import BathKnown, StockKnown, bath_known, shelf, stock_known
from silverwright.book.shelf_words import age_said
from silverwright.book.strongest import strongest_in
from silverwright.catalogue import find
from silverwright.chemistry.strength import PEROXIDE
from silverwright.facts.load import cited
from silverwright.questions.guides import BENCH_TESTS, BenchTest, guide
from silverwright.web.asked import Page, as_page, ask_as_typed, fields_of_page
from silverwright.web.dangers import dangers_of
from silverwright.web.fields import Field, sent_text
from silverwright.web.figures import figures
from silverwright.web.live import address
from silverwright.web.pages.doing import Grid, Trouble, carry_out, form_fields, fresh, sent, strangers
from silverwright.web.pages.shelf import is_peroxide
from silverwright.web.vessels import Taken
from silverwright.workshop.act import AnyDeed
from silverwright.workshop.deeds import find_deed

PAGE: Final = Page("shelf/test.html", "parts/test_answer.html")
ASKED: Final = ("when", "remarks")
ANSWERED_BY: Final[Mapping[BenchTest, tuple[str, str]]] = {  # the question, and how the book calls the test
    "permanganate": ("chemistry.titration", "permanganate titration"),
    "iodine": ("chemistry.titration", "iodine titration"),
    "gas": ("chemistry.gas", "gas volume"),
    "strip": ("chemistry.strip", "test strips"),
    "bleach-out": ("chemistry.bleach-out", "bleach-out test"),
    "two assays": ("chemistry.decay", ""),
}
HEADS: Final[Mapping[BenchTest, str]] = {
    "permanganate": "Titration with permanganate",
    "iodine": "Titration with iodine",
    "gas": "Gas volume",
    "strip": "Test strips",
    "bleach-out": "Bleach-out test",
    "two assays": "Two assays: how long it lasts",
}


@dataclass(frozen=True, slots=True)
class RecordForm:
    """The form that writes the result into the book."""

    fields: Sequence[Field | Grid]
    hidden: Mapping[str, str]
    problems: Sequence[str]
    says: str
    key: str
    action: str
    thing: str


def page(request: HttpRequest) -> HttpResponse:
    """The test in the address, for the bottle or bath in the address."""
    chosen = sent_text(request.GET)
    bath = bath_known(chosen["bath"]) if "bath" in chosen else None
    stock = stock_known(chosen["stock"]) if "stock" in chosen and bath is None else None
    test = next((one for one in BENCH_TESTS if one == chosen.get("test")), "bleach-out" if bath and bath.bath.role == "bleach" else None)
    deed = find_deed("test-bath" if bath else "stock-tested") if bath or stock else None
    trouble, typed = Trouble(), {}
    if request.method == "POST" and deed is not None:
        typed = sent_text(request.POST)
        outcome = carry_out(deed, sent(deed.form, typed))
        if isinstance(outcome, HttpResponse):
            return outcome
        trouble = outcome
    more: dict[str, object] = {
        "things": _things(request.path, chosen),
        "tests": [Taken(HEADS[one], guide(one).good_for, _to(request.path, chosen, "test", one), one == test) for one in BENCH_TESTS],
        "thing": bath.bath.name if bath else stock.stock.name if stock else "",
        "status": trouble.status,
    }
    operation = find(ANSWERED_BY[test][0] if test else "chemistry.titration")
    asked = ask_as_typed(operation, chosen, _usual(test, operation.question, bath, stock))
    shown = fields_of_page(request, operation, asked, [name for name in fields_of(operation.question) if name != "reagent"]) if test else []
    if test is not None:
        known = bath.contents if bath else strongest_in(stock.stock) if stock else None
        more |= {
            "guide": guide(test),
            "guide_says": [cited(one) for one in guide(test).says.split("; ")],
            "head": HEADS[test],
            "hurts": dangers_of(known) if known else None,
            "kept": {name: chosen.get(name) or test for name in ("test", "bath", "stock") if name in chosen or name == "test"},
        }
        if asked.answer is not None:
            more |= _found(asked.answer)
            if deed is not None and ANSWERED_BY[test][1]:
                made = made_of(ANSWERED_BY[test][1], asked.answer, asked.typed, bath, stock)
                more["form"] = _form(request, deed, {**made, **typed}, trouble, str(more["thing"]))
    return as_page(request, asked, shown, PAGE, more)


def made_of(tested_by: str, answer: Any, typed: Mapping[str, str], bath: BathKnown | None, stock: StockKnown | None) -> dict[str, str]:  # noqa: ANN401 (any test's answer)
    """What the deed is told of the result."""
    made = {"tested_by": tested_by, "temperature_celsius": typed.get("temperature_celsius", "")}
    made |= {"bath": bath.bath.name} if bath else {"stock": stock.stock.name} if stock else {}
    found = getattr(answer, "strength_percent_ww", None)
    if isinstance(found, Estimate):
        ends = {"strength_percent_ww": found.value, "low_percent_ww": found.low, "high_percent_ww": found.high}
        made |= {name: f"{end:.4g}" for name, end in ends.items() if end is not None}
        made |= {"substance": "hydrogen peroxide"} if bath else {}
    for name in ("clearing_s", "fresh_clearing_s"):
        time = getattr(answer, name, None)
        if isinstance(time, Estimate) and time.value is not None:
            made[name] = f"{time.value:.4g}"
    return {name: text for name, text in made.items() if text}


def _form(request: HttpRequest, deed: AnyDeed, typed: Mapping[str, str], trouble: Trouble, thing: str) -> RecordForm:
    found = sent(deed.form, typed)
    elsewhere = [fault.problem for name, fault in trouble.faults.items() if name in deed.form.model_fields and name not in ASKED]
    return RecordForm(
        fields=form_fields(deed.form, found, trouble.faults, ASKED),
        hidden={name: text for name, text in typed.items() if name in deed.form.model_fields and name not in ASKED},
        problems=[*elsewhere, *(fault.problem for fault in strangers(deed.form, trouble.faults))],
        says=trouble.says,
        key=fresh(found, trouble).key,
        action=request.get_full_path(),
        thing=thing,
    )


def _found(answer: Any) -> dict[str, object]:  # noqa: ANN401 (any test's answer)
    named = [name for name in fields_of(type(answer)) if isinstance(getattr(answer, name), Estimate)]
    return {"figures": figures(answer, named)}


def _usual(test: BenchTest | None, question: Any, bath: BathKnown | None, stock: StockKnown | None) -> dict[str, str]:  # noqa: ANN401 (any test's question)
    """What a person would type: the reagent that was chosen, and what the label says."""
    usual: dict[str, str] = {"reagent": test} if test in {"permanganate", "iodine"} else {}
    if stock is not None and stock.stock.strength is not None and stock.stock.strength_unit not in {"not stated", "undiluted"}:
        usual |= {"stock_amount": f"{stock.stock.strength:g}", "stock_unit": stock.stock.strength_unit}
    mixed = next((one for one in bath.strengths if one.substance == PEROXIDE), None) if bath is not None else None
    if mixed is not None and mixed.as_mixed_percent_ww > 0:
        usual |= {"stock_amount": f"{mixed.as_mixed_percent_ww:.3g}", "stock_unit": "% w/w"}
    if bath is not None and bath.sheets:
        usual["sample_is"] = "a used bath"
    return {name: text for name, text in usual.items() if name in question.model_fields}


def _things(path: str, chosen: Mapping[str, str]) -> list[Taken]:
    """The baths and bottles of which these tests tell something: a bath in use first."""
    found = shelf()
    kept = {"test": chosen["test"]} if "test" in chosen else {}
    baths = [
        Taken(
            one.bath.name,
            f"{one.bath.role}, {age_said(one.age_days)}",
            address(path, {"bath": one.bath.name, **kept}),
            one.bath.name == chosen.get("bath"),
        )
        for one in found.baths
        if PEROXIDE in one.contents.mass_g
    ]
    stocks = [
        Taken(
            one.stock.name,
            one.strength_said or one.stock.substance,
            address(path, {"stock": one.stock.name, **kept}),
            one.stock.name == chosen.get("stock"),
        )
        for one in found.stocks
        if is_peroxide(one.stock)
    ]
    return [*baths, *stocks]


def _to(path: str, chosen: Mapping[str, str], name: str, value: str) -> str:
    return address(path, {**{one: chosen[one] for one in ("bath", "stock") if one in chosen}, name: value})
