"""Kept answers as pages show them: documents of their day, read as they are and never validated again."""

from collections.abc import Mapping
from typing import Any

from silverwright.asking.operation import Estimate, Line, Remark
from silverwright.units import flashes_said
from silverwright.web.figures import Ledger, big_time, ledger

Document = Mapping[str, Any]


def kept_estimate(document: Document, name: str) -> Estimate:
    """One value of a kept answer; unknown where it has none."""
    return Estimate.model_construct(**(document.get(name) or {}))


def kept_ledger(document: Document) -> Ledger | None:
    """The working of a kept answer."""
    lines = [Line.model_construct(**row) for row in document.get("ledger") or ()]
    from_one = "flash" if "flashes" in document else "second"
    return ledger(lines, caption=f"The exposure line by line, in stops from one {from_one}", total="Together", says="doubts added in quadrature")


def kept_notes(document: Document) -> list[Remark]:
    """Its notes."""
    return [Remark.model_construct(**one) for one in document.get("notes") or ()]


def kept_amount(document: Document) -> str:
    """Its time, or its flashes: `1:37`, `4.2 flashes`; empty where it has none."""
    amount = _amount(document)
    return _said(document, amount.value) if amount.value else ""


def kept_limits(document: Document) -> tuple[str, str]:
    """Both limits of its time or of its flashes, the longer first; empty where there are none."""
    amount = _amount(document)
    if amount.low is None or amount.high is None:
        return "", ""
    return _said(document, amount.high), _said(document, amount.low)


def _amount(document: Document) -> Estimate:
    return kept_estimate(document, "flashes" if "flashes" in document else "time_s")


def _said(document: Document, amount: float) -> str:
    return flashes_said(float(f"{amount:.2g}")) if "flashes" in document else big_time(amount)
