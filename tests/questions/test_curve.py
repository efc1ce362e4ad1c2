"""The curve as a question: what is typed, what is refused and in which words, what is said about odd sheets."""

from math import log2, log10, sqrt
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from silverwright.errors import BadQuestion
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.curve import CURVE, CurveAnswer
from silverwright.questions.ledger import LEDGER
from silverwright.sensitometry.fit import FEWEST_PATCHES

EXPOSURES = "-0.9 -0.75 -0.6 -0.45 -0.3 -0.15 0 0.15 0.3 0.45 0.6 0.75"
DENSITIES = "1.88 1.87 1.85 1.81 1.68 1.41 0.98 0.55 0.28 0.15 0.11 0.09"
X, D = EXPOSURES.split(), DENSITIES.split()
TWELVE: dict[str, Any] = {"exposure_log10": EXPOSURES, "densities": DENSITIES, "metered": True}


def curve(**given: Any) -> CurveAnswer:
    return CURVE.ask(given)


def notes_of(answer: CurveAnswer) -> set[Note]:
    return {one.note for one in answer.notes}


@pytest.fixture(scope="module")
def twelve() -> CurveAnswer:
    return curve(**TWELVE)


def test_twelve_patches(twelve: CurveAnswer) -> None:
    """The figures of the worked example lie inside their limits; 80 % is said with each."""
    for estimate, truth in ((twelve.range_log10, 0.854), (twelve.camera_ei, 6.8), (twelve.range_stops, 0.854 / log10(2))):
        assert estimate is not None
        assert (estimate.low or 0) <= truth <= (estimate.high or 0)
        assert estimate.percent == 80
    assert twelve.grade_class == "3 hard"
    assert notes_of(twelve) == {Note.DERIVED_NOT_ISO}


def test_the_loop_is_closed_by_the_ledger(twelve: CurveAnswer) -> None:
    """
    Exposed by the ledger with the learnt EI, a metered grey lands on its place on the curve, within 0.02 stop.

    By another way than the engine's: the exposure at the paper is written out from luminance, aperture, bellows and time.
    """
    assert twelve.camera_ei is not None
    scene: dict[str, Any] = {"reading_ev": 8.3, "meter_k": 12.5, "aperture_f": 16, "aperture_scale": "exact", "reciprocity_model": "none"}
    ledger = LEDGER.ask(scene | {"focal_mm": 210, "extension_mm": 315, "paper_ei": twelve.camera_ei.value})
    luminance = 12.5 * 2**8.3 / 100
    at_the_paper = 0.65 * luminance * (ledger.time_s.value or 0) / (16**2 * 1.5**2)
    off_stops = (log10(at_the_paper) - (twelve.middle_log10.value or 0)) / log10(2)
    assert abs(off_stops) < 0.02


@pytest.mark.parametrize("extension_mm", [210, 280, 420])
@pytest.mark.parametrize("reading_ev", [2, 7, 11])
def test_the_loop_is_closed_in_long_exposures_too(twelve: CurveAnswer, reading_ev: float, extension_mm: float) -> None:
    """With reciprocity: the time that the ledger asks for amounts to the learnt exposure again."""
    assert twelve.camera_ei is not None
    lens = {"focal_mm": 210, "extension_mm": extension_mm}
    ledger = LEDGER.ask(
        {"reading_ev": reading_ev, "meter_k": 12.5, "aperture_f": 16, "aperture_scale": "exact", "paper_ei": twelve.camera_ei.value} | lens
    )
    time_s = ledger.time_s.value or 0
    effective_s = time_s if time_s <= 3 else 3 * (time_s / 3) ** (1 / 1.08)
    at_the_paper = 0.65 * 0.125 * 2**reading_ev * effective_s / (16 * extension_mm / 210) ** 2
    assert abs(log10(at_the_paper) - (twelve.middle_log10.value or 0)) / log10(2) < 0.02


def test_the_ledger_adds_up_to_the_index(twelve: CurveAnswer) -> None:
    assert twelve.camera_ei is not None
    assert sum(line.amount for line in twelve.ledger) == pytest.approx(log2(twelve.camera_ei.value or 0), abs=1e-9)
    assert twelve.ei_sd_stops is not None
    assert sqrt(sum(line.doubt**2 for line in twelve.ledger)) == pytest.approx(twelve.ei_sd_stops.value, rel=0.1)


@pytest.mark.parametrize(
    "typed",
    [
        {"exposure_log10": EXPOSURES.replace(".", ","), "densities": DENSITIES.replace(".", ",")},
        {"patches": "\n".join(f"{d};{x}" for x, d in zip(X, D, strict=True))},
        {"patches": "exposure_log10\tdensity\n" + "\n".join(f"{x}\t{d}" for x, d in zip(X, D, strict=True)).replace(".", ",")},
        {"patches": DENSITIES, "exposure_log10": EXPOSURES},
        {"exposure_log10": X[::-1], "densities": D[::-1]},
    ],
    ids=["decimal commas", "a table", "a table with header, tabs and commas", "densities as a table", "the other order"],
)
def test_however_it_is_typed(twelve: CurveAnswer, typed: dict[str, Any]) -> None:
    assert curve(metered=True, **typed).range_log10 == twelve.range_log10


def test_a_patch_without_density_is_skipped() -> None:
    rows = [{"density": d, "exposure_log10": x} for x, d in zip(X, D, strict=True)]
    holed = curve(patches=[*rows[:4], {"exposure_log10": -0.3}, *rows[5:]])
    assert len(holed.patch_density) == 11
    assert curve(patches=[{"density": d} for d in D], exposure_log10=EXPOSURES).range_log10 == curve(patches=rows).range_log10


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({}, "patches", "Densities with their log exposures"),
        ({"densities": DENSITIES}, "patches", "Each density needs its log exposure"),
        ({"patches": DENSITIES}, "patches", "Each density needs its log exposure"),
        ({"densities": "1 2 3", "exposure_log10": "1 2"}, "densities", "3 densities for 2 log exposures: from number 3 on there are only densities"),
        ({"densities": "2 1", "exposure_log10": "1 2 3"}, "densities", "2 densities for 3 log exposures: from number 3 on there are only exposures"),
        ({"densities": "4 3 2 1", "exposure_log10": "1 2 3 4"}, "densities", "4 patches of different exposure; at least 5 are needed"),
        ({"densities": "1 1 1 1 1 1", "exposure_log10": "1 2 3 4 5 6"}, "densities", "All densities are nearly the same"),
        ({"densities": "1 1.5 1 1 1 1", "exposure_log10": "1 1 1 1 1 1"}, "densities", "1 patch of different exposure; at least 5 are needed"),
        ({"densities": "5 4 3 2 1", "exposure_log10": "0 0.01 0.02 0.03 0.04"}, "densities", "nearly the same exposure"),
        ({"patches": "1.5;2\n1\n1.3;3\n2;4\n1.1;5"}, "patches", "Row 2 has no log exposure"),
        ({"patches": "1,2\n1,3", "densities": "1 2"}, "patches", "given twice"),
        ({"densities": "1.88 dunkel", "exposure_log10": "1 2"}, "densities", "not a number"),
        ({"densities": "1,880 1.2", "exposure_log10": "1 2"}, "densities", "can mean"),
        ({"densities": "1 nan 2", "exposure_log10": "1 2 3"}, "densities", "not a number"),
        (TWELVE | {"density_sd": 0}, "density_sd", "Too small"),
        (TWELVE | {"process": "positive"}, "process", "Choose"),
        (TWELVE | {"shape_wanted": "straight"}, "shape_wanted", "Choose"),
    ],
)
def test_refused_in_words_beside_the_field(typed: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        curve(**typed)
    assert words in {one.field: one.problem for one in caught.value.faults}[field]


def test_every_fault_at_once() -> None:
    with pytest.raises(BadQuestion) as caught:
        curve(densities="1.8 x", exposure_log10="y", density_sd=9, process="both")
    assert {one.field for one in caught.value.faults} >= {"densities", "exposure_log10", "density_sd", "process"}


def test_a_patch_that_turns_back_is_named() -> None:
    """Re-reversal: the most exposed patch is darker again, by seven standard deviations."""
    answer = curve(exposure_log10=EXPOSURES, densities=DENSITIES.replace("0.11 0.09", "0.11 0.29"))
    (said,) = [one.sentence for one in answer.notes if one.note == Note.TURNS_BACK]
    assert "0.75" in said
    assert "0.18" in said


def test_densities_typed_the_other_way_round_are_asked_about() -> None:
    answer = curve(exposure_log10=EXPOSURES, densities=D[::-1], process="direct positive")
    assert Note.OTHER_WAY_ROUND in notes_of(answer)
    assert answer.process == "negative"
    assert Note.OTHER_WAY_ROUND not in notes_of(curve(**TWELVE, process="direct positive"))


def test_patches_that_scatter_are_said_to() -> None:
    shaken = [float(d) + shake for d, shake in zip(D, [0.12, -0.1, 0.08, -0.12, 0.1, -0.08, 0.12, -0.1, 0.08, -0.02, 0.02, 0.0], strict=True)]
    assert Note.SCATTERED_PATCHES in notes_of(curve(exposure_log10=EXPOSURES, densities=shaken))


def test_open_ends_are_said_and_have_no_value() -> None:
    answer = curve(exposure_log10=X[:8], densities=D[:8], metered=True)
    assert {Note.HIGHLIGHTS_BEYOND, Note.FEW_PATCHES} <= notes_of(answer)
    assert answer.range_log10.value is None
    assert answer.range_log10.high is None
    assert answer.range_log10.low is not None
    assert answer.gradient.percent is None
    assert answer.grade_class == ""


def test_not_metered_means_no_index() -> None:
    answer = curve(exposure_log10=EXPOSURES, densities=DENSITIES)
    assert (answer.camera_ei, answer.ends_ei, answer.paper_speed, answer.ei_sd_stops, answer.ledger) == (None, None, None, None, ())
    assert Note.NOT_METERED in notes_of(answer)


def test_veil_is_reported_beside_both_whites(twelve: CurveAnswer) -> None:
    answer = curve(**TWELVE, fixed_out_density="0,05")
    assert answer.veil is not None
    assert answer.veil.value == pytest.approx((twelve.dmin.value or 0) - 0.05)


@settings(max_examples=25, phases=[Phase.explicit, Phase.generate])  # shrinking would take minutes
@given(st.lists(st.tuples(st.floats(-10, 10), st.floats(-0.1, 6)), min_size=5, max_size=14), st.sampled_from([0.0, 1e-300, 1e-12, 0.05]))
def test_whatever_is_typed_is_answered_or_refused(pairs: list[tuple[float, float]], apart: float) -> None:
    """Patches anywhere, and a twin of the first at the smallest spread."""
    pairs = [*pairs, (pairs[0][0] + apart if abs(pairs[0][0]) < 9 else 0.0, pairs[0][1])]
    try:
        answer = curve(exposure_log10=[x for x, _ in pairs], densities=[d for _, d in pairs], metered=True)
    except BadQuestion as refusal:
        assert all(fault.problem for fault in refusal.faults)
        return
    assert len(answer.band_low) == len(answer.curve_log10)
    for estimate in (answer.dmin, answer.dmax, answer.range_log10, answer.middle_log10):
        if estimate.value is not None:
            assert estimate.low is not None
            assert estimate.high is not None
            assert estimate.low <= estimate.value <= estimate.high


def test_one_least_number_of_patches() -> None:
    """The question refuses before numpy is loaded, the kernel by itself: both by the same number."""
    assert fact("curve", "fewest_patches").value == FEWEST_PATCHES
