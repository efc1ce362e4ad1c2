"""Labels say of each vessel what it holds today: waste by what came into it, caps by what makes gas, sides by what is loaded."""

import pytest
from tests.workshop.boatyard import exposed, gear
from tests.workshop.test_shelf import bleach

from silverwright.records_chemistry import Contents
from silverwright.report.labels import OPEN, VENTED, Danger, Label
from silverwright.workshop.danger import NOTHING_ON_FILE, danger_of
from silverwright.workshop.deeds import do
from silverwright.workshop.labels import sheet_labels, shelf_labels

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]


def label(name: str) -> Label:
    """The label of one thing on the shelf."""
    return next(one for one in shelf_labels({"names": name}) if one.name == name)


def test_waste_is_as_dangerous_as_what_is_in_it() -> None:
    bleach()
    do("waste-bottle", {"name": "waste", "vented": True})
    do("waste-bottle", {"name": "closed"})
    assert label("waste").danger is None
    assert (label("waste").cap, label("closed").cap) == (VENTED, "")
    do("discard-bath", {"bath": "bleach 1", "waste": "waste", "volume_ml": 400})
    danger = label("waste").danger
    assert danger is not None
    assert danger.signal == "Danger"
    assert "H318" in danger.says
    assert "H314" in danger.says


def test_of_waste_that_nobody_knows_the_label_says_so() -> None:
    do("waste-bottle", {"name": "old", "begun_ml": 300})
    danger = label("old").danger
    assert danger is not None
    assert "No hazard data here" in danger.unknown
    assert danger.shapes


def test_a_tray_stays_open_and_a_bottle_has_its_cap() -> None:
    bleach("in a tray")
    bleach("in a bottle", kept_in="bottle")
    do("mix", {"role": "fixer", "name": "fixer", "volume_ml": 500, "ingredients": "sodium thiosulphate; 10; % w/v", "kept_in": "bottle"})
    assert [label(name).cap for name in ("in a tray", "in a bottle", "fixer")] == [OPEN, VENTED, ""]
    strong = label("in a tray").strong
    low, high = (float(part) for part in strong.split(", ")[1].split(" to "))
    assert low < high


def test_a_peroxide_bottle_has_a_vented_cap_on_its_label_whatever_was_typed() -> None:
    given = {"substance": "hydrogen peroxide", "strength": 35, "strength_unit": "% w/w"}
    do("stock", {"name": "closed by mistake", **given})
    do("stock", {"name": "acid", "substance": "citric acid monohydrate", "bought_g": 100})
    assert (label("closed by mistake").cap, label("acid").cap) == (VENTED, "")


def test_by_a_proposal_the_label_says_that_it_is_no_law() -> None:
    bleach()
    danger = label("bleach 1").danger
    assert danger is not None
    assert "not law" not in danger.says
    do("workroom", {"rules": "proposal of July 2024"})
    danger = label("bleach 1").danger
    assert danger is not None
    assert "By a proposal, not law." in danger.says


def test_a_sheet_says_whether_it_is_a_mirror_image() -> None:
    gear()
    number = exposed(lot="box A")
    assert "Mirror image" in sheet_labels({"names": number})[0].lines
    do("correct", {"kind": "sheet", "name": number, "changes": "turned; mirror or prism"})
    assert "Not a mirror image" in sheet_labels({"names": number})[0].lines


def test_only_sides_with_something_in_them_have_a_label() -> None:
    gear()
    do("holder", {"name": "H1"})
    do("load", {"holder": "H1", "side": "1", "lot": "box A"})
    assert [one.name for one in sheet_labels({"what": "holder sides", "names": "H1"})] == ["H1, side 1"]


def test_what_is_from_memory_is_told_by_its_codes_and_what_is_published_is_not() -> None:
    from_memory = "from memory, unverified"
    weak = {"role": "other", "volume_ml": 1000}
    do("mix", weak | {"name": "peroxide", "ingredients": "hydrogen peroxide; 6; % w/w"})
    do("mix", weak | {"name": "bromide", "ingredients": "potassium bromide; 12; % w/w"})
    said = {name: (label(name).danger or Danger()).says for name in ("peroxide", "bromide")}
    assert "H319" in said["peroxide"]
    assert from_memory not in said["peroxide"].lower()
    assert f"{from_memory}: h319" in said["bromide"].lower()


def test_an_empty_account_is_no_clean_bill() -> None:
    for contents in (None, Contents(500)):
        danger = danger_of(contents)
        assert danger.shapes
        assert danger.unknown == NOTHING_ON_FILE
