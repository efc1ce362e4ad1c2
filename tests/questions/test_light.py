"""The light's line of the ledger: by the table, by own sheets, through a blue filter, and what is not known."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import BadQuestion
from silverwright.questions.ledger import LEDGER, LedgerAnswer
from silverwright.questions.light import LIGHT, LIGHTS, LightAnswer

SCENE: dict[str, Any] = {
    "reading_ev": 10,
    "meter_k": 12.5,
    "aperture_f": "f/16",
    "paper_ei": 2,
    "magnification_factor": 0,
    "reciprocity_model": "none",
}
LAMP: dict[str, Any] = {"light_class": "tungsten lamp", "sensitivity": "blue"}


def light(**given: Any) -> LightAnswer:
    answer = LIGHT.ask(given)
    assert isinstance(answer, LightAnswer)
    return answer


def ledger(**given: Any) -> LedgerAnswer:
    answer = LEDGER.ask(SCENE | given)
    assert isinstance(answer, LedgerAnswer)
    return answer


def stops(answer: LedgerAnswer) -> float:
    assert answer.total_stops.value is not None
    return answer.total_stops.value


NOON = stops(ledger(light_class="direct sun", sensitivity="blue"))


def test_the_index_holds_in_noon_daylight() -> None:
    assert stops(ledger(light_class="direct sun")) == pytest.approx(stops(ledger()))
    assert light(light_class="direct sun").light_stops.value == 0


def test_a_lamp_asks_for_as_much_more_as_the_table_says() -> None:
    """Of CIE A a paper that sees blue alone gets 1.41 stops less, one that sees green too 0.69."""
    assert stops(ledger(**LAMP)) - NOON == pytest.approx(1.41)
    assert stops(ledger(light_class="tungsten lamp", sensitivity="ortho")) - NOON == pytest.approx(0.69)
    assert light(**LAMP).light_factor.value == pytest.approx(2**1.41)


def test_the_line_carries_three_tenths() -> None:
    line = ledger(**LAMP).ledger[-4]
    assert line.what == "Tungsten lamp: blue-sensitive paper gets 1.41 stops less than the meter tells"
    assert (line.amount, line.doubt, line.rests) == (1.41, 0.3, "published")
    assert line.source == "cie15, A; which spectrum stands for this light is our judgement"


def test_a_light_that_nobody_named_widens() -> None:
    named, unnamed = ledger(light_class="overcast sky", sensitivity="blue"), ledger()
    assert (unnamed.doubt_stops.value or 0) > (named.doubt_stops.value or 0)
    assert any("the light (noon daylight is taken), ±0.40 stop" in note.sentence for note in unnamed.notes)


def test_a_paper_of_unknown_colour_sense_lies_between_both() -> None:
    line = ledger(light_class="tungsten lamp").ledger[-4]
    assert line.amount == pytest.approx((1.41 + 0.69) / 2)
    assert line.doubt == pytest.approx((0.3**2 + 0.36**2) ** 0.5)


def test_own_sheets_win_over_the_table() -> None:
    line = ledger(**LAMP, light_offset_stops=-2.4, light_offset_sd_stops=0.12, light_rests_on="5 sheets in this light").ledger[-4]
    assert (line.amount, line.doubt, line.rests) == (2.4, 0.12, "own")
    assert line.source == "your own sheets: 5 sheets in this light"


def test_five_sheets_a_stop_below_the_table() -> None:
    """Shown by the question: the offset within 0.3 of the truth, limits within ±0.3, and the line says whose word it is."""
    answer = light(**LAMP, shown_by_sheets="-2.5 0.25\n-2.2 0.25\n-2.6 0.25\n-2.3 0.25\n-2.45 0.25")
    low, value, high = answer.light_stops.low, answer.light_stops.value, answer.light_stops.high
    assert value == pytest.approx(-2.41, abs=0.3)
    assert low is not None
    assert high is not None
    assert high - low < 0.6
    assert answer.ledger[0].source.startswith("your own sheets: 5 in this light")
    one = light(**LAMP, shown_by_sheets="-2.41 0.35").light_stops.value
    assert one == pytest.approx(-1.41 - 1 * 0.35**-2 / (0.35**-2 + 0.3**-2))


def test_skin_gets_its_own_line_by_reflected_light_alone() -> None:
    noon: dict[str, Any] = {"light_class": "direct sun", "sensitivity": "blue"}
    assert stops(ledger(**noon, reading_tone="skin")) - NOON == pytest.approx(0.69)
    assert stops(ledger(**noon | {"sensitivity": "ortho"}, reading_tone="skin")) - NOON == pytest.approx(0.44)
    incident: dict[str, Any] = {"reading_ev": None, "meter_k": None, "reading_lx": 2560, "incident_head": "dome"}
    said = [line.what for line in ledger(**noon | incident, reading_tone="skin").ledger]
    assert not any(one.startswith("Skin") for one in said)


def test_through_a_blue_filter_the_light_needs_no_table() -> None:
    """The same lamp: the meter shows 5.2 stops less through the filter, and 1.41 more because the lamp has so little blue."""
    through = ledger(**LAMP | {"reading_ev": 10 - 5.2 - 1.41}, metered_through="blue filter", through_stops=5.2)
    assert stops(through) == pytest.approx(stops(ledger(**LAMP)))
    assert (through.doubt_stops.value or 9) < (ledger(**LAMP).doubt_stops.value or 0)
    untried = ledger(**LAMP, metered_through="blue filter")
    assert any("what the blue filter takes from the meter" in note.sentence for note in untried.notes)


def test_through_a_blue_filter_a_paper_that_sees_green_still_needs_the_table() -> None:
    """Of CIE A it gets 0.69 less than the meter tells, its blue 1.41 less: 0.72 more than its blue tells."""
    through = ledger(light_class="tungsten lamp", sensitivity="ortho", metered_through="blue filter", through_stops=0)
    assert through.ledger[-4].amount == pytest.approx(-(1.41 - 0.69))
    assert any(note.note.value == "blue-reading-ortho" for note in through.notes)


def test_half_of_an_offset_is_said_or_refused() -> None:
    assert ledger(**LAMP, light_offset_stops=-2).ledger[-4].source == "your own sheets; its doubt that of the table"
    with pytest.raises(BadQuestion, match="A doubt belongs to what the paper gets"):
        ledger(**LAMP, light_offset_sd_stops=0.2)


def test_a_loss_without_a_filter_is_refused() -> None:
    with pytest.raises(BadQuestion, match="belongs to a reading through it"):
        ledger(through_stops=5)


def test_a_variable_contrast_paper_is_told_that_it_becomes_softer() -> None:
    assert any("becomes softer" in note.sentence for note in ledger(light_class="warm LED lamp", sensitivity="ortho").notes)
    assert any("becomes harder" in note.sentence for note in ledger(light_class="open shade", sensitivity="ortho").notes)
    assert not any("contrast" in note.sentence for note in ledger(light_class="warm LED lamp", sensitivity="blue").notes)


def test_the_whole_table_stands_beside_the_answer() -> None:
    answer = light(sensitivity="blue")
    assert tuple(answer.lights) == LIGHTS
    assert len(answer.lights_stops) == len(answer.lights_contrast_stops) == len(LIGHTS)
    assert dict(zip(answer.lights, answer.lights_stops, strict=True))["tungsten lamp"] == -1.41


@given(
    st.sampled_from(["unknown", *LIGHTS]),
    st.sampled_from(["unknown", "blue", "ortho", None]),
    st.sampled_from(["nothing", "blue filter"]),
    st.one_of(st.none(), st.floats(-8, 8)),
)
def test_every_light_has_an_answer_whose_limits_hold_it(kind: str, sees: str | None, through: str, offset: float | None) -> None:
    given: dict[str, Any] = {"light_class": kind, "metered_through": through}
    given |= {name: value for name, value in {"sensitivity": sees, "light_offset_stops": offset}.items() if value is not None}
    answer = light(**given)
    for one in (answer.light_stops, answer.light_factor, answer.contrast_shift_stops, answer.skin_stops):
        assert one.low is not None
        assert one.value is not None
        assert one.high is not None
        assert one.low <= one.value <= one.high
