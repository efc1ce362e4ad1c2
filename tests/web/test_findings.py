"""Findings without script: from nothing to a curve, and what the camera makes of it."""

import json
import re
from collections.abc import Mapping
from io import BytesIO

import pytest
from django.test import Client
from tests.web.book_in_hand import DENSITIES, EXPOSURES, ORIGIN, PAPER, Book, begin, exposed, measured

from silverwright.book.models import Curve, Reading, Sheet
from silverwright.errors import BadQuestion
from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
TYPED = {"how": "typed", "metered": "yes", "exposure_log10": EXPOSURES, "densities": DENSITIES}


@pytest.fixture
def book(client: Client) -> Book:
    return Book(client)


def _exact(book: Book, name: str) -> Mapping[str, float | None]:
    """A figure of the page as it is, not as it is rounded."""
    found = re.search(rf'<data class="v" id="{name}" value="(.*?)">', book.text)
    assert found, name
    value: Mapping[str, float | None] = json.loads(found[1])
    return value


def test_without_a_paper_there_is_one_way_on(book: Book) -> None:
    text = book.open("/findings")
    assert "No paper is in the book yet" in text
    assert text.count('class="empty"') == 1


def test_an_unknown_paper_shows_what_the_camera_takes_instead(book: Book) -> None:
    """Our judgement, with its word and its doubt, until a sheet tells."""
    begin()
    text = book.open("/findings")
    assert PAPER in text
    assert _exact(book, "paper_ei")["value"] == pytest.approx(2, rel=0.02)
    assert "our first guess, until a sheet says how fast the paper is" in text
    assert "What would narrow it most" in text
    assert "No step sheet of this paper" in text


def test_twelve_densities_become_a_curve_in_one_go(book: Book) -> None:
    """The issue's twelve densities: range 0.854 and EI 6.8 lie inside the limits that the page shows (figures worked out by hand from the curve)."""
    begin()
    number = exposed(subject="step sheet")
    text = book.send("/findings/step-sheet", {"sheet": number, **TYPED, "then": "learn", "key": "s"})
    assert book.status == 200
    assert "12 patches, 12 densities, light metered" in text
    spread, ei = _exact(book, "curve-range_log10"), _exact(book, "curve-camera_ei")
    for estimate, wanted in ((spread, 0.854), (ei, 6.8)):
        assert estimate["low"] is not None
        assert estimate["high"] is not None
        assert estimate["low"] < wanted < estimate["high"]
        assert estimate["percent"] == 80
    assert "derived from ISO" in text
    assert "3 hard" in text
    assert 'href="/camera?paper=' in text
    assert "1 step sheet" in text
    used = _exact(book, "paper_ei")["value"]
    assert used is not None
    assert used == pytest.approx(ei["value"], rel=0.05)
    camera = book.open(f"/camera?paper={PAPER}&reading_ev=10&aperture_f=f/22&magnification_factor=0")
    assert "1 step sheet" in camera


def test_the_curve_is_drawn_where_a_strict_page_can_hold_it(book: Book) -> None:
    begin()
    measured()
    raw = book.client.get("/findings").content.decode()
    drawn = raw[raw.index('<figure class="chart">') : raw.index("</figure>")]
    assert drawn.count("<svg") == 1
    assert "style=" not in raw
    assert "<script>" not in raw
    assert "range 2.8" in drawn
    assert "EI\N{NO-BREAK SPACE}6.8" in drawn
    assert 'role="img"' in drawn


def test_a_csv_file_is_as_good_as_typing(book: Book) -> None:
    begin()
    number = exposed()
    rows = zip(DENSITIES.split(), EXPOSURES.split(), strict=True)
    file = BytesIO(("density,exposure_log10\n" + "\n".join(",".join(row) for row in rows)).encode())
    file.name = "patches.csv"
    fields = {"sheet": number, "how": "typed", "metered": "yes", "then": "learn", "file": file}
    assert book.client.post("/findings/step-sheet", fields, headers=ORIGIN).status_code == 303
    book.open(f"/findings?sheet={number}")
    assert Reading.objects.count() == 12
    assert _exact(book, "curve-camera_ei")["value"] == pytest.approx(6.8, abs=0.2)


def test_a_file_that_is_no_table_is_said_in_words(book: Book) -> None:
    begin()
    number = exposed()
    file = BytesIO(b"\xff\xd8\xff\xe0picture")
    file.name = "scan.jpg"
    response = book.client.post("/findings/step-sheet", {"sheet": number, "how": "typed", "remarks": "kept", "file": file}, headers=ORIGIN)
    assert response.status_code == 422
    assert "no table of text" in response.content.decode()
    assert "kept" in response.content.decode()


def test_a_slip_keeps_everything_and_learns_nothing(book: Book) -> None:
    begin()
    number = exposed()
    wrong = {**TYPED, "densities": "1.88 1.87 black 1.81", "fixed_out_density": "9", "remarks": "read at the window"}
    book.send("/findings/step-sheet", {"sheet": number, **wrong, "then": "learn", "key": "k"})
    assert book.status == 422
    assert book.problem("densities")
    assert "Too large" in book.problem("fixed_out_density")
    assert book.value("densities") == wrong["densities"]
    assert book.value("exposure_log10") == EXPOSURES
    assert book.value("remarks") == "read at the window"
    assert book.hidden()["key"] == "k"
    assert not Curve.objects.exists()


def test_densities_and_strips_must_be_as_many(book: Book) -> None:
    begin()
    number = exposed()
    book.send("/findings/step-sheet", {"sheet": number, "how": "dark slide", "strip_times_s": "8 3.3 4.7 6.6 9.4", "densities": "1.6 1.3 0.7 0.3"})
    assert book.status == 422
    assert "4 densities for 5 patches" in book.problem("densities")
    assert book.value("strip_times_s") == "8 3.3 4.7 6.6 9.4"


@pytest.mark.parametrize("how", ["step tablet", "timed strips", "dark slide", "apertures", "typed"])
def test_each_way_asks_what_it_needs(book: Book, how: str) -> None:
    needs = {
        "step tablet": "tablet_steps",
        "timed strips": "strip_times_s",
        "dark slide": "strip_times_s",
        "apertures": "strip_apertures_f",
        "typed": "exposure_log10",
    }
    begin()
    text = book.open(f"/findings/step-sheet?how={how}&sheet={exposed()}")
    for field in set(needs.values()):
        assert (f'name="{field}"' in text) == (field == needs[how])
    assert 'aria-current="true"' in text


def test_strip_three_is_right(book: Book) -> None:
    """No instrument at all: the slide's times, and one look. The doubt falls from our 1.5 stops to about a quarter stop and the strips' own."""
    begin()
    number = exposed(given_s="32")
    book.send("/findings/step-sheet", {"sheet": number, "how": "dark slide", "strip_times_s": "8 3.3 4.7 6.6 9.4", "then": ""})
    assert book.status == 200
    assert "not learnt yet" in book.text
    text = book.send("/book/do/judge", {"sheet": number, "strip": "3", "looks": "right"})
    assert "Strip 3 is right" in text
    book.open("/findings")
    estimate = _exact(book, "paper_ei")
    assert "1 strip by eye" in book.text
    assert estimate["low"] is not None
    assert estimate["high"] is not None
    assert estimate["high"] / estimate["low"] < 2.5  # against 2 ** (2 * 1.28 * 1.5) = 14 before


def test_patches_without_metered_light_give_range_and_no_index(book: Book) -> None:
    begin()
    number = exposed(reading_ev="")
    book.send("/findings/step-sheet", {"sheet": number, **TYPED, "metered": "no", "then": "learn"})
    assert "no exposure index" in book.text
    assert 'id="curve-camera_ei"' not in book.text
    assert "our first guess, until a sheet says how fast the paper is" in book.text
    assert "its light was not metered" in book.text.lower()
    assert _exact(book, "curve-range_log10")["value"] == pytest.approx(0.854, abs=0.03)


def test_an_end_beyond_the_patches_reads_at_least(book: Book) -> None:
    begin()
    number = exposed()
    half = {"exposure_log10": " ".join(EXPOSURES.split()[:8]), "densities": " ".join(DENSITIES.split()[:8])}
    book.send("/findings/step-sheet", {"sheet": number, **TYPED, **half, "then": "learn"})
    assert "range at least" in book.text
    drawn = book.text[book.text.index('<figure class="chart">') : book.text.index("</figure>")]
    assert "shadow point" in drawn
    assert "highlight point" not in drawn
    assert "at least" in book.text[book.text.index("Range in stops") :][:200]
    assert _exact(book, "curve-range_stops")["value"] is None


def test_a_curve_that_turns_back_is_flagged(book: Book) -> None:
    begin()
    number = exposed()
    turned = DENSITIES.replace("0.15 0.11 0.09", "0.15 0.35 0.55")
    book.send("/findings/step-sheet", {"sheet": number, **TYPED, "densities": turned, "then": "learn"})
    assert 'data-sev="care"' in book.text or 'data-sev="stop"' in book.text
    assert "0.35" in book.text


def test_recorded_only_then_learnt(book: Book) -> None:
    begin()
    number = exposed()
    text = book.send("/findings/step-sheet", {"sheet": number, **TYPED, "then": ""})
    assert f"Learn the curve from {number}" in text
    assert not Curve.objects.exists()
    book.send("/book/do/learn", {"sheet": number, "key": "l"})
    assert Curve.objects.count() == 1
    assert "curve-camera_ei" in book.text


def test_the_same_step_sheet_sent_twice_is_one(book: Book) -> None:
    begin()
    number = exposed()
    for _ in range(2):
        book.send("/findings/step-sheet", {"sheet": number, **TYPED, "then": "learn", "key": "once"})
        assert book.status == 200
    assert Curve.objects.count() == 1
    assert Reading.objects.count() == 12


def test_reading_anew_must_be_said(book: Book) -> None:
    begin()
    number = measured()
    book.send("/findings/step-sheet", {"sheet": number, **TYPED})
    assert book.status == 422
    assert "read already" in book.problem("sheet")
    assert 'name="again"' in book.text
    book.send("/findings/step-sheet", {"sheet": number, **TYPED, "again": "yes"})
    assert book.status == 200


def test_verdicts_move_the_index_the_right_way(book: Book) -> None:
    """Half a stop too dark: a direct positive wants more exposure, so a lower EI; a paper negative less, so a higher one."""
    begin()
    found = {}
    for process in ("direct positive", "negative"):
        number = exposed(process=process)
        do("process", {"sheet": number, "process": process})
        do("judge", {"sheet": number, "looks": "too dark", "off_stops": "0.5"})
        book.open(f"/findings?paper={PAPER}&process={process}")
        assert "1 verdict" in book.text
        found[process] = _exact(book, "paper_ei")["value"] or 0
    assert found["direct positive"] < found["negative"]


def test_waiting_sheets_are_offered(book: Book) -> None:
    begin()
    number = exposed()
    do("process", {"sheet": number})
    assert "Processed, not yet measured or judged" in book.open("/findings")
    assert f'href="/book/{number}"' in book.text


def test_each_paper_by_its_own(book: Book) -> None:
    begin()
    do("paper", {"name": "RC paper, variable contrast"})
    measured()
    book.open("/findings?paper=RC paper, variable contrast")
    assert "curve-camera_ei" not in book.text
    book.open(f"/findings?paper={PAPER}")
    assert "curve-camera_ei" in book.text
    book.open("/findings?paper=none")
    assert book.status == 404


def test_a_corrected_reading_asks_to_learn_again(book: Book) -> None:
    begin()
    number = measured()
    assert "Learn the curve again" not in book.open("/findings")
    address = f"/book/correct/reading/{number}/7"
    assert f'href="{address}"' in book.text
    book.open(address)
    book.send(address, {**book.hidden(), "density": "1.02", "exposure_log10": "0", "left_out": "no"})
    book.open("/findings")
    assert "Learn the curve again" in book.text
    book.send("/book/do/learn", {"sheet": number, "key": "again"})
    assert "Learn the curve again" not in book.text
    assert "1.02" in book.text


def test_a_judged_sheet_leads_to_what_its_paper_knows(book: Book) -> None:
    """A sheet without patches of its own shows the paper's curve, not an empty page."""
    begin()
    measured()
    number = exposed()
    do("process", {"sheet": number})
    do("judge", {"sheet": number, "looks": "right"})
    assert "What is known now" in book.open(f"/book/{number}")
    book.open(f"/findings?sheet={number}")
    assert "curve-camera_ei" in book.text


def test_own_tests_of_long_exposures_replace_the_first_guess(book: Book) -> None:
    begin()
    assert "our judgement until you test it" in book.open("/findings")
    book.send("/book/do/reciprocity-test", {"paper": PAPER, "metered_s": "60", "needed_s": "90", "key": "r"})
    text = book.open("/findings").replace("\N{NO-BREAK SPACE}", " ")
    assert "60 s (1:00) by the meter needed 90 s (1:30)" in text
    assert "our judgement until you test it" not in text


def test_a_patch_left_out_is_a_cross_on_the_curve(book: Book) -> None:
    begin()
    number = measured()
    assert book.open("/findings").count('stroke="var(--stop)"') == 0
    do("correct", {"kind": "reading", "name": f"{number}/3", "changes": "left_out; yes"})
    do("learn", {"sheet": number})
    text = book.open("/findings")
    assert text.count('stroke="var(--stop)"') == 1
    assert "left out" in text


JUNK = (
    "",
    "0",
    "-1",
    "999999999999999999999",
    "null",
    "\N{LATIN SMALL LETTER E WITH ACUTE}\N{SNOWMAN}",
    "'; DROP TABLE x; --",
    "../../etc",
    "26-001/../..",
    "%00",
    "a" * 3000,
)


@pytest.mark.parametrize("junk", JUNK, ids=range(len(JUNK)))
def test_junk_in_an_address_is_answered_in_words(book: Book, junk: str) -> None:
    begin()
    measured()
    for page, names in {
        "/findings": ("paper", "process", "sheet", "recorded"),
        "/findings/step-sheet": ("how", "sheet", "densities", "patches", "given_s"),
        "/book": ("words", "paper", "state", "year", "recorded"),
        "/book/do/process": ("sheet", "steps.0.step", "steps.1.step_s", "steps", "steps.99999.bath", "when"),
        "/book/do/load": ("holder", "side", "lot"),
        "/book/26-001": ("recorded", "paper"),
        "/book/26-001/note.pdf": ("paper",),
    }.items():
        for name in names:
            response = book.client.get(page, {name: junk})
            assert response.status_code in {200, 404}, (page, name)


@pytest.mark.parametrize("junk", JUNK, ids=range(len(JUNK)))
def test_junk_in_a_form_is_refused_in_words(book: Book, junk: str) -> None:
    begin()
    number = exposed()
    for page, fields in {
        "/book/do/process": {"sheet": number, "steps.0.step": junk, "steps.7.step_s": junk, "when": junk},
        "/book/do/judge": {"sheet": junk, "looks": junk, "off_stops": junk, "strip": junk},
        "/book/do/cut": {"sheet": number, "pieces": junk or "x"},
        "/book/do/archive": {"kind": junk, "name": junk},
        "/book/do/lens": {"name": junk, "focal_mm": junk},
        "/findings/step-sheet": {"sheet": number, "how": junk, "densities": junk, "patches": junk, "then": "learn"},
        f"/book/correct/exposure/{number}/1": {"given_s": junk, "was.given_s": "97", "seen": junk, "key": junk},
    }.items():
        response = book.client.post(page, fields, headers=ORIGIN)
        assert response.status_code in {303, 404, 409, 422}, (page, response.status_code)


def test_the_next_exposure_with_both_chances_and_what_would_narrow_it(book: Book) -> None:
    begin()
    for _ in range(2):
        book.send("/book/do/judge", {"sheet": exposed(), "looks": "right"})
    text = book.open("/findings")
    assert "One sheet comes out right" in text
    assert text.count(" of 100</dd>") == 2
    assert "What would narrow it most" in text
    assert "control step sheet" in text
    assert "2 verdicts" in text


def test_evidence_is_left_out_with_a_reason_and_taken_back(book: Book) -> None:
    begin()
    number, other = exposed(), exposed()
    book.send("/book/do/judge", {"sheet": number, "looks": "right"})
    book.send("/book/do/judge", {"sheet": other, "looks": "too dark", "off_stops": "3"})
    book.open("/findings")
    both = _exact(book, "paper_ei")["value"]
    assert both is not None
    text = book.send("/book/do/leave-out", {"sheet": other, "evidence": "verdict", "reason": "", "key": "no reason"})
    assert book.status == 422
    assert "reason" in text
    text = book.send("/book/do/leave-out", {"sheet": other, "evidence": "verdict", "reason": "judged in the wrong light", "key": "out"})
    assert "does not count any more: judged in the wrong light" in text, "one lands on the findings, where it is said"
    assert "Left out: judged in the wrong light" in text
    without = _exact(book, "paper_ei")["value"]
    assert without is not None
    assert without > both * 1.2, "three stops too dark asked for more light"
    text = book.send("/book/do/take-back", {"sheet": other, "evidence": "verdict", "key": "back"})
    assert "counts again" in text
    assert _exact(book, "paper_ei")["value"] == pytest.approx(both, rel=1e-6)


def test_a_later_verdict_names_the_earlier_that_it_replaces(book: Book) -> None:
    begin()
    number = exposed()
    book.send("/book/do/judge", {"sheet": number, "looks": "too light", "off_stops": "2", "key": "second"})
    book.open("/findings")
    alone = _exact(book, "paper_ei")["value"]
    assert "In place of" not in book.text
    book.send("/book/do/judge", {"sheet": number, "looks": "too dark", "when": "2001-01-01", "key": "first"})
    text = book.open("/findings")
    assert _exact(book, "paper_ei")["value"] == alone, "the earlier counts no more, whichever was entered first"
    assert "In place of the earlier “half a stop too dark”." in text
    book.send("/book/do/judge", {"sheet": number, "looks": "right", "key": "third"})
    assert "In place of the earlier “half a stop too dark”, “2 stops too light”." in book.open("/findings").replace("\N{NO-BREAK SPACE}", " ")


def test_a_tone_and_a_light_change_the_forecast(book: Book) -> None:
    begin()
    book.send("/book/do/judge", {"sheet": exposed(), "looks": "right"})
    book.open("/findings")
    grey = _exact(book, "paper_ei")["value"]
    text = book.open("/findings?tone=highlight+with+texture")
    highlight = _exact(book, "paper_ei")["value"]
    assert grey is not None
    assert highlight is not None
    assert highlight < grey, "a white needs more light than a grey on a direct positive"
    assert "reading_tone=highlight" in text
    assert "highlight with texture comes out right" in text


def test_control_step_sheets_tell_the_days_apart(book: Book) -> None:
    begin()
    book.send("/book/do/light", {"name": "lamp over the tray", "key": "lamp"})
    assert "None yet" in book.open("/findings")
    for shift, when in ((0.0, "2026-01-12 10:00"), (0.15, "2026-01-13 10:00")):  # on the second day each tone needs half a stop more
        number = exposed(subject="control", when=when)
        steps = " ".join(f"{-0.9 + 0.15 * place + shift:.2f}" for place in range(12))
        given = {**TYPED, "exposure_log10": steps, "lamp": "lamp over the tray", "then": "", "key": f"control {when}"}
        book.send("/findings/step-sheet", {"sheet": number, **given})
        assert book.status == 200
    text = book.open("/findings")
    shown = text[text.index('id="h-control"') :]
    assert shown.index("12 January") < shown.rindex("13 January")
    assert "lamp over the tray" in shown
    offs = [float(one.replace("\N{MINUS SIGN}", "-")) for one in re.findall(r'<td class="num">(\S+) ± 0\.03</td>', shown)]
    assert offs[1] - offs[0] == pytest.approx(-0.5, abs=0.06), "half a stop slower on the second day"
    assert re.search(r"13 January: 0\.2\d stop slower than the mean of your 2 days, ± 0\.03\.", shown), "a quarter either side of the mean"
    assert re.search(r'aria-label="Stops from the mean of the days\. 12 January \+0\.2\d ± 0\.03; 13 January .0\.2\d', shown)


def test_old_baths_are_said_where_the_forecast_rests_on_them(book: Book) -> None:
    """Six sheets through one bath: the seventh is told so, and that it was mixed afresh is one press away; then less light is asked for."""
    begin()
    for number in range(6):
        when = f"2026-01-1{number} 10:00"
        exposed(when=when)
    for number, line in enumerate(sorted(Sheet.objects.values_list("number", flat=True))):
        do("process", {"sheet": line, "steps": "step; bath\nfirst development; developer A", "when": f"2026-01-1{number} 11:00"})
    do("step-sheet", {"sheet": line, **{name: value for name, value in TYPED.items() if name != "then"}})
    text = book.open("/findings")
    assert "counts as number 7 through these baths (developer A)" in text
    stands = _exact(book, "paper_ei")["value"] or 0
    link = re.search(r'<a class="btn plain" href="(/findings\?[^"]*baths=afresh[^"]*)">', text)
    assert link
    afresh = book.open(link[1].replace("&amp;", "&"))
    assert "through these baths" not in afresh
    assert 2**0.1 < (_exact(book, "paper_ei")["value"] or 0) / stands < 2**0.5, "some hundredths of a stop for each of six sheets"
    assert re.search(r'href="/camera\?[^"]*paper_ei=', afresh), "the camera asks for the baths as they stand, so the EI is brought along"


def test_what_a_sheet_never_said_cannot_be_left_out() -> None:
    begin()
    number = measured()
    with pytest.raises(BadQuestion) as refused:
        do("leave-out", {"sheet": number, "evidence": "scene patches", "reason": "fogged"})
    assert [(one.field, one.problem) for one in refused.value.faults] == [
        ("evidence", f"Sheet {number} says nothing of that kind: there is nothing to leave out.")
    ]


def test_each_doubt_says_what_it_is_for(book: Book) -> None:
    """The limits stand with the EI; one standard deviation at the surest time stands behind a word, in a sentence."""
    begin()
    measured()
    text = book.open("/findings")
    before, why = text.split("Why so unsure?")
    assert "±" not in before[before.index('id="h-next"') :], "one doubt only is shown unasked"
    assert "the doubt to set a meter by" in why
    assert "the time that your sheets know best" in why


def test_short_sheets_tell_nothing_of_long_exposures(book: Book) -> None:
    begin()
    measured()
    assert "With what your sheets say, the camera takes the power" not in book.open("/findings")


def test_a_step_sheet_does_not_hide_the_next_exposure(book: Book) -> None:
    """Without any reading Today shows the EI that is known; after a picture, its scene, even when a step sheet was exposed since."""
    begin()
    number = do("expose", {"paper": PAPER, "given_s": "2", "subject": "step sheet", "when": "2026-01-11 10:00"}).name.partition("/")[0]
    do("step-sheet", {"sheet": number, **{name: value for name, value in TYPED.items() if name != "then"}})
    today = book.open("/")
    assert "No reading of a picture of this paper is in the book yet" in today
    assert _exact(book, "paper_ei")["percent"] == 80
    do("expose", {"paper": PAPER, "reading_ev": 10, "aperture_f": 22, "magnification_factor": 0, "given_s": 60, "when": "2026-01-12 10:00"})
    do("expose", {"paper": PAPER, "given_s": "2", "subject": "step sheet", "when": "2026-01-13 10:00"})
    assert "Reading EV 10" in book.open("/")
    shown = _exact(book, "paper_ei")
    book.open("/findings")
    assert _exact(book, "paper_ei") == shown, "one EI, one doubt, on every page"
