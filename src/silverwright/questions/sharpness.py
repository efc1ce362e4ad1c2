"""Will it be sharp from near to far, and at which opening?"""

from collections.abc import Sequence
from math import asinh, hypot, log
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Answer, Estimate, Operation, Remark, refuse, remark
from silverwright.exposure.aperture import pinhole_blur_mm
from silverwright.exposure.focus import blue_shift_mm, f_number_for_blur, focus_for_paper, magnification_for_paper
from silverwright.exposure.optics import (
    added_blur_mm,
    best_f_number,
    defocus_mm,
    diffraction_mm,
    effective_f_number,
    falloff_stops,
    sharp_magnifications,
    subject_distance_mm,
)
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.aperture import ApertureFields, aperture_doubt, both_agree, f_number
from silverwright.questions.bellows import f_number_by_stop, pupil_of, stop_distance_mm, ways_of
from silverwright.questions.bluefocus import glass_shift
from silverwright.questions.entry import Unknown, around, around_stops, not_given
from silverwright.questions.marks import aperture_marks, mark_said
from silverwright.questions.setting import FAR_AWAY_MM, Setting, Spread, from_inverse, widest_f_number
from silverwright.records import Focus
from silverwright.units import F_NUMBER, MILLIMETRE, RATIO
from silverwright.vocabulary import EFFECTIVE_F, FOCAL_MM, MAGNIFICATION_FACTOR
from silverwright.vocabulary_lens import (
    AT_OPENING_F,
    AT_OPENING_MM,
    BEST_BLUR_MM,
    BEST_F,
    BLUE_SHIFT_PERCENT,
    BLUR_FAR_MM,
    BLUR_HERE_MM,
    BLUR_NEAR_MM,
    CORNER_MM,
    CORNER_STOPS,
    DEPTH_MM,
    DIFFRACTION_MM,
    FAR_SHARP_MM,
    FARTHEST_MM,
    FOCUS_AT_MM,
    FOCUS_SPREAD_MM,
    IN_FOCUS_MM,
    MOVE_BACK_MM,
    MOVEMENT_MM,
    NEAR_SHARP_MM,
    NEAREST_MM,
    SET_F,
    SHARP_MM,
    SPREAD_MM,
    STOP_MM,
    WIDEST_F,
)

WIDE_STOPS: Final = 5  # our judgement: few lenses of a view camera open wider than f/5.6
SMALL_STOPS: Final = 14  # our judgement: none closes beyond f/128
WIDEST_SHARE: Final = 0.9  # our judgement: a blur of nine tenths of the opening itself is where depth of field stops meaning anything
NO_WAY_MM: Final = 0.01  # our judgement: nobody moves a standard by less, so near and far are one place and every opening draws them alike


class SharpnessQuestion(ApertureFields):
    """The lens as it stands, what must be sharp, and how sharp."""

    sensitivity: Annotated[
        Literal["blue", "ortho"] | None,
        Choice(help="What the paper sees: blue alone, or blue and green (ortho; variable-contrast paper too).", example="blue", label="Paper sees"),
        Field(validate_default=True),
    ] = None
    sharp_mm: Annotated[float | None, SHARP_MM] = None
    nearest_mm: Annotated[float | None, NEAREST_MM] = None
    farthest_mm: Annotated[float | None, FARTHEST_MM] = None
    focus_spread_mm: Annotated[float | None, FOCUS_SPREAD_MM] = None
    movement_mm: Annotated[float | None, MOVEMENT_MM] = None
    blue_shift_percent: Annotated[float | None, BLUE_SHIFT_PERCENT] = None
    moved_for_blue: Annotated[
        Literal["no", "yes"], Choice(help="Whether the back was moved after focusing, for the blue that the paper sees.", example="no")
    ] = "no"
    corner_mm: Annotated[float | None, CORNER_MM] = None

    @field_validator("aperture_f")
    @classmethod
    def _one_opening(cls, aperture_f: float | None, seen: ValidationInfo) -> float | None:
        """Here an aperture may be missing: then the best one is told. A hole and an aperture must agree."""
        if aperture_f is None or seen.data.get("stop_mm") is None:
            return aperture_f
        return both_agree(aperture_f, seen)

    @field_validator("sensitivity")
    @classmethod
    def _a_lens_to_speak_of(cls, sensitivity: str | None, seen: ValidationInfo) -> str | None:
        """Depth needs the focal length; a pinhole its hole and the way to the paper."""
        given = seen.data
        if given.get("camera_kind", "pinhole") != "pinhole" and given.get("focal_mm", 0) is None:
            raise refuse(f"Needed. {FOCAL_MM.help}", field="focal_mm")
        if given.get("camera_kind") == "pinhole" and given.get("stop_mm", 0) is None:
            raise refuse(f"Needed. {STOP_MM.help}", field="stop_mm")
        if given.get("camera_kind") == "pinhole" and (given.get("extension_mm", 0), given.get("focal_mm", 0)) == (None, None):
            raise refuse("Needed: the way from the pinhole to the paper.", field="extension_mm")
        return sensitivity

    @field_validator("nearest_mm")
    @classmethod
    def _of_which_there_is_an_image(cls, nearest_mm: float | None, seen: ValidationInfo) -> float | None:
        focal_mm = seen.data.get("focal_mm")
        if nearest_mm is not None and focal_mm is not None and nearest_mm <= focal_mm and seen.data.get("camera_kind") != "pinhole":
            raise refuse(f"A lens of {MILLIMETRE.show(focal_mm)} makes no image of something as near as {MILLIMETRE.show(nearest_mm)}.")
        return nearest_mm

    @field_validator("farthest_mm")
    @classmethod
    def _behind_the_nearest(cls, farthest_mm: float | None, seen: ValidationInfo) -> float | None:
        nearest_mm = seen.data.get("nearest_mm")
        if farthest_mm is None:
            return None
        if nearest_mm is None and "nearest_mm" in seen.data:
            raise refuse("And what is the nearest that must be sharp?", field="nearest_mm")
        if nearest_mm is not None and farthest_mm < nearest_mm:
            raise refuse(f"The farthest, {MILLIMETRE.show(farthest_mm)}, is nearer than the nearest, {MILLIMETRE.show(nearest_mm)}.")
        return farthest_mm


class SharpnessAnswer(Answer):
    """From where to where it is sharp, how large a point becomes, and the opening that draws best."""

    table: ClassVar[tuple[str, ...]] = ("at_f", "at_mm")
    in_focus_mm: Annotated[Estimate | None, IN_FOCUS_MM] = None
    near_sharp_mm: Annotated[Estimate | None, NEAR_SHARP_MM] = None
    far_sharp_mm: Annotated[Estimate | None, FAR_SHARP_MM] = None
    depth_mm: Annotated[Estimate | None, DEPTH_MM] = None
    blur_here_mm: Annotated[Estimate | None, BLUR_HERE_MM] = None
    blur_near_mm: Annotated[Estimate | None, BLUR_NEAR_MM] = None
    blur_far_mm: Annotated[Estimate | None, BLUR_FAR_MM] = None
    diffraction_mm: Annotated[Estimate | None, DIFFRACTION_MM] = None
    best_f: Annotated[Estimate | None, BEST_F] = None
    best_mark: Annotated[str, Words(help="That on the aperture scale; a lens may end before.", example="f/64 and a third", label="On the scale")] = ""
    best_blur_mm: Annotated[Estimate | None, BEST_BLUR_MM] = None
    widest_f: Annotated[Estimate | None, WIDEST_F] = None
    focus_at_mm: Annotated[Estimate | None, FOCUS_AT_MM] = None
    spread_mm: Annotated[Estimate | None, SPREAD_MM] = None
    move_back_mm: Annotated[Estimate | None, MOVE_BACK_MM] = None
    corner_stops: Annotated[Estimate | None, CORNER_STOPS] = None
    effective_f: Annotated[Estimate | None, EFFECTIVE_F] = None
    magnification: Annotated[Estimate | None, MAGNIFICATION_FACTOR] = None
    set_f: Annotated[Estimate | None, SET_F] = None
    sharp_mm: Annotated[Estimate | None, SHARP_MM] = None
    at_f: Annotated[Sequence[float], AT_OPENING_F] = ()
    at_mm: Annotated[Sequence[float], AT_OPENING_MM] = ()


def wavelength_mm(sensitivity: str | None) -> float:
    """What the paper sees most of; blue where nobody says."""
    return fact("lens", f"wavelength_{sensitivity or 'blue'}").value


def answer(question: SharpnessQuestion) -> SharpnessAnswer:
    """A pinhole draws everything alike; a lens has a place that is sharpest, and a depth around it."""
    if question.camera_kind == "pinhole":
        return _pinhole(question)
    setting = _setting(question)
    figures = {**_focused(setting), **_depth(question, setting), **_blurs(question, setting), **_best(question, setting), **_moved(question, setting)}
    if question.corner_mm is not None:
        corner_mm = question.corner_mm
        figures["corner_stops"] = _told(*setting.of(lambda at: falloff_stops(corner_mm, at.focal_mm * (at.pupil_magnification + at.magnification))))
    at_f, at_mm = _by_opening(question, setting)
    told = SharpnessAnswer(
        magnification=around(setting.magnification, setting.magnification_sd, least=0.0) if ways_of(question) else None,
        set_f=None if setting.f_number is None else around_stops(setting.f_number, setting.aperture_sd_stops / 2),
        sharp_mm=Estimate(value=_sharp_mm(question)),
        best_mark=mark_said(found.value) if (found := figures.get("best_f")) and found.value else "",
        at_f=at_f,
        at_mm=at_mm,
        notes=_notes(question, setting, figures),
        sources=("jacobson1995, depth of field", "luong2000", fact("lens", "sharp_blur").says),
    )
    return told.model_copy(update=figures)


def _spread(question: SharpnessQuestion, setting: Setting) -> Spread | None:
    """What must be sharp; nothing where nobody says."""
    return setting.spread(question.nearest_mm, question.farthest_mm, question.focus_spread_mm)


def _setting(question: SharpnessQuestion) -> Setting:
    """What is known of the lens; where nothing says how near the subject is, it is far away."""
    ways, (pupil, pupil_sd, _) = ways_of(question), pupil_of(question)
    m, sd = (ways[0].magnification, ways[0].sd) if ways else (0.0, 0.0)
    known = question.aperture_f is not None or f_number_by_stop(question) is not None
    opened, doubt = (f_number(question), aperture_doubt(question)[1]) if known else (None, 0.0)
    return Setting(question.focal_mm or 0.0, m, sd, pupil, pupil_sd, opened, doubt)


def _told(value: float, sd: float) -> Estimate:
    """A figure that cannot be below nothing."""
    return around(value, sd, least=0.0)


def _blur(value_mm: float, sd_mm: float) -> Estimate:
    """A blur, for which adding squares is a rule of thumb."""
    return _told(value_mm, hypot(sd_mm, fact("lens", "blur_rule").sd * value_mm))


def _sharp_mm(question: SharpnessQuestion) -> float:
    return fact("lens", "sharp_blur").value if question.sharp_mm is None else question.sharp_mm


def _focused(setting: Setting) -> dict[str, Estimate]:
    """How far away the thing is that the eye focused on."""
    found = from_inverse(*setting.of(lambda at: at.magnification / (at.focal_mm * (1 + at.magnification))))
    return {} if found.value is None else {"in_focus_mm": found}


def _depth(question: SharpnessQuestion, setting: Setting) -> dict[str, Estimate]:
    """Nearest and farthest that is sharp on the paper, as the lens stands: told by its inverse, which is 0 at the horizon."""
    if setting.f_number is None:
        return {}
    blur_mm, share = _sharp_mm(question), _shift_share(question)[0]

    def inverse_per_mm(by_eye: Focus, end: int) -> float:
        at = focus_for_paper(by_eye, share)
        opened = min(blur_mm, WIDEST_SHARE * at.pupil_magnification * at.focal_mm / at.f_number)
        m = sharp_magnifications(at, opened)[end]
        return m / (at.focal_mm * (1 + m))

    near, far = (from_inverse(*setting.of(lambda at, end=end: inverse_per_mm(at, end))) for end in (0, 1))  # type: ignore[misc]
    found = {"near_sharp_mm": near}
    if far.value is not None or far.low is not None:
        found["far_sharp_mm"] = far
    if far.value is None or near.value is None:
        return found
    depth, sd = setting.of(lambda at: 1 / max(inverse_per_mm(at, 1), 1 / FAR_AWAY_MM) - 1 / inverse_per_mm(at, 0))
    return found | {
        "depth_mm": _told(depth, sd) if far.high is not None else Estimate(value=depth, low=max(0.0, (far.low or 0.0) - near.value), percent=80)
    }


def _blurs(question: SharpnessQuestion, setting: Setting) -> dict[str, Estimate]:
    """How large a point becomes where the lens is focused, and at the nearest and farthest that must be sharp."""
    if setting.f_number is None:
        return {}
    spread = _spread(question, setting)
    wave_mm, share, still = wavelength_mm(question.sensitivity), _shift_share(question)[0], question.movement_mm or 0.0

    def blur_mm(at: Focus, m: float | None) -> float:
        effective = effective_f_number(at.f_number, at.magnification, at.pupil_magnification)
        away = defocus_mm(focus_for_paper(at, share), magnification_for_paper(at.magnification if m is None else m, share))
        return added_blur_mm((away, diffraction_mm(effective, wave_mm), still))

    effective = setting.of(lambda at: effective_f_number(at.f_number, at.magnification, at.pupil_magnification))
    found = {
        "effective_f": _told(*effective),
        "diffraction_mm": _told(diffraction_mm(effective[0], wave_mm), effective[1] * diffraction_mm(1.0, wave_mm)),
        "blur_here_mm": _blur(*setting.of(lambda at: blur_mm(at, None))),
    }
    if spread is None:
        return found
    near, far = spread.near_magnification, spread.far_magnification
    return found | {"blur_near_mm": _blur(*setting.of(lambda at: blur_mm(at, near))), "blur_far_mm": _blur(*setting.of(lambda at: blur_mm(at, far)))}


def _best(question: SharpnessQuestion, setting: Setting) -> dict[str, Estimate]:
    """What to focus on, the opening that draws near and far best, and the widest that is sharp enough."""
    spread = _spread(question, setting)
    if spread is None:
        return {}
    found = {"spread_mm": _told(spread.rail_mm, spread.rail_sd_mm)}
    if question.nearest_mm is not None:
        middle = spread.middle_magnification
        found["focus_at_mm"] = around_stops(subject_distance_mm(middle, setting.focal_mm), fact("lens", "distance").sd / log(2))
    if spread.rail_mm < NO_WAY_MM:
        return found
    wave_mm, pupil = wavelength_mm(question.sensitivity), setting.pupil_factor
    behind = 1 + spread.middle_magnification / pupil
    best = best_f_number(spread.rail_mm, wave_mm)
    doubt = hypot(asinh(spread.rail_sd_mm / spread.rail_mm) / log(2), 2 / log(2) * setting.pupil_sd * (behind - 1) / behind)
    drawn_mm = hypot(f_number_for_blur(spread.rail_mm, best), diffraction_mm(best, wave_mm), question.movement_mm or 0.0)
    found |= {"best_f": around_stops(best / behind, doubt / 2), "best_blur_mm": _blur(drawn_mm, drawn_mm * doubt * log(2) / 2)}
    widest = widest_f_number(spread.rail_mm, _sharp_mm(question) ** 2 - (question.movement_mm or 0.0) ** 2, diffraction_mm(1.0, wave_mm))
    return found if widest is None else found | {"widest_f": around_stops(widest / behind, doubt)}


def _by_opening(question: SharpnessQuestion, setting: Setting) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """What a point near and far becomes at each full stop, focused between them."""
    spread = _spread(question, setting)
    if spread is None or spread.rail_mm < NO_WAY_MM:
        return (), ()
    behind, wave_mm = 1 + spread.middle_magnification / setting.pupil_factor, wavelength_mm(question.sensitivity)
    stops = {mark: 2 ** (stops / 2) for mark, stops in aperture_marks().items() if stops == round(stops) and WIDE_STOPS <= stops <= SMALL_STOPS}
    blurs = (
        added_blur_mm((spread.rail_mm / 2 / (f * behind), diffraction_mm(f * behind, wave_mm), question.movement_mm or 0.0)) for f in stops.values()
    )
    return tuple(stops), tuple(blurs)


def _shift_share(question: SharpnessQuestion) -> tuple[float, float]:
    """By which share the paper's focus is longer than the eye's, with its doubt; none where the back was moved for it."""
    if question.moved_for_blue == "yes":
        return 0.0, 0.0
    if question.blue_shift_percent is not None:
        return question.blue_shift_percent / 100, fact("lens", "blue_measured").sd
    return glass_shift() if question.camera_kind == "simple lens" else (0.0, 0.0)


def _moved(question: SharpnessQuestion, setting: Setting) -> dict[str, Estimate]:
    """How far to move the back for blue; towards the lens is negative."""
    share, sd = _shift_share(question)
    if share == 0:
        return {}
    moved = blue_shift_mm(share, setting.focal_mm, setting.magnification)
    return {"move_back_mm": around(moved, abs(moved) * sd / abs(share))}


def _notes(question: SharpnessQuestion, setting: Setting, found: dict[str, Estimate]) -> tuple[Remark, ...]:
    """What is not sharp, and what would help."""
    notes, wanted = [], MILLIMETRE.show(_sharp_mm(question))
    if not ways_of(question):
        notes.append(remark(Note.FAR_TAKEN))
    if "near_sharp_mm" in found and "far_sharp_mm" not in found:
        notes.append(remark(Note.HORIZON_SHARP))
    if (spread := _spread(question, setting)) is not None and spread.by_tape_mm is not None:
        agree = 2 * hypot(spread.rail_sd_mm, fact("lens", "distance").sd * spread.by_tape_mm)
        if abs(spread.rail_mm - spread.by_tape_mm) > agree:
            notes.append(remark(Note.SPREADS_DISAGREE, rail=MILLIMETRE.show(spread.rail_mm), tape=MILLIMETRE.show(spread.by_tape_mm)))
    moves = (question.movement_mm or 0.0) >= _sharp_mm(question)
    if moves:
        notes.append(remark(Note.MOVEMENT_BLURS, moved=MILLIMETRE.show(question.movement_mm or 0.0), wanted=wanted))
    if "best_blur_mm" in found and "widest_f" not in found and not moves:
        best, blur = F_NUMBER.show(found["best_f"].value or 0), MILLIMETRE.show(found["best_blur_mm"].value or 0)
        notes.append(remark(Note.NOT_ALL_SHARP, wanted=wanted, best=best, blur=blur))
    ends = [found[name].value or 0.0 for name in ("blur_near_mm", "blur_far_mm") if name in found]
    if "widest_f" in found and ends and max(ends) > _sharp_mm(question):
        notes.append(remark(Note.ENDS_UNSHARP, blur=MILLIMETRE.show(max(ends)), wanted=wanted, stop=F_NUMBER.show(found["widest_f"].value or 0)))
    if "move_back_mm" in found:
        moved = found["move_back_mm"].value or 0.0
        way = "towards the lens" if moved < 0 else "away from the lens"
        notes.append(remark(Note.MOVE_FOR_BLUE, way=way, moved=f"{abs(moved):.1f}\N{NO-BREAK SPACE}mm"))
    pupil, sd, m = setting.pupil_factor, setting.pupil_sd, setting.magnification
    if sd and m and setting.f_number is not None:
        lacks = 2 / log(2) * sd * m / (pupil + m)
        unknown = [Unknown(f"the pupil magnification ({RATIO.show(pupil)} is taken)", lacks)]
        notes.append(not_given(unknown, hypot(setting.aperture_sd_stops, lacks), setting.aperture_sd_stops))
    return tuple(notes)


def _pinhole(question: SharpnessQuestion) -> SharpnessAnswer:
    """Everything is drawn alike, from near to the horizon: the hole's own shadow, and its diffraction."""
    distance_mm = stop_distance_mm("pinhole", question.focal_mm, question.extension_mm) or 0.0
    hole_mm, wave_mm = question.stop_mm or 0.0, wavelength_mm(question.sensitivity)
    opened, off = f_number_by_stop(question) or (0.0, 0.0)
    still = question.movement_mm or 0.0

    def blur(subject_mm: float) -> Estimate:
        drawn = added_blur_mm((pinhole_blur_mm(hole_mm, distance_mm, subject_mm, wave_mm), still))
        return _blur(drawn, drawn * off * log(2) / 2)

    named = question.nearest_mm is not None
    return SharpnessAnswer(
        blur_near_mm=blur(question.nearest_mm or 0.0) if named else None,
        blur_far_mm=blur(question.farthest_mm or FAR_AWAY_MM) if named else None,
        blur_here_mm=blur(question.subject_mm or FAR_AWAY_MM),
        diffraction_mm=around_stops(diffraction_mm(opened, wave_mm), off / 2),
        effective_f=around_stops(opened, off / 2),
        corner_stops=None if question.corner_mm is None else _told(falloff_stops(question.corner_mm, distance_mm), 0.0),
        notes=(remark(Note.PINHOLE_ALIKE),),
        sources=("altphoto1997, message 0646",),
    )


SHARPNESS: Final = Operation(
    name="exposure.sharpness",
    version=1,
    asks="Will it be sharp from near to far, and at which opening?",
    question=SharpnessQuestion,
    answer=SharpnessAnswer,
    compute=answer,
    examples={
        "still life at 1:2": {"focal_mm": 210, "extension_mm": 315, "aperture_f": "f/22", "nearest_mm": 590, "farthest_mm": 690},
        "by the rail": {"focal_mm": 210, "magnification_factor": 0.1, "focus_spread_mm": 6, "sharp_mm": 0.2, "corner_mm": 81},
        "single glass": {"camera_kind": "simple lens", "focal_mm": 180, "stop_mm": 12, "subject_mm": "2 m"},
        "pinhole": {"camera_kind": "pinhole", "extension_mm": 150, "stop_mm": 0.4, "nearest_mm": 500},
    },
)
