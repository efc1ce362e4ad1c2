"""The mixing card: one bath on one card for the bench, the caution before each amount, a box to tick behind each step."""

import json
from collections.abc import Mapping, Sequence
from importlib.resources import as_file, files
from typing import Any, Final, Literal

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Remark
from silverwright.asking.show import show, show_estimate
from silverwright.facts.load import cited
from silverwright.questions.hazard import NO_DATA, glance_of, hazards_of
from silverwright.questions.mix import MixAnswer, MixQuestion, mixed_contents, recipe_of
from silverwright.report.pictograms import shape_svg

CardPaper = Literal["a5", "half-letter"]
PAPERS: Final[dict[CardPaper, str]] = {"a5": "a5", "half-letter": "us-statement"}
FOOT: Final = (
    "A card of the workroom, no label of a shop. The safety data sheet of your product and local rules come first. "
    "In the eye: rinse at once and for minutes, then a doctor."
)
BLANKS: Final = ("Mixed on", "By", "Bottle or tray", "Number on its label")


def mixing_card_pdf(question: MixQuestion, answer: MixAnswer, paper: CardPaper = "a5", *, invented: bool = False) -> bytes:
    """The card as PDF: one page, more where a recipe is long."""
    return _typeset(question, answer, paper, invented=invented, form="pdf")[0]


def mixing_card_png(question: MixQuestion, answer: MixAnswer, paper: CardPaper = "a5", *, invented: bool = False) -> Sequence[bytes]:
    """The same pages as pictures, to look at."""
    return _typeset(question, answer, paper, invented=invented, form="png")


def card_words(question: MixQuestion, answer: MixAnswer) -> dict[str, Any]:
    """Everything as it is printed."""
    marks = fields_of(MixAnswer)
    recipe = recipe_of(question)
    makes = show_estimate(marks["mixed_ml"], answer.mixed_ml)
    facts = [("It makes", makes)]
    facts += [("pH", show_estimate(marks["ph"], answer.ph))] if answer.ph else []
    facts += [("It stands", show(marks["stands_mm"], answer.stands_mm))] if answer.stands_mm is not None else []
    version = f", version {recipe.version}" if recipe.version != "1" else ""
    return {
        "title": f"{recipe.name[:1].upper()}{recipe.name[1:]}{version}",
        "makes": makes,
        "use": recipe.use,
        "says": f"Rests on: {_once(answer)}.",
        "facts": facts,
        "cautions": [_told(one) for one in answer.cautions],
        "steps": _steps(answer),
        "reached": list(answer.reached),
        "glance": _glance(question),
        "hazards": list(answer.hazards),
        "shopping": list(answer.shopping),
        "notes": [_told(one) for one in answer.other_notes],
        "blanks": BLANKS,
        "foot": FOOT,
    }


def _glance(question: MixQuestion) -> list[Mapping[str, str]]:
    """The shapes of what the mix can do, each with its few words; the dashed one where nothing is on file."""
    contents = mixed_contents(question)
    seen = glance_of(hazards_of(contents, question.temperature_celsius)) if contents else (("none", NO_DATA.capitalize()),)
    return [{"svg": shape_svg(shape), "words": words} for shape, words in seen]


def _steps(answer: MixAnswer) -> list[Mapping[str, str]]:
    columns = (answer.step_caution, answer.step_what, answer.step_weigh, answer.step_measure, answer.step_how)
    names = ("caution", "what", "weigh", "measure", "how")
    return [dict(zip(names, row, strict=True)) for row in zip(*columns, strict=True)]


def _told(one: Remark) -> Mapping[str, str]:
    return {"severity": one.severity, "word": one.severity.capitalize(), "sentence": one.sentence}


def _once(answer: MixAnswer) -> str:
    return "; ".join(dict.fromkeys(cited(one) for said in answer.sources for one in said.split("; ")))


def _typeset(question: MixQuestion, answer: MixAnswer, paper: CardPaper, *, invented: bool, form: Literal["pdf", "png"]) -> Sequence[bytes]:
    import typst  # noqa: PLC0415 (only paper needs it)

    words = card_words(question, answer) | {"paper": PAPERS[paper], "invented": invented}
    with as_file(files("silverwright.report")) as room:
        pages: bytes | list[bytes] = typst.compile(
            room / "mixingcard.typ",
            font_paths=[room / "fonts"],
            ignore_system_fonts=True,
            format=form,
            ppi=150.0 if form == "png" else None,
            sys_inputs={"card": json.dumps(words)},
        )
    return [pages] if isinstance(pages, bytes) else pages
