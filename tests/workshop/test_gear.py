"""Paper, boxes and gear come into the book, each once."""

import pytest
from tests.workshop.boatyard import PAPER, gear

from silverwright.book.find import NAMED, called, find_thing
from silverwright.book.models import Holder, HolderSide, Lot, Meter
from silverwright.errors import BadQuestion, UnknownName
from silverwright.workshop.deeds import do, find_deed

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("kind", [kind for kind in NAMED if kind != "lot"])
def test_every_kind_of_gear_is_found_again(kind: str) -> None:
    (example,) = find_deed(kind).examples.values()
    done = do(kind, example)
    assert (done.kind, done.name) == (kind, example["name"]) == called(find_thing(kind, f" {done.name.upper()} "))


def test_a_box_knows_its_paper() -> None:
    gear()
    lot = Lot.objects.get()
    assert (lot.paper.name, lot.sheets_left, lot.size) == (PAPER, 25, "4x5 in")


def test_a_box_may_be_uncounted_and_its_day_unknown() -> None:
    gear()
    do("lot", {"name": "box B", "paper": PAPER})
    lot = Lot.objects.get(name="box B")
    assert (lot.sheets_left, lot.opened_on) == (None, None)


@pytest.mark.parametrize("name", [PAPER, PAPER.upper(), f"  {PAPER} "])
def test_the_same_name_twice_is_refused(name: str) -> None:
    gear()
    with pytest.raises(BadQuestion, match="already a paper called"):
        do("paper", {"name": name})


def test_a_name_in_the_archive_is_still_taken() -> None:
    gear()
    do("archive", {"kind": "lot", "name": "box A"})
    with pytest.raises(BadQuestion, match="bring it back from the archive"):
        do("lot", {"name": "box A", "paper": PAPER})


@pytest.mark.parametrize(("sides", "there"), [(1, ["1"]), (2, ["1", "2"])])
def test_a_holder_has_its_sides(sides: int, there: list[str]) -> None:
    do("holder", {"name": "plate holder", "sides": sides})
    assert list(Holder.objects.get().sides.values_list("side", flat=True)) == there
    assert set(HolderSide.objects.values_list("state", flat=True)) == {"empty"}


@pytest.mark.parametrize(("field", "value"), [("sides", 1.5), ("sides", 3), ("sides", "two")])
def test_a_holder_has_one_side_or_two(field: str, value: object) -> None:
    with pytest.raises(BadQuestion) as caught:
        do("holder", {"name": "plate holder", field: value})
    assert [fault.field for fault in caught.value.faults] == [field]


def test_an_incident_meter() -> None:
    do("meter", {"name": "dome meter", "reads": "incident", "meter_c": 330})
    assert Meter.objects.get().incident_head == "dome"


def test_an_unknown_paper_for_a_box_is_a_fault_of_that_field() -> None:
    gear()
    with pytest.raises(BadQuestion) as caught:
        do("lot", {"name": "box C", "paper": "RC paper, grade 3"})
    assert [fault.field for fault in caught.value.faults] == ["paper"]
    with pytest.raises(UnknownName) as unknown:
        find_thing("paper", "RC paper, grade 3")
    assert unknown.value.near == (PAPER,)
