"""The form that hands in a scan: what need not be chosen stands there already."""

import re

import pytest
from django.test import Client
from tests.web.book_in_hand import Book

from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db


def chosen(scanner: str = "") -> list[str]:
    """The scanner that the form has chosen."""
    text = Book(Client()).open("/measure" + (f"?scanner={scanner}" if scanner else ""))
    field = re.search(r'<select id="f-scanner".*?</select>', text, re.DOTALL)
    assert field
    return re.findall(r'<option value="([^"]*)" selected>', field[0])


def test_the_only_scanner_is_chosen_and_of_two_none() -> None:
    do("scanner", {"name": "flatbed"})
    assert chosen() == ["flatbed"]
    do("scanner", {"name": "another"})
    assert chosen() == [""]
    assert chosen("another") == ["another"], "what the address says wins"


def test_before_the_first_sheet_a_step_tablet_is_expected() -> None:
    def expected() -> list[str]:
        return re.findall(r'name="shows" value="([^"]+)" checked', Book(Client()).open("/measure"))

    assert expected() == ["step tablet"]
    do("paper", {"name": "RC paper"})
    do("expose", {"paper": "RC paper"})
    assert expected() == ["step sheet"]


def test_an_archived_scanner_is_not_counted() -> None:
    do("scanner", {"name": "flatbed"})
    do("scanner", {"name": "sold"})
    do("archive", {"kind": "scanner", "name": "sold"})
    assert chosen() == ["flatbed"]
