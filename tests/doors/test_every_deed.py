"""Every act through Python, command line and HTTP: the boatyard's whole book, written three times, is the same book."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from click.testing import CliRunner
from django.db import transaction
from django.test import Client

from silverwright import api
from silverwright.asking.fields import fields_of
from silverwright.asking.show import as_typed
from silverwright.book.documents import document
from silverwright.book.models import Act
from silverwright.book.scans import scan_known, scans
from silverwright.book.shelf import shelf
from silverwright.cli.fields import option_name
from silverwright.cli.main import SECTIONS, main
from silverwright.errors import BadQuestion
from silverwright.processing.clock import Stamp
from silverwright.workshop.act import AnyDeed
from silverwright.workshop.deeds import DEEDS
from silverwright.workshop.example import acts
from silverwright.workshop.worker import finish

pytestmark = pytest.mark.django_db
Dump = dict[str, Any]
every_deed = pytest.mark.parametrize("deed", DEEDS, ids=lambda one: one.name)


def by_python(name: str, given: Dump, key: str) -> Dump:
    return api.do(name, key=key, **given).model_dump(mode="json")


def by_command_line(name: str, given: Dump, key: str) -> Dump:
    words = [word for field, text in as_typed(given).items() for word in (option_name(field), text)]
    told = CliRunner().invoke(main, [name, *words, "--key", key, "--json"])
    assert told.exit_code == 0, f"{name} {words}\n{told.output}"
    done: Dump = json.loads(told.stdout)
    return done


def by_http(name: str, given: Dump, key: str) -> Dump:
    told = Client().post(f"/api/do/{name}", data=json.dumps(given), content_type="application/json", headers={"Idempotency-Key": key})
    assert told.status_code == 201, told.content
    done: Dump = told.json()
    return done


MORE: dict[str, Dump] = {
    "a holder more": {"deed": "holder", "name": "holder 9"},
    "loaded": {"deed": "load", "holder": "holder 9", "side": "1", "lot": "box A"},
    "and taken out": {"deed": "unload", "holder": "holder 9", "side": "1"},
    "a box of large sheets": {"deed": "lot", "name": "box L", "paper": "RC paper, grade 2", "size": "8x10 in", "sheets_left": 10},
    "cut": {"deed": "cut-paper", "lot": "box L", "sheets_to_cut": 2, "holder_size": "4x5 in"},
    "a chip of it": {"deed": "chip", "lot": "box L, cut to 4x5 in", "shows": "fullest black", "density": 1.95},
    "another holder": {"deed": "holder", "name": "holder 8"},
    "both sides": {"deed": "load", "holder": "holder 8", "side": "both", "lot": "box L, cut to 4x5 in", "corner": "next free"},
    "loaded again": {"deed": "load", "holder": "holder 9", "side": "1", "lot": "box A"},
    "counted": {"deed": "start-exposure", "holder": "holder 9", "side": "1", "to_give_s": 40, "count_in_s": 5},
    "a cloud": {"deed": "reading-changed", "count": "count-001", "reading_ev": 9.5, "at_s": 0},
    "held": {"deed": "hold-exposure", "count": "count-001", "given_s": 12},
    "goes on": {"deed": "go-on-exposing", "count": "count-001"},
    "stopped": {"deed": "stop-exposure", "count": "count-001", "given_s": 34},
    "a long one": {"deed": "reciprocity-test", "paper": "RC paper, grade 2", "metered_s": 60, "needed_s": 90},
    "from outdoors": {
        "deed": "field-log",
        "paper": "RC paper, grade 2",
        "lens": "210 mm lens in a leaf shutter",
        "day": "2026-01-15",
        "log": "11:30; holder 3/1; 10; 315; 22; 1:37; mallet; windy\n11:40; ; 640 lx; far; 16; 45; boats",
    },
    "marked": {"deed": "places", "scan": "scan-002", "places": "40 55 4 4 9.5 planks\n62 30 4 4 12 sky"},
    "placed": {"deed": "grid", "scan": "scan-001", "corners_percent": "10 25 90 25 90 75 10 75", "rows": 1, "columns": 12},
    "read again": {"deed": "read-again", "scan": "scan-001", "columns": 12, "rows": 1},
    "nothing to stop": {"deed": "stop-work", "scan": "scan-001"},
    "metered places": {"deed": "scene-patches", "sheet": "26-002", "places": "9.5 1.12 planks"},
    "left out": {"deed": "leave-out", "sheet": "26-002", "evidence": "verdict", "reason": "judged in the wrong light"},
    "taken back": {"deed": "take-back", "sheet": "26-002", "evidence": "verdict"},
    "a tablet by hand": {
        "deed": "calibrate",
        "scanner": "flatbed in the office",
        "steps": "0.05 0.81\n0.2 0.57\n0.35 0.41\n0.5 0.29\n0.65 0.2\n0.8 0.14",
    },
    "a step left out": {"deed": "leave-out", "scanner": "flatbed in the office", "step": 3, "reason": "scratched"},
    "a step taken back": {"deed": "take-back", "scanner": "flatbed in the office", "step": 3},
    "a bottle tested": {
        "deed": "stock-tested",
        "stock": "peroxide 12 %",
        "tested_by": "permanganate titration",
        "strength_percent_ww": 11.6,
        "low_percent_ww": 11.3,
        "high_percent_ww": 11.9,
        "when": "2026-01-20 09:00Z",
    },
    "its data sheet": {"deed": "data-sheet", "stock": "peroxide 12 %", "file": "26-002.jpg"},
    "sheets through": {"deed": "use-bath", "bath": "acid bleach, tray 2", "sheets": 2, "size": "4x5 in", "when": "2026-01-20 09:10Z"},
    "stronger again": {
        "deed": "replenish",
        "bath": "acid bleach, tray 2",
        "volume_ml": 50,
        "taken": "peroxide 12 %; 50; mL",
        "when": "2026-01-20 09:20Z",
    },
    "to its level": {"deed": "top-up", "bath": "acid bleach, tray 2", "volume_ml": 20, "when": "2026-01-20 09:30Z"},
    "a black strip": {
        "deed": "test-bath",
        "bath": "acid bleach, tray 2",
        "tested_by": "bleach-out test",
        "clearing_s": 150,
        "fresh_clearing_s": 120,
        "when": "2026-01-20 09:40Z",
    },
    "filtered": {"deed": "filter-bath", "bath": "acid bleach, tray 2", "when": "2026-01-20 09:50Z"},
    "left open": {"deed": "leave-open", "bath": "acid bleach, tray 2", "open_days": 1, "volume_ml": 1000, "when": "2026-01-21 09:50Z"},
    "a part of it": {
        "deed": "split-bath",
        "bath": "acid bleach, tray 2",
        "volume_ml": 400,
        "into": "bleach in a bottle",
        "vented": True,
        "when": "2026-01-21 10:00Z",
    },
    "and back into the tray": {"deed": "merge-baths", "bath": "bleach in a bottle", "into": "acid bleach, tray 2", "when": "2026-01-21 11:00Z"},
    "what was meant": {"deed": "match-bath", "bath": "fixer 1", "written": "fixer"},
    "discarded": {"deed": "discard-bath", "bath": "acid bleach, tray 2", "waste": "waste: bleach", "when": "2026-01-22 11:00Z"},
    "handed in": {"deed": "empty-waste", "waste": "waste: bleach", "taken_to": "collection point", "when": "2026-01-23 11:00Z"},
    "put away": {"deed": "archive", "kind": "lens", "name": "210 mm lens in a leaf shutter"},
    "and back": {"deed": "bring-back", "kind": "lens", "name": "210 mm lens in a leaf shutter"},
}


def everything() -> dict[str, Dump]:
    """The boatyard's acts, and those deeds that it does without."""
    told = {key: dict(given) for key, given in (acts() | MORE).items()}
    told["its data sheet"]["file"] = told["26-002 scanned"]["file"]  # a file that was handed in; which one does not matter here
    return told


def written(door: Callable[[str, Dump, str], Dump]) -> tuple[list[Dump], Any]:
    """The boatyard through one door: what every act said, and the book afterwards. The book is emptied again."""
    said = []
    with transaction.atomic():
        for key, fields in everything().items():
            said.append(door(str(fields.pop("deed")), fields, key))
            if said[-1]["kind"] == "scan":
                finish(said[-1]["name"])  # the command line has done it already, the others leave it to the worker
        book = [document(api.story(line.sheet.number)) for line in api.sheets()]
        book += [document(shelf(datetime(2026, 2, 1, tzinfo=UTC)))]
        book += [without_work(document(scan_known(line.scan.name))) for line in scans()]
        transaction.set_rollback(True)
    return said, book


def without_work(known: Any) -> Any:
    """A scan without its job: who did it and when differs from door to door."""
    return {name: value for name, value in known.items() if name != "job"}


def test_nothing_is_left_out() -> None:
    assert {given["deed"] for given in everything().values()} == {deed.name for deed in DEEDS}


def without_clock(value: Any) -> Any:
    """The same without the moments at which it was written."""
    if isinstance(value, dict):
        return {name: without_clock(one) for name, one in value.items() if name not in {"at", "kept_at", "learnt_at", "made_at", "calibrated_at"}}
    return [without_clock(one) for one in value] if isinstance(value, list) else value


def test_the_same_book_through_every_door(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("silverwright.workshop.exposing.stamp", lambda: Stamp(1_768_300_000.0, "this one", 500.0))  # 13 January 2026
    by_door = {door.__name__: without_clock(list(written(door))) for door in (by_python, by_command_line, by_http)}
    assert by_door["by_command_line"] == by_door["by_python"]
    assert by_door["by_http"] == by_door["by_python"]


@pytest.mark.parametrize("door", [by_python, by_command_line], ids=["python", "command line"])
def test_the_same_key_makes_one_act(door: Callable[[str, Dump, str], Dump]) -> None:
    first = door("lens", {"name": "210 mm lens", "focal_mm": "210"}, "once")
    assert door("lens", {"name": "210 mm lens", "focal_mm": "210"}, "once") == first
    assert Act.objects.count() == 1


def test_the_same_key_with_another_content_is_refused() -> None:
    by_command_line("camera", {"name": "4x5 view camera"}, "once")
    told = CliRunner().invoke(main, ["camera", "--name", "another", "--key", "once"])
    assert told.exit_code == 6
    assert told.stdout == ""
    assert "key" in told.stderr


@every_deed
def test_every_fault_at_once(deed: AnyDeed) -> None:
    """Nothing typed: every field that is needed is named at once, by every door in the same words."""
    needed = [name for name, info in deed.form.model_fields.items() if info.is_required() and name in fields_of(deed.form)]
    with pytest.raises(BadQuestion) as caught:
        api.do(deed.name)
    faults = {fault.field: fault.problem for fault in caught.value.faults}
    assert faults, "an act that needs nothing would happen by mistake"
    assert faults.keys() >= set(needed)
    told = CliRunner().invoke(main, [deed.name])
    assert told.exit_code == 2
    assert told.stdout == ""
    assert all(f"{option_name(name)}: {problem}" in told.stderr for name, problem in faults.items())
    sent = Client().post(f"/api/do/{deed.name}", data="{}", content_type="application/json")
    assert sent.status_code == 422
    assert {one["field"]: one["problem"] for one in sent.json()["problems"]} == faults
    assert Act.objects.count() == 0


@every_deed
def test_help_shows_fields_and_an_example(deed: AnyDeed) -> None:
    told = CliRunner().invoke(main, [deed.name, "--help"])
    assert told.exit_code == 0
    assert all(option_name(name) in told.stdout for name in fields_of(deed.form))
    assert f"silverwright {deed.name} --" in told.stdout


def test_help_says_what_the_deeds_say() -> None:
    assert SECTIONS["Do"] == {deed.name: deed.says for deed in DEEDS}
