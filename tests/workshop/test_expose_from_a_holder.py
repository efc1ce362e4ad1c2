"""Who exposes a loaded side need not name the paper: the book knows what is in it, and plans with what own sheets say of that."""

import pytest

from silverwright.book.models import Exposure
from silverwright.workshop.deeds import do

SCENE = {"reading_ev": 8, "meter_k": 12.5, "focal_mm": 210, "pupil_factor": 1, "extension_mm": 280, "aperture_f": 16}


def asked(number: str) -> dict[str, object]:
    planned = Exposure.objects.get(sheet__number=number).planned
    assert planned is not None
    question: dict[str, object] = planned.question
    return question


@pytest.fixture
def known_paper(db: None) -> None:  # noqa: ARG001 (the tables must be there)
    do("paper", {"name": "RC paper"})
    do("lot", {"name": "box A", "paper": "RC paper", "sheets_left": 9})
    do("holder", {"name": "holder 1"})
    do("load", {"holder": "holder 1", "side": "1", "lot": "box A"})
    do("expose", {"paper": "RC paper", "lot": "box A", "when": "2026-01-12 10:00Z", "paper_ei": 3, **SCENE})
    do("judge", {"sheet": "26-001", "looks": "right"})


@pytest.mark.usefixtures("known_paper")
@pytest.mark.parametrize("given", [{"holder": "holder 1", "side": "1"}, {"lot": "box A"}, {"holder": "HOLDER 1", "side": "1", "lot": "box A"}])
def test_the_paper_in_hand_says_its_index(given: dict[str, object]) -> None:
    do("expose", {"when": "2026-01-12 11:00Z", **given, **SCENE})
    named = do("expose", {"when": "2026-01-12 12:00Z", "paper": "RC paper", **SCENE})
    assert asked("26-002") == asked(named.name)
    assert asked("26-002")["ei_from"] == "own sheets"


@pytest.mark.usefixtures("known_paper")
def test_the_second_exposure_of_a_side_is_planned_for_the_sheet_in_it() -> None:
    first = do("expose", {"when": "2026-01-12 11:00Z", "holder": "holder 1", "side": "1", **SCENE})
    do("expose", {"when": "2026-01-12 11:05Z", "holder": "holder 1", "side": "1", "anyway": True, **SCENE})
    questions = [one.planned.question for one in Exposure.objects.filter(sheet__number=first.name) if one.planned]
    assert len(questions) == 2
    assert questions[0] == questions[1]


@pytest.mark.usefixtures("known_paper")
def test_a_typed_index_still_wins() -> None:
    do("expose", {"when": "2026-01-12 11:00Z", "holder": "holder 1", "side": "1", "paper_ei": 5, **SCENE})
    assert asked("26-002")["paper_ei"] == 5
