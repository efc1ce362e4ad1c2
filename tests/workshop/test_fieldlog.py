"""The log from outdoors: each line once, damaged ones told and never lost, the plan kept as the field page had it."""

import json
from math import log2
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.workshop.boatyard import LENS, PAPER, gear, learnt

from silverwright.book.models import Act, Exposure, HolderSide, Sheet
from silverwright.errors import BadQuestion
from silverwright.questions.ledger import LEDGER
from silverwright.report.kit import COLUMNS
from silverwright.workshop.act import Done
from silverwright.workshop.deeds import do
from silverwright.workshop.loglines import given_of, names_of, read_log

pytestmark = pytest.mark.django_db
MANY: Final = "1 step sheet, 4 control step sheets, 5 verdicts, 1 strip by eye, 3 metered places of pictures, 6 sheets in this light, 2 typed EIs"
PAGE: Final = {
    "ei_rests_on": MANY,
    "paper_ei": 1.5,
    "paper_ei_sd_stops": 0.2,
    "meter_k": 12.5,
    "focal_mm": 210.0,
    "pupil_factor": 1.0,
    "sensitivity": "blue",
}
ENTRY: Final[dict[str, Any]] = {
    "entry": "qx7m2vnd4hpt9wka",
    "when": "2026-11-28T14:31:05+01:00",
    "paper": PAPER,
    "process": "direct positive",
    "lens": LENS,
    "reading_ev": 10,
    "extension_mm": 315,
    "aperture_f": 22,
    "light_class": "overcast sky",
    "planned_s": 97.0,
    "given_s": 34,
    "subject": "mallet",
    "page": json.dumps(PAGE),
}


def written(*entries: dict[str, Any]) -> str:
    """A log as the phone writes it."""

    def cell(value: object) -> str:
        text = str(value)
        return f'"{text.replace(chr(34), chr(34) * 2)}"' if ";" in text or '"' in text else text

    return "\n".join([";".join(COLUMNS), *(";".join(cell(entry.get(column, "")) for column in COLUMNS) for entry in entries)]) + "\n"


def brought(*entries: dict[str, Any]) -> Done:
    return do("field-log", {"log": written(*entries)})


def test_a_line_becomes_a_sheet_with_what_was_really_given() -> None:
    gear()
    done = brought(ENTRY)
    shot = Exposure.objects.get()
    assert done.says == f"1 sheet is in the book: {shot.sheet}."
    assert (shot.given_s, shot.aperture_f, shot.sheet.subject, str(shot.lens)) == (34, 22, "mallet", LENS)
    assert shot.exposed_at.isoformat() == "2026-11-28T13:31:05+00:00"
    assert shot.light_class == "overcast sky"
    assert shot.scene["reading_ev"] == 10


def test_the_plan_is_kept_as_the_field_page_had_it() -> None:
    """The book has learnt another EI meanwhile: the plan of that day stays that day's."""
    gear()
    learnt()
    brought(ENTRY)
    planned = Exposure.objects.latest("pk").planned
    assert planned is not None
    asked = {**PAGE, "reading_ev": 10, "extension_mm": 315, "aperture_f": 22, "light_class": "overcast sky"}
    assert planned.answer["time_s"] == LEDGER.ask(asked).time_s.model_dump(mode="json")
    assert planned.question["paper_ei"] == 1.5
    assert {one["field"] for one in planned.evidence["from_book"]} == set(PAGE)
    own = do("expose", {"paper": PAPER, "lens": LENS, "reading_ev": 10, "extension_mm": 315, "aperture_f": 22, "light_class": "overcast sky"})
    assert abs(log2(own.values["planned_s"] / planned.answer["time_s"]["value"])) > 0.1, "today's book would say something else"


def test_handed_in_twice_it_is_there_once() -> None:
    gear()
    first = brought(ENTRY, ENTRY | {"entry": "another", "subject": "rope"})
    again = brought(ENTRY, ENTRY | {"entry": "another", "subject": "rope"})
    assert Sheet.objects.count() == 2
    assert again.values["there"] == first.values["recorded"]
    assert again.says == "Nothing new. 2 lines were there already."
    more = brought(ENTRY, ENTRY | {"entry": "third"})
    assert more.says.endswith("1 line was there already.")
    assert Sheet.objects.count() == 3


def test_a_line_that_changed_on_the_phone_changes_nothing_in_the_book() -> None:
    gear()
    brought(ENTRY)
    again = brought(ENTRY | {"given_s": 40})
    assert Exposure.objects.get().given_s == 34
    (note,) = again.notes
    assert note.note == "log-changed"
    assert "correct it there" in note.sentence


def test_faults_of_one_line_lose_no_other_and_are_all_told() -> None:
    gear()
    bad = ENTRY | {"entry": "bad", "aperture_f": 900, "reading_ev": "much", "lens": "no such lens", "page": "{"}
    done = brought(bad, ENTRY)
    assert Sheet.objects.count() == 1
    (left,) = done.values["left"]
    assert left["row"]["reading_ev"] == "much"
    assert {fault["field"] for fault in left["faults"]} == {"aperture_f", "reading_ev", "lens", "page"}
    (note,) = done.notes
    assert all(words in note.sentence for words in ("Line 1", "mallet", "900", "much", "no such lens", "Empty this cell"))
    mended = do("field-log", {"log": [left["row"] | {"aperture_f": "22", "reading_ev": "10", "lens": LENS, "page": ""}]})
    assert len(mended.values["recorded"]) == 1
    assert brought(bad, ENTRY).values["there"] == [*mended.values["recorded"], *done.values["recorded"]], "the file of that day, once more"


def test_where_no_line_can_be_recorded_nothing_is_written_and_all_is_told() -> None:
    gear()
    with pytest.raises(BadQuestion) as caught:
        brought(ENTRY | {"aperture_f": 900}, ENTRY | {"entry": "two", "reading_ev": "much"})
    (fault,) = caught.value.faults
    assert fault.field == "log"
    assert "Line 1" in fault.problem
    assert "Line 2" in fault.problem
    assert Act.objects.filter(deed__in=("field-log", "expose")).count() == 0


def test_a_holder_side_is_exposed_by_its_line_and_a_second_time_is_told() -> None:
    gear()
    do("load", {"holder": "holder 1", "side": "2", "lot": "box A"})
    brought(ENTRY | {"paper": "", "holder": "holder 1", "side": 2})
    assert HolderSide.objects.get(holder__name="holder 1", side="2").state == "exposed"
    with pytest.raises(BadQuestion, match="exposed already"):
        brought(ENTRY | {"entry": "two", "holder": "holder 1", "side": 2})
    again = written(ENTRY | {"entry": "two", "paper": "", "holder": "holder 1", "side": 2})
    with pytest.raises(BadQuestion, match="say yes under “Double exposures”"):
        do("field-log", {"log": again})
    done = do("field-log", {"log": again, "anyway": "yes"})
    assert [note.note for note in done.notes] == ["double-exposure"]
    third = brought(ENTRY | {"entry": "three", "holder": "holder 1", "side": 2, "anyway": "yes"})
    assert [note.note for note in third.notes] == ["double-exposure"]


def test_a_paper_log_is_typed_as_it_stands_on_the_card() -> None:
    gear()
    do("load", {"holder": "holder 1", "side": "1", "lot": "box A"})
    usual = {"paper": PAPER, "lens": LENS, "day": "2026-11-28"}
    log = "14:30; 1/1; 10; 315; f/22; 1:37; mallet; the door stood open\n9.05; ; 640 lx; far; 16; 45; boats"
    done = do("field-log", {**usual, "log": log})
    assert len(done.values["recorded"]) == 2
    mallet, boats = Exposure.objects.order_by("pk")
    assert str(mallet.side) == "holder 1, side 1"
    assert mallet.remarks == "the door stood open"
    assert mallet.exposed_at.astimezone().strftime("%Y-%m-%d %H:%M") == "2026-11-28 14:30"
    assert boats.exposed_at.astimezone().strftime("%H:%M") == "09:05"
    assert boats.scene["reading_lx"] == 640
    assert boats.scene["magnification_factor"] == 0
    assert do("field-log", {**usual, "log": log}).says == "Nothing new. 2 lines were there already."
    assert do("field-log", {**usual, "log": f"{log}\n9.05; ; 640 lx; far; 16; 45; boats"}).says.startswith("1 sheet is in the book"), (
        "two alike are two"
    )


def test_what_stands_in_no_column_is_told_and_kept() -> None:
    gear()
    with pytest.raises(BadQuestion, match="no column: wind: strong"):
        do("field-log", {"log": [{"paper": PAPER, "subject": "rope", "wind": "strong"}]})
    with pytest.raises(BadQuestion, match="no column: too many"):
        do("field-log", {"paper": PAPER, "log": "14:30; ; 10; 315; 22; 1:37; rope; windy; too many"})


def test_two_logs_in_one_text_are_read_with_both_heads() -> None:
    gear()
    done = do("field-log", {"log": written(ENTRY) + written(ENTRY | {"entry": "second"})})
    assert len(done.values["recorded"]) == 2


JUNK: Final = st.lists(st.lists(st.text(max_size=12), max_size=12).map(";".join), max_size=6).map("\n".join)


@settings(max_examples=60, deadline=None)
@given(JUNK)
def test_junk_is_refused_in_words_or_recorded_never_broken(text: str) -> None:
    try:
        do("field-log", {"paper": PAPER, "log": text})
    except BadQuestion as bad:
        assert all(fault.problem for fault in bad.faults)


@given(st.lists(st.dictionaries(st.sampled_from(COLUMNS), st.text(min_size=1, max_size=20)), max_size=5))
def test_every_line_has_one_name_and_the_same_one_again(rows: list[dict[str, str]]) -> None:
    names = names_of(rows)
    assert names == names_of(rows)
    own = [row["entry"] for row in rows if "entry" in row]
    assert len(set(names)) >= len(rows) - len(own) + len(set(own)) - 1


@given(st.text(max_size=200))
def test_whatever_is_pasted_nothing_of_it_is_dropped(text: str) -> None:
    """Every letter that is no separator stands in some cell."""
    rows = read_log(text)
    assert isinstance(rows, list)
    kept = "".join(cell for row in rows for cell in row.values())
    assert all(letter in kept for letter in text if letter.isalpha() and letter not in "entrywhplac")


def test_an_hour_without_a_day_is_today() -> None:
    assert given_of({"when": "14:30"}, {}, None)["when"].endswith("T14:30")
