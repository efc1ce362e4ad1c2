"""A sheet exposed by flashes: planned with what the book knows, recorded as it was given, and learnt from."""

from collections.abc import Mapping
from typing import Any

import pytest
from tests.workshop.boatyard import LENS, PAPER, gear

from silverwright import api
from silverwright.book.models import Exposure, Sheet
from silverwright.errors import BadQuestion
from silverwright.facts.load import fact
from silverwright.workshop.deeds import do
from silverwright.workshop.flashes import PlannedFlashes, plan_either, plan_flashes
from silverwright.workshop.plan import Planned

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
FLASH: dict[str, Any] = {"flash_meter_f": 16, "flash_meter_ei": 100, "aperture_f": 8}
PORTRAIT: dict[str, Any] = {"paper": PAPER, "lens": LENS, "extension_mm": 231, "paper_ei": 0.8, **FLASH}


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def known(planned: PlannedFlashes) -> dict[str, object]:
    return {one.field: one.value for one in planned.from_book}


def refused(given: Mapping[str, object]) -> dict[str, str]:
    with pytest.raises(BadQuestion) as caught:
        do("expose", given)
    return {fault.field: fault.problem for fault in caught.value.faults}


def test_the_book_fills_in_what_it_knows() -> None:
    """By hand: f/16 for ISO 100 is two stops more than f/8 asks; EI 0.8 asks for 6.97; (231/210)^2 for 0.28; what blue paper gets of a flash."""
    planned = plan_flashes(PORTRAIT)
    assert known(planned)["focal_mm"] == 210
    blue = fact("light", "flash_blue").value
    assert planned.answer.flash_stops.value == pytest.approx(-2 + 6.966 + 0.275 - blue, abs=0.01)
    assert planned.answer == api.ask("exposure.flash", **planned.question)


def test_anything_said_of_a_flash_is_planned_by_flashes_and_nothing_else() -> None:
    assert isinstance(plan_either(PORTRAIT), PlannedFlashes)
    assert isinstance(plan_either({"paper": PAPER, "reading_ev": 10, "aperture_f": 22, "paper_ei": 0.8}), Planned)
    with pytest.raises(BadQuestion) as caught:
        plan_either({"paper": PAPER, "reading_ev": 10, "aperture_f": 22, "modifier": "umbrella"})
    assert [fault.field for fault in caught.value.faults] == ["flash_meter_f"]


@pytest.mark.parametrize("reading", [{"reading_ev": 6}, {"reading_cd_per_m2": 8}, {"dial_time_s": 1, "dial_aperture_f": 8, "dial_ei": 100}])
def test_however_the_light_that_is_there_was_read_it_counts_the_same(reading: dict[str, Any]) -> None:
    open_1s = {**PORTRAIT, "open_s": 1}
    by_ev = plan_flashes({**open_1s, "reading_ev": 6, "meter_k": 12.5}).answer
    assert plan_flashes({**open_1s, **reading}).answer.flashes.value == pytest.approx(by_ev.flashes.value)
    assert by_ev.daylight_percent is not None
    assert 0 < (by_ev.daylight_percent.value or 0) < 100


def test_a_sheet_is_recorded_with_the_flashes_that_were_given() -> None:
    done = do("expose", {**PORTRAIT, "flashes_given": 30, "subject": "caulker at the bench"})
    exposure = Exposure.objects.get()
    assert done.values == {
        "number": "26-001",
        "flashes_given": 30,
        "planned_flashes": exposure.planned and exposure.planned.answer["flashes"]["value"],
    }
    assert done.says == "Sheet 26-001 is in the book, 30\N{NO-BREAK SPACE}flashes."
    assert (exposure.given_s, exposure.flashes_given, exposure.light_class) == (None, 30, "flash")
    assert exposure.scene["flash_meter_f"] == 16
    assert exposure.planned is not None
    assert exposure.planned.operation == "exposure.flash"


def test_half_a_flash_is_asked_about() -> None:
    assert refused({**PORTRAIT, "flashes_given": 8.5})["flashes_given"] == "Flashes are counted whole: 8 or 9?"


def test_without_a_number_the_planned_flashes_are_taken_as_given() -> None:
    do("expose", PORTRAIT)
    assert Exposure.objects.get().flashes_given == plan_flashes(PORTRAIT).answer.set_flashes.value


def test_every_fault_of_a_flash_and_of_the_record_is_told_at_once() -> None:
    told = refused({**PORTRAIT, "flash_meter_ei": "", "flashes_given": 0, "holder": "holder 9"})
    assert {"flash_meter_ei", "flashes_given", "holder"} <= told.keys()
    assert Sheet.objects.count() == 0


def test_a_sheet_under_the_flash_teaches_the_next_one() -> None:
    """Given twice what was planned and judged right: the next plan asks for more than before, and rests on that sheet."""
    unlearnt = {name: value for name, value in PORTRAIT.items() if name != "paper_ei"}
    before = plan_flashes(unlearnt).answer
    for _ in range(4):
        number = do("expose", {**PORTRAIT, "flashes_given": 64}).values["number"]
        do("process", {"sheet": number, "process": "direct positive"})
        do("judge", {"sheet": number, "looks": "right"})
    after = plan_flashes(unlearnt)
    assert known(after)["ei_from"] == "own sheets"
    assert "short_flash_stops" in known(after)
    assert after.answer.flashes.value == pytest.approx(64, rel=0.35)
    assert (after.answer.doubt_stops.value or 9) < (before.doubt_stops.value or 0)
