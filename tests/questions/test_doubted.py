"""The budget of doubt: what a line brings is what the ledger itself says when that line is surer."""

import re
from collections.abc import Mapping

import pytest

from silverwright.questions.ledger import LEDGER, LedgerAnswer

LENS = {"focal_mm": 210, "extension_mm": 315, "aperture_f": "f/22"}
STILL_LIFE = {"reading_ev": 10, "meter_k": 12.5, **LENS, "light_class": "direct sun", "sensitivity": "blue"}
TOLD = re.compile(r"(?P<line>.+): (?P<parts>\d+) of 100 parts of the doubt\.(?: .* from ±(?P<now>[\d.]+) to ±(?P<then>[\d.]+) stop\.)?")


def asked(more: Mapping[str, object]) -> LedgerAnswer:
    answer = LEDGER.ask({**STILL_LIFE, **more})
    assert isinstance(answer, LedgerAnswer)
    return answer


def told(answer: LedgerAnswer) -> list[re.Match[str]]:
    found = [TOLD.match(one) for one in answer.narrows]
    return [one for one in found if one]


def test_an_unknown_paper_is_most_of_the_doubt_and_a_test_strip_brings_what_the_ledger_says_then() -> None:
    unknown = asked({})
    most = told(unknown)[0]
    assert most["line"] == "The paper's EI"
    assert float(most["now"]) == pytest.approx(unknown.doubt_stops.value, abs=0.005)
    stripped = asked({"paper_ei": 2, "paper_ei_sd_stops": 0.333})  # a strip by eye, 0.25, and one sheet, 0.22, in quadrature
    assert float(most["then"]) == pytest.approx(stripped.doubt_stops.value, abs=0.02)


def test_parts_are_shares_of_the_variance() -> None:
    """Without reciprocity nothing is stretched: the part of a line is its doubt squared over the whole squared."""
    answer = asked({"paper_ei": 2, "paper_ei_sd_stops": 0.5, "pupil_factor": 1, "reciprocity_model": "none"})
    whole = answer.doubt_stops.value or 0
    shares = sorted(((line.doubt / whole) ** 2 for line in answer.ledger), reverse=True)
    assert [int(one["parts"]) for one in told(answer)] == [round(100 * share) for share in shares if share >= 0.1][:3]


def test_the_largest_stands_first_and_small_lines_are_not_told() -> None:
    parts = [int(one["parts"]) for one in told(asked({"paper_ei": 2, "paper_ei_sd_stops": 0.3}))]
    assert parts == sorted(parts, reverse=True)
    assert min(parts) >= 10
    assert len(parts) <= 3


def test_own_sheets_are_sent_to_findings_and_no_remedy_that_makes_it_worse_is_told() -> None:
    known = asked({"paper_ei": 2, "paper_ei_sd_stops": 0.2, "ei_from": "own sheets"})
    assert any(one.endswith("Findings says which sheet would narrow it most.") for one in known.narrows)
    for one in told(known):
        if one["then"]:
            assert float(one["then"]) <= float(one["now"])


def test_what_cannot_be_narrowed_says_so() -> None:
    surest = asked(
        {"paper_ei": 2, "paper_ei_sd_stops": 0.05, "reading_sd_stops": 0, "pupil_factor": 1, "ruler_sd_mm": 0, "reciprocity_model": "none"}
    )
    assert "One sheet from the next" in surest.narrows[0]
    assert surest.narrows[0].endswith("Only a second sheet helps.")
