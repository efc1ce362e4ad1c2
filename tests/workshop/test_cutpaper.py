"""Paper cut down, loaded on both sides with clipped corners, and known by its chips: the first task of a newcomer."""

from typing import get_args

import pytest
from tests.workshop.boatyard import PAPER

from silverwright.book.models import Chip, HolderSide, Lot, Sheet
from silverwright.errors import BadQuestion
from silverwright.notes import Note
from silverwright.processing.corners import code_name, corner_codes
from silverwright.workshop.act import Done
from silverwright.workshop.deeds import do, find_deed
from silverwright.workshop.holders import NO_CORNER, Corner

pytestmark = pytest.mark.django_db
PIECES = "box L, cut to 4x5 in"


def large(**more: object) -> None:
    do("paper", {"name": PAPER})
    do("lot", {"name": "box L", "paper": PAPER, "size": "8x10 in", "sheets_left": 10, "opened_on": "2026-11-20"} | more)


def cut(**more: object) -> Done:
    return do("cut-paper", {"lot": "box L", "sheets_to_cut": 2, "holder_size": "4x5 in"} | more)


def refused(deed: str, **given: object) -> dict[str, str]:
    with pytest.raises(BadQuestion) as bad:
        do(deed, given)
    return {fault.field: fault.problem for fault in bad.value.faults}


def test_two_sheets_cut_into_eight_and_three_holders_loaded() -> None:
    """Task 1: six in holders, two spare, the box two fewer, corner codes told."""
    large()
    done = cut(marked="pencil stroke on the back")
    assert done.name == PIECES
    assert done.says == "2 sheets of “box L” cut into 8 pieces of 100.1 x 125.5\N{NO-BREAK SPACE}mm: “" + PIECES + "” holds 8. 8 left in “box L”."
    for number in (1, 2, 3):
        do("holder", {"name": f"holder {number}", "size": "4x5 in"})
        done = do("load", {"holder": f"holder {number}", "side": "both", "lot": PIECES, "corner": "next free"})
    assert done.says.startswith("Holder “holder 3”, both sides: loaded from “" + PIECES + "”. 2 left in")
    assert Lot.objects.get(name="box L").sheets_left == 8
    assert Lot.objects.get(name=PIECES).sheets_left == 2
    sides = HolderSide.objects.filter(state="loaded")
    assert sides.count() == 6
    assert [side.corner for side in sides] == [code_name(code) for code in corner_codes()][:6]


def test_the_pieces_are_a_box_of_their_own() -> None:
    large()
    cut(marked="pencil stroke on the back")
    pieces = Lot.objects.get(name=PIECES)
    assert (pieces.paper.name, pieces.size, str(pieces.cut_from)) == (PAPER, "4x5 in", "box L")
    assert (pieces.width_mm, pieces.height_mm) == pytest.approx((100.1, 125.5))
    assert str(pieces.opened_on) == "2026-11-20"
    assert pieces.marked == "pencil stroke on the back"
    assert pieces.strips == [], "a strip of 3 mm is not kept"


def test_more_of_the_same_go_into_the_same_box() -> None:
    large()
    cut()
    assert "holds 12" in cut(sheets_to_cut=1).says
    pieces = Lot.objects.get(name=PIECES)
    assert pieces.sheets_left == 12
    assert "another size" in refused("cut-paper", lot="box L", holder_size="4x5 in", trim_mm=1)["name"]
    assert cut(trim_mm=1, name="box L, tight").name == "box L, tight"


def test_pieces_of_two_boxes_never_share_one() -> None:
    large()
    do("lot", {"name": "box M", "paper": PAPER, "size": "8x10 in", "sheets_left": 10})
    cut(marked="pencil stroke")
    assert "holds other paper" in refused("cut-paper", lot="box M", holder_size="4x5 in", name=PIECES)["name"]
    cut()
    assert Lot.objects.get(name=PIECES).marked == "pencil stroke", "what was marked stays said"
    do("archive", {"kind": "lot", "name": PIECES})
    assert "in the archive" in refused("cut-paper", lot="box L", holder_size="4x5 in", name=PIECES)["name"]


def test_strips_wide_enough_for_a_test_are_kept() -> None:
    large()
    do("cut-paper", {"lot": "box L", "holder_size": "5x7 in"})
    do("cut-paper", {"lot": "box L", "holder_size": "5x7 in", "sheets_to_cut": 2})
    assert Lot.objects.get(name="box L, cut to 5x7 in").strips == [{"width_mm": 26.9, "length_mm": 254.0, "count": 3}]


def test_the_holder_tells_its_size() -> None:
    large()
    do("holder", {"name": "holder 1", "size": "5x7 in"})
    assert cut(holder="holder 1", holder_size="").values["pieces"] == 4
    do("holder", {"name": "holder 2"})
    assert "does not know the size" in refused("cut-paper", lot="box L", holder="holder 2")["holder_size"]


def test_what_the_book_cannot_know_is_asked() -> None:
    large(size="large")
    faults = refused("cut-paper", lot="box L")
    assert set(faults) == {"holder_size", "sheet_size"}
    assert cut(sheet_size="8x10 in").values["pieces"] == 8
    assert "take a larger sheet" in refused("cut-paper", lot="box L", sheet_size="4x5 in", holder_size="8x10 in")["sheet_size"]


def test_no_more_is_cut_than_there_is() -> None:
    large(sheets_left=1)
    assert "holds 1 by the book" in refused("cut-paper", lot="box L", holder_size="4x5 in", sheets_to_cut=2)["sheets_to_cut"]
    cut(sheets_to_cut=1)
    done = cut(sheets_to_cut=1)
    assert Note.BOX_EMPTY in {one.note for one in done.notes}
    assert Lot.objects.get(name="box L").sheets_left == 0


def test_a_box_that_nobody_counted_stays_uncounted() -> None:
    large(sheets_left=None)
    cut()
    assert Lot.objects.get(name="box L").sheets_left is None
    assert Lot.objects.get(name=PIECES).sheets_left == 8


def test_the_blade_is_cautioned_before_the_act() -> None:
    warning = find_deed("cut-paper").warning
    assert warning is not None
    assert warning.note == Note.BLADE_IN_THE_DARK


def test_pieces_can_be_cut_again() -> None:
    large()
    cut()
    assert do("cut-paper", {"lot": PIECES, "holder_size": "6.5x9 cm"}).values["cut_from"] == PIECES


def test_chips_of_a_box() -> None:
    large()
    do("chip", {"lot": "box L", "shows": "base white", "density": 0.06, "when": "2026-11-21 10:00"})
    done = do("chip", {"lot": "box L", "shows": "base white", "density": 0.07})
    assert "density 0.07. The earlier one of 2026-11-21, density 0.06 stays in the book." in done.says
    assert list(Chip.objects.values_list("density", flat=True)) == [0.06, 0.07]
    assert do("chip", {"lot": "box L", "shows": "fullest black"}).says == "A chip of “box L” shows its fullest black."


def test_a_chip_can_be_corrected_and_put_away() -> None:
    large()
    do("chip", {"lot": "box L", "shows": "fullest black", "density": 1.5})
    done = do("correct", {"kind": "chip", "name": "box L/1", "changes": "density; 1.95"})
    assert (done.kind, done.name) == ("chip", "box L/1")
    assert Chip.objects.get().density == 1.95
    do("archive", {"kind": "chip", "name": "box L/1"})
    assert "stays in the book" not in do("chip", {"lot": "box L", "shows": "fullest black"}).says


def test_codes_on_the_form_are_those_that_can_be_told_apart() -> None:
    assert get_args(Corner) == ("none", "next free", *(code_name(code) for code in corner_codes() if code_name(code) != NO_CORNER))


def test_no_code_twice_not_even_upside_down() -> None:
    large()
    cut()
    do("holder", {"name": "holder 1"})
    do("load", {"holder": "holder 1", "side": "1", "lot": PIECES, "corner": "upper right"})
    assert "has that code already" in refused("load", holder="holder 1", side="2", lot=PIECES, corner="upper right")["corner"]
    done = do("load", {"holder": "holder 1", "side": "2", "lot": PIECES, "corner": "next free"})
    assert done.says.endswith("Clip upper left on side 2.")
    do("unload", {"holder": "holder 1", "side": "1"})
    do("holder", {"name": "holder 2"})
    assert "one code" in refused("load", holder="holder 2", side="both", lot=PIECES, corner="upper right")["corner"]
    assert do("load", {"holder": "holder 2", "side": "1", "lot": PIECES, "corner": "upper right"}).values["corners"] == ["upper right"]


def test_nine_codes_and_then_a_pencil() -> None:
    large()
    cut(sheets_to_cut=3)
    for number in range(1, 6):
        do("holder", {"name": f"holder {number}"})
    for number in range(1, 5):
        do("load", {"holder": f"holder {number}", "side": "both", "lot": PIECES, "corner": "next free"})
    assert "pencil" in refused("load", holder="holder 5", side="both", lot=PIECES, corner="next free")["corner"]
    do("load", {"holder": "holder 5", "side": "1", "lot": PIECES, "corner": "next free"})
    assert "pencil" in refused("load", holder="holder 5", side="2", lot=PIECES, corner="next free")["corner"]


def test_the_code_goes_with_the_sheet() -> None:
    large()
    cut()
    do("holder", {"name": "holder 1"})
    do("load", {"holder": "holder 1", "side": "both", "lot": PIECES, "corner": "next free"})
    number = do("expose", {"holder": "holder 1", "side": "1", "given_s": 20}).name
    assert Sheet.objects.get(number=number).told_apart == "clipped: upper left"
    number = do("expose", {"holder": "holder 1", "side": "2", "given_s": 20, "told_apart": "a torn edge"}).name
    assert Sheet.objects.get(number=number).told_apart == "a torn edge"


def test_both_sides_need_two_sides_and_two_sheets() -> None:
    large()
    cut()
    do("holder", {"name": "single", "sides": 1})
    assert "one side only" in refused("load", holder="single", side="both", lot=PIECES)["side"]
    do("holder", {"name": "holder 1"})
    do("correct", {"kind": "lot", "name": PIECES, "changes": "sheets_left; 1"})
    assert "holds 1 by the book" in refused("load", holder="holder 1", side="both", lot=PIECES)["lot"]
    assert HolderSide.objects.filter(state="loaded").count() == 0
