"""Step sheets are read and learnt from; verdicts are kept; the Camera takes what they say unasked."""

from math import log2, log10

import pytest
from tests.workshop.boatyard import LENS, PAPER, STILL_LIFE, exposed, gear, learnt

from silverwright import api
from silverwright.asking.fields import fields_of
from silverwright.book.life import exposures_of
from silverwright.book.metered import metered_log10
from silverwright.book.models import Curve, Reading, Sheet, StepSheet, Verdict
from silverwright.errors import BadQuestion
from silverwright.questions.stepsheet import StepsQuestion
from silverwright.workshop.deeds import do
from silverwright.workshop.plan import plan

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
SLIDE = {"how": "dark slide", "strip_times_s": "8 3.3 4.7 6.6 9.4"}


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def test_patches_are_kept_one_by_one() -> None:
    number, _ = learnt(fixed_out_density=0.05)
    readings = list(Reading.objects.values_list("position", "density", "exposure_log10"))
    assert len(readings) == 12
    assert readings[0] == (1, 1.88, -0.9)
    assert readings[-1] == (12, 0.09, 0.75)
    assert (StepSheet.objects.get().metered, StepSheet.objects.get().fixed_out_density) == (True, 0.05)
    assert api.story(number).line.state == "measured"


def test_a_table_with_its_own_exposures_and_notes() -> None:
    do("step-sheet", {"sheet": exposed(), "patches": "density,exposure_log10,note\n1.88,-0.9,\n0.98,0,a scratch\n0.1,0.6,"})
    assert list(Reading.objects.values_list("exposure_log10", "note")) == [(-0.9, ""), (0.0, "a scratch"), (0.6, "")]


def test_the_slide_is_worked_out_with_the_sheet_s_own_exposure() -> None:
    done = do("step-sheet", {"sheet": exposed(), **SLIDE})
    asked = {**STILL_LIFE, "focal_mm": 210, "pupil_factor": 1, **SLIDE}
    answer = api.ask("sensitometry.steps", **{name: value for name, value in asked.items() if name != "lens"})
    assert done.values["exposure_log10"] == list(answer.exposure_log10)  # type: ignore[attr-defined]
    assert done.values["metered"] is True


def test_what_is_typed_wins_over_the_sheet_s_own_exposure() -> None:
    first = do("step-sheet", {"sheet": exposed(), **SLIDE}).values["exposure_log10"]
    other = do("step-sheet", {"sheet": exposed(), **SLIDE, "reading_ev": 11}).values["exposure_log10"]
    assert [b - a for a, b in zip(first, other, strict=True)] == pytest.approx([log2(2) * 0.30103] * 5, abs=1e-4)


def test_light_on_the_paper_is_given_for_the_sheet_s_own_time() -> None:
    tablet = {"how": "step tablet", "tablet_densities": "0.05 0.35", "paper_lx": 4}
    found = [do("step-sheet", {"sheet": exposed(given_s=2), **tablet, **more}).values for more in ({}, {"given_s": 2}, {"given_s": 1})]
    assert found[0] == found[1]
    first = found[0]["exposure_log10"][0]
    assert first == pytest.approx(log10(4 * 2) - 0.05)  # lux times seconds, through the clearest step; the scene's reading and lens have no part
    assert found[2]["exposure_log10"][0] == pytest.approx(first - log10(2)), "what is typed wins"


def test_the_slide_needs_no_time_of_the_sheet() -> None:
    given = {**SLIDE, "paper_lx": 4}
    whole, none = ({**do("step-sheet", {"sheet": exposed(given_s=seconds), **given}).values} for seconds in (2, 200))
    assert whole["exposure_log10"] == none["exposure_log10"]


def test_strips_without_a_reading_are_relative() -> None:
    number = do("expose", {"paper": PAPER}).name
    assert do("step-sheet", {"sheet": number, **SLIDE}).values["metered"] is False


def test_densities_and_strips_must_be_of_one_number() -> None:
    with pytest.raises(BadQuestion, match="3 densities for 5 patches"):
        do("step-sheet", {"sheet": exposed(), **SLIDE, "densities": "1 2 3"})


def test_what_the_way_needs_is_asked_beside_its_field() -> None:
    with pytest.raises(BadQuestion) as caught:
        do("step-sheet", {"sheet": exposed(), "how": "dark slide", "density_sd": 99})
    assert {fault.field for fault in caught.value.faults} == {"strip_times_s", "density_sd"}


def test_reading_anew_keeps_what_stood_there() -> None:
    number, _ = learnt()
    with pytest.raises(BadQuestion, match="again"):
        do("step-sheet", {"sheet": number, "densities": "1 2"})
    do("step-sheet", {"sheet": number, "again": "yes", "exposure_log10": "-0.9 0", "densities": "1.8 0.9"})
    assert list(Reading.objects.filter(archived_at=None).values_list("density", flat=True)) == [1.8, 0.9]
    assert [row.density for row in Reading.objects.get(position=1).history.order_by("history_id")] == [1.88, 1.8]


def test_the_curve_is_the_question_s_answer_and_names_its_sheets() -> None:
    number, done = learnt()
    curve = Curve.objects.get()
    assert curve.answer.answer == api.ask("sensitometry.curve", **curve.answer.question).model_dump(mode="json")
    assert curve.answer.evidence["sheets"] == [number]
    assert curve.camera_ei == curve.answer.answer["camera_ei"]["value"] == pytest.approx(6.8, abs=0.05)
    assert done.values["range_log10"]["low"] < 0.854 < done.values["range_log10"]["high"]
    assert done.values["camera_ei"]["low"] < 6.8 < done.values["camera_ei"]["high"]


def test_the_next_exposure_uses_it_unasked_and_says_so() -> None:
    before = plan({"paper": PAPER, **STILL_LIFE})
    learnt()
    after = plan({"paper": PAPER, **STILL_LIFE})
    assert "ei-unknown" in [note.note for note in before.answer.notes]
    assert after.question["ei_from"] == "own sheets"
    in_this_light = log2(after.question["paper_ei"]) + after.question["light_offset_stops"]
    assert in_this_light - log2(6.8) == pytest.approx(-0.1, abs=0.1), "the first guess of EI 2 pulls by a tenth of a stop"
    assert after.question["light_offset_stops"] == pytest.approx(0.48, abs=0.15), "the table's window: one light tells little of itself"
    assert after.question["light_class"] == "north window", "the light of the last picture, as nobody named one"
    assert after.notes[0].sentence == "The paper's EI 4.7 comes from your own sheets: 1 step sheet."
    assert {one.field for one in after.from_book} >= {"paper_ei", "paper_ei_sd_stops", "ei_from", "ei_rests_on", "focal_mm", "light_offset_stops"}
    assert after.answer.doubt_stops.value < before.answer.doubt_stops.value / 2  # type: ignore[operator]


def test_what_a_page_sends_unsaid_does_not_unlearn_the_light() -> None:
    """A form sends its defaults along: a meter that looked through nothing is no news. A blue filter is, for then the light itself was read."""
    learnt()
    as_asked = {"paper": PAPER, **STILL_LIFE, "light": "north window"}
    bare, sent = api.plan(**as_asked), api.plan(**as_asked, metered_through="nothing", filter_kind="neutral", camera_kind="ordinary lens")
    assert "light_offset_stops" in bare.question
    assert sent.answer == bare.answer
    assert "light_offset_stops" not in api.plan(**as_asked, metered_through="blue filter").question


def test_a_grey_exposed_by_the_learnt_ei_lands_on_its_place_of_the_curve() -> None:
    """The other way round: what the planned time puts on the paper is the exposure at which the curve has a grey's density."""
    learnt()
    planned = plan({"paper": PAPER, **STILL_LIFE, "reciprocity_model": "none"})
    middle = Curve.objects.get().answer.answer["middle_log10"]["value"]
    scene = {name: value for name, value in planned.question.items() if name in fields_of(StepsQuestion)}
    given = {"how": "timed strips", "strip_times_s": (planned.answer.time_s.value,)}
    lands = api.ask("sensitometry.steps", **scene, **given).exposure_log10[0]  # type: ignore[attr-defined]
    assert (lands - middle) / 0.30103 == pytest.approx(0.1, abs=0.1), "one sheet in one light is believed, and our first guess a little"


def test_an_ei_that_is_typed_wins() -> None:
    learnt()
    planned = plan({"paper": PAPER, **STILL_LIFE, "paper_ei": 5})
    assert (planned.question["paper_ei"], planned.notes[0].note) == (5, "typed-wins")


def test_another_process_knows_nothing_of_it() -> None:
    learnt()
    assert "paper_ei" not in plan({"paper": PAPER, **STILL_LIFE, "process": "negative"}).question


def test_a_curve_without_metered_light_keeps_the_camera_s_ei_and_says_so() -> None:
    learnt(metered=False)
    planned = plan({"paper": PAPER, **STILL_LIFE})
    assert "paper_ei" not in planned.question
    assert [note.note for note in planned.notes] == ["gives-no-ei"]
    assert "not metered" in planned.notes[0].sentence
    assert api.paper(PAPER).told.rows, "it still tells the contrast"


def test_another_light_than_that_of_the_evidence_is_said() -> None:
    learnt()
    assert "other-light" in [note.note for note in plan({"paper": PAPER, **STILL_LIFE, "light": "work lamp"}).notes]
    assert "other-light" not in [note.note for note in plan({"paper": PAPER, **STILL_LIFE, "light": "north window"}).notes]


def test_a_corrected_reading_counts_at_once() -> None:
    number, _ = learnt()
    before = plan({"paper": PAPER, **STILL_LIFE}).question["paper_ei"]
    for place in range(5, 10):
        reading = Reading.objects.get(position=place)
        do("correct", {"kind": "reading", "name": f"{number}/{place}", "changes": f"exposure_log10; {(reading.exposure_log10 or 0) + 0.15}"})
    assert plan({"paper": PAPER, **STILL_LIFE}).question["paper_ei"] < before, "the same grey needed more light"


def test_a_reading_left_out_is_not_learnt_from() -> None:
    number, _ = learnt()
    do("correct", {"kind": "reading", "name": f"{number}/1", "changes": "left_out; yes"})
    do("learn", {"sheet": number})
    assert len(Curve.objects.all()[0].answer.question["patches"]) == 11


def test_archived_sheets_say_nothing() -> None:
    number, _ = learnt()
    do("archive", {"kind": "sheet", "name": number})
    assert api.paper(PAPER).told.pieces == ()
    do("bring-back", {"kind": "sheet", "name": number})
    assert len(api.paper(PAPER).told.pieces) == 1


def test_a_sheet_that_is_really_another_paper_speaks_for_that_one() -> None:
    number, _ = learnt()
    do("paper", {"name": "fibre paper"})
    do("correct", {"kind": "sheet", "name": number, "changes": [{"field": "paper", "to": "fibre paper"}]})
    assert (len(api.paper(PAPER).told.pieces), len(api.paper("fibre paper").told.pieces)) == (0, 1)


@pytest.mark.parametrize("given", [{"densities": "1.5 1.5 1.5", "exposure_log10": "0 1 2"}, {"densities": "1.5 0.2"}])
def test_patches_that_teach_nothing(given: dict[str, str]) -> None:
    number = exposed()
    do("step-sheet", {"sheet": number, **given})
    with pytest.raises(BadQuestion) as caught:
        do("learn", {"sheet": number})
    assert [fault.field for fault in caught.value.faults] == ["sheet"]
    assert not Curve.objects.exists()


def test_a_sheet_without_readings() -> None:
    with pytest.raises(BadQuestion, match="Enter it as a step sheet first"):
        do("learn", {"sheet": exposed()})


# --- verdicts ---


def metered_s(ei: float) -> float:
    """The time of a grey at that index, with its bellows, before reciprocity."""
    return (plan({**STILL_LIFE, "paper_ei": ei}).answer.before_s.value or 0.0) * 2**1.17


def asked_for(**verdict: object) -> float:
    """The index that a verdict on one sheet asks for: that of its exposure, moved by what the eye said."""
    number = exposed(**{name: verdict.pop(name) for name in ("process", "given_s") if name in verdict})
    do("judge", {"sheet": number, **verdict})
    process = Sheet.objects.get(number=number).exposures.get().process
    ((row,),) = [piece.rows for piece in api.paper(PAPER, process).told.pieces]
    toward = {"direct positive": 1, "negative": -1}[process]
    return float(8.125 / 10 ** row["exposure_log10"] / 2 ** (toward * row["dark_stops"]))


@pytest.mark.parametrize(
    ("verdict", "stops"),
    [
        ({"looks": "right"}, 0),
        ({"looks": "too dark"}, -0.5),
        ({"looks": "too dark", "off_stops": 1}, -1),
        ({"looks": "too light", "off_stops": "1/2"}, 0.5),
        ({"looks": "too dark", "process": "negative"}, 0.5),
        ({"looks": "too light", "process": "negative"}, -0.5),
    ],
)
def test_which_way_a_verdict_points(verdict: dict[str, object], stops: float) -> None:
    """A direct positive that is too dark needs more exposure, so a lower EI; a paper negative a higher one."""
    given_s = metered_s(1.5)
    assert log2(asked_for(given_s=given_s, **verdict) / 1.5) == pytest.approx(stops, abs=0.01)


def test_a_verdict_rests_on_what_was_given_and_not_on_the_plan() -> None:
    assert asked_for(given_s=metered_s(0.75), looks="right") == pytest.approx(0.75, rel=0.01)


def test_a_corrected_time_corrects_the_verdict() -> None:
    number = exposed(given_s=97)
    (shot,) = exposures_of(Sheet.objects.get())
    before = metered_log10(shot)
    do("correct", {"kind": "exposure", "name": number, "changes": "given_s; 194\naperture_f; 32"})
    (shot,) = exposures_of(Sheet.objects.get())
    after = metered_log10(shot)
    assert before is not None
    assert after is not None
    assert after[0] == pytest.approx(before[0], abs=0.002), "twice the time at half the light"
    assert (before[1], after[1]) == (97, 194)


def test_judging_wet_or_under_an_unknown_lamp_counts_less() -> None:
    do("paper", {"name": "another paper"})

    def doubt(**how: object) -> float:
        do("judge", {"sheet": number, "looks": "right", **how})
        return float(api.paper(PAPER).next.sd_stops.value or 0)

    number = exposed()
    dry, wet, unknown = doubt(), doubt(judged_wet="yes"), doubt(judged_wet=True, lamp="unknown")
    assert dry < wet < unknown < api.paper("another paper").next.sd_stops.value  # type: ignore[operator]
    assert Verdict.objects.count() == 3, "all are kept, the newest counts"


def test_strip_three_is_right() -> None:
    number = exposed()
    done = do("step-sheet", {"sheet": number, **SLIDE})
    do("judge", {"sheet": number, "strip": 3})
    known = api.paper(PAPER)
    assert known.next.rests_on == "1 strip by eye"
    by_hand = 8.125 / 10 ** done.values["exposure_log10"][2]
    assert known.next.light_offset_stops is not None
    in_this_light = log2(known.next.paper_ei.value or 0) + (known.next.light_offset_stops.value or 0)
    assert in_this_light == pytest.approx(log2(by_hand), abs=0.25), "the first guess pulls a little"
    assert known.next.sd_stops.value < 0.6  # type: ignore[operator]


def test_the_interval_narrows_with_a_strip() -> None:
    before = plan({"paper": PAPER, **STILL_LIFE}).answer.doubt_stops.value
    number = exposed()
    do("step-sheet", {"sheet": number, **SLIDE})
    do("judge", {"sheet": number, "strip": 3})
    after = plan({"paper": PAPER, **STILL_LIFE}).answer.doubt_stops.value
    assert after < before / 2  # type: ignore[operator]


def test_strips_that_are_no_longer_there_are_not_judged() -> None:
    number = exposed()
    do("step-sheet", {"sheet": number, **SLIDE})
    do("judge", {"sheet": number, "strip": 5})
    do("step-sheet", {"sheet": number, "how": "dark slide", "strip_times_s": "8 3.3", "again": "yes"})
    assert len(api.story(number).readings) == 2
    assert not api.paper(PAPER).told.gives_ei
    with pytest.raises(BadQuestion, match="has 2 strips"):
        do("judge", {"sheet": number, "strip": 3})


@pytest.mark.parametrize(("strip", "says"), [(6, "has 5 strips"), (2.5, "no whole number")])
def test_a_strip_that_is_not_there(strip: float, says: str) -> None:
    number = exposed()
    do("step-sheet", {"sheet": number, **SLIDE})
    with pytest.raises(BadQuestion, match=says):
        do("judge", {"sheet": number, "strip": strip})


def test_right_is_not_off() -> None:
    with pytest.raises(BadQuestion) as caught:
        do("judge", {"sheet": exposed(), "looks": "right", "off_stops": 0.5})
    assert [fault.field for fault in caught.value.faults] == ["off_stops"]


def test_a_verdict_on_a_double_exposure_gives_no_ei_and_says_why() -> None:
    do("load", {"holder": "holder 1", "side": "1", "lot": "box A"})
    for anyway in ("no", "yes"):
        do("expose", {"holder": "holder 1", "side": "1", **STILL_LIFE, "anyway": anyway})
    do("judge", {"sheet": "26-001", "looks": "too dark"})
    known = api.paper(PAPER)
    assert (known.told.gives_ei, known.told.pieces[0].rows) == (False, ())
    assert "exposed more than once" in plan({"paper": PAPER, **STILL_LIFE}).notes[0].sentence


def test_own_reciprocity_tests_replace_the_first_guess() -> None:
    before = plan({"paper": PAPER, **STILL_LIFE, "paper_ei": 1.5})
    for metered_s, needed_s in ((10, 14), (60, 120)):
        do("reciprocity-test", {"paper": PAPER, "metered_s": metered_s, "needed_s": needed_s})
    after = plan({"paper": PAPER, **STILL_LIFE, "paper_ei": 1.5})
    assert "own_points" in {one.field for one in after.from_book}
    assert after.answer.reciprocity_stops.value > before.answer.reciprocity_stops.value  # type: ignore[operator]
    typed = plan({"paper": PAPER, **STILL_LIFE, "paper_ei": 1.5, "reciprocity_model": "none"})
    assert typed.answer.reciprocity_stops.value == 0


def test_things_fill_in_and_typed_fields_win() -> None:
    planned = plan({"lens": LENS, "camera": "box camera", "meter": "hand meter", "reading_ev": 10, "extension_mm": 315, "aperture_f": "f/22"})
    told = {one.field: (one.value, one.says) for one in planned.from_book}
    assert told["focal_mm"] == (210, f"lens “{LENS}”")
    assert told["meter_k"] == (12.5, "meter “hand meter”")
    assert told["turned"] == ("mirror or prism", "camera “box camera”")
    assert "mirror-image" not in [note.note for note in planned.answer.notes]
    assert plan({"lens": LENS, "focal_mm": 150, "reading_ev": 10, "aperture_f": "f/22"}).question["focal_mm"] == 150


def test_the_same_numbers_without_any_book() -> None:
    planned = plan({"lens": LENS, **{name: value for name, value in STILL_LIFE.items() if name != "lens"}, "paper_ei": 1.5})
    assert planned.answer == api.ask("exposure.ledger", **planned.question)


def test_a_verdict_that_nobody_gave_is_not_recorded() -> None:
    number = exposed()
    with pytest.raises(BadQuestion) as refused:
        do("judge", {"sheet": number, "judged_wet": "yes"})
    assert [fault.field for fault in refused.value.faults] == ["looks"]
    assert not Verdict.objects.exists()


# --- what sheets share ---

TRAYS = "step; step_s; temperature_celsius; bath\nfirst development; 2m; 20; developer A\nbleach; 2m; 20; bleach B"


def shared_next() -> dict[str, object]:
    return dict(api.paper(PAPER).told.newest)


def test_the_next_sheet_goes_through_the_newest_baths_one_sheet_older() -> None:
    first, second, third = exposed(), exposed(), exposed()
    assert shared_next()["batch"] == "not named"
    do("process", {"sheet": first, "steps": TRAYS})
    assert (shared_next()["batch"], shared_next()["age"]) == ("developer A, bleach B", 1), "the others still wait"
    do("process", {"sheet": second, "steps": "rinse; 60"})
    assert (shared_next()["batch"], shared_next()["age"]) == ("developer A, bleach B", 2), "nobody said that it went elsewhere"
    do("judge", {"sheet": third, "looks": "right"})
    (row,) = next(piece.rows for piece in api.paper(PAPER).told.pieces if piece.sheet == third)
    assert (row["batch"], row["age"]) == ("developer A, bleach B", 2)
    do("process", {"sheet": third, "steps": TRAYS.replace("developer A", "developer C")})
    assert (shared_next()["batch"], shared_next()["age"]) == ("developer C, bleach B", 1), "a new name is a fresh bath"


def test_baths_tire_of_other_papers_too() -> None:
    do("paper", {"name": "fibre paper"})
    for paper in (PAPER, "fibre paper", "fibre paper"):
        do("process", {"sheet": do("expose", {"paper": paper, **STILL_LIFE}).name, "steps": TRAYS})
    assert shared_next()["age"] == 3
