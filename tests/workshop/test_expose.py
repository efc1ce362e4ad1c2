"""A sheet is exposed: its number, what was planned, what was done, and a side that was exposed twice."""

from collections.abc import Mapping

import pytest
from tests.workshop.boatyard import LENS, PAPER, STILL_LIFE, exposed, gear

from silverwright import api
from silverwright.book.models import Exposure, HolderSide, Lot, Sheet
from silverwright.errors import BadQuestion
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
SIDE_1 = {"holder": "holder 1", "side": "1"}


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def refused(given: Mapping[str, object]) -> dict[str, str]:
    with pytest.raises(BadQuestion) as caught:
        do("expose", given)
    return {fault.field: fault.problem for fault in caught.value.faults}


def load() -> None:
    do("load", {**SIDE_1, "lot": "box A"})


def test_planned_and_done_are_kept_apart() -> None:
    number = exposed(given_s=100, aperture_given_f="f/16", when="2026-01-12 10:40Z")
    exposure = Exposure.objects.get()
    assert number == "26-001"
    assert (exposure.given_s, exposure.aperture_f) == (100, 16)
    assert exposure.planned is not None
    assert exposure.planned.operation == "exposure.ledger"
    assert exposure.planned.question["aperture_f"] == 22
    by_hand = 75 * 2**-0.48  # EI 1.5 in noon daylight; of the window a blue-sensitive paper gets 0.48 stop more
    assert exposure.planned.answer["time_s"]["value"] == pytest.approx(3 * (by_hand / 3) ** 1.08, abs=0.5)
    assert exposure.planned.answer["notes"][-1]["note"] == "mirror-image"


def test_the_planned_answer_is_what_the_question_answers() -> None:
    exposed()
    planned = Exposure.objects.get().planned
    assert planned is not None
    assert api.ask(planned.operation, **planned.question).model_dump(mode="json") == planned.answer


def test_an_answer_that_the_browser_sends_is_not_taken() -> None:
    assert "time_s" in refused({"paper": PAPER, **STILL_LIFE, "time_s": 1})


def test_without_a_time_the_planned_one_is_taken_as_given() -> None:
    done = do("expose", {"paper": PAPER, **STILL_LIFE, "paper_ei": 1.5})
    assert done.values["given_s"] == Exposure.objects.get().given_s == 97


def test_the_scene_keeps_what_was_metered_and_not_the_paper() -> None:
    exposed()
    scene = Exposure.objects.get().scene
    assert scene == {"reading_ev": 10, "meter_k": 12.5, "focal_mm": 210, "extension_mm": 315, "pupil_factor": 1}


def test_without_a_reading_only_what_was_done_is_kept() -> None:
    do("expose", {"paper": PAPER, "given_s": "2m30s", "aperture_f": "f/16", "process": "negative", "filter_factor": 2})
    exposure = Exposure.objects.get()
    assert exposure.planned is None
    assert (exposure.given_s, exposure.aperture_f, exposure.process, exposure.scene["filter_factor"]) == (150, 16, "negative", 2)


def test_numbers_run_within_their_year() -> None:
    numbers = [exposed(when=f"{day} 12:00Z") for day in ("2026-01-12", "2026-03-01", "2027-01-02", "2026-12-30")]
    assert numbers == ["26-001", "26-002", "27-001", "26-003"]


def test_the_light_class_of_the_light_unless_another_is_named() -> None:
    exposed()
    exposed(light_class="direct sun")
    do("expose", {"paper": PAPER})
    assert list(Exposure.objects.order_by("pk").values_list("light_class", flat=True)) == ["north window", "direct sun", "unknown"]


@pytest.mark.parametrize(
    ("given", "turned"), [({}, "no"), ({"camera": "box camera"}, "mirror or prism"), ({"camera": "box camera", "turned": "no"}, "no")]
)
def test_a_mirror_in_the_camera_turns_the_picture(given: dict[str, str], turned: str) -> None:
    exposed(**given)
    sheet = Sheet.objects.get()
    assert (sheet.turned, sheet.mirror_image) == (turned, turned == "no")


def test_a_loaded_side_tells_paper_and_box() -> None:
    load()
    do("expose", {**SIDE_1, "told_apart": "one corner clipped"})
    sheet = Sheet.objects.get()
    assert (sheet.paper.name, str(sheet.lot), sheet.told_apart) == (PAPER, "box A", "one corner clipped")
    assert Lot.objects.get().sheets_left == 24, "the box was counted when the side was loaded"


def test_a_sheet_from_the_box_itself_is_counted() -> None:
    do("expose", {"lot": "box A"})
    assert Lot.objects.get().sheets_left == 24


def test_without_any_paper_it_is_asked_for() -> None:
    assert refused({"given_s": 10}).keys() == {"paper"}


def test_which_side_is_asked_for() -> None:
    load()
    assert refused({"holder": "holder 1"}).keys() == {"side"}


def test_a_side_that_is_empty_by_the_book() -> None:
    assert "Load it first" in refused(SIDE_1)["side"]
    do("expose", {**SIDE_1, "lot": "box A"})
    side = HolderSide.objects.get(side="1")
    assert (side.state, str(side.lot), str(side.sheet)) == ("exposed", "box A", "26-001")


def test_the_paper_must_be_the_one_that_was_loaded() -> None:
    load()
    do("paper", {"name": "fibre paper"})
    assert "By the book" in refused({**SIDE_1, "paper": "fibre paper"})["paper"]
    do("lot", {"name": "box B", "paper": PAPER})
    assert "loaded from “box A”" in refused({**SIDE_1, "lot": "box B"})["lot"]


def test_a_used_side_warns() -> None:
    load()
    number = do("expose", SIDE_1).name
    assert f"exposed already, as sheet {number}" in refused(SIDE_1)["side"]
    assert Exposure.objects.count() == 1


def test_a_used_side_exposed_anyway_is_a_double_exposure() -> None:
    load()
    first = do("expose", {**SIDE_1, "given_s": 40})
    second = do("expose", {**SIDE_1, "given_s": 20, "anyway": "yes"})
    assert second.name == first.name
    assert [note.note for note in second.notes] == ["double-exposure"]
    assert Sheet.objects.count() == 1
    assert [one.given_s for one in Exposure.objects.order_by("pk")] == [40, 20]


def test_a_piece_has_the_exposures_of_its_sheet() -> None:
    number = exposed()
    done = do("cut", {"sheet": number})
    assert done.values["pieces"] == ["26-001a", "26-001b"]
    piece = api.story("26-001b")
    assert piece.line.exposures == api.story(number).line.exposures
    assert (piece.line.sheet.paper.name, piece.line.sheet.subject) == (PAPER, "caulking mallet")


def test_every_fault_of_form_and_plan_at_once() -> None:
    faults = refused({"paper": PAPER, "lens": LENS, "dial_time_s": "1/8", "given_s": -1, "subject_mm": 100})
    assert faults.keys() == {"dial_ei", "aperture_f", "given_s", "subject_mm"}


def test_a_side_that_is_empty_by_the_book_takes_the_named_paper_and_says_so() -> None:
    done = do("expose", {"paper": PAPER, **STILL_LIFE, "paper_ei": 1.5, **SIDE_1})
    assert "side-not-loaded" in {note.note.value for note in done.notes}
    load_again = do("unload", SIDE_1) and do("load", {**SIDE_1, "lot": "box A"})
    assert load_again.says
    assert "side-not-loaded" not in {note.note.value for note in do("expose", {**STILL_LIFE, "paper_ei": 1.5, **SIDE_1}).notes}
