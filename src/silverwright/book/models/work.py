"""Long work that waits, runs or is done: a row that outlives the process that does it."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import word
from silverwright.book.models.kept import Act

LONGEST_KIND = 20  # our judgement: a verb


class Job(models.Model):
    """
    One piece of long work, asked for by an act.

    `claimed_by` is the worker that has it, `beat_at` when that worker last said that it lives, `tries` how many began it. A row, not a record:
    what came of it stands where it belongs.
    """

    kind = models.CharField(max_length=LONGEST_KIND)
    about = models.CharField(max_length=40, db_index=True)
    given = models.JSONField(default=dict)
    act = models.ForeignKey(Act, on_delete=models.PROTECT, related_name="jobs")
    state = word(words.JobState, "waiting")
    percent = models.PositiveSmallIntegerField(default=0)
    said = models.TextField(blank=True)
    claimed_by = models.CharField(max_length=60, blank=True)
    beat_at = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.kind} {self.about}"
