"""Mix a bath: a recipe made up to a volume or a vessel out of the bottles of the shelf, as steps; then recorded."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse

from silverwright.book.models import Recipe as OwnRecipe
from silverwright.book.shelf import StockKnown, shelf
from silverwright.book.strongest import strongest_in
from silverwright.questions.ingredients import ROOM_CELSIUS, IngredientRow, contents_of, key_of, substance_or_unknown
from silverwright.questions.mix import MIX as MIXING
from silverwright.questions.mix import MixAnswer, recipe_of
from silverwright.questions.mixture import as_parts
from silverwright.questions.recipe import recipe_named, recipes
from silverwright.records_chemistry import Contents
from silverwright.web.asked import Asked, Page, as_page, ask_as_typed, fields_of_page
from silverwright.web.dangers import dangers_of, held_by, ticks_of
from silverwright.web.fields import Field, Option, sent_text
from silverwright.web.figures import figures
from silverwright.web.pages.shelf_dilute import LABELS, Which, noted_of
from silverwright.web.pages.shelf_recipes import HEADS
from silverwright.web.pages.shelf_record import record_form, recorded_here
from silverwright.web.vessels import Step

PAGE: Final = Page("shelf/ask.html", "parts/bench_answer.html")
MAIN: Final = ("recipe", "volume_ml", "liquids_by")
LITRE_ML: Final = 1000.0  # arithmetic
SHOWN: Final = "shown_"  # what the page had filled in, beside what came back
DRAWERS: Final[dict[str, tuple[tuple[str, ...], str]]] = {
    "Vessel": (
        ("vessel", "inside_length_mm", "inside_width_mm", "depth_mm", "inside_height_mm", "slot_mm", "diameter_mm", "sheet", "vessels"),
        "instead of a volume: a tray, a tank, a drum by its inside",
    ),
    "Bottles at hand": (("stocks",), "as they stand on the shelf; without one, as it is usually sold"),
    "Parts": (("ingredients", "water_parts"), "a recipe of your own, or another amount of a part"),
    "More": (("temperature_celsius", "version"), "20 °C, the newest version of the recipe"),
}


@dataclass(frozen=True, slots=True)
class Drawer:
    """Fields that stay closed until wanted."""

    label: str
    says: str
    open: bool
    fields: Sequence[Field]


def page(request: HttpRequest) -> HttpResponse:
    """The steps for what stands in the address, and the form that records them."""
    outcome, trouble, typed = recorded_here(request)
    if outcome is not None:
        return outcome
    sent = as_typed_by_hand(sent_text(request.GET))
    there = shelf()
    stocks, label = there.stocks, sent.get("label", "")
    own = {one.name: one for one in there.recipes}
    recipe = own.get(sent.get("recipe", ""))
    parts = parts_of(recipe) if recipe else ""
    filled = {"stocks": bottles_at_hand(stocks, parts_wanted(sent, parts), label), "ingredients": parts}
    asked = ask_as_typed(MIXING, sent, {name: text for name, text in filled.items() if text})
    shown = {field.name: field for field in fields_of_page(request, MIXING, asked)}
    shown["recipe"] = _with_recipes(shown["recipe"], own)
    answer = asked.answer
    more: dict[str, object] = {
        "title": "Mix a bath",
        "question": "What goes in, in which order?",
        "act": "Show the steps",
        "part": PAGE.part,
        "drawers": _drawers(shown, sent),
        "main": [shown[name] for name in MAIN],
        "ready": "Before you open a bottle",
        "kept": {**({"label": label} if label else {}), **{f"{SHOWN}{name}": text for name, text in filled.items() if text and name not in sent}},
        "address": sent,
        "which": _which(request.path, sent, asked),
        "which_ticks": ticks_of(held_by([one for one in stocks if one.unclear])),
        "scale_says": "Amounts as a scale that shows 0.1 g and a measuring cylinder give them.",
    }
    if isinstance(answer, MixAnswer):
        more |= _steps(answer, stocks) | {
            "form": record_form(request, made_of(asked, answer, stocks, recipe), trouble, typed, noted_of(_used(answer, stocks), label)),
            "card_href": f"/shelf/mixing-card.pdf?{urlencode(asked.typed)}",
        }
    return as_page(request, asked, list(shown.values()), PAGE, more | {"status": trouble.status})


def as_typed_by_hand(sent: Mapping[str, str]) -> dict[str, str]:
    """What somebody typed, without the tables that the page had filled in and that came back as they were: another recipe wants others."""
    typed = {name: text for name, text in sent.items() if not name.startswith(SHOWN)}
    for name in ("stocks", "ingredients"):
        before = sent.get(f"{SHOWN}{name}")
        if before is None:
            continue
        if sent.get(name, "").split() == before.split():
            typed.pop(name, None)
        else:
            typed.setdefault(name, "")
    return typed


def parts_wanted(sent: Mapping[str, str], parts: str) -> frozenset[str]:
    """The substances of the recipe, without their crystal water; none where it has no parts of which we know."""
    known = recipe_named(sent.get("recipe", ""))
    lines = (sent.get("ingredients") or parts).splitlines()
    typed = [line.partition(";")[0].strip() for line in lines]
    return frozenset(map(_dry, [*(part.substance for part in known.parts if known), *typed] if known else typed))


def parts_of(recipe: OwnRecipe) -> str:
    """The parts of a recipe of one's own, a line each, for any volume: what is weighed for its volume becomes grams in a litre."""
    rows = [IngredientRow.model_validate(one) for one in recipe.parts]
    return "\n".join(f"{one.substance}; {one.amount:.5g}; {one.unit}" for one in as_parts(rows, recipe.volume_ml or LITRE_ML, ROOM_CELSIUS))


def bottles_at_hand(stocks: Sequence[StockKnown], wanted: frozenset[str], label: str = "") -> str:
    """
    The bottles of the book that hold a part of the recipe, a line each as the question takes them; a test says more than a label.

    `label` answers for those whose label leaves open whether it means weight or volume; without it the question asks.
    """
    return "\n".join(_bottle_line(one, label) for one in stocks if not wanted or _dry(one.stock.substance) in wanted)


def made_of(asked: Asked, answer: MixAnswer, stocks: Sequence[StockKnown], own: OwnRecipe | None = None) -> dict[str, str]:
    """What the deed is told: from which bottles of the book how much, and what came from elsewhere."""
    question = MIXING.question.model_validate(asked.typed)
    recipe = recipe_of(question)
    names = {one.stock.name for one in stocks}
    taken = [f"{name}; {mass_g:.1f}; g" for name, mass_g in zip(answer.taken_from, answer.taken_g, strict=False) if name in names]
    held = {_dry(row.substance) for row in question.stocks if row.stock in names}
    rows = zip(answer.ingredient, answer.reached_strength, answer.strength_unit, strict=False)
    others = [f"{name}; {amount:.4g}; {unit}" for name, amount, unit in rows if _dry(name) not in held]
    return {
        "role": own.role if own else recipe.role if recipe.use else "other",
        "recipe": recipe.name if own or recipe.use else "",
        "volume_ml": f"{answer.mixed_ml.value:.1f}",
        "temperature_celsius": asked.typed.get("temperature_celsius", ""),
        "taken": "\n".join(taken),
        "ingredients": "\n".join(others),
        "anyway": "yes" if any(one.unclear for one in _used(answer, stocks)) else "",
    }


def _which(path: str, sent: Mapping[str, str], asked: Asked) -> Which | None:
    """By weight or by volume, where the label of a bottle leaves it open and nothing else is wrong."""
    fault = asked.faults.get("stocks")
    if fault is None or len(asked.faults) > 1 or "stocks" in sent or "by volume" not in fault.problem:
        return None
    ways = [(words, f"{path}?{urlencode({**sent, 'label': unit})}", says) for unit, words, says in LABELS]
    return Which(fault.problem, ways)


def _used(answer: MixAnswer, stocks: Sequence[StockKnown]) -> list[StockKnown]:
    """The bottles of the book from which something is taken."""
    return [one for one in stocks if one.stock.name in answer.taken_from]


def _steps(answer: MixAnswer, stocks: Sequence[StockKnown]) -> dict[str, object]:
    columns = zip(answer.step_caution, answer.step_what, answer.step_weigh, answer.step_measure, answer.step_how, strict=True)
    used = _used(answer, stocks)
    mix = mixed_contents(answer)
    return {
        "steps": [_step(*row) for row in columns],
        "figures": figures(answer, [name for name in ("mixed_ml", "ph") if getattr(answer, name) is not None]),
        "comes": answer.reached,
        "shopping": answer.shopping,
        "hurts": [*((one.stock.name, dangers_of(strongest_in(one.stock))) for one in used), *([("The mix", dangers_of(mix))] if mix else [])],
        "ticks": ticks_of([*held_by(used), *([mix] if mix else [])]),
    }


def _step(caution: str, what: str, weigh: str, measure: str, how: str) -> Step:
    """The weight large, the measure beside it; where nothing is weighed, the measure large."""
    amount, beside = (weigh, measure if measure.startswith("or ") or not measure else f"or {measure}") if weigh else (measure, "")
    return Step(f"{what[:1].upper()}{what[1:]}", amount, beside, f"{how[:1].upper()}{how[1:]}." if how else "", caution)


def mixed_contents(answer: MixAnswer) -> Contents | None:
    """What the mix holds; nothing where nobody knows what a concentrate holds."""
    if not answer.mixed_ml.value or not answer.ingredient:
        return None
    columns = zip(answer.ingredient, answer.reached_strength, answer.strength_unit, strict=True)
    rows = [IngredientRow.model_validate({"substance": name, "amount": amount, "unit": unit}) for name, amount, unit in columns]
    return contents_of(rows, answer.mixed_ml.value)


def _bottle_line(known: StockKnown, label: str) -> str:
    """A bottle as the question takes it; a test says more than a label."""
    stock = known.stock
    strength, unit = (
        ("", "") if stock.strength is None or stock.strength_unit in {"undiluted", "not stated"} else (f"{stock.strength:g}", stock.strength_unit)
    )
    if known.unclear:
        unit = label or "%"
    if known.tested and known.strength_percent_ww is not None and known.strength_percent_ww.value is not None:
        strength, unit = f"{known.strength_percent_ww.value:.4g}", "% w/w"
    left = ("" if one is None else f"{one:g}" for one in (known.left_ml, known.left_g))
    return "; ".join((stock.name, stock.substance, strength, unit, *left)).rstrip("; ")


def _with_recipes(field: Field, own: Iterable[str]) -> Field:
    """Every recipe to choose from: one's own first, then in the order of the process."""
    labels = {name: f"My own: {name}" for name in own} | {
        one.name: f"{HEADS.get(one.role, one.role)}: {one.name}{', not recommended' if one.against else ''}" for one in recipes()
    }
    options = [Option(name, label, name == field.typed) for name, label in labels.items()]
    typed = [Option(field.typed, field.typed, chosen=True)] if field.typed and field.typed not in labels else []
    blank = Option("", "parts of your own", not field.typed)
    return replace(field, kind="choice", choices=(blank, *typed, *options), help="Which recipe; or the parts of your own below.")


def _drawers(shown: Mapping[str, Field], sent: Mapping[str, str]) -> list[Drawer]:
    return [
        Drawer(label, says, any(name in sent or shown[name].problem for name in names), [shown[name] for name in names])
        for label, (names, says) in DRAWERS.items()
    ]


def _dry(name: str) -> str:
    known = substance_or_unknown(name)
    return known.anhydrous or key_of(name)
