"""Measure without script: scans handed in, read by the real child, their grids placed, a scanner calibrated, densities sent on."""

import csv
import io
import json
import math
import re
import shutil

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from tests.web.book_in_hand import Book, begin, exposed
from tests.web.scans import SHEET, TABLET, corner_fields, tiff

from silverwright.book.files import KEPT, VIEWS
from silverwright.book.models import Act, Scan, ScenePatch
from silverwright.workshop.deeds import do
from silverwright.workshop.worker import finish

SCANNER = "flatbed in the office"
pytestmark = pytest.mark.django_db


def upload(name: str, content: bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content, content_type="image/tiff")


@pytest.fixture
def book() -> Book:
    begin()
    return Book(Client())


def hand_in(book: Book, *files: SimpleUploadedFile, **fields: str) -> str:
    """Send the form as a browser without script does, and have it read; the page that one is led to."""
    book.open("/measure")
    book.send("/measure", {**book.hidden(), "shows": "step sheet", **fields, "files": list(files)})  # type: ignore[dict-item]  # the client takes files
    for scan in Scan.objects.values_list("name", flat=True):
        finish(scan)
    return book.open(book.address) if book.status == 200 else book.text


def place_grid(book: Book, scan: str, patches: int) -> str:
    """Say where its patches lie, and have them measured."""
    book.open(f"/measure/{scan}")
    book.send(f"/measure/{scan}", {"deed": "grid", "key": f"grid {scan}", "rows": "1", "columns": str(patches), **corner_fields(patches)})
    finish(scan)
    return book.open(f"/measure/{scan}")


def calibrated(book: Book) -> None:
    """A scanner that has seen a tablet."""
    hand_in(book, upload("tablet.tif", tiff(TABLET)), shows="step tablet", scanner=SCANNER, rows="1", columns=str(len(TABLET)))
    place_grid(book, "scan-001", len(TABLET))
    book.send("/measure/scan-001", {"deed": "calibrate", "key": "calibrate", "densities": " ".join(map(str, TABLET))})
    assert "Recorded." in book.text, book.text


def test_an_empty_book_says_what_to_do() -> None:
    text = Book(Client()).open("/measure")
    assert "No scan is in the book yet" in text
    assert "No scanner is in the book yet" in text


def test_a_tablet_calibrates_and_a_sheet_is_measured(book: Book) -> None:
    calibrated(book)
    assert "largest miss" in book.text
    number = exposed(subject="step sheet")
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), scanner=SCANNER, rows="1", columns="10")
    assert f"sheet {number} is in the book" in book.text, "the sheet is taken from the file's name"
    text = place_grid(book, "scan-002", len(SHEET))
    table = list(csv.DictReader(io.StringIO(Client().get("/measure/scan-002/patches.csv").content.decode())))
    read = [float(row["density"]) for row in table]
    assert all(math.isclose(one, true, abs_tol=0.02) for one, true in zip(read, SHEET, strict=True)), read
    for density in read:
        assert f">{density:.2f}<" in text
    figures = Client().get("/api/scans/scan-002").json()
    assert [f"{one:.2f}" for one in figures["densities"]["densities"]] == [f"{one:.2f}" for one in read], "every figure as JSON"
    assert f"/findings/step-sheet?sheet={number}&scan=scan-002" in text


def test_densities_that_were_typed_stay_in_the_address(book: Book) -> None:
    hand_in(book, upload("tablet.tif", tiff(TABLET)), shows="step tablet", scanner=SCANNER, rows="1", columns=str(len(TABLET)))
    text = place_grid(book, "scan-001", len(TABLET))
    for form, other in (("calibrate", "#marks"), ("marks", "#calibrate")):
        (found,) = re.findall(f'<form [^>]*id="{form}"[^>]*>', text)
        assert 'hx-get="/measure/scan-001"' in found
        assert f'hx-include="{other}"' in found, "what stands in the other form stays, too"
    assert "0.07 0.22" in book.open("/measure/scan-001?densities=0.07+0.22&x1=3")


def test_a_step_is_left_out_on_the_page_and_taken_back(book: Book) -> None:
    wrong = [density + 0.07 * (place == 6) for place, density in enumerate(TABLET)]
    hand_in(book, upload("tablet.tif", tiff(wrong)), shows="step tablet", scanner=SCANNER, rows="1", columns=str(len(TABLET)))
    place_grid(book, "scan-001", len(TABLET))
    book.send("/measure/scan-001", {"deed": "calibrate", "key": "calibrate", "densities": " ".join(map(str, TABLET))})
    assert "Step 7 does not go with the others" in book.text
    assert re.search(r'data-standing="look-at-it"><th scope="row">7</th>.*?Look at it', book.text, re.DOTALL)
    assert 'aria-label="Leave out step 7"' in book.text
    book.send("/book/do/leave-out", {"key": "out", "scanner": SCANNER, "step": "7"})
    assert book.status == 422, "a reason is needed"
    book.send("/book/do/leave-out", {"key": "out", "scanner": SCANNER, "step": "7", "reason": "scratched"})
    assert "Step 7 of the tablet does not count any more" in book.text, "on the scanner's page"
    assert "Left out: scratched" in book.text
    assert "Step 7 does not go with the others" not in book.text
    assert "Left out: scratched" in book.open("/measure/scan-001"), "and on that of the tablet's scan"
    book.send("/book/do/take-back", {"key": "back", "scanner": SCANNER, "step": "7"})
    assert "Look at it" in book.open("/book/scanners/flatbed%20in%20the%20office")


def test_densities_go_to_the_curve_without_typing(book: Book) -> None:
    calibrated(book)
    number = exposed(subject="step sheet")
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), scanner=SCANNER)
    place_grid(book, "scan-002", len(SHEET))
    text = book.open(f"/findings/step-sheet?sheet={number}&scan=scan-002&how=typed")
    assert '<option value="scan-002" selected>' in text
    assert '<option value="scan-001"' not in text, "the tablet is no scan of this sheet"
    logs = " ".join(f"{-0.9 + 0.2 * step:.2f}" for step in range(10))
    sent = {**book.hidden(), "sheet": number, "scan": "scan-002", "how": "typed", "metered": "yes", "exposure_log10": logs, "then": "learn"}
    book.send("/findings/step-sheet", sent)
    assert "10 patches, 10 densities" in book.text
    text = book.open("/measure/scan-002")
    assert "as it was learnt from these patches" in text
    assert f'href="/findings?sheet={number}">What is known now' in text
    book.open(f"/findings/step-sheet?sheet={number}&scan=scan-002&again=yes&how=typed")
    book.send("/findings/step-sheet", {**sent, **book.hidden(), "again": "yes", "then": ""})
    assert "10 patches, 10 densities" in book.text, "sent again, what stood there stays in its history"
    assert "<svg" in text[text.index("<figure") :]


def test_a_tablet_upside_down_is_turned_by_one_plate(book: Book) -> None:
    hand_in(book, upload("tablet.tif", tiff(TABLET[::-1])), shows="step tablet", scanner=SCANNER)
    place_grid(book, "scan-001", len(TABLET))
    densities = " ".join(map(str, TABLET))
    book.send("/measure/scan-001", {"deed": "calibrate", "key": "one", "densities": densities})
    assert book.status == 422
    assert "lie the other way round" in book.problem("turned")
    assert "It lies the other way round: turn it" in book.text
    assert book.value("densities") == densities, "nothing typed is lost"
    book.send("/measure/scan-001", {"deed": "calibrate", "key": "one", "densities": densities, "turned": "yes"})
    assert "Recorded." in book.text
    assert "miss" in book.text


def test_places_of_a_picture_become_evidence(book: Book) -> None:
    calibrated(book)
    number = exposed()
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), shows="picture", scanner=SCANNER)
    assert "Read, no places marked" in book.open("/measure/scan-002")
    first = {"x_percent": "12", "y_percent": "50", "reading_ev": "9.5", "note": "planks"}
    cells = {"places.2.x_percent": "80"} | {f"places.0.{name}": text for name, text in first.items()}
    book.send("/measure/scan-002", {"deed": "places", "key": "half", **cells})
    assert book.status == 422, "a place needs both"
    assert 'value="planks"' in book.text, "nothing typed is lost"
    book.send("/measure/scan-002", {"deed": "places", "key": "whole", **cells, "places.2.y_percent": "50"})
    finish("scan-002")
    assert "planks" in book.open("/measure/scan-002")
    book.send("/measure/scan-002", {"deed": "scene-patches", "key": "keep", "sheet": number})
    assert "1 metered place with density" in book.text
    assert [one.reading_ev for one in ScenePatch.objects.all()] == [9.5], "only what was metered"


def sent_to_the_curve(book: Book, number: str) -> dict[str, str]:
    """Send the densities of scan-002 to the curve; the fields that were sent."""
    book.open(f"/findings/step-sheet?sheet={number}&scan=scan-002&how=typed")
    logs = " ".join(f"{-0.9 + 0.2 * step:.2f}" for step in range(10))
    sent = {**book.hidden(), "sheet": number, "scan": "scan-002", "how": "typed", "metered": "yes", "exposure_log10": logs, "then": "learn"}
    book.send("/findings/step-sheet", sent)
    return sent


def test_who_did_not_say_which_scanner_finds_where_to_say_it(book: Book) -> None:
    calibrated(book)
    number = exposed(subject="step sheet")
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), scanner="")
    text = place_grid(book, "scan-002", len(SHEET))
    assert "It is not said which scanner made this scan" in text
    assert 'href="/book/correct/scan/scan-002#f-scanner">Say which scanner' in text
    assert 'id="f-scanner"' in book.open("/book/correct/scan/scan-002"), "the link leads to the very field"
    do("correct", {"kind": "scan", "name": "scan-002", "changes": f"scanner; {SCANNER}"})
    text = book.open("/measure/scan-002")
    assert "Say which scanner" not in text
    assert "Send the densities to the curve" in text


def test_a_scanner_that_is_not_calibrated_leads_to_its_tablet(book: Book) -> None:
    number = exposed(subject="step sheet")
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), scanner=SCANNER)
    text = place_grid(book, "scan-001", len(SHEET))
    (address,) = re.findall('href="([^"]*)">Hand in a step tablet', text)
    text = book.open(address.replace("&amp;", "&"))
    assert 'value="step tablet" checked' in text
    assert f'<option value="{SCANNER}" selected>' in text


def test_a_refused_calibration_says_so_at_the_top(book: Book) -> None:
    hand_in(book, upload("tablet.tif", tiff(TABLET)), shows="step tablet", scanner=SCANNER, rows="1", columns=str(len(TABLET)))
    place_grid(book, "scan-001", len(TABLET))
    text = book.send("/measure/scan-001", {"deed": "calibrate", "key": "one", "densities": "0.05 0.2 0.35"})
    told = text.index("nothing was recorded")
    assert told < text.index('id="viewer"'), "in the first screen"
    assert "3 densities for 12 patches of the grid." in text[told : told + 300]
    assert '<a href="#f-densities">' in text[told : told + 300]
    assert 'id="f-densities"' in text
    assert "nothing was recorded" not in book.open("/measure/scan-001")


def test_a_receipt_does_not_say_for_ever_that_it_is_being_read(book: Book) -> None:
    number = exposed()
    book.open("/measure")
    book.send("/measure", {**book.hidden(), "shows": "picture", "files": upload(f"{number}.tif", tiff(SHEET))})  # type: ignore[dict-item]  # the client takes files
    assert "is being read" in book.text
    key = Act.objects.get(deed="scan").key
    for address in (f"/measure/scan-001?recorded={key}", f"/measure?recorded={key}"):
        assert f"scan-001 of sheet {number} is in the book, and is being read." in book.open(address)
    finish("scan-001")
    for address in (f"/measure/scan-001?recorded={key}", f"/measure?recorded={key}"):
        assert f"scan-001 of sheet {number} is in the book, and was read." in book.open(address)
    book.send("/measure/scan-001", {"deed": "places", "key": "p", "places.0.x_percent": "12", "places.0.y_percent": "50"})
    finish("scan-001")
    key = Act.objects.get(deed="places").key
    assert "scan-001: 1 place, measured." in book.open(f"/measure/scan-001?recorded={key}")


def test_a_corrected_scanner_shows_that_the_curve_rests_on_other_densities(book: Book) -> None:
    calibrated(book)
    number = exposed(subject="step sheet")
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), scanner=SCANNER)
    place_grid(book, "scan-002", len(SHEET))
    sent = sent_to_the_curve(book, number)
    assert "changed since" not in book.open("/measure/scan-002")
    do("scanner", {"name": "other flatbed"})
    do("correct", {"kind": "scan", "name": "scan-002", "changes": "scanner; other flatbed"})
    assert "by what is said now this scan has none" in book.open("/measure/scan-002")
    steps = [{"density": density, "grey": 0.8 * 10 ** (-0.8 * density)} for density in TABLET]
    do("calibrate", {"scanner": "other flatbed", "steps": steps})
    text = book.open("/measure/scan-002")
    assert "The book has other densities of this step sheet than stand here" in text
    assert "Send the densities again" in text
    book.send("/findings/step-sheet", {**sent, "key": "anew", "again": "yes"})
    assert "changed since" not in book.open("/measure/scan-002")
    do("correct", {"kind": "reading", "name": f"{number}/4", "changes": "density; 1.11"})
    assert "changed since" not in book.open("/measure/scan-002"), "what a hand corrected is meant so"


def test_places_that_are_kept_say_so(book: Book) -> None:
    calibrated(book)
    number = exposed()
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), shows="picture", scanner=SCANNER)
    cells = {"places.0.x_percent": "12", "places.0.y_percent": "50", "places.0.reading_ev": "9.5"}

    def measured(key: str, **more: str) -> str:
        book.send("/measure/scan-002", {"deed": "places", "key": key, **cells, **more})
        finish("scan-002")
        return book.open("/measure/scan-002")

    assert "rests on these places once they are kept" in measured("first")
    text = book.send("/measure/scan-002", {"deed": "scene-patches", "key": "keep", "sheet": number})
    assert "These places are kept" in text
    assert "Keep these places" not in text, "there is nothing more to press"
    assert f'href="/findings?sheet={number}">What is known now' in text
    text = measured("second", **{"places.0.x_percent": "80"})
    assert "The book has other densities of this picture than stand here" in text
    assert "Keep these places instead" in text
    assert "These places are kept" in book.send("/measure/scan-002", {"deed": "scene-patches", "key": "again", "sheet": number})


def test_a_file_has_one_size_everywhere(book: Book) -> None:
    number = exposed()
    content = tiff(SHEET)
    hand_in(book, upload(f"{number}.tif", content), shows="picture")
    assert f"The file as it was handed in, {round(len(content) / 1000)} kB" in book.open("/measure/scan-001")


def test_several_files_at_once_and_the_one_without_a_sheet_is_asked_for(book: Book) -> None:
    first, second = exposed(subject="rope"), exposed(subject="oakum")
    files = [upload(f"{first}.tif", tiff(SHEET)), upload("door.tif", tiff(SHEET[::-1])), upload(f"{second} toned.tif", tiff(SHEET[1:]))]
    hand_in(book, *files, shows="picture")
    assert book.status == 422
    assert Scan.objects.count() == 2, "those that can be handed in are"
    assert "door.tif" in book.text
    assert "Which sheet is it?" in book.problem("sheet")
    assert "door.tif</b> has arrived and need not be sent again" in book.text
    hidden = book.hidden()
    book.send("/measure", {**hidden, "shows": "picture", "sheet": first})
    assert Scan.objects.count() == 3
    assert sorted(str(one.sheet) for one in Scan.objects.all()) == sorted([first, first, second])
    assert len(list(KEPT.glob("*/*"))) >= 3


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("letter.tif", b"Dear Sir, ", "no image|not an image|cannot be read|is read from TIFF"),
        ("cut.tif", tiff(SHEET)[:20_000], "cut off|damaged"),
        ("press.tif", tiff(SHEET, photometric="separated", with_profile=False), "printing press"),
    ],
    ids=["not an image", "truncated", "CMYK"],
)
def test_a_file_that_cannot_be_used_says_why_once(book: Book, name: str, content: bytes, says: str) -> None:
    number = exposed()
    hand_in(book, upload(name, content), sheet=number)
    text = book.open("/measure/scan-001")
    assert len(re.findall("this file cannot be measured", text)) == 1
    assert re.search(says, text), text
    assert f"/measure?shows=step+sheet&sheet={number}" in text, "another file can be handed in with what was typed"
    assert Client().get("/measure/scan-001/original").status_code == 200, "the original is kept"


def test_an_empty_file_and_none_at_all(book: Book) -> None:
    number = exposed()
    hand_in(book, upload("26-001.tif", b""), sheet=number, remarks="after the rain")
    assert book.status == 422
    assert "This file is empty" in book.text
    assert book.value("remarks") == "after the rain"
    hand_in(book, sheet=number)
    assert "Choose a file" in book.text
    assert not Scan.objects.exists()


def test_eight_bits_are_measured_with_a_note(book: Book) -> None:
    number = exposed()
    hand_in(book, upload("a.tif", tiff(SHEET, bits=8)), sheet=number, shows="picture")
    assert "8 bits" in book.open("/measure/scan-001")


def test_a_very_long_name_is_cut_and_kept(book: Book) -> None:
    number = exposed()
    hand_in(book, upload(f"{number} {'x' * 235}.tif", tiff(SHEET)), shows="picture")
    assert book.status == 200
    assert Scan.objects.get().file.handed_in_as.startswith(number)


def test_a_sheet_that_is_not_there_is_named(book: Book) -> None:
    hand_in(book, upload("a.tif", tiff(SHEET)), sheet="26-900")
    assert book.status == 422
    assert "26-900" in book.problem("sheet")
    assert "has arrived" in book.text


def test_without_a_profile_it_is_asked_and_the_scanner_remembers(book: Book) -> None:
    number = exposed()
    hand_in(book, upload(f"{number}.tif", tiff(SHEET, with_profile=False)), shows="picture", scanner=SCANNER)
    text = book.open("/measure/scan-001")
    assert "what do its numbers mean?" in text
    book.send("/measure/scan-001", {"deed": "read-again", "key": "again", "untagged": "gamma 2.2"})
    finish("scan-001")
    assert "taken as gamma 2.2" in book.open("/measure/scan-001")
    hand_in(book, upload(f"{number} b.tif", tiff(SHEET[::-1], with_profile=False)), shows="picture", scanner=SCANNER)
    assert "taken as gamma 2.2" in book.open("/measure/scan-002"), "asked once"


def test_the_work_is_told_and_can_be_stopped(book: Book) -> None:
    number = exposed()
    book.open("/measure")
    book.send("/measure", {**book.hidden(), "shows": "picture", "files": upload(f"{number}.tif", tiff(SHEET))})  # type: ignore[dict-item]  # the client takes files
    assert 'hx-get="/measure/scan-001/work"' in book.text
    assert "Waits its turn" in book.open("/measure/scan-001/work")
    assert "Waits to be read" in book.open("/measure/scans")
    book.send("/measure/scan-001", {"deed": "stop-work", "key": "stop"})
    assert "the reading was stopped" in book.text
    assert Client().get("/measure/scan-001/work").headers["HX-Refresh"] == "true"
    book.send("/measure/scan-001", {"deed": "read-again", "key": "go"})
    finish("scan-001")
    assert "Read, no places marked" in book.open("/measure/scan-001")


def test_the_grid_can_be_drawn_and_turned_before_it_is_said_to_be_right(book: Book) -> None:
    number = exposed()
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), rows="1", columns="10")
    corners = corner_fields(len(SHEET))
    address = f"/measure/scan-001?rows=2&columns=5&{'&'.join(f'{name}={text}' for name, text in corners.items())}"
    assert book.open(address).count('class="cell"') == 10
    text = book.open(f"{address}&turn=quarter")
    assert book.value("rows") == "5"
    assert book.value("x1") == corners["x4"], "corner 1 is where corner 4 was"
    assert text.count('class="cell"') == 10
    book.open(f"{address}&turn=mirror")
    assert (book.value("rows"), book.value("x1")) == ("2", corners["x2"])
    crossed = {**corners, "x1": corners["x2"], "x2": corners["x1"]}
    book.send("/measure/scan-001", {"deed": "grid", "key": "crossed", "rows": "1", "columns": "10", **crossed})
    assert book.status == 422
    assert "do not go round a field" in book.text
    assert book.value("x1") == crossed["x1"], "nothing typed is lost"


@pytest.mark.usefixtures("book")
def test_what_the_pages_own_script_sends_is_answered_as_json() -> None:
    number = exposed()
    sent = Client().post("/api/files", tiff(SHEET), content_type="application/octet-stream")
    fields = {"shows": "picture", "file": sent.json()["file"], "handed_in_as": f"{number}.tif", "key": "from the script"}
    headers = {"Origin": "http://testserver", "Accept": "application/json"}
    answers = [Client().post("/measure", fields, headers=headers) for _ in range(2)]
    assert {one.status_code for one in answers} == {201}
    assert Scan.objects.count() == 1, "sent again after a lost answer it is one scan"
    assert answers[0].json()["href"].startswith("/measure/scan-001?recorded=")
    refused = Client().post("/measure", {**fields, "handed_in_as": "a.tif", "key": "other"}, headers=headers)
    assert refused.status_code == 422
    assert refused.json()["problems"] == [{"field": "sheet", "problem": "Which sheet is it? Choose its number, or say that it shows a step tablet."}]


def test_thumbnails_stand_on_the_cards(book: Book) -> None:
    number = exposed()
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), shows="picture")
    picture = "/measure/scan-001/view/thumb.png?as=unknown"
    assert picture in book.open("/book")
    assert Client().get(picture).headers["Content-Type"] == "image/png"
    assert "/measure/scan-001/view/preview.png" in book.open(f"/book/{number}")
    do("archive", {"kind": "scan", "name": "scan-001"})
    assert picture not in book.open("/book")


def test_pictures_that_were_lost_are_made_again_and_the_grid_stays(book: Book) -> None:
    calibrated(book)
    number = exposed(subject="step sheet")
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), scanner=SCANNER)
    place_grid(book, "scan-002", len(SHEET))
    before = Client().get("/api/scans/scan-002").json()
    shutil.rmtree(VIEWS)
    assert "Make them again" in book.open("/measure/scan-002")
    assert "/view/thumb.png" not in book.open("/book")
    book.send("/measure/scan-002", {"deed": "read-again", "key": "pictures"})
    finish("scan-002")
    assert "Make them again" not in book.open("/measure/scan-002")
    after = Client().get("/api/scans/scan-002").json()
    assert after["scan"]["grid"] == before["scan"]["grid"], "what was placed by hand stays"
    assert after["densities"]["densities"] == before["densities"]["densities"]


def test_nothing_outside_the_views_is_served(book: Book) -> None:
    number = exposed()
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), shows="picture")
    for path in ("../../book.sqlite3", "..%2f..%2fbook.sqlite3", "nothing.png", "tiles_files/99/0_0.jpg"):
        assert Client().get(f"/measure/scan-001/view/{path}").status_code == 404
    assert Client().get("/measure/scan-900").status_code == 404
    assert Client().get("/measure/scan-900/original").status_code == 404


def test_an_unknown_act_is_refused(book: Book) -> None:
    number = exposed()
    hand_in(book, upload(f"{number}.tif", tiff(SHEET)), shows="picture")
    book.send("/measure/scan-001", {"deed": "archive", "key": "x"})
    assert book.status == 404
    assert json.loads(Client().get("/api/scans/scan-001").content)["scan"]["archived_at"] is None
