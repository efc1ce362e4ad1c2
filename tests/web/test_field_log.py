"""The page on which a log comes home: what was sent stays there until it is in the book."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from tests.web.pages import OWN, page
from tests.workshop.boatyard import PAPER, gear

from silverwright.book.models import Sheet

pytestmark = pytest.mark.django_db
HEAD = "entry;when;paper;subject;aperture_f\n"


def sent(content: bytes, **more: str) -> object:
    file = SimpleUploadedFile("log.csv", content)
    return Client().post("/book/log", {"file": file, "key": "once", **more}, headers=OWN)


def test_a_file_that_is_refused_stands_in_the_text_to_be_mended() -> None:
    told = sent(f"{HEAD}one;2026-01-12T10:00Z;glass plate;rope;900\n".encode())
    assert told.status_code == 422  # type: ignore[attr-defined]
    text = told.content.decode()  # type: ignore[attr-defined]
    assert "one;2026-01-12T10:00Z;glass plate;rope;900" in text
    assert "No paper is called “glass plate”." in text
    assert Sheet.objects.count() == 0


def test_bytes_that_are_no_text_are_refused_in_words() -> None:
    told = sent(bytes(range(256)) * 20)
    assert told.status_code == 422  # type: ignore[attr-defined]
    assert "could be recorded" in told.content.decode() or "not recorded" in told.content.decode()  # type: ignore[attr-defined]


def test_the_same_page_sent_twice_makes_one_import() -> None:
    gear()
    content = f"{HEAD}one;2026-01-12T10:00Z;{PAPER};rope;22\n".encode()
    assert [sent(content).status_code for _ in range(2)] == [303, 303]  # type: ignore[attr-defined]
    assert Sheet.objects.count() == 1
    shown = page("/book/log", {"recorded": "once"})
    assert "1 sheet is in the book" in shown.text
    assert any(link.startswith("/book/2") for link in shown.links)


def test_what_was_chosen_stays_chosen_for_the_lines_that_are_left() -> None:
    gear()
    log = "14:30; ; 10; 315; 22; 40; rope\n14:40; ; much; 315; 22; 40; oakum"
    Client().post("/book/log", {"log": log, "paper": PAPER, "day": "2026-01-12", "key": "twice"}, headers=OWN)
    shown = page("/book/log", {"recorded": "twice"})
    assert shown.typed["paper"] == PAPER
    assert shown.typed["log.0.subject"] == "oakum"
    assert shown.typed["log.0.reading"] == "much"
