"""The clock of the acts stands in January 2026, so that sheets have the same numbers in every year."""

from datetime import UTC, datetime, timedelta
from itertools import count

import pytest


@pytest.fixture
def in_2026(monkeypatch: pytest.MonkeyPatch) -> None:
    """A second passes from act to act."""
    seconds = count()
    for room in ("act", "plan", "flashes"):
        monkeypatch.setattr(f"silverwright.workshop.{room}.now", lambda: datetime(2026, 1, 12, 10, 40, tzinfo=UTC) + timedelta(seconds=next(seconds)))
