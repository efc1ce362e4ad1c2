"""The field note: one page of the exact size, every figure on it, and nothing that was typed read as markup."""

import io
import json
from dataclasses import replace

import pypdf
import pytest

from silverwright.asking.operation import Estimate, Line, Remark, remark
from silverwright.notes import Note
from silverwright.questions.flash import FLASH
from silverwright.questions.ledger import LEDGER
from silverwright.report.fieldnote import FieldNote, Paper, field_note_pdf, from_answer


def _line(what: str, amount: float, doubt: float, source: str, rests: str) -> Line:
    return Line.model_validate({"what": what, "amount": amount, "doubt": doubt, "unit": "stops", "source": source, "rests": rests})


NOTE = FieldNote(
    title="Mallet and rope #1, $5 *north* window _x_ [y]",
    time_s=97.2,
    limits=Estimate(value=97.2, low=58.1, high=162.6, percent=80),
    settable_s=97.2,
    lines=(
        _line("Reading EV 10 at f/22", -1.0, 0.15, "K 12.5", "published"),
        _line("The paper's EI 1.5", 6.06, 0.5, "typed", "judgement"),
        _line("Bellows 315 mm on 210 mm", 1.17, 0.02, "formula", "published"),
        _line("Filter", 0, 0, "none", "own"),
        _line("Reciprocity", 0.37, 0.35, "our judgement", "judgement"),
        _line("Aperture and shutter", 0, 0.1, "common practice, no source", "trade"),
    ),
    total_stops=6.6,
    total_doubt_stops=0.63,
    notes=(remark(Note.MIRROR_IMAGE),),
    bracket_s=(68.7, 97.2, 137.4),
    facts={"Paper": "RC paper, grade 2, box A", "Lens": "210 mm lens in a leaf shutter", "Reading": "EV 10"},
    made="13 January 2026",
)
SIZES_MM: dict[Paper, tuple[float, float]] = {"a4": (210, 297), "us-letter": (215.9, 279.4)}


def _page(note: FieldNote, paper: Paper = "a4") -> pypdf.PageObject:
    (page,) = pypdf.PdfReader(io.BytesIO(field_note_pdf(note, paper))).pages
    return page


@pytest.mark.parametrize("paper", SIZES_MM)
def test_it_is_one_page_of_the_exact_size(paper: Paper) -> None:
    page = _page(NOTE, paper)
    wide, high = (25.4 / 72 * float(side) for side in (page.mediabox.width, page.mediabox.height))
    assert (wide, high) == pytest.approx(SIZES_MM[paper], abs=0.1)


@pytest.mark.parametrize("paper", SIZES_MM)
def test_every_figure_is_on_it(paper: Paper) -> None:
    text = " ".join(_page(NOTE, paper).extract_text().split())
    for wanted in (
        "1:37", "97 s (1:37)", "58.1 s", "163 s (2:43)", "Limits hold 8 of 10", "1:09", "2:17",
        "\N{MINUS SIGN}1.00", "+6.06", "+1.17", "+0.37", "+6.60", "0.63", "0.35", "0.15",
        "± is one standard deviation", "common practice, no source", "RC paper, grade 2, box A", "mirror image", "Reading at the end",
    ):  # fmt: skip
        assert wanted.replace("\N{NO-BREAK SPACE}", " ") in text.replace("\N{NO-BREAK SPACE}", " ")


def test_what_was_typed_is_no_markup() -> None:
    assert "Mallet and rope #1, $5 *north* window _x_ [y]" in _page(NOTE).extract_text()


def test_the_invented_mark_stands_on_it_when_given() -> None:
    assert "invented" not in _page(NOTE).extract_text()
    assert "invented" in _page(replace(NOTE, invented=True)).extract_text()


def test_a_long_note_stays_one_page() -> None:
    long = replace(
        NOTE,
        title="The people who work at the boatyard, standing at the open shed door on a dark afternoon in winter, third try of the day",
        lines=(*NOTE.lines, *NOTE.lines[:2]),
        notes=(NOTE.notes[0],) * 4 + (Remark(note=Note.ROUTES_DISAGREE, severity="care", sentence="The ruler and the distance disagree. " * 6),),
        bracket_s=(48.6, 68.7, 97.2, 137.4, 194.4),
        facts={f"Fact {number}": "a fact of middling length, as it comes" for number in range(12)},
    )
    for paper in SIZES_MM:
        _page(long, paper)


def test_an_open_limit_is_left_open() -> None:
    text = _page(replace(NOTE, limits=Estimate(value=97.2))).extract_text()
    assert "between" not in text


def test_its_fonts_are_inside() -> None:
    """No font of the machine is used: what it prints is the same everywhere."""
    embedded, missing = _page(NOTE)._get_fonts()  # noqa: SLF001 (pypdf has no other list of them)
    fonts = {name.split("+")[-1] for name in embedded}
    assert not missing
    assert fonts
    assert all(name.startswith(("Archivo", "Besley")) for name in fonts)


@pytest.mark.parametrize("example", LEDGER.examples)
def test_the_ledgers_own_answers_make_a_note(example: str) -> None:
    """From the question's own examples, through JSON as the book keeps it, every line and note stands on the page."""
    answer = LEDGER.ask(LEDGER.examples[example])
    page = _page(from_answer(json.loads(answer.model_dump_json()), title=example))
    text = " ".join(page.extract_text().replace("\N{NO-BREAK SPACE}", " ").split())
    for line in answer.ledger:
        small = abs(line.amount) < 0.05 and line.doubt < 0.05  # by hand, not by the line
        assert line.what[small:].replace("\N{NO-BREAK SPACE}", " ") in text
        assert small or f"{line.doubt:.2f}" in text
    assert f"{answer.doubt_stops.value:.2f}" in text
    assert sum(note.sentence.split()[0] in text for note in answer.notes) == len(answer.notes)


def test_what_can_hurt_somebody_stands_before_the_flashes() -> None:
    answer = FLASH.ask({"flash_meter_f": 16, "flash_meter_ei": 100, "aperture_f": 11, "paper_ei": 0.8}).model_dump(mode="json")
    text = " ".join(_page(from_answer(answer, title="Caulker")).extract_text().split())
    assert "Flashes given" in text
    assert text.index("nobody looks into the head") < text.index("nearest to give:")
