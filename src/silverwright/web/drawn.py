"""The answers that are easier to look at than to read, drawn."""

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.operation import Answer
from silverwright.questions.scene import SceneAnswer, is_lost
from silverwright.questions.sitter import SitterAnswer
from silverwright.report.scene import PartDrawn, scene_scale
from silverwright.report.sitter import Sway, sway_curve
from silverwright.units import MILLIMETRE, SECOND


def picture(answer: Answer) -> SafeString:
    """The drawing that belongs to an answer, or nothing."""
    if isinstance(answer, SitterAnswer):
        return _sitter(answer)
    return _scene(answer) if isinstance(answer, SceneAnswer) else SafeString("")


def _scene(answer: SceneAnswer) -> SafeString:
    """Each part on the scale of stops, over what the paper tells apart."""
    columns = zip(answer.parts, answer.part_stops, answer.part_density, answer.happens, strict=True)
    parts = [PartDrawn(name, above, density, kept=not is_lost(happens)) for name, above, density, happens in columns]
    drawn = scene_scale(parts, answer.shadow_end_stops.value or 0.0, answer.highlight_end_stops.value or 0.0)
    return mark_safe(drawn)  # noqa: S308 (drawn by report/scene.py from numbers, and names that it escapes)


def _sitter(answer: SitterAnswer) -> SafeString:
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
