"""The answers that are easier to look at than to read, drawn."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Final

from django.utils.safestring import SafeString, mark_safe

from silverwright.processing.cutparts import Part
from silverwright.report.cutting import cutting_drawn
from silverwright.report.scene import PartDrawn, scene_scale
from silverwright.report.sharpness import Openings, opening_curve
from silverwright.report.sitter import Sway, sway_curve
from silverwright.units import F_NUMBER, MILLIMETRE, SECOND

if TYPE_CHECKING:
    from silverwright.asking.operation import Answer
    from silverwright.questions.cutting import CuttingAnswer
    from silverwright.questions.scene import SceneAnswer
    from silverwright.questions.sharpness import SharpnessAnswer
    from silverwright.questions.sitter import SitterAnswer


def picture(answer: "Answer") -> SafeString:
    """The drawing that belongs to an answer, or nothing."""
    draw = DRAWN.get(type(answer).__name__)
    return draw(answer) if draw else SafeString("")


def _scene(answer: "SceneAnswer") -> SafeString:
    """Each part on the scale of stops, over what the paper tells apart."""
    from silverwright.questions.scene import is_lost  # noqa: PLC0415 (it is there already when such an answer is)

    columns = zip(answer.parts, answer.part_stops, answer.part_density, answer.happens, strict=True)
    parts = [PartDrawn(name, above, density, kept=not is_lost(happens)) for name, above, density, happens in columns]
    drawn = scene_scale(parts, answer.shadow_end_stops.value or 0.0, answer.highlight_end_stops.value or 0.0)
    return mark_safe(drawn)  # noqa: S308 (drawn by report/scene.py from numbers, and names that it escapes)


def _sharpness(answer: "SharpnessAnswer") -> SafeString:
    """Blur near and far against the opening, where somebody said what must be sharp."""
    if answer.best_f is None or answer.best_blur_mm is None or answer.sharp_mm is None or not answer.at_f:
        return SafeString("")
    ends = [one.value or 0.0 for one in (answer.blur_near_mm, answer.blur_far_mm) if one is not None]
    openings = Openings(
        at_f=answer.at_f,
        blur_mm=answer.at_mm,
        wanted_mm=answer.sharp_mm.value or 0.0,
        best_f=answer.best_f.value or 1.0,
        best_mm=answer.best_blur_mm.value or 0.0,
        set_f=answer.set_f.value if answer.set_f and ends else None,
        set_mm=max(ends) if ends else None,
    )
    return mark_safe(opening_curve(openings, F_NUMBER.show, MILLIMETRE.show))  # noqa: S308 (drawn by report/sharpness.py from numbers only)


def _sitter(answer: "SitterAnswer") -> SafeString:
    """Blur against time, over what is still sharp."""
    sway = Sway(
        times_s=answer.at_times_s,
        asked_mm=answer.at_times_mm,
        half_mm=answer.at_times_half_mm,
        allowed_mm=answer.sharp_mm.value or 0.0,
        planned_s=answer.exposure_s.value or 0.0,
        planned_mm=answer.sideways_mm.value or 0.0,
        longest_s=answer.longest_s.value,
        of_hundred=answer.of_hundred.value or 0.0,
    )
    return mark_safe(sway_curve(sway, SECOND.show, MILLIMETRE.show))  # noqa: S308 (drawn by report/sitter.py from numbers only)


def _cutting(answer: "CuttingAnswer") -> SafeString:
    """The sheet with its pieces and strips."""
    rows = zip(answer.part, answer.part_left_mm, answer.part_top_mm, answer.part_width_mm, answer.part_height_mm, strict=True)
    parts = [Part("piece" if kind == "piece" else "strip", *place) for kind, *place in rows]
    return mark_safe(cutting_drawn(parts))  # noqa: S308 (drawn by report/cutting.py from numbers only)


# By the answer's name: a page that draws nothing loads none of these questions.
DRAWN: Final[Mapping[str, Callable[[Any], SafeString]]] = {
    "CuttingAnswer": _cutting,
    "SceneAnswer": _scene,
    "SharpnessAnswer": _sharpness,
    "SitterAnswer": _sitter,
}
