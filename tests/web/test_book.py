"""The Book without script: whole flows, slips of the pen, two people at once, the same form sent twice."""

import io
import re

import pypdf
import pytest
from django.test import Client
from tests.web.book_in_hand import BOX, HOLDER, LENS, PAPER, SCENE, Book, begin, exposed, measured

from silverwright.book.models import Act, Holder, Lens, Processing, Sheet
from silverwright.web.pages.doing import SENT_BEFORE
from silverwright.web.pages.shelves import SHELVES
from silverwright.workshop.deeds import DEEDS, do

pytestmark = pytest.mark.django_db
STEPS = {
    "steps.0.step": "first development",
    "steps.0.step_s": "2m30s",
    "steps.0.temperature_celsius": "20",
    "steps.0.bath": "developer 1+9, tray 1",
    "steps.1.step": "bleach",
    "steps.1.step_s": "90",
    "steps.2.step": "",
    "steps.3.step": "second exposure",
    "steps.3.light_given": "60 W lamp at 1 m",
}


@pytest.fixture
def book(client: Client) -> Book:
    return Book(client)


def test_an_empty_book_shows_one_way_on(book: Book) -> None:
    text = book.open("/book")
    assert book.status == 200
    assert "No sheet is in the book yet" in text
    assert text.count('class="empty"') == 1
    for shelf in SHELVES:
        assert shelf.nothing in book.open(shelf.at)


@pytest.mark.parametrize("name", [deed.name for deed in DEEDS])
def test_every_act_has_a_page(book: Book, name: str) -> None:
    response = book.client.get(f"/book/do/{name}", follow=True)
    assert response.status_code == 200
    assert b'method="post"' in response.content


def test_something_new_did_not_happen(book: Book) -> None:
    assert "What you know of it</h2>" in book.open("/book/do/paper")
    assert "What happened</h2>" in book.open("/book/do/judge")


def test_the_whole_way_of_a_sheet(book: Book) -> None:
    """Enter gear, load, expose, process, cut off nothing, judge: each act says what it did, and the story tells all of it."""
    book.send("/book/do/paper", {"name": PAPER, "base": "RC", "grade": "2", "key": "a"})
    assert f"Paper “{PAPER}” is in the book." in book.text
    book.send("/book/do/lot", {"name": BOX, "paper": PAPER, "sheets_left": "25", "key": "b"})
    book.send("/book/do/lens", {"name": LENS, "focal_mm": "210", "key": "c"})
    book.send("/book/do/holder", {"name": HOLDER, "sides": "2", "key": "d"})
    book.send("/book/do/load", {"holder": HOLDER, "side": "1", "lot": BOX, "key": "e"})
    assert "24 left" in book.text
    assert "Loaded from box A" in book.text
    text = book.send("/camera/record", {**SCENE, "holder": HOLDER, "side": "1", "given_s": "1:37", "subject": "caulking mallet", "key": "f"})
    number = Sheet.objects.get().number
    assert f'<h1 class="sign">{number}</h1>' in text
    assert "Mirror image" in text
    book.open("/book/holders")
    assert "Exposed, not processed" in book.text
    text = book.send("/book/do/process", {"sheet": number, **STEPS, "key": "g"})
    assert "Processed, not measured" in text
    assert "Direct positive, 3 steps" in text
    assert "150 s (2:30)" in text.replace("\N{NO-BREAK SPACE}", " ")
    text = book.send("/book/do/judge", {"sheet": number, "looks": "too dark", "key": "h"})
    for wanted in ("Planned", "Exposed", "Processed", "Judged", "half a stop too dark", "How it was planned", "1:37", "60 W lamp at 1 m"):
        assert wanted in text.replace("\N{NO-BREAK SPACE}", " ")
    words = [text.index(f">{word}</span>") for word in ("Planned", "Exposed", "Processed", "Judged")]
    assert words == sorted(words)
    assert number in book.open("/book?words=mallet")


def test_a_slip_is_told_beside_its_field_and_nothing_typed_is_lost(book: Book) -> None:
    book.send("/book/do/lens", {"name": "", "focal_mm": "2 km", "pupil_factor": "7", "remarks": "from the <b>attic</b>", "key": "one"})
    assert book.status == 422
    assert book.problem("name")
    assert book.problem("focal_mm")
    assert "Too large" in book.problem("pupil_factor")
    assert book.value("focal_mm") == "2 km"
    assert book.value("pupil_factor") == "7"
    assert book.value("remarks") == "from the <b>attic</b>"
    assert book.hidden()["key"] == "one"
    assert not Lens.objects.exists()


def test_a_bad_row_is_told_and_the_other_rows_stay(book: Book) -> None:
    begin()
    number = exposed()
    text = book.send("/book/do/process", {"sheet": number, **STEPS, "steps.1.step_s": "soon"})
    assert book.status == 422
    assert "Row 2" in book.problem("steps")
    assert book.value("steps.1.step_s") == "soon"
    assert book.value("steps.0.bath") == "developer 1+9, tray 1"
    assert "60 W lamp at 1 m" in text
    assert not Processing.objects.exists()


def test_the_same_form_sent_twice_is_one_act(book: Book) -> None:
    for _ in range(2):
        text = book.send("/book/do/lens", {"name": LENS, "focal_mm": "210", "key": "once"})
        assert f"Lens “{LENS}” is in the book." in text
    assert Lens.objects.count() == 1
    assert Act.objects.filter(deed="lens").count() == 1


def test_something_else_under_a_spent_key_is_kept_and_can_be_sent_again(book: Book) -> None:
    book.send("/book/do/lens", {"name": LENS, "focal_mm": "210", "key": "once"})
    book.send("/book/do/lens", {"name": "150 mm lens", "focal_mm": "150", "key": "once"})
    assert book.status == 409
    assert SENT_BEFORE in book.text
    assert book.value("name") == "150 mm lens"
    fresh = book.hidden()["key"]
    assert fresh != "once"
    book.send("/book/do/lens", {"name": "150 mm lens", "focal_mm": "150", "key": fresh})
    assert Lens.objects.count() == 2


def test_two_people_correct_the_same_thing(book: Book) -> None:
    """The later one sees both values, loses nothing, and can put hers in its place knowingly; all three values stay in the story."""
    begin()
    address = f"/book/correct/lens/{LENS}"
    book.open(address)
    mine = {**book.hidden(), "name": LENS, "focal_mm": "215", "aperture_scale": "marked", "remarks": "measured"}
    do("correct", {"kind": "lens", "name": LENS, "changes": "focal_mm; 209"})
    book.send(address, mine)
    assert book.status == 409
    assert "209" in book.problem("focal_mm")
    assert book.value("focal_mm") == "215"
    assert book.value("remarks") == "measured"
    assert Lens.objects.get().focal_mm == 209
    again = {**book.hidden(), "name": LENS, "focal_mm": "215", "aperture_scale": "marked", "remarks": "measured"}
    text = book.send(address, again)
    assert Lens.objects.get().focal_mm == 215
    assert Lens.objects.get().remarks == "measured"
    for struck in ("210", "209"):
        assert f'<s class="was">{struck}\N{NO-BREAK SPACE}mm</s>' in text
    assert "215\N{NO-BREAK SPACE}mm" in text


def test_a_slip_does_not_hide_what_somebody_else_changed(book: Book) -> None:
    begin()
    address = f"/book/correct/lens/{LENS}"
    book.open(address)
    do("correct", {"kind": "lens", "name": LENS, "changes": "focal_mm; 209"}, key="theirs")
    typed = {"name": LENS, "focal_mm": "two hundred", "aperture_scale": "marked"}
    form = book.hidden()
    form.update(typed)
    book.send(address, form)
    assert book.status in {409, 422}
    if book.status == 422:
        book.send(address, {**book.hidden(), **typed, "focal_mm": "215"})
        assert book.status == 409
    assert Lens.objects.get().focal_mm == 209


def test_nothing_new_is_no_correction(book: Book) -> None:
    begin()
    address = f"/book/correct/paper/{PAPER}"
    book.open(address)
    book.send(address, {**book.hidden(), "name": PAPER, "base": "RC", "grade": "2"})
    assert book.status == 422
    assert "Nothing here differs" in book.text


def test_a_renamed_thing_is_shown_under_its_new_name(book: Book) -> None:
    begin()
    address = f"/book/correct/lens/{LENS}"
    book.open(address)
    text = book.send(address, {**book.hidden(), "name": "the long lens", "focal_mm": "210", "aperture_scale": "marked"})
    assert book.status == 200
    assert '<p class="question">the long lens</p>' in text
    assert f'<s class="was">{LENS}</s>' in text


def test_a_correction_of_an_exposure_stands_struck_through_in_the_story(book: Book) -> None:
    begin()
    number = exposed()
    address = f"/book/correct/exposure/{number}/1"
    book.open(address)
    assert book.value("given_s") == "97"
    text = book.send(address, {**_form(book), "given_s": "1:47", "extension_mm": "310"})
    assert '<s class="was">97\N{NO-BREAK SPACE}s (1:37)</s> <b>107\N{NO-BREAK SPACE}s (1:47)</b>' in text
    assert "1:47 at f/22" in text
    assert "310\N{NO-BREAK SPACE}mm" in text


def _form(book: Book) -> dict[str, str]:
    """Everything that the open form would send."""
    typed = dict(re.findall(r'<input id="f-[^"]+" name="([^"]+)" value="([^"]*)"', book.text))
    chosen = {
        name: next(iter(re.findall(r'<option value="([^"]*)" selected>', options)), "")
        for name, options in re.findall(r'<select id="f-[^"]+" name="([^"]+)".*?>(.*?)</select>', book.text, re.DOTALL)
    }
    return {**book.hidden(), **typed, **chosen}


def test_archived_things_leave_the_lists_and_come_back(book: Book) -> None:
    begin()
    number = exposed()
    book.send("/book/do/archive", {"kind": "sheet", "name": number, "key": "x"})
    assert "Bring it back" in book.text
    assert number not in book.open("/book?words=mallet")
    assert number in book.open("/book?state=archived")
    book.send("/book/do/bring-back", {"kind": "sheet", "name": number, "key": "y"})
    assert number in book.open("/book?words=mallet")
    book.send("/book/do/archive", {"kind": "lens", "name": LENS, "key": "z"})
    assert "Archived" in book.open("/book/lenses")
    assert f'value="{LENS}"' not in book.open("/camera")


def test_filters_stand_in_the_address(book: Book) -> None:
    begin()
    first, second = exposed(subject="tarred rope"), exposed(subject="oakum by the door")
    do("process", {"sheet": second})
    year = Sheet.objects.get(number=first).year
    cases = {"words=rope": first, "state=exposed": first, "state=processed": second, "words=door&state=processed": second}
    for query, wanted in cases.items():
        text = book.open(f"/book?{query}")
        other = second if wanted == first else first
        assert f'href="/book/{wanted}"' in text
        assert f'href="/book/{other}"' not in text
        assert "1 sheet fits." in text
    assert "2 sheets fit." in book.open(f"/book?paper={PAPER}&year={year}")
    assert "No sheet fits" in book.open("/book?words=flash")
    assert book.value("words") == "flash"


def test_the_trays_as_last_time(book: Book) -> None:
    begin()
    first, second = exposed(), exposed()
    book.send("/book/do/process", {"sheet": first, **STEPS})
    text = book.open(f"/book/do/process?sheet={second}")
    assert f'as they were on <span class="keep">{first}</span>' in text
    assert book.value("steps.0.step_s") == "150"
    assert book.value("steps.2.light_given") == "60 W lamp at 1 m"


def test_a_side_used_twice_warns_first(book: Book) -> None:
    begin()
    form = {**SCENE, "holder": HOLDER, "side": "1", "given_s": "97"}
    book.send("/camera/record", {**form, "key": "first"})
    book.send("/camera/record", {**form, "key": "second"})
    assert book.status == 422
    assert book.problem("side") or book.problem("anyway")
    book.send("/camera/record", {**form, "anyway": "yes", "key": "second"})
    assert Sheet.objects.count() == 1
    assert "Exposed again, 2" in book.text


def test_pieces_go_their_own_way(book: Book) -> None:
    begin()
    number = exposed()
    text = book.send("/book/do/cut", {"sheet": number, "pieces": "2", "key": "cut"})
    assert f'href="/book/{number}a"' in text
    text = book.send("/book/do/process", {"sheet": f"{number}a", **STEPS})
    assert f'<h1 class="sign">{number}a</h1>' in text
    assert "1:37 at f/22" in text
    assert "Exposed, not processed" in book.open(f"/book/{number}b")


def test_the_field_note_of_a_sheet(book: Book) -> None:
    begin()
    number = exposed()
    for query, high_mm in (("", 297), ("?paper=letter", 279.4)):
        response = book.client.get(f"/book/{number}/note.pdf{query}")
        assert response.headers["Content-Type"] == "application/pdf"
        (page,) = pypdf.PdfReader(io.BytesIO(response.content)).pages
        assert float(page.mediabox.height) * 25.4 / 72 == pytest.approx(high_mm, abs=0.1)
        text = page.extract_text()
        assert number in text
        assert "1:37" in text
        assert "mirror image" in text
    assert "invented" not in text


def test_nothing_of_what_was_typed_is_markup(book: Book) -> None:
    hostile = '<script>alert("x")</script>'
    do("paper", {"name": hostile, "remarks": hostile})
    number = do("expose", {"paper": hostile, "subject": hostile, "given_s": "97", "remarks": hostile}).name.partition("/")[0]
    do("process", {"sheet": number, "remarks": hostile, "steps": [{"step": "bleach", "bath": hostile}]})
    for address in (
        "/book",
        f"/book/{number}",
        "/shelf/papers",
        f"/shelf/papers/{hostile.replace('/', '%2F')}",
        f"/findings?sheet={number}",
        f"/book/do/judge?sheet={number}",
    ):
        raw = book.client.get(address).content.decode()
        assert "<script>alert" not in raw
        assert "script&gt;" in raw


@pytest.mark.parametrize(
    "address", ["/book/26-999", "/book/drawers", "/book/lenses/none", "/book/do/fly", "/book/correct/lens/none", "/book/correct/cloud/9"]
)
def test_what_is_not_there_is_said_in_words(book: Book, address: str) -> None:
    text = book.open(address)
    assert book.status == 404
    assert "Nothing" in text or "No " in text


def test_a_step_sheet_is_drawn_as_its_patches(book: Book) -> None:
    begin()
    number = measured()
    text = book.open("/book")
    card = text[text.index(f'href="/book/{number}"') :]
    assert card[: card.index("</a>")].count('class="tone"') == 12
    assert Holder.objects.exists()


def test_one_step_in_the_trays_is_corrected(book: Book) -> None:
    begin()
    number = exposed()
    text = book.send("/book/do/process", {"sheet": number, **STEPS})
    address = f"/book/correct/step/{number}/2"
    assert f'href="{address}"' in text
    book.open(address)
    text = book.send(address, {**_form(book), "step_s": "20"})
    assert '<s class="was">90\N{NO-BREAK SPACE}s (1:30)</s> <b>20\N{NO-BREAK SPACE}s</b>' in text


def test_what_is_typed_into_a_correction_stands_in_the_address(book: Book) -> None:
    """A reload finds the typed text, what the form was made from, and so also what somebody else changed meanwhile."""
    begin()
    address = f"/book/correct/lens/{LENS}"
    book.open(address)
    form = {**_form(book), "focal_mm": "215", "pupil_factor": ""}
    response = book.client.get(address, form, headers={"HX-Request": "true"})
    kept = response.headers["HX-Replace-Url"]
    do("correct", {"kind": "lens", "name": LENS, "changes": "focal_mm; 209"})
    book.open(kept)
    assert book.value("focal_mm") == "215"
    assert book.hidden()["was.focal_mm"] == "210"
    assert book.hidden()["key"] == form["key"]
    book.send(address, _form(book))
    assert book.status == 409
    assert "209" in book.problem("focal_mm")


def test_what_was_metered_lies_in_a_drawer_that_opens_for_a_slip(book: Book) -> None:
    begin()
    number = exposed()
    address = f"/book/correct/exposure/{number}/1"
    text = book.open(address)
    assert "<details><summary><b>What was metered" in text
    book.send(address, {**_form(book), "extension_mm": "far"})
    assert book.status == 422
    assert "<details open>" in book.text
    assert book.problem("extension_mm")
    assert book.value("extension_mm") == "far"


def test_old_addresses_of_papers_and_boxes_lead_to_the_shelf(book: Book) -> None:
    for old, new in (
        ("/book/papers", "/shelf/papers"),
        ("/book/boxes?recorded=abc", "/shelf/boxes?recorded=abc"),
        ("/book/papers/RC%20paper%2C%20grade%202", "/shelf/papers/RC%20paper%2C%20grade%202"),
    ):
        moved = book.client.get(old)
        assert (moved.status_code, moved.headers["Location"]) == (301, new)
