"""A name stands for one thing."""

from silverwright.book.find import BY_NAME
from silverwright.errors import BadQuestion, Fault


def refuse_twice(kind: str, name: str, field: str = "name") -> None:
    """Refuse a name that something of this kind has already."""
    twin = BY_NAME[kind].objects.filter(name__iexact=name).first()  # type: ignore[attr-defined]
    if twin is not None:
        what = "bring it back from the archive" if twin.archived_at else "correct that one"
        raise BadQuestion([Fault(field, name, f"There is already a {kind} called “{twin}”. Take another name, or {what}.")])
