"""Reading, reciprocity, strips and filters, as people ask for them."""

from math import log2
from typing import Any

import pytest

from silverwright.catalogue import find
from silverwright.errors import BadQuestion


def ask(name: str, **given: object) -> Any:
    return find(name).ask(given)


def test_a_reading_in_every_way() -> None:
    answer = ask("exposure.reading", reading_ev=10, meter_k=12.5, aperture_f="f/22")
    assert answer.luminance_cd_per_m2.value == pytest.approx(128)
    assert answer.dial_s.value == pytest.approx(0.5)
    assert answer.notes == ()


def test_an_incident_reading_without_its_head() -> None:
    known, unknown = ask("exposure.reading", reading_lx=640, incident_head="dome"), ask("exposure.reading", reading_lx=640)
    assert unknown.ev.value == known.ev.value
    assert unknown.ev.high - unknown.ev.low > known.ev.high - known.ev.low
    assert "dome is taken" in unknown.notes[0].sentence


def test_a_dial_needs_its_aperture() -> None:
    with pytest.raises(BadQuestion) as caught:
        ask("exposure.reading", dial_time_s=1, dial_ei=100)
    assert [fault.field for fault in caught.value.faults] == ["dial_aperture_f"]


def test_a_minute_of_paper() -> None:
    answer = ask("exposure.reciprocity", metered_s=60)
    assert answer.needed_s.value == pytest.approx(76, abs=0.5)
    assert (answer.needed_s.low, answer.needed_s.high) == pytest.approx((65, 106), abs=0.6)
    assert answer.ledger[0].rests == "judgement"


def test_an_own_point_replaces_our_guess() -> None:
    answer = ask("exposure.reciprocity", metered_s=60, own_points="60 90")
    assert answer.needed_s.value == pytest.approx(90, rel=0.02)
    assert answer.needed_s.high / answer.needed_s.low < 106 / 65
    assert (answer.ledger[0].source, answer.ledger[0].rests) == ("1 own point", "own")
    assert answer.notes == ()


def test_outside_the_own_points() -> None:
    inside, outside = (ask("exposure.reciprocity", metered_s=at, own_points="10 11\n60 90") for at in (30, 600))
    assert inside.notes == ()
    assert outside.notes[0].note.value == "beyond-points"
    assert outside.ledger[0].doubt > inside.ledger[0].doubt


@pytest.mark.parametrize("law", ["Schwarzschild 1900", "Covington 1999", "film maker 2017", "Gainer 2004"])
def test_a_law_of_film_keeps_our_doubt(law: str) -> None:
    paper, film = ask("exposure.reciprocity", metered_s=60), ask("exposure.reciprocity", metered_s=60, reciprocity_model=law)
    assert film.needed_s.value > paper.needed_s.value
    assert film.ledger[0].doubt == paper.ledger[0].doubt
    assert film.notes[0].note.value == "film-law"


def test_none_when_none_is_wanted() -> None:
    answer = ask("exposure.reciprocity", metered_s=600, reciprocity_model="none")
    assert answer.needed_s.value == answer.needed_s.low == answer.needed_s.high == 600


@pytest.mark.parametrize(("points", "words"), [("90 60", "other way round"), ("1 1000", "No paper asks for so much"), ("60 x", "Row 1")])
def test_points_that_cannot_be(points: str, words: str) -> None:
    with pytest.raises(BadQuestion, match=words):
        ask("exposure.reciprocity", metered_s=60, own_points=points)


def test_strips() -> None:
    answer = ask("exposure.strips", shortest_s=8, longest_s=32, strips="5")
    assert answer.give_s == pytest.approx((8, 3.3, 4.7, 6.6, 9.4), abs=0.05)
    assert answer.strip_s == pytest.approx((8, 11.3, 16, 22.6, 32), abs=0.05)
    assert answer.step_stops.value == pytest.approx(0.5)
    assert answer.effective_s[-1] == pytest.approx(3 * (32 / 3) ** (1 / 1.08))
    assert [note.note.value for note in answer.notes] == ["slide", "interrupted"]


def test_short_strips_need_no_reciprocity() -> None:
    answer = ask("exposure.strips", shortest_s=0.5, longest_s=2, strips="3")
    assert answer.effective_s == pytest.approx(answer.strip_s)
    assert [note.note.value for note in answer.notes] == ["slide"]


def test_strips_must_grow() -> None:
    with pytest.raises(BadQuestion, match="more than the shortest"):
        ask("exposure.strips", shortest_s=8, longest_s=8)


def test_filters_together() -> None:
    answer = ask("exposure.filter", filter_factors="2 4")
    assert answer.factor.value == 8
    assert sum(line.amount for line in answer.ledger) == pytest.approx(answer.filter_stops.value)
    assert answer.density.value == pytest.approx(log2(8) * 0.30103, abs=1e-4)
    assert answer.notes[0].note.value == "neutral-only"


def test_no_filters_is_said() -> None:
    with pytest.raises(BadQuestion, match="No filter yet"):
        ask("exposure.filter", filter_factors="")
