"""Filters as people know them: by factor, stops or density, coloured by spectrum or own test; a maker's factor is refused with the reason."""

from typing import Any

import pytest

from silverwright.errors import BadQuestion
from silverwright.questions.filter import FILTER, FilterAnswer, bands_of
from silverwright.questions.ledger import LEDGER
from silverwright.questions.light import LIGHTS

YELLOW = "400 0.1\n460 1\n480 25\n500 75\n520 88\n600 90"
SCENE: dict[str, Any] = {"reading_ev": 10, "aperture_f": "f/16", "paper_ei": 2, "magnification_factor": 0, "reciprocity_model": "none"}


def ask(**given: Any) -> FilterAnswer:
    answer = FILTER.ask(given)
    assert isinstance(answer, FilterAnswer)
    return answer


def refused(**given: Any) -> dict[str, str]:
    with pytest.raises(BadQuestion) as caught:
        ask(**given)
    return {fault.field: fault.problem for fault in caught.value.faults}


def stops(**given: Any) -> float:
    found = ask(**given).filter_stops.value
    assert found is not None
    return found


@pytest.mark.parametrize("given", [{"filter_factor": 8}, {"filter_in_stops": 3}, {"filter_by_density": 0.90309}, {"filter_factors": "2 4"}])
def test_three_stops_in_every_way(given: dict[str, Any]) -> None:
    assert stops(**given) == pytest.approx(3, abs=1e-4)
    if "filter_factors" not in given:
        filtered, plain = (LEDGER.ask({**SCENE, **more}).total_stops.value or 0 for more in (given, {}))
        assert filtered - plain == pytest.approx(3, abs=1e-4)


def test_two_figures_of_one_filter_that_disagree_are_said() -> None:
    said = [note.sentence for note in ask(filter_factor=4, filter_by_density=0.9).notes]
    assert "Factor 4 and density 0.9 disagree by 1.0 stop. Factor 4 is used; correct one of them." in said


def test_a_figure_beside_a_spectrum_is_compared_with_it() -> None:
    """Whichever is used, the other is named where it says something else: of yellow glass a paper that sees blue gets little."""
    spectrum: dict[str, Any] = {"filter_passes": YELLOW, "light_class": "direct sun", "sensitivity": "blue", "filter_factor": 2}
    for kind, first, second in (("neutral", "Its spectrum", "factor 2"), ("coloured, tried on this paper", "Factor 2", "its spectrum")):
        said = [note.sentence for note in ask(filter_kind=kind, **spectrum).notes]
        assert any(f"{first} and {second} disagree" in one and f"{first} is used" in one for one in said), said
    alike = spectrum | {"filter_factor": 2 ** stops(**{name: value for name, value in spectrum.items() if name != "filter_factor"})}
    assert not any("disagree" in note.sentence for note in ask(**alike).notes)


def test_a_maker_s_factor_is_refused_with_the_reason() -> None:
    told = refused(filter_kind="coloured, maker's factor", filter_factor=2)["filter_kind"]
    assert "film that sees all colours" in told
    assert "the second time over the first is your own factor" in told
    with pytest.raises(BadQuestion, match="film that sees all colours"):
        LEDGER.ask({**SCENE, "filter_kind": "coloured, maker's factor", "filter_factor": 2})


def test_yellow_takes_far_more_from_paper_than_from_film() -> None:
    """A yellow glass of factor 2 on film: from a paper that sees blue alone it takes near three stops, and how many is hardly known."""
    blue, ortho = ask(filter_passes=YELLOW, sensitivity="blue"), ask(filter_passes=YELLOW, sensitivity="ortho")
    assert (blue.filter_stops.value or 0) > 2.5
    assert (ortho.filter_stops.value or 9) < 1.5
    assert blue.ledger[0].doubt > 1, "where the paper's sight ends decides"
    either = ask(filter_passes=YELLOW).ledger[0]
    assert (ortho.filter_stops.value or 0) < either.amount < (blue.filter_stops.value or 0)
    assert either.doubt > ortho.ledger[0].doubt


def test_the_light_weighs_the_spectrum() -> None:
    """A lamp has most of its blue at the green end, where the yellow glass begins to pass."""
    by_lamp = stops(filter_passes=YELLOW, sensitivity="blue", light_class="tungsten lamp")
    assert by_lamp < stops(filter_passes=YELLOW, sensitivity="blue", light_class="open shade")


def test_what_was_tried_on_this_paper_is_believed() -> None:
    line = ask(filter_kind="coloured, tried on this paper", filter_factor=6).ledger[0]
    assert (line.source, line.rests) == ("your own test", "own")
    assert not ask(filter_kind="coloured, tried on this paper", filter_factor=6).notes


def test_what_is_missing_is_asked_for() -> None:
    assert "No filter yet" in refused()["filter_factor"]
    assert "two wavelengths at least" in refused(filter_kind="coloured, by its spectrum")["filter_passes"]
    assert "the shortest first" in refused(filter_passes="500 10\n400 5")["filter_passes"]
    assert stops(filter_in_stops=0) == 0


@pytest.mark.parametrize("points", ["700 90\n750 90", "600 5\n700 90", "400 5\n480 90"])
def test_points_must_span_what_the_paper_sees(points: str) -> None:
    told = refused(filter_passes=points, sensitivity="blue")["filter_passes"]
    assert "Give points from 400 nm or less to 500 nm or more." in told


def test_a_filter_that_passes_nothing_of_it_is_refused() -> None:
    red = "400 0\n580 0\n600 85"
    assert "hardly anything" in refused(filter_passes=red, sensitivity="blue")["filter_passes"]
    assert "hardly anything" in refused(filter_passes="400 0\n600 0")["filter_passes"]


@pytest.mark.parametrize("light", LIGHTS)
def test_every_light_has_its_spectrum(light: str) -> None:
    bands = bands_of(light)
    assert [(one.from_nm, one.to_nm) for one in bands] == [(at, at + 20) for at in range(380, 600, 20)]
    assert sum(one.share for one in bands) == pytest.approx(1, abs=0.001)
