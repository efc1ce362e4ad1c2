"""What a sheet taught in one light, brought to the light in which an EI holds: its sign, its size, and what nobody named."""

from math import log2
from typing import Any

import pytest
from tests.workshop.boatyard import LENS, PAPER, gear

from silverwright.book.metered import metered_log10
from silverwright.book.models import Exposure
from silverwright.questions.light import table_offset
from silverwright.workshop.deeds import do
from silverwright.workshop.flashes import plan_flashes
from silverwright.workshop.plan import plan

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
GIVEN: dict[str, Any] = {"lens": LENS, "reading_ev": 10, "meter_k": 12.5, "magnification_factor": 0, "aperture_f": "f/16", "given_s": 2}


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def light_of(**more: Any) -> float | None:
    """By how much more of its light the paper got than the meter told, of a sheet exposed so."""
    number = do("expose", {"paper": PAPER, **GIVEN, **more}).values["number"]
    metered = metered_log10(Exposure.objects.get(sheet__number=number))
    assert metered is not None
    return metered.light_stops


def table(light: str) -> float:
    offset = table_offset(light, "blue")
    assert offset is not None
    return offset.amount_stops


@pytest.mark.parametrize("light", ["tungsten lamp", "open shade", "warm LED lamp"])
def test_the_paper_got_of_its_light_what_the_table_tells(light: str) -> None:
    assert light_of(light_class=light) == pytest.approx(table(light))
    assert abs(table(light)) > 0.5


def test_of_a_light_that_nobody_named_nothing_is_told() -> None:
    assert light_of() is None


def test_skin_that_was_read_by_reflected_light_counts_too() -> None:
    plain, skin = (light_of(light_class="open shade", reading_tone=tone) for tone in ("mid-grey", "skin"))
    assert plain is not None
    assert skin is not None
    assert plain - skin == pytest.approx(0.69, abs=0.01)


def test_a_flash_is_a_little_bluer_than_noon_daylight() -> None:
    flash = {"flash_meter_f": 16, "flash_meter_ei": 100, "flashes_given": 8}
    others = {name: value for name, value in GIVEN.items() if name not in {"given_s", "reading_ev", "meter_k"}}
    number = do("expose", {"paper": PAPER, **others, **flash}).values["number"]
    metered = metered_log10(Exposure.objects.get(sheet__number=number))
    assert metered is not None
    assert metered.light_stops == pytest.approx(table("flash"))
    assert table("flash") > 0


def test_the_same_sheet_under_a_lamp_speaks_for_a_faster_paper() -> None:
    """Right under a lamp of which the paper gets 1.41 stops less than in the sun, with the same reading and time: the EI at noon is so much more."""
    told = {}
    for light in ("direct sun", "tungsten lamp"):
        do("paper", {"name": light, "base": "RC", "sensitivity": "blue"})
        for _ in range(4):
            number = do("expose", {"paper": light, **GIVEN, "light_class": light}).values["number"]
            do("process", {"sheet": number, "process": "direct positive"})
            do("judge", {"sheet": number, "looks": "right"})
        told[light] = log2(plan({"paper": light, **GIVEN, "given_s": None, "light_class": "direct sun"}).question["paper_ei"])
    assert 0.6 < told["tungsten lamp"] - told["direct sun"] < 1.6


def test_a_flash_that_did_less_than_its_meter_told_is_a_loss_for_the_next_plan() -> None:
    """The EI is known from the sun; under the flash four times as many were right: what is learnt asks for more flashes, not for fewer."""
    flash = {"paper": PAPER, "lens": LENS, "magnification_factor": 0, "aperture_f": 8, "flash_meter_f": 16, "flash_meter_ei": 100}

    def judged(given: dict[str, Any]) -> None:
        for _ in range(4):
            number = do("expose", given).values["number"]
            do("process", {"sheet": number, "process": "direct positive"})
            do("judge", {"sheet": number, "looks": "right"})

    judged({"paper": PAPER, **GIVEN, "light_class": "direct sun"})
    before = plan_flashes(flash).answer.flashes.value
    assert before is not None
    judged({**flash, "flashes_given": max(4, round(4 * before))})
    after = plan_flashes(flash)
    assert {one.field: one.value for one in after.from_book}["short_flash_stops"] > 0.3
    assert after.answer.flashes.value is not None
    assert after.answer.flashes.value > 1.5 * before
