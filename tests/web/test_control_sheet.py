"""A control step sheet on the page: its lamp stands first, and the first lamp needs no form of its own."""

import pytest
from django.test import Client
from tests.web.book_in_hand import DENSITIES, EXPOSURES, Book, begin, exposed

from silverwright.book.models import Light, StepSheet
from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
CONTROL = "/findings/step-sheet?control=yes&how=step+tablet"
TYPED = {"how": "typed", "metered": "yes", "exposure_log10": EXPOSURES, "densities": DENSITIES}
LAMP = "lamp over the tray"


@pytest.fixture
def book() -> Book:
    begin()
    return Book(Client())


def control(book: Book, lamp: str, *, key: str, **more: str) -> str:
    """One entered as such."""
    return book.send("/findings/step-sheet", {"sheet": exposed(), **TYPED, "lamp": lamp, "control": "yes", "key": key, **more})


def test_findings_lead_to_it_before_the_first_and_after(book: Book) -> None:
    link = CONTROL.replace("&", "&amp;")
    assert link in book.client.get("/findings").content.decode()
    control(book, LAMP, key="first", then="learn")
    assert link in book.client.get("/findings").content.decode()


def test_its_lamp_stands_beside_its_sheet(book: Book) -> None:
    usual, of_the_day = book.open("/findings/step-sheet?how=step+tablet"), book.open(CONTROL)
    assert usual.index('id="f-lamp"') > usual.index('id="h-dens"')
    assert of_the_day.index('id="f-lamp"') < of_the_day.index('id="f-tablet_steps"')
    assert of_the_day.count('id="f-lamp"') == 1
    assert "exposed the same way every day" in of_the_day
    assert "control=yes&amp;how=dark+slide" in book.client.get(CONTROL).content.decode(), "another way is still the day's"


def test_the_first_lamp_is_entered_by_its_name_alone(book: Book) -> None:
    assert "The first lamp is entered by its name alone." in book.open(CONTROL)
    control(book, LAMP, key="first")
    assert str(StepSheet.objects.get().lamp) == LAMP
    assert "Enter it</a> first" in book.open(CONTROL)


def test_a_second_lamp_is_not_entered_by_a_slip(book: Book) -> None:
    control(book, LAMP, key="first")
    control(book, "lamp ovr the tray", key="second")
    assert book.status == 422
    assert "No light is called" in book.problem("lamp")
    assert Light.objects.count() == 1


def test_the_lamp_of_a_usual_step_sheet_is_not_entered_unasked(book: Book) -> None:
    book.send("/findings/step-sheet", {"sheet": exposed(), **TYPED, "lamp": LAMP, "key": "usual"})
    assert book.status == 422
    assert not Light.objects.exists()


def test_a_name_that_cannot_be_one_is_refused_beside_its_field(book: Book) -> None:
    control(book, "a" * 500, key="long")
    assert book.status == 422
    assert book.problem("lamp")
    do("light", {"name": LAMP})
    assert Light.objects.count() == 1
