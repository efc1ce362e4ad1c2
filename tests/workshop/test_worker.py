"""What happens to a scan while the worker reads it: its grid is moved, it is stopped, the worker is told to end."""

from collections.abc import Callable
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from tests.workshop.boatyard import exposed, gear
from tests.workshop.scanned import corners_percent, strip

from silverwright import api
from silverwright.book.models import Job, Scan
from silverwright.scanning.capped import carry_out
from silverwright.scanning.orders import Measure, Order
from silverwright.workshop import worker
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
SHEET = (1.70, 1.32, 0.80, 0.36, 0.17, 0.14)
Beat = Callable[[int], None]


@pytest.fixture
def scan(tmp_path: Path) -> str:
    """Handed in and looked at, its grid about to be measured."""
    gear()
    file = strip(tmp_path / "sheet.tif", SHEET)
    name = api.do("scan", file=file, sheet=exposed(), scanner="flatbed in the office", untagged="linear").name
    worker.finish(name)
    place(name, 6)
    return name


def place(scan: str, columns: int) -> None:
    do("grid", {"scan": scan, "corners_percent": corners_percent(SHEET), "rows": 1, "columns": columns})


def in_the_middle(monkeypatch: pytest.MonkeyPatch, happens: Callable[[], object]) -> None:
    """Something happens when the file has been read and nothing of it is kept yet; once."""
    still = [happens]

    def reads(order: Order, beat: Beat) -> dict[str, Any]:
        found = carry_out(order, beat)
        if still and isinstance(order, Measure):
            still.pop()()
        return found

    monkeypatch.setattr(worker, "carry_out", reads)


def test_a_grid_that_is_moved_while_it_is_read_is_read_again(monkeypatch: pytest.MonkeyPatch, scan: str) -> None:
    in_the_middle(monkeypatch, lambda: place(scan, 3))
    worker.finish(scan)
    assert len(Scan.objects.get(name=scan).signals) == 3
    assert [job.state for job in Job.objects.filter(kind="measure").order_by("pk")] == ["stopped", "done"]


def test_what_was_read_when_it_is_stopped_is_not_kept(monkeypatch: pytest.MonkeyPatch, scan: str) -> None:
    in_the_middle(monkeypatch, lambda: do("stop-work", {"scan": scan}))
    job = worker.finish(scan)
    assert job is not None
    assert job.state == "stopped"
    assert Scan.objects.get(name=scan).signals == []


def test_a_worker_that_is_told_to_end_lays_its_work_down(monkeypatch: pytest.MonkeyPatch, scan: str) -> None:
    """In the middle of a file: the work waits again, as if nobody had begun, and the next worker does it."""
    told_to_end = Event()

    def reads(order: Order, beat: Beat) -> dict[str, Any]:
        told_to_end.set()
        return carry_out(order, beat)

    monkeypatch.setattr(worker, "carry_out", reads)
    worker.work_until(told_to_end)
    job = Job.objects.get(kind="measure")
    assert (job.state, job.claimed_by, job.tries) == ("waiting", "", 0)
    monkeypatch.setattr(worker, "carry_out", carry_out)
    worker.finish(scan)
    assert len(Scan.objects.get(name=scan).signals) == 6


def test_a_grid_placed_by_hand_outlives_another_reading(scan: str) -> None:
    """Unless rows and columns are told anew: then it is looked for again."""
    placed = Scan.objects.get(name=scan).grid
    do("read-again", {"scan": scan, "untagged": "sRGB"})
    worker.finish(scan)
    after = Scan.objects.get(name=scan)
    assert (after.grid, after.grid_by) == (placed, "by hand")
    assert len(after.signals) == 6
    assert Job.objects.filter(kind="measure").count() == 2
