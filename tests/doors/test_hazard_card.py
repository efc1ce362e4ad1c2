"""The hazard card through every door: the room's own number, first steps, what must not meet with its gas, and what each bottle can do."""

import io
from pathlib import Path
from typing import Any

import pypdf
import pytest
from click.testing import CliRunner
from django.test import Client

from silverwright import api
from silverwright.cli.main import main
from silverwright.records_chemistry import Contents
from silverwright.report.hazardcard import EMPTY, FOOT, NO_NUMBER, NOTHING_YET, HazardCard, Standing, card_words, hazard_card_pdf, hazard_card_png
from silverwright.workshop.deeds import do
from silverwright.workshop.hazardcard import hazard_card

pytestmark = pytest.mark.django_db
NUMBER = "555 0100"


def text(pdf: bytes) -> str:
    return " ".join("\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages).split())


def room() -> None:
    """Peroxide, a bath from it, a fixer, something strange, and the number of the poison centre."""
    do("stock", {"name": "blue can", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "% w/w", "bought_ml": "1 L"})
    do("stock", {"name": "fixer crystals", "substance": "sodium thiosulphate", "bought_g": "1 kg"})
    do("stock", {"name": "old jar", "substance": "stuff of grandfather", "bought_g": "100 g"})
    do("mix", {"name": "B-05", "role": "bleach", "volume_ml": "1 L", "taken": "blue can; 257; g", "kept_in": "bottle", "vented": True})
    do("workroom", {"poison_centre": NUMBER})


def test_the_card_is_the_same_through_every_door(tmp_path: Path) -> None:
    room()
    by_python = text(api.hazard_card())
    for words in (
        NUMBER,
        "15 minutes by the clock",
        "Never together",
        "Sulphur dioxide and oxygen.",
        "blue can",
        "B-05",
        "Eye damage",
        "Goggles on",
        FOOT[:40],
    ):
        assert words in by_python, words
    assert "stuff of grandfather \N{EN DASH} no hazard data here: read its data sheet" in by_python
    assert "No class on file: sodium thiosulphate" in by_python
    out = tmp_path / "card.pdf"
    done = CliRunner().invoke(main, ["hazard-card", "--out", str(out)])
    assert done.exit_code == 0, done.output
    assert text(out.read_bytes()) == by_python
    for address in ("/api/hazard-card", "/shelf/hazard-card.pdf"):
        answer: Any = Client().get(address)
        assert answer.status_code == 200
        assert answer["Content-Type"] == "application/pdf"
        assert text(answer.content) == by_python
    assert Client().get("/api/hazard-card?page=tabloid").status_code == 422


def test_in_an_empty_room_the_likeliest_accidents_stand_there_and_a_line_to_write_on() -> None:
    words = text(api.hazard_card("us-letter"))
    assert NO_NUMBER in words
    assert NOTHING_YET in words
    assert "Peroxide" in words
    assert "Sulphur dioxide and oxygen." in words


def test_a_proposal_is_marked_as_no_law() -> None:
    do("workroom", {"rules": "proposal of July 2024"})
    assert hazard_card().rules == "proposal of July 2024"
    assert "Classed by a proposal, not by law" in text(api.hazard_card())


def test_what_is_typed_is_never_read_as_markup_and_the_pages_have_their_size() -> None:
    evil = HazardCard(
        standing=[
            Standing(f"#panic() *{place}* $x$", "<b>ü“</b>\\", Contents(1000, {"hydrogen_peroxide": 92.0, "#evil": 5.0})) for place in range(60)
        ],
        poison_centre="#eval()",
    )
    pages = pypdf.PdfReader(io.BytesIO(hazard_card_pdf(evil))).pages
    assert "#panic() *0* $x$" in text(hazard_card_pdf(evil))
    assert [round(float(side)) for side in (pages[0].mediabox.width, pages[0].mediabox.height)] == [595, 842]
    letter = pypdf.PdfReader(io.BytesIO(hazard_card_pdf(evil, "us-letter"))).pages[0]
    assert [round(float(side)) for side in (letter.mediabox.width, letter.mediabox.height)] == [612, 792]
    assert len(hazard_card_png(HazardCard())) == 1


def test_an_empty_waste_bottle_is_empty_and_a_bottle_of_which_nothing_is_known_is_not() -> None:
    card = HazardCard(standing=[Standing("waste: new", "", Contents(0.0, {})), Standing("can", "", None), Standing("tray", "", Contents(500, {}))])
    told = [[seen["words"] for seen in one["glance"]] for one in card_words(card)["standing"]]
    assert told == [[EMPTY], ["No hazard data here: read its data sheet"], ["No hazard data here: read its data sheet"]]


def test_crystals_and_what_they_are_without_water_are_told_once() -> None:
    both = Standing("acids", "", Contents(0.0, {"citric_acid": 1.0, "citric_acid_monohydrate": 1.0}))
    pairs = card_words(HazardCard(standing=[both, Standing("fixer", "", Contents(1000, {"sodium_thiosulphate": 200.0}))]))["pairs"]
    assert [(pair["one"], pair["one_here"], pair["other_here"]) for pair in pairs] == [("Acid", "acids", "fixer")]
