"""The boatyard fills a book of its own, once, through the real acts."""

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import log2
from pathlib import Path
from time import process_time

import pytest
from click.testing import CliRunner
from django.db import transaction
from pytest_django import DjangoDbBlocker

from silverwright.book.controls import history_told
from silverwright.book.models import Act, Exposure, Lot, Paper, Sheet, Verdict
from silverwright.book.queries import first_page, paper_known, sheet_story, sheets
from silverwright.cli.main import main
from silverwright.errors import BadQuestion
from silverwright.workshop.example import INVENTED, MARK, acts, fill

FILLING_S = 15  # of this process: other programs do not count
PAPER = "RC paper, grade 2"
BOATYARD = pytest.mark.usefixtures("boatyard")


@dataclass(frozen=True)
class Filled:
    acts: int
    cpu_s: float


@pytest.fixture(scope="module")
def boatyard(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Filled]:  # noqa: ARG001 (the tables must be there)
    """The filled book, rolled back when this file is done."""
    with django_db_blocker.unblock(), pytest.MonkeyPatch.context() as patch:
        patch.setenv(MARK, "1")
        with transaction.atomic():
            began = process_time()
            yield Filled(fill(), process_time() - began)
            transaction.set_rollback(True)


def test_every_act_is_done_once(boatyard: Filled) -> None:
    assert boatyard.acts == len(acts())
    assert fill() == 0
    assert sorted(Act.objects.values_list("key", flat=True)) == sorted(acts())
    assert boatyard.cpu_s < FILLING_S


@BOATYARD
def test_every_act_is_marked_as_invented() -> None:
    assert set(Act.objects.values_list("who", flat=True)) == {"invented"}
    assert all(INVENTED in one.remarks for model in (Paper, Exposure, Verdict) for one in model.objects.all())


@BOATYARD
def test_a_dozen_sheets_and_their_states() -> None:
    assert Sheet.objects.filter(whole=None).count() == 13
    assert not any(line.sheet.number.startswith("26-013") for line in first_page().last), "controls have their own place"
    page = first_page()
    assert [line.sheet.number for line in page.to_process] == ["26-012", "26-011", "26-009b"]
    assert [line.sheet.number for line in page.to_measure] == ["26-008", "26-006"]
    assert page.paper is not None
    assert page.paper.name == PAPER
    assert {line.sheet.number: line.state for line in sheets()}["26-009"] == "cut"
    assert {(side.holder.name, side.side) for side in page.sides if side.state == "loaded"} == {("holder 3", "1")}
    assert {side.sheet.number for side in page.sides if side.state == "exposed" and side.sheet} == {"26-011", "26-012"}


@BOATYARD
def test_the_box_has_fewer_sheets_for_each_that_was_loaded() -> None:
    loaded = sum(given["deed"] == "load" for given in acts().values())
    box = acts()["box A"]
    assert Lot.objects.get(name="box A").sheets_left == box["sheets_left"] - loaded


@BOATYARD
def test_the_forecast_rests_on_the_sheets_and_lies_among_them() -> None:
    """Whatever each sheet asks for by itself, the forecast lies between the lowest and the highest of them."""
    known = paper_known(PAPER)
    assert known.next.rests_on == "1 step sheet, 4 control step sheets, 5 verdicts, 1 strip by eye"
    rows = [row for piece in known.told.pieces for row in piece.rows if "dark_stops" in row]
    lost = [max(0.0, log2(row["time_s"] / 3)) * (1 - 1 / 1.08) for row in rows]  # the first guess of reciprocity, from 3 s on
    asked = [log2(8.125 / 10 ** row["exposure_log10"]) - row["dark_stops"] + stops for row, stops in zip(rows, lost, strict=True)]
    assert len(asked) == 6
    assert known.next.light_offset_stops is not None
    assert min(asked) < log2(known.next.paper_ei.value or 0) + (known.next.light_offset_stops.value or 0) < max(asked)
    assert known.next.sd_stops.value < 0.5  # type: ignore[operator]


@BOATYARD
def test_the_controls_tire_and_one_day_stands_out() -> None:
    """The scene as it was made: 0.10 and 0.12 stop slower on the days after the first, then 0.35 on a cold morning; a fresh bath gives some back."""
    known = paper_known(PAPER)
    offs = [one.off_stops for one in known.controls]
    assert [later - one for one, later in pairwise(offs)] == pytest.approx([-0.10, -0.12, -0.35], abs=0.03)
    assert sum(offs) == pytest.approx(0, abs=1e-9)
    told = history_told(known.controls)
    assert told[0] == "15 January: 0.35 stop slower than the mean of your 4 days, ± 0.04."
    assert told[-1].startswith("That is more than lamp and timer explain")
    assert len(history_told(known.controls[:3])) == 2, "three days that tire evenly: nothing stands out"
    assert known.told.light == "north window", "the lamp of a control is not the light of the next picture"
    alike = tuple(replace(one, off_stops=0.0) for one in known.controls)
    assert history_told(alike)[0] == "15 January: as fast as the mean of your 4 days, ± 0.04."
    assert history_told(known.controls[:1]) == ("One day alone differs from nothing: the next one tells.",)
    fresh = paper_known(PAPER, fresh_baths=True)
    assert (fresh.next.paper_ei.value or 0) > 1.2 * (known.next.paper_ei.value or 0)


@BOATYARD
def test_each_sheet_was_planned_with_what_was_known_then() -> None:
    asked = {number: (row.planned.question if row.planned else {}) for number, row in ((row.sheet.number, row) for row in Exposure.objects.all())}
    ei = {number: question.get("paper_ei") for number, question in asked.items()}
    assert ei["26-001"] is None
    assert ei["26-002"] > 2  # strip 3 says more than what is taken of any paper
    assert ei["26-003"] < ei["26-002"]  # half a stop too dark: a direct positive wants more light
    assert asked["26-002"]["ei_from"] == asked["26-011"]["ei_from"] == "own sheets"
    assert asked["26-003"]["paper_ei_sd_stops"] < asked["26-002"]["paper_ei_sd_stops"] < 0.5
    assert asked["26-011"]["paper_ei_sd_stops"] < 0.5, "another light, another day"
    assert ei["26-010"] == 4  # typed: a paper negative knows nothing of the positives


@BOATYARD
def test_what_happened_to_single_sheets() -> None:
    assert len(sheet_story("26-008").line.exposures) == 2
    assert [piece.number for piece in sheet_story("26-009").pieces] == ["26-009a", "26-009b"]
    assert sheet_story("26-007").line.sheet.turned == "mirror or prism"
    assert sheet_story("26-010").process == "negative"
    given = [row.given_s for row in Exposure.objects.get(sheet__number="26-005").history.order_by("version")]
    assert given == [178, 187]
    patches = [row.density for row in sheet_story("26-004").readings]
    assert len(patches) == 12
    curve = sheet_story("26-004").curves[0]
    assert curve.answer.answer["grade_class"] == "2 medium"


@BOATYARD
def test_every_story_can_be_told_on_the_command_line() -> None:
    said = {line.sheet.number: CliRunner().invoke(main, ["story", line.sheet.number]) for line in sheets()}
    assert {number: one.exit_code for number, one in said.items()} == dict.fromkeys(said, 0)
    assert "strip 3 is right" in said["26-001"].output
    assert "given_s 178.0 to 187.0" in said["26-005"].output
    assert "half a stop too dark" in said["26-002"].output
    assert "26-009a, 26-009b" in said["26-009"].output


@pytest.mark.django_db
def test_nobody_elses_book_is_filled(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(MARK, raising=False)
    before = Act.objects.count()
    with pytest.raises(BadQuestion, match="never in yours"):
        fill()
    assert Act.objects.count() == before


def test_a_filling_that_was_cut_short_is_taken_up_again(tmp_path: Path) -> None:
    """Killed in the middle, the next start writes the rest and nothing twice."""
    begin = (
        "from silverwright.book.opening import open_book; open_book()\n"
        "from silverwright.workshop import example\n"
        "from silverwright.book.models import Act, Sheet\n"
    )
    stop = "whole = example.acts()\nexample.acts = lambda: dict(list(whole.items())[:20])\nprint(example.fill())"
    go_on = "print(example.fill(), Act.objects.count(), Sheet.objects.filter(whole=None).count())"
    around = {name: value for name, value in os.environ.items() if not name.startswith("DJANGO")} | {MARK: "1", "SILVERWRIGHT_HOME": str(tmp_path)}
    said = [
        subprocess.run([sys.executable, "-c", begin + then], env=around, capture_output=True, text=True, check=True).stdout.split()
        for then in (stop, go_on)
    ]
    assert said == [["20"], [str(len(acts()) - 20), str(len(acts())), "13"]]
