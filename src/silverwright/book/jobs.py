"""Long work, kept in the book until it is done: asked once, claimed by a worker, taken over when that worker is gone."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Final

from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils.timezone import now

from silverwright.book.models import Job
from silverwright.book.models.kept import act_now, written_by
from silverwright.errors import SilverwrightError

LEASE: Final = timedelta(seconds=6)  # our judgement: six missed beats; then the worker is gone
TRIES: Final = 3  # our judgement: what kills three workers kills the fourth
DIED: Final = "The work ended without a word, three times. The file is kept; ask for it again, or look at the file with another program."
BROKEN: Final = "This is a fault of the program, not of the file. What was recorded before is kept."
Work = Callable[[Job, Callable[[int], None]], Callable[[], None]]


class Stopped(Exception):
    """Somebody stopped the work, or another worker has taken it over."""


def ask(kind: str, about: str, **given: object) -> Job:
    """Put work in the book, inside the act that needs it: both are kept, or neither. Older work of this kind on the same thing is stopped."""
    open_still(about).filter(kind=kind).update(state="stopped")
    return Job.objects.create(kind=kind, about=about, act=act_now(), given=given)


def open_still(about: str = "") -> QuerySet[Job]:
    """What waits or runs, for one thing or for all."""
    found = Job.objects.filter(state__in=("waiting", "running"))
    return found.filter(about=about) if about else found


def newest(about: str) -> Job | None:
    """The newest work on one thing."""
    return Job.objects.filter(about=about).order_by("pk").last()


def given_before(kind: str, about: str) -> dict[str, object]:
    """What the newest work of a kind on one thing was given."""
    job = Job.objects.filter(kind=kind, about=about).order_by("pk").last()
    return dict(job.given) if job is not None else {}


def stop(about: str) -> int:
    """Stop whatever waits or runs for one thing; how many that were. A running child ends at its next beat."""
    return open_still(about).update(state="stopped")


def claim(worker: str, at: datetime) -> Job | None:
    """Take the oldest work that waits, or whose worker is gone."""
    gone = Q(state="running") & (Q(beat_at__lt=at - LEASE) | Q(beat_at__gt=at + LEASE))  # a beat to come: the clock was set back since
    free = Q(state="waiting") | gone
    if not Job.objects.filter(free).exists():  # a look costs no lock
        return None
    with transaction.atomic():  # BEGIN IMMEDIATE on SQLite; on PostgreSQL the row lock below
        Job.objects.filter(gone, tries__gte=TRIES).update(state="failed", said=DIED)
        job = Job.objects.select_for_update(skip_locked=True).filter(free).order_by("pk").first()
        if job is not None:
            job.state, job.claimed_by, job.beat_at, job.tries, job.percent = "running", worker, at, job.tries + 1, 0
            job.save()
    return job


def give_back(job: Job) -> None:
    """Lay work down again, as if nobody had begun it."""
    mine = Job.objects.filter(pk=job.pk, state="running", claimed_by=job.claimed_by, tries=job.tries)
    mine.update(state="waiting", claimed_by="", percent=0, tries=job.tries - 1)


def run(job: Job, work: Work) -> None:
    """Do the work; keep its result and the word "done" in one transaction, as the doing of the act that asked for it."""
    mine = Job.objects.filter(pk=job.pk, state="running", claimed_by=job.claimed_by, tries=job.tries)

    def beat(percent: int) -> None:
        if not mine.update(percent=percent, beat_at=now()):
            raise Stopped

    try:
        keep = work(job, beat)
        with transaction.atomic(), written_by(job.act):
            _finish(mine)
            keep()
    except Stopped:
        return
    except SilverwrightError as error:
        mine.update(state="failed", said=str(error))
    except Exception:  # whatever it was, the photographer must read something, and whoever mends it the rest
        mine.update(state="failed", said=BROKEN)
        raise


def _finish(mine: QuerySet[Job]) -> None:
    """The word "done", if the work is still ours."""
    if not mine.update(state="done", percent=100):
        raise Stopped
