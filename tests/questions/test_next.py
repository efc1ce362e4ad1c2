"""The question of the next exposure: what rows mean, what is refused, and what the answer says."""

import subprocess
import sys
from math import log2, log10
from typing import Any

import numpy as np
import pytest
from tests.sensitometry.shown import STOP, density

from silverwright.errors import BadQuestion
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.believed import camera_lx_s
from silverwright.questions.doubts import doubts_told
from silverwright.questions.next_exposure import NEXT, NextAnswer
from silverwright.questions.seen import MOST_SHEETS

GREY_LOG10 = 0.5  # where the test's curve has its grey: EI 8.125 / 10^0.5 = 2.57


def ask(**given: Any) -> NextAnswer:
    return NEXT.ask(given)


def judged(kind: str = "verdict", **more: Any) -> dict[str, Any]:
    return {"kind": kind, "exposure_log10": GREY_LOG10, "sheet": "1", "light": "window", "day": "1", "batch": "A", **more}


def measured(sheet: str, kind: str = "scene patch", off_stops: float = 0.0, **more: Any) -> list[dict[str, Any]]:
    """Seven patches a stop apart of the test's curve; the sheet got more light than was written down by `off_stops`."""
    shared = {"light": "window", "day": "1", "batch": "A", **more}
    places = GREY_LOG10 + STOP * np.arange(-3.0, 4.0)
    read = density(places + STOP * off_stops)
    return [{"sheet": sheet, "kind": kind, "exposure_log10": x, "density": d, **shared} for x, d in zip(places.tolist(), read.tolist(), strict=True)]


HERE = {"light": "window", "day": "1", "batch": "A"}


def value(answer: NextAnswer) -> float:
    assert answer.paper_ei.value is not None
    return answer.paper_ei.value


def test_nothing_yet_is_our_first_guess() -> None:
    answer = ask()
    assert value(answer) == pytest.approx(2.0, rel=0.08)
    assert (answer.sd_stops.value or 0) == pytest.approx(1.55, rel=0.06)
    assert answer.rests_on == "our first guess alone"
    assert [note.note for note in answer.notes] == [Note.PRIOR_ONLY]
    assert answer.time_s is None
    assert answer.bracket_s == ()


def test_patches_tell_the_ei() -> None:
    answer = ask(evidence=[*measured("1", "step sheet"), *measured("2")], **HERE)
    assert log2(value(answer)) == pytest.approx(log2(camera_lx_s() / 10**GREY_LOG10), abs=0.12)
    assert answer.rests_on == "1 step sheet, 1 picture with metered places"
    assert answer.sampler == "importance"


@pytest.mark.parametrize(("process", "sign"), [("direct positive", -1), ("negative", 1)])
def test_too_dark_asks_for_more_light_in_a_positive_and_less_in_a_negative(process: str, sign: int) -> None:
    right, dark, light = (ask(evidence=[judged(dark_stops=off)], process=process, **HERE) for off in (0, 0.5, -0.5))
    assert sign * log2(value(dark) / value(right)) > 0.2
    assert sign * log2(value(light) / value(right)) < -0.2


def test_a_wet_judgement_under_an_unknown_lamp_counts_less() -> None:
    plain, doubtful = (ask(evidence=[judged(sd=0.2, **how)], **HERE) for how in ({}, {"judged": "wet", "lamp": "unknown"}))
    assert (doubtful.sd_stops.value or 0) > (plain.sd_stops.value or 0)


def test_every_kind_narrows() -> None:
    nothing = ask(**HERE).sd_stops.value or 0
    kinds: list[list[dict[str, Any]]] = [
        measured("1", "step sheet"),
        measured("1", "control"),
        measured("1"),
        [judged()],
        [judged("strip by eye")],
        [judged("typed")],
    ]
    for rows in kinds:
        assert (ask(evidence=rows, **HERE).sd_stops.value or 0) < 0.7 * nothing, rows[0]["kind"]


def test_the_tone_moves_the_ei_and_a_negative_is_exposed_for_the_shadow() -> None:
    """In a positive the highlight needs the most light; in a negative the shadow needs the least."""
    tones = ("highlight with texture", "skin", "mid-grey", "shadow with detail")
    positive = [value(ask(evidence=measured("1", "step sheet"), tone=tone, **HERE)) for tone in tones]
    assert positive == sorted(positive)
    places = GREY_LOG10 + STOP * np.arange(-3.0, 4.0)
    rising = zip(places.tolist(), density(places, sign=1.0).tolist(), strict=True)
    rows = [{"sheet": "1", "kind": "step sheet", "exposure_log10": x, "density": d, **HERE} for x, d in rising]
    negative = [value(ask(evidence=rows, tone=tone, process="negative", **HERE)) for tone in tones]
    assert negative == sorted(negative)
    over = fact("forecast", "highlight_over_dmin").value
    shadow = log10(camera_lx_s() / negative[-1])
    assert float(density(np.array(shadow), sign=1.0)) == pytest.approx(0.09 + over, abs=0.05)


def test_a_relative_step_sheet_gives_no_ei() -> None:
    blind, known = ask(**HERE), ask(evidence=measured("1", "step sheet", metered=False), **HERE)
    assert (known.sd_stops.value or 0) > 0.9 * (blind.sd_stops.value or 0)


def test_time_chances_and_bracket_belong_together() -> None:
    answer = ask(evidence=measured("1", "step sheet"), at_ei_one_s=60, **HERE)
    assert answer.time_s is not None
    low, best, high = answer.time_s.low or 0, answer.time_s.value or 0, answer.time_s.high or 0
    assert low < answer.bracket_s[0] < best < answer.bracket_s[1] < high
    assert answer.bracket_stops == pytest.approx([log2(one / best) for one in answer.bracket_s])
    assert 40 < (answer.one_sheet_percent.value or 0) < (answer.two_sheets_percent.value or 0) < 99
    metered = 60 / value(answer)
    exponent = answer.exponent.value or 0
    assert best == pytest.approx(metered * (metered / 3) ** (exponent - 1), rel=0.04)


def test_the_ledger_adds_up_to_the_ei() -> None:
    answer = ask(evidence=[*measured("1", "step sheet"), judged(sheet="2", dark_stops=0.5), judged("typed", sheet=None)], **HERE)
    assert sum(line.amount for line in answer.ledger) == pytest.approx(log2(value(answer)), abs=0.006)
    assert [line.what for line in answer.ledger][:4] == ["Our first guess, EI 2", "Sheet 1", "Sheet 2", "Typed EI 1"]


def test_what_the_baths_lost_has_a_line_of_its_own() -> None:
    """Ten sheets at the usual 0.04 stop; the lines still add up, and nothing is called a tone where a mid-grey is meant."""
    answer = ask(evidence=measured("1", "step sheet"), age=10, **HERE)
    lines = {line.what: line.amount for line in answer.ledger}
    assert lines["10 sheets through these baths before, at the usual loss"] == pytest.approx(-0.4, abs=0.01)
    assert sum(lines.values()) == pytest.approx(log2(value(answer)), abs=0.006)
    assert abs(lines.get("What is no plain sum", 0.0)) < 0.12
    assert not any("tone" in what for what in lines)


def test_the_sheet_that_disagrees_is_named() -> None:
    rows = [row for number in range(1, 6) for row in measured(str(number), off_stops=1.4 if number == 4 else 0.0)]
    notes = {note.note: note.sentence for note in ask(evidence=rows, **HERE).notes}
    said = notes[Note.WHICH_DISAGREES].replace("\N{NO-BREAK SPACE}", " ")
    assert said.startswith("Sheet 4 disagrees with the rest: it came out as if it had got 1.4 stops more light")
    agreed = [row for number in range(1, 6) for row in measured(str(number))]
    assert not ask(evidence=agreed, **HERE).notes


def test_what_would_narrow_it_is_said_best_first() -> None:
    answer = ask(evidence=measured("1"), light="lamps", day="2", batch="B")
    assert answer.narrows
    then = [int(one.split("one sheet right ")[1].split(" ")[0]) for one in answer.narrows]
    assert then == sorted(then, reverse=True)
    assert not any("±" in one for one in answer.narrows), "a chance, and not one more doubt of the same EI"
    assert any("blue filter" in one for one in answer.narrows)


def test_old_baths_are_said_with_what_they_lost() -> None:
    """By the usual 0.04 stop a sheet, ten sheets have lost about 0.4; five are the first of which it is said."""
    rows = measured("1", "step sheet")
    said = {age: {note.note: note.sentence for note in ask(evidence=rows, age=age, **HERE).notes} for age in (4, 5, 10)}
    assert Note.BATHS_COUNTED not in said[4]
    assert "number 6 through these baths (A)" in said[5][Note.BATHS_COUNTED]
    lost = said[10][Note.BATHS_COUNTED].split("lost about ")[1].split(" ")[0]
    assert float(lost) == pytest.approx(0.45, abs=0.16)


def test_every_doubt_has_its_sentence() -> None:
    answer = ask(evidence=measured("1", "step sheet"), **HERE)
    told = doubts_told(answer)
    assert f"EI {answer.paper_ei.low:.2g} to {answer.paper_ei.high:.2g}" in told[0]
    assert f"±{answer.sd_stops.value:.2f} stop, one standard deviation" in told[1]
    assert f"{answer.exponent.value:.2f} ± {answer.exponent_sd.value:.2f}" in told[2]


def test_stated_knowledge_takes_the_place_of_the_first_guess() -> None:
    answer = ask(stated_ei=6, stated_ei_sd_stops=0.3, exponent_factor=1.2, exponent_sd=0.01)
    assert value(answer) == pytest.approx(6, rel=0.05)
    assert (answer.exponent.value or 0) == pytest.approx(1.2, abs=0.002)
    assert answer.rests_on == "the EI as you stated it"
    pointed = ask(own_points=[{"metered_s": 60, "needed_s": 100}, {"metered_s": 240, "needed_s": 500}])
    assert (pointed.exponent.value or 0) > (ask().exponent.value or 0)
    assert (pointed.exponent_sd.value or 1) < (ask().exponent_sd.value or 0)
    assert pointed.rests_on == "2 own points"


def test_a_blue_reading_of_the_next_light_takes_most_of_its_doubt() -> None:
    """A light that was never met: 0.33 becomes 0.1."""
    rows = [row for number, light in enumerate(("window", "lamps", "shade")) for row in measured(str(number), light=light, light_sd_stops=0.1)]
    plain, blue = (ask(evidence=rows, light="flash", day="1", batch="A", **how) for how in ({}, {"light_sd_stops": 0.1}))
    assert (plain.sd_stops.value or 0) ** 2 - (blue.sd_stops.value or 0) ** 2 == pytest.approx(0.33**2 - 0.1**2, rel=0.1)


def test_every_fault_at_once_in_our_words() -> None:
    rows = [{"kind": "step sheet", "exposure_log10": 0.1}, {"kind": "verdict", "exposure_log10": 0.1, "density": 1}]
    with pytest.raises(BadQuestion) as caught:
        ask(evidence=rows, at_ei_one_s=-1)
    said = {fault.field: fault.problem for fault in caught.value.faults}
    assert "Row 1: a step sheet needs the density" in said["evidence"]
    assert "Row 2: a verdict has no density" in said["evidence"]
    assert "at_ei_one_s" in said


def test_only_the_newest_sheets_count() -> None:
    rows = [judged(sheet=f"s{number}", day=f"2026-{1 + number // 28:02}-{1 + number % 28:02}") for number in range(MOST_SHEETS + 3)]
    answer = ask(evidence=rows[::-1], **HERE)
    assert {note.note for note in answer.notes} == {Note.NEWEST_SHEETS}
    names = {line.what for line in answer.ledger}
    assert "Sheet s2" not in names
    assert "Sheet s3" in names


def test_importing_the_question_loads_no_numbers() -> None:
    code = "import sys; import silverwright.questions.next_exposure; sys.exit(any(name in sys.modules for name in ('numpy', 'scipy')))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
