"""The doubt of each line, stated here a second time: a line that forgot its own would make every answer surer than it is."""

from math import asinh, hypot, log
from typing import Any

import pytest

from silverwright.catalogue import find

NEAR_NOON: dict[str, Any] = {"reading_ev": 10, "aperture_f": "f/16", "magnification_factor": 0, "light_class": "direct sun", "sensitivity": "blue"}
THROUGH: dict[str, Any] = {"metered_through": "blue filter", "through_stops": 5}
FLASH: dict[str, Any] = {"guide_number": 45, "guide_unit": "m", "guide_ei": 100, "flash_distance_mm": 2000, "paper_ei": 3, "aperture_f": "f/8"}


def doubt(operation: str, words: str, **given: Any) -> float:
    """The doubt of the line that says these words."""
    lines = [line for line in find(operation).ask(given).ledger if words in line.what]
    assert len(lines) == 1, words
    return float(lines[0].doubt)


def hand_stops(time_s: float) -> float:
    """A hand that is 0.2 s off at the cap, as published for 2 s: 0.15 stop."""
    return asinh(0.2 / time_s) / log(2)


@pytest.mark.parametrize(
    ("words", "given", "told"),
    [
        ("Skin", {"reading_tone": "skin"}, 0.25),
        ("Skin", {"reading_tone": "skin", "sensitivity": "ortho"}, 0.15),
        ("as the paper sees it, read through blue", THROUGH, 0.1),
        ("a blue filter that takes", THROUGH, 0.1),
        ("than the meter shows", {**THROUGH, "through_stops": None}, 1.0),
        ("Mirror or prism", {"turned": "mirror or prism"}, 0.1),
        ("Mirror or prism", {"turned": "mirror or prism", "mirror_stops": 0.3}, 0.05),
        ("Filter", {"filter_factor": 4}, 0.1),
        ("One sheet from the next", {}, 0.22),
        ("The paper's EI", {"paper_ei": 3}, 0.5),
        ("The paper's EI", {"paper_ei": 3, "paper_ei_sd_stops": 0.2}, 0.2),
        ("time by the shutter", {"paper_ei": 100, "timed_by": "shutter"}, hypot(0.1, 0.2)),
        ("time counted by hand", {"paper_ei": 12.5, "reciprocity_model": "none"}, hypot(0.1, hand_stops(2))),
    ],
)
def test_of_the_ledger(words: str, given: dict[str, Any], told: float) -> None:
    assert doubt("exposure.ledger", words, **{**NEAR_NOON, "meter_k": 12.5, **given}) == pytest.approx(told, abs=0.005)


@pytest.mark.parametrize(
    ("words", "given", "told"),
    [
        ("Guide number", {}, 0.4),
        (" away", {}, 2 * 0.03 / log(2)),
        (" away", {"flash_distance_mm": None}, 1.0),
        ("One flash from the next", {}, 0.1),
        ("Flashes are short and bright", {}, 0.3),
        ("Modifier", {"modifier": "umbrella"}, 0.5),
    ],
)
def test_of_a_flash(words: str, given: dict[str, Any], told: float) -> None:
    assert doubt("exposure.flash", words, **{**FLASH, "magnification_factor": 0, **given}) == pytest.approx(told, abs=0.005)


def test_of_a_part_of_a_scene_that_is_skin() -> None:
    """A paper that sees blue alone is told less surely what it gets of skin: the exposure that puts skin right is less sure by as much."""
    half = {}
    for sensitivity, seen in (("blue", 0.25), ("ortho", 0.15)):
        asked = {"readings": "reading_ev,becomes\n10,skin", "range_stops": 6, "sensitivity": sensitivity, "flare_percent": 0}
        answer: Any = find("exposure.scene").ask(asked)
        half[seen] = (answer.set_ev.high - answer.set_ev.low) / 2 / 1.28155
    assert half[0.25] ** 2 - half[0.15] ** 2 == pytest.approx(0.25**2 - 0.15**2, abs=0.005)


def test_of_a_sitter_whose_size_is_hardly_known() -> None:
    """The magnification by a tape that is 3 % off beside one that is exact: in quadrature with the 0.3 of people who stand."""
    ways: list[dict[str, Any]] = [{"magnification_factor": 0.1}, {"focal_mm": 210, "subject_mm": 2310}]
    known, taped = (find("exposure.sitter").ask({"exposure_s": 4, "sharp_mm": 0.5, **way}) for way in ways)
    widths = [log(answer.sideways_mm.high / answer.sideways_mm.low) / 2 / 1.28155 for answer in (known, taped)]
    assert widths[0] == pytest.approx(0.3, abs=0.01)
    assert widths[1] > widths[0]


def test_of_several_openings() -> None:
    """Two hands of 0.2 s, and half of what the paper may lose by being opened twice, which the note tells."""
    answer: Any = find("exposure.opening").ask({"openings": "20\n20", "aperture_f": "f/22"})
    said = next(note.sentence for note in answer.notes if "counted by itself" in note.sentence)
    between = float(said.split("they were ")[1].split()[0])
    half = log(answer.equals_s.high / answer.equals_s.low) / 2 / 1.28155 / log(2)
    assert half == pytest.approx(hypot(0.2 * 2**0.5 / 40 / log(2), between / 2), abs=0.003)
    assert between > 0.05
