"""What went wrong, in words: a page for people, JSON for programs, and never what the program thinks of itself."""

from typing import Any

import pytest
from django.db import OperationalError
from django.test import Client

from silverwright.errors import (
    BadQuestion,
    BookBusy,
    BookDamaged,
    Contradiction,
    DiskFull,
    Fault,
    OutOfRange,
    ScanFailed,
    ScanRefused,
    SilverwrightError,
    Stale,
    UnknownName,
)
from silverwright.web import http
from silverwright.web.pages.wrong import STATUS, trouble_of

TROUBLES = [
    (BadQuestion([Fault("aperture_f", "wide", "This is no aperture.")]), 422, "This is no aperture."),
    (OutOfRange("magnification", -1, "0 or more"), 422, "allowed is 0 or more"),
    (UnknownName("lens", "210", ["210 mm lens"]), 404, "210 mm lens"),
    (Stale("paper", "box A", {"surface": "matt"}, {"surface": "glossy"}), 409, "glossy"),
    (Contradiction("key"), 409, "already used"),
    (DiskFull(), 507, "Nothing of this was written"),
    (BookBusy(), 503, "busy"),
    (BookDamaged(), 503, "damaged"),
    (ScanRefused([Fault("file", "", "The file is empty."), Fault("file", "", "It is of inks.")]), 422, "It is of inks."),
    (ScanFailed("reading it takes too long."), 503, "The scan could not be read: reading it takes too long."),
    (OperationalError("database or disk is full"), 507, "Nothing of this was written"),
    (OperationalError("disk I/O error"), 507, "Nothing of this was written"),
    (OperationalError("database is locked"), 503, "busy"),
]


def raising(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    def fail(*_: object, **__: object) -> Any:
        raise error

    monkeypatch.setattr("silverwright.web.pages.first.first_page", fail)
    monkeypatch.setattr(http, "sheets", fail)


@pytest.mark.parametrize(("error", "status", "words"), TROUBLES, ids=lambda one: type(one).__name__ if isinstance(one, Exception) else None)
def test_every_error_of_ours_is_a_page_and_json(monkeypatch: pytest.MonkeyPatch, error: Exception, status: int, words: str) -> None:
    raising(monkeypatch, error)
    page, told = Client().get("/"), Client().get("/api/sheets")
    assert (page.status_code, told.status_code) == (status, status)
    assert words in page.content.decode()
    assert words in told.content.decode()
    assert '<h1 class="sign">' in page.content.decode()


def test_every_kind_of_error_has_its_status() -> None:
    def kinds(of: type[SilverwrightError]) -> set[type[SilverwrightError]]:
        return {of}.union(*map(kinds, of.__subclasses__()))

    ours = {kind for kind in kinds(SilverwrightError) - {SilverwrightError} if kind.__module__.startswith("silverwright")}
    assert ours == set(STATUS)


def test_a_stale_page_shows_both_values() -> None:
    assert trouble_of(Stale("paper", "box A", {"surface": "matt"}, {"surface": "glossy"})).both == (("surface", "matt", "glossy"),)


def test_a_fault_of_ours_says_so_and_tells_nothing_of_the_inside(monkeypatch: pytest.MonkeyPatch) -> None:
    raising(monkeypatch, ZeroDivisionError("inside"))
    told = Client(raise_request_exception=False).get("/")
    assert told.status_code == 500
    assert "a fault of the program, not of what you typed" in told.content.decode()
    assert "inside" not in told.content.decode()
    assert "Traceback" not in told.content.decode()


@pytest.mark.parametrize("address", ["/nothing", "/ask/nothing", "/camera/x/", "/book/26-999", "/static/nothing.css", "/%2e%2e/%2e%2e/etc/passwd"])
@pytest.mark.django_db
def test_nothing_at_an_address_is_a_page(address: str) -> None:
    told = Client().get(address)
    assert told.status_code == 404
    assert "Nothing was changed" in told.content.decode() or "No " in told.content.decode()
    assert "What happened" not in told.content.decode(), "nothing did"


@pytest.mark.parametrize(
    ("address", "there"),
    [
        ("/measure/", "/measure"),
        ("/camera//", "/camera"),
        ("/findings/?paper=grade+2&process=", "/findings?paper=grade+2&process="),
        ("/shelf/papers/", "/shelf/papers"),
        ("/shelf/papers/RC%20paper/", "/shelf/papers/RC%20paper"),
        ("/measure/scan-900/", "/measure/scan-900"),
    ],
)
@pytest.mark.django_db
def test_a_slash_too_many_leads_to_the_page(address: str, there: str) -> None:
    told = Client().get(address)
    assert (told.status_code, told.headers["Location"]) == (301, there)


@pytest.mark.parametrize("address", ["/nothing/", "/api/sheets/", "/static/house.css/"])
@pytest.mark.django_db
def test_a_slash_leads_nowhere_else(address: str) -> None:
    assert Client().get(address).status_code == 404


@pytest.mark.django_db
def test_what_is_sent_is_not_led_elsewhere() -> None:
    assert Client().post("/measure/", {"shows": "picture"}, headers={"Origin": "http://testserver"}).status_code == 404
