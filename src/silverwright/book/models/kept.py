"""What every row has - its versions, its history, the act that wrote it - and what is kept as a document."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any, Final

from django.db import models
from simple_history.models import HistoricalRecords

LONGEST_NAME: Final = 80  # our judgement: fits on a label
_now_writing: ContextVar["Act | None"] = ContextVar("_now_writing", default=None)


@contextmanager
def written_by(act: "Act") -> Iterator[None]:
    """Everything saved inside is the work of this act: its history says so."""
    token = _now_writing.set(act)
    try:
        yield
    finally:
        _now_writing.reset(token)


def act_now() -> "Act":
    """The act that is being done; what needs one to belong to asks for it here."""
    act = _now_writing.get()
    assert act is not None  # noqa: S101 (nothing is written outside an act)
    return act


def _writer(**_: object) -> "Act | None":
    return _now_writing.get()


class Act(models.Model):
    """One act: who did what and when, what was typed, what came of it. The key makes an act sent twice one act."""

    at = models.DateTimeField(db_index=True)
    who = models.CharField(max_length=LONGEST_NAME, blank=True)
    deed = models.CharField(max_length=40, db_index=True)
    key = models.CharField(max_length=200, unique=True)
    content = models.CharField(max_length=64)
    given = models.JSONField()
    result = models.JSONField(default=dict)

    def __str__(self) -> str:
        return f"{self.deed} {self.at:%Y-%m-%d %H:%M}"


class Kept(models.Model):
    """
    A row that is never deleted and never changed silently.

    `version` counts its savings, `history` holds every one of them with the act that wrote it (`history_user` is an `Act`). Archived rows stay.
    """

    version = models.PositiveIntegerField(default=1, editable=False)
    archived_at = models.DateTimeField(null=True, blank=True)
    history = HistoricalRecords(user_model="book.Act", get_user=_writer, inherit=True)

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 (Django's own signature)
        """Save, one version further."""
        if not self._state.adding:
            self.version += 1
        super().save(*args, **kwargs)

    def delete(self, *_: Any, **__: Any) -> tuple[int, dict[str, int]]:  # noqa: ANN401 (Django's own signature)
        """Nothing is deleted from the book."""
        raise TypeError("Nothing is deleted from the book: archive it.")


class Named(Kept):
    """A thing with a name."""

    name = models.CharField(max_length=LONGEST_NAME, unique=True)
    remarks = models.TextField(blank=True)

    class Meta:
        abstract = True
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class KeptAnswer(Kept):
    """An answer as it was given, as a document: never validated again. Asking again uses today's question."""

    operation = models.CharField(max_length=60)
    operation_version = models.PositiveSmallIntegerField()
    question = models.JSONField()
    answer = models.JSONField()
    evidence = models.JSONField(default=dict)
    kept_at = models.DateTimeField()
    name = models.CharField(max_length=LONGEST_NAME, blank=True)

    def __str__(self) -> str:
        return self.name or f"{self.operation} {self.kept_at:%Y-%m-%d}"
