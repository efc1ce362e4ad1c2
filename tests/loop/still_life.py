"""The still life of the issue: what is typed, through whichever door, and what must come of it."""

import json
import math
from collections.abc import Mapping
from typing import Any, Final

PAPER: Final = "RC paper, grade 2"
LENS: Final = "210 mm lens in a leaf shutter"
BOX: Final = "box A"
HOLDER: Final = "holder 1"
SUBJECT: Final = "caulking mallet on the bench"
DENSITIES: Final = (1.88, 1.87, 1.85, 1.81, 1.68, 1.41, 0.98, 0.55, 0.28, 0.15, 0.11, 0.09)
LOG_EXPOSURES: Final = tuple(round(-0.9 + 0.15 * place, 2) for place in range(12))
STEPS: Final = (
    ("first development", "2m", "20"),
    ("rinse", "60", ""),
    ("bleach", "2m", "20"),
    ("rinse", "60", ""),
    ("clearing", "60", ""),
    ("second exposure", "30", ""),
    ("second development", "90", "20"),
    ("washing", "5m", ""),
)
SCENE: Final[Mapping[str, Any]] = {"paper": PAPER, "lens": LENS, "reading_ev": 10, "meter_k": 12.5, "extension_mm": 315, "aperture_f": "f/22"}
TYPED_EI: Final[Mapping[str, Any]] = {"paper_ei": 1.5}
EIGHTY_PERCENT_SD: Final = 1.2816  # half the width of the middle 80 % of a normal, in standard deviations
Acts = tuple[tuple[str, Mapping[str, Any]], ...]
BEFORE: Final[Acts] = (
    ("paper", {"name": PAPER, "surface": "glossy", "base": "RC", "contrast": "graded", "grade": 2}),
    ("lot", {"name": BOX, "paper": PAPER, "size": "4x5 in", "sheets_left": 25}),
    ("lens", {"name": LENS, "focal_mm": 210}),
    ("holder", {"name": HOLDER}),
    ("load", {"holder": HOLDER, "side": "1", "lot": BOX}),
)
EXPOSE: Final[Mapping[str, Any]] = {**SCENE, **TYPED_EI, "holder": HOLDER, "side": "1", "given_s": 97, "subject": SUBJECT}


def afterwards(number: str) -> Acts:
    """What is done with the exposed sheet."""
    steps = [{"step": step, "step_s": time, "temperature_celsius": warm} for step, time, warm in STEPS]
    patches = {"exposure_log10": _row(LOG_EXPOSURES), "metered": "yes", "densities": _row(DENSITIES)}
    return (
        ("process", {"sheet": number, "steps": [{name: text for name, text in step.items() if text} for step in steps]}),
        ("step-sheet", {"sheet": number, **patches}),
        ("learn", {"sheet": number}),
    )


def _row(numbers: tuple[float, ...]) -> str:
    return " ".join(map(str, numbers))


def document(answer: Any) -> dict[str, Any]:
    """An answer as JSON has it."""
    found: dict[str, Any] = json.loads(answer.model_dump_json())
    return found


def check_plan(answer: Mapping[str, Any]) -> None:
    """33.3 s before corrections, bellows 1.17 stops, reciprocity 0.37 stop: 97 s; limits from the lines in quadrature; a mirror image."""
    assert math.isclose(answer["before_s"]["value"], 33.3, abs_tol=0.05)
    assert math.isclose(answer["bellows_stops"]["value"], 1.17, abs_tol=0.005)
    assert math.isclose(answer["reciprocity_stops"]["value"], 0.37, abs_tol=0.005)
    assert math.isclose(answer["time_s"]["value"], 97, abs_tol=0.5)
    stops = sum(line["amount"] for line in answer["ledger"])
    doubt_stops = math.sqrt(sum(line["doubt"] ** 2 for line in answer["ledger"]))
    assert math.isclose(answer["time_s"]["value"], 2**stops, rel_tol=1e-9)
    for end, sign in (("high", 1), ("low", -1)):
        by_hand_s = 2 ** (stops + sign * EIGHTY_PERCENT_SD * doubt_stops)
        assert math.isclose(answer["time_s"][end], by_hand_s, rel_tol=1e-4), end
    assert answer["time_s"]["percent"] == 80
    assert any("mirror image" in note["sentence"] for note in answer["notes"])


def check_learnt(values: Mapping[str, Any]) -> None:
    """Range 0.854 and EI 6.8 lie inside their intervals, and the intervals say something."""
    for name, true, widest in (("range_log10", 0.854, 0.2), ("camera_ei", 6.8, 4)):
        found = values[name]
        assert found["low"] < true < found["high"], found
        assert found["low"] < found["value"] < found["high"]
        assert found["high"] - found["low"] < widest, found


def check_next(planned: Mapping[str, Any], learnt: Mapping[str, Any]) -> None:
    """The next exposure takes the learnt EI unasked and says so; the time before corrections is what that EI asks for."""
    from_book = {one["field"]: one for one in planned["from_book"]}
    assert "1 step sheet" in from_book["paper_ei"]["says"]
    ei = from_book["paper_ei"]["value"]
    assert learnt["camera_ei"]["low"] < ei < learnt["camera_ei"]["high"]
    answer = planned["answer"]
    assert math.isclose(answer["before_s"]["value"], 0.5 * 100 / ei, rel_tol=1e-6), "EV 10 at a true f/22.6 is half a second at EI 100"
    assert answer["doubt_stops"]["value"] < 0.5, "own sheets say it more surely than a typed EI does"
