"""Long work: asked once, done once, taken over when its worker is gone, stopped when somebody says so."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.utils.timezone import now

from silverwright.book import jobs
from silverwright.book.models import Act, Job
from silverwright.book.models.kept import written_by
from silverwright.errors import DiskFull

AT = datetime(2026, 1, 12, 10, 40, tzinfo=UTC)
Keep = Callable[[], None]


def asked(about: str = "scan-001", kind: str = "look") -> Job:
    act = Act.objects.create(at=AT, deed="scan", key=f"{about} {kind} {Act.objects.count()}", content="", given={})
    with written_by(act):
        return jobs.ask(kind, about, rows=1)


def done(_: Job, beat: Callable[[int], None]) -> Keep:
    beat(50)
    return lambda: None


@pytest.mark.django_db
def test_the_oldest_first_and_each_once() -> None:
    first, second = asked("scan-001"), asked("scan-002")
    assert [jobs.claim("me", AT), jobs.claim("me", AT), jobs.claim("me", AT)] == [first, second, None]


@pytest.mark.django_db
def test_done_together_with_its_result() -> None:
    asked()
    job = jobs.claim("me", now())
    assert job is not None

    def asks_for_more() -> None:
        asked("scan-009")

    jobs.run(job, lambda _, __: asks_for_more)
    assert Job.objects.get(pk=job.pk).state == "done"
    assert jobs.newest("scan-009") is not None

    def breaks() -> None:
        asked("scan-010")
        raise DiskFull

    asked("scan-003")
    other = next(one for one in iter(lambda: jobs.claim("me", now()), None) if one.about == "scan-003")
    jobs.run(other, lambda _, __: breaks)
    assert Job.objects.get(pk=other.pk).state == "failed"
    assert "disk is full" in Job.objects.get(pk=other.pk).said
    assert jobs.newest("scan-010") is None, "its result was kept, though it was not done"


@pytest.mark.django_db
def test_a_worker_that_is_gone_is_taken_over_and_comes_too_late() -> None:
    asked()
    first = jobs.claim("gone", AT)
    assert first is not None
    assert jobs.claim("next", AT + jobs.LEASE - timedelta(seconds=0.1)) is None
    second = jobs.claim("next", AT + jobs.LEASE + timedelta(seconds=0.1))
    assert second is not None
    assert (second.pk, second.tries) == (first.pk, 2)
    kept: list[str] = []
    jobs.run(first, lambda _, __: lambda: kept.append("late"))
    assert kept == []
    jobs.run(second, lambda _, __: lambda: kept.append("in time"))
    assert kept == ["in time"]


@pytest.mark.django_db
def test_a_lost_worker_is_noticed_though_the_clock_was_set_back() -> None:
    """By an hour, in autumn, on a computer that keeps local time: its last beat lies in the future."""
    asked()
    first = jobs.claim("gone", AT)
    assert first is not None
    assert jobs.claim("next", AT - jobs.LEASE / 2) is None, "clocks of two computers differ a little"
    second = jobs.claim("next", AT - timedelta(hours=1))
    assert second is not None
    assert (second.pk, second.tries) == (first.pk, 2)


@pytest.mark.django_db
def test_what_kills_three_workers_is_given_up_and_says_so() -> None:
    asked()
    at = AT
    for _ in range(jobs.TRIES):
        assert jobs.claim("dies", at) is not None
        at += jobs.LEASE + timedelta(seconds=1)
    assert jobs.claim("fourth", at) is None
    job = jobs.newest("scan-001")
    assert job is not None
    assert (job.state, job.said) == ("failed", jobs.DIED)


def test_a_lost_worker_is_noticed_within_ten_seconds() -> None:
    assert timedelta(seconds=1) < jobs.LEASE < timedelta(seconds=9)


@pytest.mark.django_db
def test_stopped_work_ends_at_its_next_beat() -> None:
    asked()
    job = jobs.claim("me", now())
    assert job is not None

    def work(_: Job, beat: Callable[[int], None]) -> Keep:
        beat(10)
        assert jobs.stop("scan-001") == 1
        beat(20)
        raise AssertionError("it went on")

    jobs.run(job, work)
    assert Job.objects.get(pk=job.pk).state == "stopped"
    assert Job.objects.get(pk=job.pk).percent == 10


@pytest.mark.django_db
def test_given_back_it_waits_again_and_no_try_is_lost() -> None:
    asked()
    job = jobs.claim("ends", now())
    assert job is not None
    jobs.give_back(job)
    again = jobs.claim("next", now())
    assert again is not None
    assert (again.pk, again.tries) == (job.pk, 1)


@pytest.mark.django_db
def test_newer_work_of_a_kind_takes_the_place_of_older() -> None:
    first, other, second = asked(kind="measure"), asked(kind="look"), asked(kind="measure")
    states = {job.pk: job.state for job in Job.objects.all()}
    assert states == {first.pk: "stopped", other.pk: "waiting", second.pk: "waiting"}


@pytest.mark.django_db
def test_a_fault_of_the_program_is_said_and_raised() -> None:
    asked()
    job = jobs.claim("me", now())
    assert job is not None
    with pytest.raises(ZeroDivisionError):
        jobs.run(job, lambda _, __: 1 // 0)  # type: ignore[arg-type,return-value]
    assert Job.objects.get(pk=job.pk).said == jobs.BROKEN


@pytest.mark.django_db(transaction=True)
def test_many_workers_never_have_the_same_work() -> None:
    for number in range(12):
        asked(f"scan-{number:03}")

    def claim_all(worker: str) -> list[int]:
        mine = []
        while (job := jobs.claim(worker, now())) is not None:
            mine.append(job.pk)
            jobs.run(job, done)
        connection.close()
        return mine

    with ThreadPoolExecutor(4) as pool:
        found = [pk for mine in pool.map(claim_all, "abcd") for pk in mine]
    assert sorted(found) == sorted(set(found))
    assert set(Job.objects.values_list("state", flat=True)) == {"done"}
    assert len(found) == 12
