"""Paper goes into holders and comes out again; the box is counted."""

import pytest
from tests.workshop.boatyard import PAPER, gear

from silverwright.book.models import HolderSide, Lot, Sheet
from silverwright.errors import BadQuestion
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
SIDE_1 = {"holder": "holder 1", "side": "1"}


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def side() -> HolderSide:
    return HolderSide.objects.get(side="1")


def left() -> int | None:
    return Lot.objects.get(name="box A").sheets_left


def load() -> None:
    do("load", {**SIDE_1, "lot": "box A", "when": "2026-01-12 08:40Z"})


def test_loading_takes_a_sheet_from_the_box() -> None:
    load()
    assert (side().state, str(side().lot), left()) == ("loaded", "box A", 24)
    assert side().loaded_at is not None
    assert side().loaded_at.isoformat() == "2026-01-12T08:40:00+00:00"  # type: ignore[union-attr]
    assert HolderSide.objects.get(side="2").state == "empty"


def test_a_loaded_side_is_not_loaded_again() -> None:
    load()
    with pytest.raises(BadQuestion, match="loaded already, from “box A”"):
        load()
    assert left() == 24


def test_an_unexposed_sheet_goes_back_into_its_box() -> None:
    load()
    do("unload", SIDE_1)
    assert (side().state, side().lot, left()) == ("unloaded", None, 25)


def test_a_spoiled_sheet_does_not() -> None:
    load()
    do("unload", {**SIDE_1, "back_in_box": "no"})
    assert left() == 24


def test_an_empty_side_is_not_unloaded() -> None:
    with pytest.raises(BadQuestion, match="nothing in this side"):
        do("unload", SIDE_1)


def test_an_exposed_side_holds_its_sheet_until_it_is_out() -> None:
    load()
    number = do("expose", SIDE_1).name
    assert (side().state, str(side().sheet)) == ("exposed", number)
    with pytest.raises(BadQuestion, match=f"still holds the exposed sheet {number}"):
        load()
    do("unload", SIDE_1)
    assert (side().state, side().sheet, left()) == ("unloaded", None, 24)
    load()
    assert side().state == "loaded"


def test_processing_takes_the_sheet_out_of_its_holder() -> None:
    load()
    do("process", {"sheet": do("expose", SIDE_1).name})
    assert side().state == "unloaded"


def test_a_box_that_should_be_empty_says_so() -> None:
    do("lot", {"name": "box C", "paper": PAPER, "sheets_left": 0})
    done = do("load", {**SIDE_1, "lot": "box C"})
    assert [note.note for note in done.notes] == ["box-empty"]
    assert Lot.objects.get(name="box C").sheets_left == 0


def test_an_uncounted_box_stays_uncounted() -> None:
    do("lot", {"name": "box C", "paper": PAPER})
    do("load", {**SIDE_1, "lot": "box C"})
    do("unload", SIDE_1)
    assert Lot.objects.get(name="box C").sheets_left is None


def test_every_state_stands_in_the_history() -> None:
    load()
    do("process", {"sheet": do("expose", SIDE_1).name})
    assert [row.state for row in side().history.order_by("history_id")] == ["empty", "loaded", "exposed", "unloaded"]
    assert [row.history_user.deed for row in side().history.order_by("history_id")] == ["holder", "load", "expose", "process"]


def test_a_side_that_the_holder_has_not() -> None:
    do("holder", {"name": "plate holder", "sides": 1})
    with pytest.raises(BadQuestion, match="one side only"):
        do("load", {"holder": "plate holder", "side": "2", "lot": "box A"})
    assert Sheet.objects.count() == 0
