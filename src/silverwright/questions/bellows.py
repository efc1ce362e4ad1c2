"""How much longer do I expose because the lens is racked out?"""

from dataclasses import replace
from math import hypot, sqrt
from typing import Annotated, Final, Literal, NamedTuple

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Operation, Question, Remark, refuse, remark
from silverwright.exposure.aperture import f_number_of_stop, stop_doubt_stops
from silverwright.exposure.bellows import (
    bellows_doubt_stops,
    bellows_stops,
    magnification_from_distance,
    magnification_from_extension,
    magnification_from_ground_glass,
    magnification_from_infinity,
)
from silverwright.exposure.shutter import true_f_number
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Entry, Remedy, Unknown, around, around_stops, not_given, stops_said
from silverwright.questions.marks import aperture_marks
from silverwright.records import Stops
from silverwright.units import MILLIMETRE, RATIO
from silverwright.vocabulary import (
    APERTURE_F,
    BELLOWS_FACTOR,
    BELLOWS_STOPS,
    EFFECTIVE_F,
    EXTENSION_MM,
    FOCAL_MM,
    IMAGE_SIZE_MM,
    MAGNIFICATION_FACTOR,
    PUPIL_FACTOR,
    RULER_SD_MM,
    SUBJECT_MM,
    SUBJECT_SIZE_MM,
)
from silverwright.vocabulary_lens import INFINITY_EXTENSION_MM, STOP_MM, STOP_SD_MM, TARGET_IMAGE_MM, TARGET_MM

SOURCE: Final = "greivenkamp2004, p. 29"
USUAL_FOCAL_MM: Final = 150.0  # our judgement: the usual lens of a 4x5 camera, where nobody says which
LIFE_SIZE: Final = 0.995  # arithmetic: shown as 1
SHORTEST_SHARE: Final = 0.33  # our judgement: even a telephoto lens stands half its focal length away; a third of it is a slip
TWO_FIT_FROM: Final = 0.5  # our judgement: from half life size on somebody may have meant the other magnification, twice life size
CameraKind = Literal["ordinary lens", "telephoto lens", "simple lens", "pinhole", "box camera"]
CAMERA_KIND: Final = Choice(
    help="An ordinary one; a telephoto lens; a simple lens of one glass; a pinhole; that of a box camera, which nobody focuses.",
    example="ordinary lens",
    label="Kind of lens",
)
HALVES: Final = {  # what belongs together, and what is asked for when its other half is missing
    "subject_size_mm": ("image_size_mm", "An image size alone says nothing: how large is that thing itself?", "How large is it on the ground glass?"),
    "target_mm": ("target_image_mm", "How long is the target itself, as printed?", "How long is the target on the ground glass?"),
}


class LensFields(Question):
    """The lens and what says how near the subject is: any one way is enough, a second one is a check."""

    camera_kind: Annotated[CameraKind, CAMERA_KIND] = "ordinary lens"
    focal_mm: Annotated[float | None, FOCAL_MM] = None
    infinity_extension_mm: Annotated[float | None, INFINITY_EXTENSION_MM] = None
    extension_mm: Annotated[float | None, EXTENSION_MM] = None
    distance_from: Annotated[
        Literal["lens", "ground glass"],
        Choice(help="Where the distance is measured from; focusing scales of many cameras count from the ground glass.", example="lens"),
    ] = "lens"
    subject_mm: Annotated[float | None, SUBJECT_MM] = None
    image_size_mm: Annotated[float | None, IMAGE_SIZE_MM] = None
    subject_size_mm: Annotated[float | None, SUBJECT_SIZE_MM, Field(validate_default=True)] = None
    target_image_mm: Annotated[float | None, TARGET_IMAGE_MM] = None
    target_mm: Annotated[float | None, TARGET_MM, Field(validate_default=True)] = None
    magnification_factor: Annotated[float | None, MAGNIFICATION_FACTOR] = None
    pupil_factor: Annotated[float | None, PUPIL_FACTOR] = None
    ruler_sd_mm: Annotated[float | None, RULER_SD_MM] = None
    stop_mm: Annotated[float | None, STOP_MM] = None
    stop_sd_mm: Annotated[float | None, STOP_SD_MM] = None

    @field_validator("extension_mm")
    @classmethod
    def _beyond_infinity(cls, extension_mm: float | None, seen: ValidationInfo) -> float | None:
        far_mm, focal_mm = seen.data.get("infinity_extension_mm"), seen.data.get("focal_mm")
        shortest_mm = 0.0 if focal_mm is None or seen.data.get("camera_kind") == "pinhole" else SHORTEST_SHARE * focal_mm
        if extension_mm is not None and focal_mm is not None and extension_mm < shortest_mm:
            now, lens = MILLIMETRE.show(extension_mm), MILLIMETRE.show(focal_mm)
            raise refuse(f"No lens of {lens} stands as near to the ground glass as {now}. Are these centimetres? Write {extension_mm:g} cm.")
        if extension_mm is not None and far_mm is not None and extension_mm < far_mm - fact("lens", "ruler").sd:
            now, far = MILLIMETRE.show(extension_mm), MILLIMETRE.show(far_mm)
            raise refuse(f"The extension, {now}, is shorter than at infinity, {far}: beyond infinity nothing is sharp. Correct one of them.")
        return extension_mm

    @field_validator("subject_mm")
    @classmethod
    def _beyond_the_focal_length(cls, subject_mm: float | None, seen: ValidationInfo) -> float | None:
        focal_mm, kind = seen.data.get("focal_mm"), seen.data.get("camera_kind")
        if subject_mm is None or focal_mm is None or kind == "pinhole":
            return subject_mm
        lens = f"lens of {MILLIMETRE.show(focal_mm)}"
        if seen.data.get("distance_from") == "ground glass" and subject_mm < 4 * focal_mm:
            nearest = MILLIMETRE.show(4 * focal_mm)
            raise refuse(f"Subject and ground glass are never nearer than {nearest} with a {lens}. Measured from the lens? Then say so.")
        if subject_mm <= focal_mm:
            raise refuse(f"No {lens} makes an image of something nearer than that. Measure from the lens board.")
        return subject_mm

    @field_validator("subject_size_mm", "target_mm")
    @classmethod
    def _both_halves(cls, size_mm: float | None, seen: ValidationInfo) -> float | None:
        other, asks, asks_other = HALVES[str(seen.field_name)]
        if size_mm is None and seen.data.get(other) is not None:
            raise refuse(asks)
        if size_mm is not None and other in seen.data and seen.data[other] is None:
            raise refuse(asks_other, field=other)
        return size_mm


class Way(NamedTuple):
    """One way to the magnification, in words, and its doubt."""

    said: str
    magnification: float
    sd: float


def ways_of(question: LensFields) -> list[Way]:
    """Every way that the given measures allow, the most trusted first."""
    ways, size = [], fact("lens", "size").sd
    if (m := question.magnification_factor) is not None:
        ways.append(Way(f"Magnification {RATIO.show(m)}", m, size * m))
    if question.target_image_mm is not None and question.target_mm is not None:
        glass, printed = fact("lens", "glass").sd, fact("lens", "target").sd
        m = question.target_image_mm / question.target_mm
        said = f"Target of {MILLIMETRE.show(question.target_mm)} as {MILLIMETRE.show(question.target_image_mm)}"
        ways.append(Way(said, m, m * hypot(glass / question.target_image_mm, printed / question.target_mm)))
    if question.image_size_mm is not None and question.subject_size_mm is not None:
        m = question.image_size_mm / question.subject_size_mm
        said = f"Image {MILLIMETRE.show(question.image_size_mm)} of {MILLIMETRE.show(question.subject_size_mm)}"
        ways.append(Way(said, m, size * m))
    return ways + _by_focal_length(question)


def _by_focal_length(question: LensFields) -> list[Way]:
    """The ways that need the focal length: from infinity for every lens, by board and distance where the board stands at the principal planes."""
    focal_mm, extension_mm, far_mm, ruler_mm = question.focal_mm, question.extension_mm, question.infinity_extension_mm, _ruler_mm(question)
    ways: list[Way] = []
    if focal_mm is None or question.camera_kind == "pinhole":
        return ways
    if extension_mm is not None and far_mm is not None:
        m = magnification_from_infinity(max(extension_mm, far_mm), far_mm, focal_mm)
        said = f"Extension {MILLIMETRE.show(extension_mm)}, at infinity {MILLIMETRE.show(far_mm)}, on {MILLIMETRE.show(focal_mm)}"
        ways.append(Way(said, m, fact("lens", "infinity").sd * sqrt(2) / focal_mm))
    if _planes_elsewhere(question):
        return ways
    if extension_mm is not None and far_mm is None:
        m = magnification_from_extension(max(extension_mm, focal_mm), focal_mm)
        ways.append(Way(f"Extension {MILLIMETRE.show(extension_mm)} on {MILLIMETRE.show(focal_mm)}", m, ruler_mm / focal_mm))
    if question.subject_mm is not None:
        m, sd = _by_distance(question, question.subject_mm, focal_mm)
        ways.append(Way(f"Distance {MILLIMETRE.show(question.subject_mm)} on {MILLIMETRE.show(focal_mm)}", m, sd))
    return ways


def _by_distance(question: LensFields, subject_mm: float, focal_mm: float) -> tuple[float, float]:
    """The magnification by the tape, and its doubt: near life size two fit a distance from the ground glass, and slopes say nothing."""
    share = fact("lens", "distance").sd
    if question.distance_from == "lens":
        m = magnification_from_distance(subject_mm, focal_mm)
        return m, m**2 / focal_mm * subject_mm * share
    m = magnification_from_ground_glass(subject_mm, focal_mm)
    return m, m - magnification_from_ground_glass(subject_mm * (1 + share), focal_mm)


def _two_fit(question: LensFields, used: Way) -> list[Remark]:
    """A distance from the ground glass that life size is near: the larger magnification fits as well."""
    by_glass = question.distance_from == "ground glass" and used.said.startswith("Distance")
    if not by_glass or not TWO_FIT_FROM < used.magnification < LIFE_SIZE:
        return []
    return [remark(Note.TWO_FIT, one=RATIO.show(used.magnification), other=RATIO.show(1 / used.magnification))]


def _ruler_mm(question: LensFields) -> float:
    return fact("lens", "ruler").sd if question.ruler_sd_mm is None else question.ruler_sd_mm


def _planes_elsewhere(question: LensFields) -> bool:
    """A telephoto lens, said to be one or shorter than its focal length by more than the ruler can be wrong: its board tells nothing."""
    if question.camera_kind == "telephoto lens":
        return True
    if question.focal_mm is None or question.extension_mm is None or question.infinity_extension_mm is not None:
        return False
    return question.extension_mm < question.focal_mm - 2 * _ruler_mm(question)


def needs_no_bellows(question: LensFields) -> bool:
    """A pinhole, or a hole whose f-number counts from the way to the paper: the extension is in it already."""
    by_the_way = question.stop_mm is not None and question.focal_mm is None and question.extension_mm is not None
    return question.camera_kind == "pinhole" or by_the_way


def stop_distance_mm(kind: CameraKind, focal_mm: float | None, extension_mm: float | None) -> float | None:
    """From where the f-number of a hole counts: its focal length, or the way to the paper where it has none."""
    return next((one for one in ((extension_mm, focal_mm) if kind == "pinhole" else (focal_mm, extension_mm)) if one is not None), None)


def f_number_by_stop(question: LensFields) -> tuple[float, float] | None:
    """The f-number of a hole that was measured, and its doubt in stops; nothing where no hole was, or not its distance."""
    distance_mm = stop_distance_mm(question.camera_kind, question.focal_mm, question.extension_mm)
    if question.stop_mm is None or distance_mm is None:
        return None
    usual = min(fact("lens", "stop_ruler").sd, fact("lens", "stop_share").sd * question.stop_mm)
    sd_mm = usual if question.stop_sd_mm is None else question.stop_sd_mm
    by_ruler = _ruler_mm(question) if distance_mm is question.extension_mm else 0.0
    return f_number_of_stop(distance_mm, question.stop_mm), stop_doubt_stops(distance_mm, by_ruler, question.stop_mm, sd_mm)


def pupil_of(question: LensFields) -> tuple[float, float, str]:
    """The pupil magnification, the doubt of its logarithm where nobody measured it, and what is taken then, in words."""
    if question.pupil_factor is not None:
        return question.pupil_factor, 0.0, ""
    usual = fact("lens", {"telephoto lens": "pupil_telephoto", "simple lens": "pupil_simple"}.get(question.camera_kind, "pupil"))
    return usual.value, usual.sd, "pupils taken as equal" if usual.value == 1 else f"pupil magnification {RATIO.show(usual.value)} taken"


def bellows_entry(question: LensFields) -> Entry:
    """The bellows line of the ledger, with what disagrees and what was not given."""
    if needs_no_bellows(question):
        return Entry("The way to the paper is in the f-number: no bellows", Stops(0.0), "jacobson1995, Q3", "published", called="The bellows")
    ways = ways_of(question)
    notes = [remark(Note.SHORT_EXTENSION)] if _says_nothing(question) else []
    if not ways:
        return _nothing_said(question, notes)
    used = ways[0]
    pupil, pupil_sd, taken = pupil_of(question)
    stops = bellows_stops(used.magnification, pupil)
    for other in ways[1:]:
        apart = abs(bellows_stops(other.magnification, pupil) - stops)
        if apart > fact("meter", "agree").value:
            notes.append(remark(Note.ROUTES_DISAGREE, first=used.said, second=other.said[0].lower() + other.said[1:], stops=stops_said(apart)))
    notes += [remark(Note.AT_INFINITY)] if used.magnification == 0 else _two_fit(question, used)
    known = bellows_doubt_stops(used.magnification, used.sd, pupil)
    lacks = bellows_doubt_stops(used.magnification, 0.0, pupil, pupil_sd)
    if lacks == 0:
        return Entry(used.said, Stops(stops, known), SOURCE, "published", tuple(notes), called="The bellows", remedy=_surer(question, used))
    unknown = (Unknown(f"the pupil magnification ({RATIO.show(pupil)} is taken)", lacks),)
    whole = bellows_doubt_stops(used.magnification, used.sd, pupil, pupil_sd)
    surer = Remedy("both pupils of the lens, measured,", known) if lacks > known else _surer(question, used)
    line = Entry(used.said, Stops(stops, whole), SOURCE, "published", tuple(notes), unknown, taken)
    return replace(line, called="The bellows", remedy=surer)


def _surer(question: LensFields, used: Way) -> Remedy | None:
    """A printed ruler in the scene, where that is surer than the way that was used."""
    m, (pupil, pupil_sd, _) = used.magnification, pupil_of(question)
    if m == 0:
        return None
    glass, printed, long = fact("lens", "glass").sd, fact("lens", "target").sd, fact("lens", "target").value
    by_target = bellows_doubt_stops(m, m * hypot(glass / (m * long), printed / long), pupil, pupil_sd)
    return Remedy("a ruler target in the scene, measured on the ground glass,", by_target)


def _says_nothing(question: LensFields) -> bool:
    """An extension that was given for nothing."""
    return question.extension_mm is not None and question.infinity_extension_mm is None and _planes_elsewhere(question)


def _nothing_said(question: LensFields, notes: list[Remark]) -> Entry:
    """Nothing says how near the subject is: a box camera has a usual distance, any other is taken as far away."""
    ruler = Remedy("the extension by ruler", bellows_doubt_stops(0.0, _ruler_mm(question) / (question.focal_mm or USUAL_FOCAL_MM)))
    if question.camera_kind == "box camera":
        fixed, (pupil, pupil_sd, _) = fact("lens", "box_focus"), pupil_of(question)
        stops = Stops(bellows_stops(fixed.value, pupil), bellows_doubt_stops(fixed.value, fixed.sd, pupil, pupil_sd))
        unknown = (Unknown("how near the box camera is focused (a portrait is taken)", stops.doubt_stops),)
        line = Entry("Box camera, focused for a portrait", stops, fixed.says, fixed.rests, tuple(notes), unknown)
        return replace(line, called="The bellows", remedy=ruler)
    far = fact("lens", "unknown_extension")
    if question.focal_mm is None and (question.extension_mm is not None or question.subject_mm is not None):
        notes.append(remark(Note.FOCAL_UNKNOWN, sd=f"{far.sd:.2f}"))
    elif not notes:
        notes.append(remark(Note.EXTENSION_UNKNOWN, sd=f"{far.sd:.2f}"))
    unknown = (Unknown("how near the subject is (far away is taken)", far.sd),)
    line = Entry("No bellows correction", Stops(0.0, far.sd), far.says, "judgement", tuple(notes), unknown)
    return replace(line, called="The bellows", remedy=ruler)


class BellowsQuestion(LensFields):
    """The lens, how near the subject is, and if wanted the aperture."""

    aperture_f: Annotated[float | None, APERTURE_F] = None


class BellowsAnswer(Answer):
    """How much longer."""

    factor: Annotated[Estimate, BELLOWS_FACTOR]
    bellows_stops: Annotated[Estimate, BELLOWS_STOPS]
    magnification: Annotated[Estimate, MAGNIFICATION_FACTOR]
    effective_f: Annotated[Estimate, EFFECTIVE_F] = Field(default_factory=Estimate)


def answer(question: BellowsQuestion) -> BellowsAnswer:
    """Magnification by the best way given, then the factor and its doubt."""
    entry = bellows_entry(question)
    stops, doubt = entry.stops.amount_stops, entry.stops.doubt_stops
    ways = ways_of(question)
    notes = list(entry.notes)
    if ways and entry.unknown and entry.stops.doubt_stops > 0:
        known = bellows_doubt_stops(ways[0].magnification, ways[0].sd, pupil_of(question)[0])
        notes.append(not_given(entry.unknown, doubt, known))
    by_stop, effective = f_number_by_stop(question), Estimate()
    if by_stop is not None:
        effective = around_stops(by_stop[0] * 2 ** (stops / 2), hypot(by_stop[1], doubt) / 2)
    elif question.aperture_f is not None:
        effective = around_stops(true_f_number(question.aperture_f, aperture_marks()) * 2 ** (stops / 2), doubt / 2)
    return BellowsAnswer(
        factor=around_stops(2**stops, doubt),
        bellows_stops=around(stops, doubt, least=0.0),
        magnification=around(ways[0].magnification, ways[0].sd, least=0.0) if ways else Estimate(),
        effective_f=effective,
        ledger=(entry.line,),
        notes=tuple(notes),
        sources=(entry.source,),
    )


BELLOWS: Final = Operation(
    name="exposure.bellows",
    version=2,
    asks="How much longer do I expose because the lens is racked out?",
    question=BellowsQuestion,
    answer=BellowsAnswer,
    compute=answer,
    examples={
        "half life size": {"focal_mm": 210, "extension_mm": 315},
        "by sizes": {"image_size_mm": "8 in", "subject_size_mm": "12 in", "pupil_factor": 1},
        "ruler target": {"target_mm": 200, "target_image_mm": 64, "aperture_f": "f/16"},
        "telephoto lens from infinity": {"camera_kind": "telephoto lens", "focal_mm": 360, "infinity_extension_mm": 240, "extension_mm": 312},
        "focusing scale": {"focal_mm": 150, "subject_mm": "1.5 m", "distance_from": "ground glass"},
        "pinhole": {"camera_kind": "pinhole", "extension_mm": 150, "stop_mm": 0.4},
        "box camera": {"camera_kind": "box camera", "focal_mm": 150, "stop_mm": 9},
        "two ways": {"focal_mm": 210, "extension_mm": 315, "subject_mm": "0.45 m", "aperture_f": "f/22"},
    },
)
