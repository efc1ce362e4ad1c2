"""The curve of a paper as its newest step sheet told it, in the fields of the questions that lay a scene on paper."""

from collections.abc import Mapping
from typing import Any, Final

from silverwright.asking.operation import EIGHTY_PERCENT_SD
from silverwright.book.models import Curve, Paper

MOST_POINTS: Final = 24  # our judgement: a smooth line needs no more, and they travel in an address
OF_THE_CURVE: Final = {"shadow_log10": "shadow_sd_log10", "highlight_log10": "highlight_sd_log10", "middle_log10": ""}


def paper_curve(paper: Paper, process: str) -> dict[str, Any]:
    """
    What the book knows of a paper's contrast, by the names of the question's fields.

    The points of the drawn curve with their band, both ends and the mid-grey with their doubt; the grade on the box, and the kind of contrast.
    """
    curves = Curve.objects.filter(step_sheet__sheet__paper=paper, process=process, archived_at=None, step_sheet__archived_at=None)
    curve = curves.select_related("answer", "step_sheet__sheet").first()
    box = {"contrast_of": paper.contrast, **({} if paper.grade is None else {"grade": paper.grade})}
    known = {} if curve is None else _points(curve.answer.answer)
    return box | known | {"curve_from": f"step sheet {curve.step_sheet.sheet}"} if curve is not None and known else box


def _points(answer: Mapping[str, Any]) -> dict[str, Any]:
    """The curve of a kept answer, thinned; nothing where it was not drawn or never comes to a grey."""
    columns = [answer.get(name) or () for name in ("curve_log10", "curve_density", "band_low", "band_high")]
    points = list(zip(*columns, strict=False))
    if not points or (answer.get("middle_log10") or {}).get("value") is None:
        return {}
    step = max(1, -(-len(points) // MOST_POINTS))
    names = ("exposure_log10", "density", "low", "high")
    told: dict[str, Any] = {"curve": [dict(zip(names, point, strict=True)) for point in points[::step]]}
    for name, sd_name in OF_THE_CURVE.items():
        told |= _end(name, sd_name, answer.get(name) or {})
    return told


def _end(name: str, sd_name: str, told: Mapping[str, Any]) -> dict[str, float]:
    """One end of the curve, with its doubt where both limits are known."""
    value, low, high = (told.get(part) for part in ("value", "low", "high"))
    if value is None:
        return {}
    sd = {sd_name: (high - low) / (2 * EIGHTY_PERCENT_SD)} if sd_name and low is not None and high is not None else {}
    return {name: value, **sd}
