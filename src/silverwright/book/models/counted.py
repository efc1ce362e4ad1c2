"""What is being counted at the camera: an exposure from its start until it is recorded."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import word
from silverwright.book.models.gear import HolderSide
from silverwright.book.models.kept import Kept, KeptAnswer
from silverwright.book.models.sheet import Exposure

LONGEST_COUNT_NAME = 20  # our judgement: more counts than anybody makes


class Count(Kept):
    """
    An exposure that is being counted, or was.

    `given` is what was typed at the start, `things` the rows of the book that were named then, `planned` the ledger as it was answered then.
    `events` is what happened, in its order, each with its moment: how long is left follows from them and from now, and is kept nowhere.
    `readings` are those that were taken while it was exposed, each with the seconds that had passed.
    """

    name = models.CharField(max_length=LONGEST_COUNT_NAME, unique=True)
    state = word(words.CountState, "running")
    given = models.JSONField()
    things = models.JSONField(default=dict)
    planned = models.ForeignKey(KeptAnswer, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    side = models.ForeignKey(HolderSide, on_delete=models.PROTECT, related_name="counts", null=True, blank=True)
    events = models.JSONField()
    readings = models.JSONField(default=list)
    exposure = models.ForeignKey(Exposure, on_delete=models.PROTECT, related_name="counts", null=True, blank=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.name
