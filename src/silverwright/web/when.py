"""Times as people read them: kept in UTC, shown in the time of this computer."""

from datetime import datetime


def local(at: datetime) -> datetime:
    """The same moment by this computer's clock."""
    return at.astimezone()


def day(at: datetime) -> str:
    """`Tuesday 13 January 2026`."""
    return f"{local(at):%A} {local(at).day} {local(at):%B %Y}"


def short_day(at: datetime) -> str:
    """`13 Jan 2026`."""
    return f"{local(at).day} {local(at):%b %Y}"


def moment(at: datetime) -> str:
    """`13 Jan 2026, 11:20`."""
    return f"{short_day(at)}, {local(at):%H:%M}"
