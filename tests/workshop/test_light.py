"""The light in the book: it fills in the plan, own sheets are brought to noon daylight, and what they show of a light reaches the Camera."""

from math import log2
from typing import Any

import pytest
from tests.workshop.boatyard import PAPER, gear

from silverwright.book.evidence import told_by
from silverwright.book.models import Paper
from silverwright.workshop.deeds import do
from silverwright.workshop.plan import Planned, plan

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
NOON_S = 12.0  # what this paper needs at EV 10 and f/16 around noon, by many sheets
OFF = -1.0  # by so much the lamp lies off the table, for this paper
SCENE: dict[str, Any] = {"paper": PAPER, "reading_ev": 10, "meter_k": 12.5, "aperture_f": "f/16", "magnification_factor": 0, "timed_by": "hand"}


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()
    do("light", {"name": "the quay", "light_class": "direct sun"})


def right(light: str, given_s: float, many: int, **more: Any) -> None:
    """So many sheets that came out right."""
    for _ in range(many):
        number = do("expose", {**SCENE, "light": light, "given_s": given_s, **more}).name
        do("judge", {"sheet": number, "looks": "right"})


def rows() -> list[dict[str, Any]]:
    return told_by(Paper.objects.get(name=PAPER), "direct positive").rows


def line_of(planned: Planned) -> Any:
    return next(line for line in planned.answer.ledger if "meter tells" in line.what or line.what.startswith("Light"))


def test_a_named_light_and_the_paper_fill_in_the_plan() -> None:
    planned = plan({**SCENE, "paper_ei": 2, "light": "work lamp"})
    assert {one.field: one.says for one in planned.from_book if one.field in {"light_class", "sensitivity"}} == {
        "light_class": "light “work lamp”",
        "sensitivity": f"paper “{PAPER}”",
    }
    assert line_of(planned).amount == pytest.approx(1.41)
    typed = plan({**SCENE, "paper_ei": 2, "light": "work lamp", "light_class": "open shade"})
    assert line_of(typed).amount == pytest.approx(-0.78), "what is typed wins"


def test_a_lamp_that_lies_off_the_table_is_learnt() -> None:
    """The sheets under the lamp needed a stop more than the table tells: the Camera follows them, and says whose word it is."""
    right("the quay", NOON_S, 4)
    by_table = plan({**SCENE, "light": "work lamp"})
    assert "light_offset_stops" not in by_table.question, "no sheet of this light: the table"
    assert line_of(by_table).source.startswith("cie15, A")
    truth_s = NOON_S * 2 ** (1.41 - OFF)
    right("work lamp", truth_s, 5)
    learnt = plan({**SCENE, "light": "work lamp"})
    line = line_of(learnt)
    assert (line.source, line.rests) == ("your own sheets: 5 sheets in this light, beside the table", "own")
    assert 1.6 < line.amount < 2.5, "between the table and the whole stop, nearer to what five sheets say"
    assert line.doubt < 0.2

    def miss(planned: Planned) -> float:
        return abs(log2((planned.answer.time_s.value or 0) / truth_s))

    assert miss(learnt) < 0.2 < miss(by_table), "the time is right, whatever is the EI's and what the light's"
    assert (learnt.answer.doubt_stops.value or 9) < (by_table.answer.doubt_stops.value or 0)


def test_evidence_carries_the_light_and_skin() -> None:
    right("work lamp", 40, 1)
    right("work lamp", 40, 1, reading_tone="skin")
    right("the quay", 40, 1, reading_tone="skin", reading_ev=None, reading_lx=2560, incident_head="dome", meter_k=None)
    assert [row["light_stops"] for row in rows()] == pytest.approx([-1.41, -1.41 - 0.69, 0.0])


def test_a_light_that_nobody_named_stays_as_it_is() -> None:
    for _ in range(2):
        do("judge", {"sheet": do("expose", {**SCENE, "given_s": NOON_S}).name, "looks": "right"})
    assert all("light_stops" not in row for row in rows())
    planned = plan(SCENE)
    assert "light_class" not in planned.question
    assert (line_of(planned).amount, line_of(planned).doubt) == (0, 0)
    assert line_of(planned).source == "your own sheets: 2 sheets in a light that nobody named"


def test_a_plan_without_a_light_takes_that_of_the_last_picture() -> None:
    right("the quay", NOON_S, 2)
    right("work lamp", NOON_S * 2**1.41, 1)
    planned = plan(SCENE)
    assert next(one.says for one in planned.from_book if one.field == "light_class") == "the light of your last picture"
    assert planned.question["light_class"] == "tungsten lamp"


def test_a_reading_through_blue_needs_no_table() -> None:
    through = {"metered_through": "blue filter", "through_stops": 5.2, "reading_ev": 10 - 5.2 - 1.41}
    right("the quay", NOON_S, 3)
    right("work lamp", NOON_S * 2**1.41, 1, **through)
    *_, last = rows()
    assert (last["light_stops"], last["light_sd_stops"]) == (pytest.approx(0), 0.1)
    assert last["exposure_log10"] == pytest.approx(rows()[0]["exposure_log10"], abs=0.001), "the same light on the paper, by its own meter"
    planned = plan({**SCENE, "light": "work lamp", **through})
    assert "light_offset_stops" not in planned.question
    assert line_of(planned).doubt == 0.1
    assert log2((planned.answer.time_s.value or 0) / (NOON_S * 2**1.41)) == pytest.approx(0, abs=0.25)


def test_a_variable_contrast_paper_sees_green_unless_said() -> None:
    do("paper", {"name": "another", "contrast": "variable contrast"})
    planned = plan({**SCENE, "paper": "another", "paper_ei": 2, "light": "work lamp"})
    assert planned.question["sensitivity"] == "ortho"
    assert line_of(planned).amount == pytest.approx(0.69)
