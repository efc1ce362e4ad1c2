"""The answers that are easier to look at than to read, drawn."""

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.operation import Answer
from silverwright.questions.scene import SceneAnswer, is_lost
from silverwright.report.scene import PartDrawn, scene_scale


def picture(answer: Answer) -> SafeString:
    """The drawing that belongs to an answer, or nothing."""
    return _scene(answer) if isinstance(answer, SceneAnswer) else SafeString("")


def _scene(answer: SceneAnswer) -> SafeString:
    """Each part on the scale of stops, over what the paper tells apart."""
    columns = zip(answer.parts, answer.part_stops, answer.part_density, answer.happens, strict=True)
    parts = [PartDrawn(name, above, density, kept=not is_lost(happens)) for name, above, density, happens in columns]
    drawn = scene_scale(parts, answer.shadow_end_stops.value or 0.0, answer.highlight_end_stops.value or 0.0)
    return mark_safe(drawn)  # noqa: S308 (drawn by report/scene.py from numbers, and names that it escapes)
