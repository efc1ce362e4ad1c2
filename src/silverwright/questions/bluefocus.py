"""Does my lens focus the blue that the paper sees where the eye sees it sharp? A slanted ruler tells."""

from math import cos, hypot, radians, sin
from typing import Annotated, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.operation import Answer, Estimate, Operation, Question, refuse, remark
from silverwright.exposure.focus import blue_shift_mm, shift_from_ruler, shift_of_one_glass
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import around
from silverwright.units import MILLIMETRE
from silverwright.vocabulary import FOCAL_MM, MAGNIFICATION_FACTOR
from silverwright.vocabulary_lens import (
    BLUE_SHIFT_PERCENT,
    FOCUSED_MARK_MM,
    MARK_SD_MM,
    MOVE_BACK_MM,
    RULER_DISTANCE_MM,
    SHARPEST_MARK_MM,
    SLANT_DEG,
    SLID_MM,
)

USUAL_SLANT_DEG: Final = 45.0  # our judgement: the diagonal of a set square
MILLIMETRE_LEFT: Final = 1.0  # our judgement: nothing is photographed nearer to the glass than that


def glass_shift() -> tuple[float, float]:
    """What a single crown glass does to blue, as a share of its focal length, and how unsure that is."""
    eye, paper, glass = fact("lens", "crown_eye"), fact("lens", "crown_paper"), fact("lens", "crown_other")
    return shift_of_one_glass(eye.value, paper.value), glass.sd


class BlueFocusQuestion(Question):
    """A ruler that lies slanted before the lens: the mark that the eye focused on, and the one that came out sharpest."""

    focal_mm: Annotated[float, FOCAL_MM]
    ruler_distance_mm: Annotated[float, RULER_DISTANCE_MM]
    focused_mark_mm: Annotated[float, FOCUSED_MARK_MM]
    sharpest_mark_mm: Annotated[float, SHARPEST_MARK_MM]
    slant_deg: Annotated[float, SLANT_DEG] = USUAL_SLANT_DEG
    mark_sd_mm: Annotated[float | None, MARK_SD_MM] = None
    magnification_factor: Annotated[float | None, MAGNIFICATION_FACTOR, Field(validate_default=True)] = None

    @field_validator("ruler_distance_mm")
    @classmethod
    def _beyond_the_focal_length(cls, ruler_distance_mm: float, seen: ValidationInfo) -> float:
        focal_mm = seen.data.get("focal_mm")
        if focal_mm is not None and ruler_distance_mm <= focal_mm:
            raise refuse(f"No lens of {MILLIMETRE.show(focal_mm)} makes an image of a ruler as near as that.")
        return ruler_distance_mm

    @field_validator("magnification_factor")
    @classmethod
    def _before_the_lens(cls, magnification_factor: float | None, seen: ValidationInfo) -> float | None:
        given = seen.data
        if {"ruler_distance_mm", "focused_mark_mm", "sharpest_mark_mm", "slant_deg"} <= given.keys():
            along = (given["sharpest_mark_mm"] - given["focused_mark_mm"]) * cos(radians(given["slant_deg"]))
            if given["ruler_distance_mm"] + along <= 0:
                raise refuse(
                    "So far before the focused mark lies the lens itself. Do the numbers of the ruler grow away from it?", "sharpest_mark_mm"
                )
        return magnification_factor


class BlueFocusAnswer(Answer):
    """How much shorter or longer the lens is for the paper, and how far to move the back after focusing."""

    blue_shift_percent: Annotated[Estimate, BLUE_SHIFT_PERCENT]
    move_back_mm: Annotated[Estimate, MOVE_BACK_MM]
    slid_mm: Annotated[Estimate, SLID_MM]


def answer(question: BlueFocusQuestion) -> BlueFocusAnswer:
    """The ruler's marks as distances along the axis; both focal lengths share one extension."""
    usual = fact("lens", "sharpest_mark")
    slant, mark_sd = radians(question.slant_deg), usual.sd if question.mark_sd_mm is None else question.mark_sd_mm
    slid = (question.sharpest_mark_mm - question.focused_mark_mm) * cos(slant)
    sd = hypot(mark_sd * cos(slant), sin(slant) * fact("lens", "slant").sd * (question.sharpest_mark_mm - question.focused_mark_mm))

    def share_of(sharpest_mm: float) -> float:
        return shift_from_ruler(question.ruler_distance_mm, max(sharpest_mm, MILLIMETRE_LEFT), question.focal_mm)

    at = question.ruler_distance_mm + slid
    share, share_sd = share_of(at), abs(share_of(at + sd) - share_of(at - sd)) / 2
    m = question.magnification_factor
    if m is None:
        m = question.focal_mm / (question.ruler_distance_mm - question.focal_mm)
    moved, moved_sd = (blue_shift_mm(one, question.focal_mm, m) for one in (share, share_sd))
    seen = abs(share) > 2 * share_sd
    shown, way = f"{100 * share:.2f}".replace("-", "\N{MINUS SIGN}"), "shorter" if share < 0 else "longer"
    note = remark(Note.SHIFT_SEEN, size=f"{abs(100 * share):.2f}", way=way, percent=shown) if seen else remark(Note.SHIFT_NOT_SEEN)
    return BlueFocusAnswer(
        blue_shift_percent=around(100 * share, 100 * share_sd),
        move_back_mm=around(moved, moved_sd),
        slid_mm=around(slid, sd),
        notes=(note,),
        sources=("our judgement", "refractiveindex2010, BK7"),
    )


BLUE_FOCUS: Final = Operation(
    name="exposure.blue-focus",
    version=1,
    asks="Where does my lens focus the blue that the paper sees?",
    question=BlueFocusQuestion,
    answer=BlueFocusAnswer,
    compute=answer,
    examples={
        "a single glass": {"focal_mm": 180, "ruler_distance_mm": 900, "focused_mark_mm": 100, "sharpest_mark_mm": 15},
        "a corrected lens": {"focal_mm": 210, "ruler_distance_mm": 1000, "focused_mark_mm": 100, "sharpest_mark_mm": 98, "magnification_factor": 0.5},
    },
)
