"""Kept answers as pages show them: documents of their day, read as they are and never validated again."""

from collections.abc import Mapping
from typing import Any

from silverwright.asking.operation import Estimate, Line, Remark
from silverwright.web.figures import Ledger, big_time, ledger

Document = Mapping[str, Any]


def kept_estimate(document: Document, name: str) -> Estimate:
    """One value of a kept answer; unknown where it has none."""
    return Estimate.model_construct(**(document.get(name) or {}))


def kept_ledger(document: Document) -> Ledger | None:
    """The working of a kept answer."""
    lines = [Line.model_construct(**row) for row in document.get("ledger") or ()]
    return ledger(lines, caption="The exposure line by line, in stops from one second", total="Together", says="doubts added in quadrature")


def kept_notes(document: Document) -> list[Remark]:
    """Its notes."""
    return [Remark.model_construct(**one) for one in document.get("notes") or ()]


def kept_limits(document: Document) -> tuple[str, str]:
    """Both limits of its time, the longer first; empty where there are none."""
    time = kept_estimate(document, "time_s")
    if time.low is None or time.high is None:
        return "", ""
    return big_time(time.high), big_time(time.low)
