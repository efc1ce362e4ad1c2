"""An exposure is counted: by clocks that a stand-in moves, held, stopped early and late, refused before it begins, recorded once."""

import json
import time
from dataclasses import dataclass
from math import log

import pytest
from click.testing import CliRunner
from django.db import transaction
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from silverwright import api
from silverwright.book.counting import CountKnown, count_known, counts_running
from silverwright.book.documents import document
from silverwright.book.metered import metered_log10
from silverwright.book.models import Act, Count, Exposure, HolderSide, Sheet
from silverwright.cli.main import main
from silverwright.errors import BadQuestion, Contradiction
from silverwright.processing.clock import Stamp
from silverwright.workshop.act import Done
from silverwright.workshop.deeds import do
from silverwright.workshop.light_read import WAYS
from silverwright.workshop.stamp import stamp

pytestmark = pytest.mark.django_db
SCENE = {"reading_ev": 10, "meter_k": 12.5, "focal_mm": 210, "pupil_factor": 1, "extension_mm": 315, "aperture_f": "f/22", "paper_ei": 1.5}
BEGAN_UTC_S = 1_768_214_400.0  # 12 January 2026, 10:40 UTC
SIDE = {"holder": "holder 1", "side": "1"}
ERROR_S = 0.5


@dataclass
class Clocks:
    """A stand-in for the clocks of a computer: time passes when a test says so."""

    monkeypatch: pytest.MonkeyPatch
    utc_s: float = BEGAN_UTC_S
    since_boot_s: float = 777.0

    def __post_init__(self) -> None:
        self.monkeypatch.setattr(time, "time", lambda: self.utc_s)
        self.monkeypatch.setattr(time, "clock_gettime", lambda _: self.since_boot_s)
        self.started("first")

    def started(self, boot: str) -> None:
        """The computer was started anew, or has no clock that goes on in sleep where `boot` is empty."""
        self.monkeypatch.setattr("silverwright.workshop.stamp.boot", lambda: boot)

    def passes(self, seconds: float) -> None:
        """Time, for both clocks."""
        self.utc_s += seconds
        self.since_boot_s += seconds

    def now(self) -> Stamp:
        """What a page sees."""
        return stamp()


@pytest.fixture
def clocks(monkeypatch: pytest.MonkeyPatch) -> Clocks:
    do("paper", {"name": "RC paper"})
    do("lot", {"name": "box A", "paper": "RC paper", "sheets_left": 9})
    do("holder", {"name": "holder 1"})
    do("holder", {"name": "holder 2"})
    do("load", {**SIDE, "lot": "box A"})
    return Clocks(monkeypatch)


def start(**more: object) -> str:
    return do("start-exposure", {**SIDE, **SCENE, **more}).name


def stands(clocks: Clocks, name: str = "count-001") -> CountKnown:
    return count_known(name, clocks.now())


def exposure(done: Done) -> Exposure:
    return Exposure.objects.get(sheet__number=done.name)


def problems(caught: pytest.ExceptionInfo[BadQuestion]) -> dict[str, str]:
    return {fault.field: fault.problem for fault in caught.value.faults}


def test_as_counted(clocks: Clocks) -> None:
    """Planned, counted, closed at the end: the sheet has the time that was meant, and the plan that was asked at the start."""
    name = start(subject="caulking mallet", count_in_s=5)
    meant_s = stands(clocks).length_s
    assert stands(clocks).how == "counting in"
    clocks.passes(5 + meant_s)
    assert abs(stands(clocks).left_s) <= ERROR_S
    done = do("stop-exposure", {"count": name})
    shot = exposure(done)
    assert shot.given_s == pytest.approx(meant_s, abs=0.1)
    assert shot.exposed_at.timestamp() == pytest.approx(BEGAN_UTC_S + 5)
    assert shot.planned is not None
    assert shot.planned.answer["settable_s"]["value"] == meant_s
    assert shot.scene["reading_ev"] == 10
    assert (shot.sheet.subject, str(shot.sheet.lot), shot.side) == (
        "caulking mallet",
        "box A",
        HolderSide.objects.get(holder__name="holder 1", side="1"),
    )
    assert done.notes == ()
    assert HolderSide.objects.get(holder__name="holder 1", side="1").state == "exposed"
    assert stands(clocks).sheet == done.name
    assert counts_running(clocks.now()) == ()


def test_the_plan_is_that_of_the_start(clocks: Clocks) -> None:
    """What the book learns while the shutter is open changes nothing of what was planned."""
    start()
    asked = Count.objects.get().planned
    do("expose", {"paper": "RC paper", "when": "2026-01-11 10:00Z", **SCENE})
    do("judge", {"sheet": Sheet.objects.get().number, "looks": "too dark", "off_stops": 1})
    clocks.passes(60)
    assert exposure(do("stop-exposure", {})).planned == asked


@pytest.mark.parametrize("hours", [-1, 1])
def test_the_wall_clock_is_set_while_it_counts(clocks: Clocks, hours: int) -> None:
    name = start(to_give_s=40)
    clocks.passes(30)
    clocks.utc_s += 3600 * hours
    assert stands(clocks).left_s == pytest.approx(10, abs=ERROR_S)
    assert stands(clocks).certain
    clocks.passes(4)
    assert exposure(do("stop-exposure", {"count": name})).given_s == pytest.approx(34, abs=ERROR_S)


def test_the_computer_sleeps_while_it_counts(clocks: Clocks) -> None:
    """Both clocks go on in sleep: the count is over, and says by how much."""
    start(to_give_s=40)
    clocks.passes(10_800)
    assert stands(clocks).how == "over"
    assert stands(clocks).left_s == pytest.approx(40 - 10_800, abs=ERROR_S)


@pytest.mark.parametrize("boot", ["second", ""])
def test_without_a_clock_to_trust_it_is_marked_unsure(clocks: Clocks, boot: str) -> None:
    name = start(to_give_s=40)
    clocks.started(boot)
    clocks.since_boot_s = 3.0
    clocks.utc_s += 34
    assert not stands(clocks).certain
    assert stands(clocks).passed_s == pytest.approx(34, abs=ERROR_S)
    done = do("stop-exposure", {"count": name})
    assert [note.note for note in done.notes] == ["stopped-early", "clock-unsure"]
    assert exposure(done).given_s == 34


def test_stopped_early(clocks: Clocks) -> None:
    """34 of 40 s: log2(34/40) is 0.23 of a stop less."""
    start(to_give_s=40)
    clocks.passes(34)
    done = do("stop-exposure", {})
    assert exposure(done).given_s == 34
    assert [(note.note, "0.23" in note.sentence) for note in done.notes] == [("stopped-early", True)]
    assert done.values["meant_s"] == 40


def test_stopped_late(clocks: Clocks) -> None:
    start(to_give_s=40)
    clocks.passes(56.57)
    done = do("stop-exposure", {})
    assert exposure(done).given_s == 56.6
    assert [(note.note, "0.5" in note.sentence) for note in done.notes] == [("stopped-late", True)]


def test_the_device_that_counted_is_believed(clocks: Clocks) -> None:
    """The answer was lost for twenty seconds: what was sent with the press is recorded, and the clock's own figure is told."""
    start(to_give_s=40)
    clocks.passes(60)
    done = do("stop-exposure", {"count": "count-001", "given_s": 40.0}, key="pressed once")
    assert exposure(done).given_s == 40
    assert [note.note for note in done.notes] == ["counted-otherwise"]
    assert do("stop-exposure", {"count": "count-001", "given_s": 40.0}, key="pressed once") == done
    assert (Sheet.objects.count(), Exposure.objects.count()) == (1, 1)


def test_started_twice_with_one_key_is_one_count(clocks: Clocks) -> None:
    given = {**SIDE, **SCENE}
    assert do("start-exposure", given, key="one press") == do("start-exposure", given, key="one press")
    assert Count.objects.count() == 1
    with pytest.raises(Contradiction):
        do("start-exposure", {**given, "to_give_s": 50}, key="one press")
    assert [one.count.name for one in counts_running(clocks.now())] == ["count-001"]


def test_held_while_somebody_walks_through(clocks: Clocks) -> None:
    name = start(to_give_s=40)
    clocks.passes(15)
    do("hold-exposure", {"count": name})
    clocks.passes(300)
    assert stands(clocks).how == "held"
    assert stands(clocks).left_s == pytest.approx(25)
    with pytest.raises(BadQuestion) as caught:
        do("hold-exposure", {"count": name})
    assert "already" in problems(caught)["count"]
    do("go-on-exposing", {"count": name, "count_in_s": 3})
    clocks.passes(3 + 25)
    assert stands(clocks).left_s == pytest.approx(0, abs=ERROR_S)
    with pytest.raises(BadQuestion) as caught:
        do("go-on-exposing", {"count": name})
    assert "already" in problems(caught)["count"]
    assert exposure(do("stop-exposure", {})).given_s == pytest.approx(40, abs=0.1)


def test_nothing_was_exposed(clocks: Clocks) -> None:
    name = start(count_in_s=10)
    clocks.passes(4)
    with pytest.raises(BadQuestion) as caught:
        do("stop-exposure", {"count": name})
    assert "not opened yet" in problems(caught)["given_s"]
    done = do("stop-exposure", {"count": name, "nothing_exposed": "yes"})
    assert (done.kind, Sheet.objects.count(), Count.objects.get().state) == ("count", 0, "nothing exposed")
    assert HolderSide.objects.get(holder__name="holder 1", side="1").state == "loaded"
    start()  # and the side can be exposed now


REFUSED = {
    "empty": ({"holder": "holder 2", "side": "1"}, "side", "nothing is in this side"),
    "empty, whatever the plan is for": ({"holder": "holder 2", "side": "1", "paper": "RC paper"}, "side", "nothing is in this side"),
    "exposed": ({"holder": "holder 1", "side": "2"}, "side", "exposed already, as sheet"),
    "no side": ({"holder": "holder 2", "side": ""}, "side", "Which side"),
    "another paper": ({"paper": "fibre paper"}, "paper", "came from “box A”"),
    "no paper": ({"holder": "", "side": ""}, "paper", "Which paper"),
}


@pytest.mark.parametrize("refused", REFUSED)
def test_refused_before_the_start(clocks: Clocks, refused: str) -> None:
    do("paper", {"name": "fibre paper"})
    do("load", {"holder": "holder 1", "side": "2", "lot": "box A"})
    do("expose", {"holder": "holder 1", "side": "2", "given_s": 60, "when": "2026-01-12 09:00Z"})
    more, field, words = REFUSED[refused]
    with pytest.raises(BadQuestion) as caught:
        do("start-exposure", {**SIDE, **SCENE, **more})
    assert words in problems(caught)[field]
    assert problems(caught).keys() == {field}
    assert counts_running(clocks.now()) == ()


def test_an_exposed_side_is_exposed_again_when_it_is_meant(clocks: Clocks) -> None:
    first = do("expose", {**SIDE, "given_s": 60, "when": "2026-01-12 09:00Z"})
    start(anyway="yes")
    clocks.passes(20)
    done = do("stop-exposure", {})
    assert done.name == first.name
    assert Sheet.objects.get().exposures.count() == 2
    assert "double-exposure" in [note.note for note in done.notes]


@pytest.mark.parametrize(
    ("deed", "more"),
    [("load", {"lot": "box A"}), ("unload", {}), ("expose", {"given_s": 9}), ("start-exposure", {"to_give_s": 9})],
    ids=str,
)
def test_a_side_in_an_open_camera_is_left_alone(clocks: Clocks, deed: str, more: dict[str, object]) -> None:
    start()
    with pytest.raises(BadQuestion) as caught:
        do(deed, {**SIDE, **more})
    assert "being exposed now, as count-001" in problems(caught)["side"]
    assert len(counts_running(clocks.now())) == 1


def test_what_was_named_at_the_start_counts_whatever_it_is_called_later(clocks: Clocks) -> None:
    do("lens", {"name": "210 mm lens", "focal_mm": 210})
    start(lens="210 mm lens", focal_mm="")
    do("correct", {"kind": "lens", "name": "210 mm lens", "changes": "name; 210 mm lens in a leaf shutter", "seen": 1})
    do("archive", {"kind": "lot", "name": "box A"})
    clocks.passes(33)
    shot = exposure(do("stop-exposure", {}))
    assert (str(shot.lens), str(shot.sheet.lot)) == ("210 mm lens in a leaf shutter", "box A")


def test_how_long_must_be_known(clocks: Clocks) -> None:
    unmetered = {**SIDE, "focal_mm": 210}
    with pytest.raises(BadQuestion) as caught:
        do("start-exposure", unmetered)
    assert "How long?" in problems(caught)["to_give_s"]
    do("start-exposure", {**unmetered, "to_give_s": "1:30"})
    assert stands(clocks).length_s == 90
    clocks.passes(90)
    assert exposure(do("stop-exposure", {})).planned is None


def test_a_flash_is_not_counted(clocks: Clocks) -> None:
    with pytest.raises(BadQuestion) as caught:
        start(guide_number=40, guide_unit="m", guide_ei=100, flash_distance_mm=2000)
    assert "A flash has no count" in problems(caught)["to_give_s"]
    assert counts_running(clocks.now()) == ()


def test_stopped_at_once_something_was_given(clocks: Clocks) -> None:
    start(to_give_s=40)
    clocks.passes(0.02)
    assert exposure(do("stop-exposure", {})).given_s == 0.1


def test_a_blink_is_not_counted(clocks: Clocks) -> None:
    with pytest.raises(BadQuestion) as caught:
        start(reading_ev=18)
    assert "too short to count" in problems(caught)["to_give_s"]
    assert counts_running(clocks.now()) == ()


def test_every_fault_of_the_plan_at_once(clocks: Clocks) -> None:
    with pytest.raises(BadQuestion) as caught:
        start(reading_ev="much", extension_mm=20, holder="holder 9", to_give_s="never")
    assert problems(caught).keys() >= {"reading_ev", "holder", "to_give_s"}
    assert counts_running(clocks.now()) == ()


def test_two_run_at_once_and_each_is_named(clocks: Clocks) -> None:
    do("load", {"holder": "holder 2", "side": "1", "lot": "box A"})
    start(to_give_s=40)
    clocks.passes(10)
    with pytest.raises(BadQuestion) as caught:
        start(holder="holder 2", to_give_s=40)
    assert "Something is open already: count-001" in problems(caught)["beside"]
    start(holder="holder 2", to_give_s=40, beside="yes")
    clocks.passes(10)
    assert [(one.count.name, round(one.left_s)) for one in counts_running(clocks.now())] == [("count-002", 30), ("count-001", 20)]
    with pytest.raises(BadQuestion) as caught:
        do("stop-exposure", {})
    assert "count-002, count-001" in problems(caught)["count"]
    do("stop-exposure", {"count": "count-001"})
    with pytest.raises(BadQuestion) as caught:
        do("stop-exposure", {"count": "count-001"})
    assert "stopped already as sheet 26-001" in problems(caught)["count"]


def test_every_step_stands_in_the_history(clocks: Clocks) -> None:
    name = start(to_give_s=40)
    clocks.passes(10)
    do("hold-exposure", {"count": name})
    do("go-on-exposing", {"count": name})
    clocks.passes(30)
    do("stop-exposure", {"count": name})
    row = Count.objects.get()
    writers = [one.history_user.deed for one in row.history.order_by("history_id")]
    assert list(dict.fromkeys(writers)) == ["start-exposure", "hold-exposure", "go-on-exposing", "stop-exposure"]
    assert [event["kind"] for event in row.events] == ["start", "hold", "go on", "stop"]
    assert Act.objects.filter(deed="expose").count() == 0


LAW = {"reciprocity_model": "none", "to_give_s": 40}


FADING_S = 20 + 2 * (40 - 20 * 0.5 / log(2))  # a stop lost evenly in 20 s: the integral of 2^(-t/20) is given, the rest takes twice as long


def test_half_the_light_takes_twice_the_rest(clocks: Clocks) -> None:
    """A stop of light goes in the first 20 of 40 s. What is recorded to learn from is 40 s in the light of the plan."""
    name = start(**LAW)
    clocks.passes(20)
    done = do("reading-changed", {"count": name, "reading_ev": 9})
    assert done.values["end_s"] == pytest.approx(FADING_S)
    assert stands(clocks).left_s == pytest.approx(FADING_S - 20)
    clocks.passes(FADING_S - 20)
    shot = exposure(do("stop-exposure", {}))
    assert shot.given_s == pytest.approx(FADING_S, abs=0.1)
    assert shot.amounts_to_s == pytest.approx(40, abs=0.1)
    do("load", {"holder": "holder 2", "side": "1", "lot": "box A"})
    steady = do("expose", {"holder": "holder 2", "side": "1", **SCENE, "given_s": 40, "when": "2026-01-12 11:00Z"})
    learnt, plain = metered_log10(shot), metered_log10(exposure(steady))
    assert learnt is not None
    assert plain is not None
    assert learnt[0] == pytest.approx(plain[0], abs=0.001)


def test_the_same_light_changes_nothing(clocks: Clocks) -> None:
    start(to_give_s=200)
    for _ in range(3):
        clocks.passes(20)
        do("reading-changed", {"reading_ev": 10})
        assert stands(clocks).length_s == pytest.approx(200, rel=1e-6)


@pytest.mark.parametrize(
    ("planned", "read_now"),
    [
        ({"reading_lx": 640}, {"reading_lx": 320}),
        ({"reading_cd_per_m2": 100}, {"reading_cd_per_m2": 50}),
        ({"dial_time_s": 0.1, "dial_aperture_f": 8, "dial_ei": 100}, {"dial_time_s": 0.2}),
    ],
)
def test_read_in_the_way_of_the_plan(clocks: Clocks, planned: dict[str, object], read_now: dict[str, object]) -> None:
    start(**{**LAW, "reading_ev": "", "meter_k": "", **planned})
    clocks.passes(20)
    with pytest.raises(BadQuestion) as caught:
        do("reading-changed", {"reading_ev": 9})
    assert "the same way" in problems(caught)["reading_ev"]
    assert do("reading-changed", read_now).values["end_s"] == pytest.approx(FADING_S)


def test_without_a_reading_in_the_plan_the_first_one_counts(clocks: Clocks) -> None:
    do("start-exposure", {**SIDE, "to_give_s": 40, "reciprocity_model": "none"})
    do("reading-changed", {"reading_ev": 10, "at_s": 0})
    clocks.passes(20)
    assert do("reading-changed", {"reading_ev": 9}).values["end_s"] == pytest.approx(FADING_S, rel=0.1)  # by our first guess for long times


def test_all_was_given_already(clocks: Clocks) -> None:
    """Twice the light from the first second on: at 30 s, 60 of 40 s were given."""
    start(**LAW)
    clocks.passes(30)
    done = do("reading-changed", {"reading_ev": 11, "at_s": 0})
    assert stands(clocks).how == "over"
    assert "all-given" in [note.note for note in done.notes]


def test_the_light_fails(clocks: Clocks) -> None:
    start(to_give_s=4000)
    clocks.passes(60)
    do("reading-changed", {"reading_ev": 9})
    clocks.passes(60)
    done = do("reading-changed", {"reading_ev": 7, "light_goes": "evenly on"})
    assert "light-fails" in [note.note for note in done.notes]
    assert "fails before" in done.says
    assert done.values["end_s"] is None


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({}, "reading_ev", "What does the meter say"),
        ({"reading_ev": 9, "at_s": 0}, "at_s", "Two readings at"),
        ({"reading_ev": 9, "at_s": 50}, "at_s", "nothing can have been read later"),
        ({"reading_ev": -2, "at_s": 3}, "reading_ev", "no light changes so much"),
    ],
)
def test_a_reading_that_cannot_be_used(clocks: Clocks, given: dict[str, object], field: str, words: str) -> None:
    start()
    do("reading-changed", {"reading_ev": 10, "at_s": 0})
    clocks.passes(5)
    before = stands(clocks).length_s
    with pytest.raises(BadQuestion) as caught:
        do("reading-changed", given)
    assert words in problems(caught)[field]
    assert stands(clocks).length_s == before


def test_a_reading_after_the_stop_that_was_typed_is_left_out(clocks: Clocks) -> None:
    start(**LAW)
    clocks.passes(30)
    do("reading-changed", {"reading_ev": 9})
    shot = exposure(do("stop-exposure", {"given_s": 20}))
    assert shot.amounts_to_s == pytest.approx(20)


def test_every_door_tells_what_runs(clocks: Clocks) -> None:
    """Python, command line and HTTP say the same of it, and a page's own figures are these."""
    start(to_give_s=97, subject="caulking mallet")
    clocks.passes(12)
    said = document(api.running())
    assert [(one["how"], one["passed_s"], one["left_s"], one["count"]["planned"]["operation"]) for one in said] == [
        ("running", 12, 85, "exposure.ledger")
    ]
    told = CliRunner().invoke(main, ["running", "--json"])
    assert json.loads(told.stdout) == said
    assert Client().get("/api/counts").json() == said
    assert Client().get("/api/counts/count-001").json() == said[0]
    words = CliRunner().invoke(main, ["running"]).stdout.replace("\N{NO-BREAK SPACE}", " ")
    assert words == "count-001, holder 1, side 1, caulking mallet: open for 12 s of 97 s (1:37), 85 s (1:25) left.\n"
    shown = Client().get("/camera/exposing/count-001/now").json()
    assert {name: value for name, value in shown.items() if name != "name"} == {name: value for name, value in said[0].items() if name != "count"}
    do("stop-exposure", {"given_s": 12})
    assert "Nothing is being exposed" in CliRunner().invoke(main, ["running"]).stdout
    assert Client().get("/api/counts/count-001").json()["sheet"] == "26-001"
    assert Client().get("/api/counts/count-9").status_code == 404


def test_the_story_says_that_the_light_changed(clocks: Clocks) -> None:
    """On the sheet's page and on the command line."""
    start(**LAW)
    clocks.passes(20)
    do("reading-changed", {"reading_ev": 9})
    clocks.passes(FADING_S - 20)
    number = do("stop-exposure", {}).name
    assert "was set" not in CliRunner().invoke(main, ["story", number]).stdout, "it was given as it was set in the end"
    told = CliRunner().invoke(main, ["story", number]).stdout.replace("\N{NO-BREAK SPACE}", " ")
    page = Client().get(f"/book/{number}").content.decode().replace("\N{NO-BREAK SPACE}", " ")
    for said in (told, page):
        assert "light changed, it amounts to 40 s as metered" in said


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    way=st.sampled_from(["reading_lx", "reading_ev", "reading_cd_per_m2", "dial_time_s"]),
    now=st.floats(allow_nan=True) | st.sampled_from([1e-5, 1e-3, 0.5, 30.0, 2e5, 1e6]),
    at_s=st.none() | st.floats() | st.sampled_from([0.0, 5.0, 1e6]),
    given_s=st.none() | st.floats() | st.sampled_from([1e-5, 34.0, 1e6]),
)
def test_any_reading_and_any_time_is_taken_or_refused_in_words(
    clocks: Clocks, way: str, now: float, at_s: float | None, given_s: float | None
) -> None:
    """And the count is as it was where it is refused; it can always be stopped."""
    with transaction.atomic():
        start(to_give_s=97, reading_ev="", meter_k="", reading_lx=640)
        clocks.passes(20)
        before = stands(clocks).length_s
        try:
            done = do("reading-changed", {way: now, "at_s": at_s})
        except BadQuestion as bad:
            assert all(fault.problem.endswith((".", "?")) and fault.field in {*WAYS, "at_s"} for fault in bad.faults), bad.faults
            assert stands(clocks).length_s == before
        else:
            assert "nan" not in done.says
        try:
            do("stop-exposure", {"given_s": given_s})
        except BadQuestion as bad:
            assert {fault.field for fault in bad.faults} == {"given_s"}
            do("stop-exposure", {"given_s": 34})
        assert Count.objects.get().state == "recorded"
        transaction.set_rollback(True)


def test_the_story_says_what_was_set_and_that_it_was_closed_early(clocks: Clocks) -> None:
    start(to_give_s=40)
    clocks.passes(20)
    do("hold-exposure", {})
    do("go-on-exposing", {})
    clocks.passes(14)
    number = do("stop-exposure", {}).name
    told = CliRunner().invoke(main, ["story", number]).stdout.replace("\N{NO-BREAK SPACE}", " ")
    page = Client().get(f"/book/{number}").content.decode().replace("\N{NO-BREAK SPACE}", " ")
    for said in (told, page):
        assert "40 s was set, closed 0.23 stops early, held meanwhile" in said
