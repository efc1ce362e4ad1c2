"""A sheet is cut, and processed: whole or piece by piece."""

import pytest
from django.test import Client
from tests.workshop.boatyard import exposed, gear

from silverwright import api
from silverwright.book.life import process_of
from silverwright.book.models import Processing, ProcessingStep, Sheet
from silverwright.errors import BadQuestion
from silverwright.workshop.deeds import do, find_deed

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
STEPS = """step; step_s; temperature_celsius; bath; light_given
first development; 2m30s; 20; developer, tray 1;
bleach; 90; 68 F; acid bleach;
second exposure; 30; ; ; room lamp at 1 m"""


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def test_steps_in_their_order() -> None:
    number = exposed()
    done = do("process", {"sheet": number, "steps": STEPS, "when": "2026-01-12 11:10Z"})
    rows = [(one.position, one.step, one.step_s, one.temperature_celsius, one.bath, one.light_given) for one in ProcessingStep.objects.all()]
    assert rows == [
        (1, "first development", 150, 20, "developer, tray 1", ""),
        (2, "bleach", 90, pytest.approx(20.0), "acid bleach", ""),
        (3, "second exposure", 30, None, "", "room lamp at 1 m"),
    ]
    assert "3 steps" in done.says
    assert api.story(number).line.state == "processed"


def test_nothing_but_the_sheet_is_needed() -> None:
    do("process", {"sheet": exposed(process="negative")})
    assert Processing.objects.get().process == "negative", "as it was meant when it was exposed"


def test_every_wrong_step_is_one_fault() -> None:
    with pytest.raises(BadQuestion) as caught:
        do("process", {"sheet": exposed(), "steps": "first develop; 2m\nbleach; -3"})
    assert [fault.field for fault in caught.value.faults] == ["steps"]


def test_pieces_go_their_own_way() -> None:
    do("cut", {"sheet": exposed(), "pieces": 3})
    do("process", {"sheet": "26-001a", "process": "negative"})
    assert [process_of(one) for one in Sheet.objects.order_by("letter")] == ["direct positive", "negative", "direct positive", "direct positive"]
    assert {line.sheet.number: line.state for line in api.sheets()} == {
        "26-001": "cut",
        "26-001a": "processed",
        "26-001b": "exposed",
        "26-001c": "exposed",
    }


def test_a_cut_sheet_is_not_processed_whole() -> None:
    do("cut", {"sheet": exposed()})
    with pytest.raises(BadQuestion, match="26-001a, 26-001b"):
        do("process", {"sheet": "26-001"})


def test_a_sheet_cut_after_the_trays_shares_them() -> None:
    number = exposed()
    do("process", {"sheet": number, "process": "negative"})
    do("cut", {"sheet": number})
    do("process", {"sheet": "26-001b", "steps": "toning; 3m"})
    assert [len(api.story(f"26-001{letter}").processings) for letter in "ab"] == [1, 2]
    assert api.story("26-001a").line.state == "processed"


def test_more_pieces_get_the_next_letters() -> None:
    do("cut", {"sheet": exposed()})
    assert do("cut", {"sheet": "26-001", "pieces": 2}).values["pieces"] == ["26-001c", "26-001d"]
    with pytest.raises(BadQuestion, match="at most 26 pieces"):
        do("cut", {"sheet": "26-001", "pieces": 23})


def test_a_piece_is_not_cut() -> None:
    do("cut", {"sheet": exposed()})
    with pytest.raises(BadQuestion, match="a piece already"):
        do("cut", {"sheet": "26-001a"})


def test_numbers_as_people_write_them() -> None:
    exposed()
    for written in ("26-1", "2026-001", "26/01", " 26-001 "):
        assert api.story(written).line.sheet.number == "26-001"


def test_the_caution_comes_before_the_act() -> None:
    warning = find_deed("process").warning
    assert warning is not None
    assert "safety data sheets" in warning.sentence
    page = Client().get("/book/do/process").content.decode()
    assert 0 < page.index(warning.sentence) < page.index('<form class="stack"')
