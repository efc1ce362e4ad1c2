"""How much longer do I expose because the lens is racked out?"""

from dataclasses import replace
from typing import Annotated, Final, NamedTuple

from pydantic import ValidationInfo, field_validator

from silverwright.asking.operation import Answer, Estimate, Operation, Question, refuse, remark
from silverwright.exposure.bellows import (
    bellows_doubt_stops,
    bellows_stops,
    magnification_from_distance,
    magnification_from_extension,
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

SOURCE: Final = "greivenkamp2004, p. 29"
USUAL_FOCAL_MM: Final = 150.0  # our judgement: the usual lens of a 4x5 camera, where nobody says which


class LensFields(Question):
    """The lens and what says how near the subject is: any one way is enough, a second one is a check."""

    focal_mm: Annotated[float | None, FOCAL_MM] = None
    extension_mm: Annotated[float | None, EXTENSION_MM] = None
    subject_mm: Annotated[float | None, SUBJECT_MM] = None
    image_size_mm: Annotated[float | None, IMAGE_SIZE_MM] = None
    subject_size_mm: Annotated[float | None, SUBJECT_SIZE_MM] = None
    magnification_factor: Annotated[float | None, MAGNIFICATION_FACTOR] = None
    pupil_factor: Annotated[float | None, PUPIL_FACTOR] = None
    ruler_sd_mm: Annotated[float | None, RULER_SD_MM] = None

    @field_validator("subject_mm")
    @classmethod
    def _beyond_the_focal_length(cls, subject_mm: float | None, seen: ValidationInfo) -> float | None:
        focal_mm = seen.data.get("focal_mm")
        if subject_mm is not None and focal_mm is not None and subject_mm <= focal_mm:
            raise refuse(f"No lens of {MILLIMETRE.show(focal_mm)} makes an image of something nearer than that. Measure from the lens board.")
        return subject_mm


class Way(NamedTuple):
    """One way to the magnification, in words, and its doubt."""

    said: str
    magnification: float
    sd: float


def ways_of(question: LensFields) -> list[Way]:
    """Every way that the given measures allow, the most trusted first."""
    focal_mm, extension_mm = question.focal_mm, question.extension_mm
    size, ruler_mm = fact("lens", "size").sd, _ruler_mm(question)
    ways = []
    if (m := question.magnification_factor) is not None:
        ways.append(Way(f"Magnification {RATIO.show(m)}", m, size * m))
    if question.image_size_mm is not None and question.subject_size_mm is not None:
        m = question.image_size_mm / question.subject_size_mm
        said = f"Image {MILLIMETRE.show(question.image_size_mm)} of {MILLIMETRE.show(question.subject_size_mm)}"
        ways.append(Way(said, m, size * m))
    if focal_mm is not None and extension_mm is not None and not _short(question):
        m = magnification_from_extension(max(extension_mm, focal_mm), focal_mm)
        ways.append(Way(f"Extension {MILLIMETRE.show(extension_mm)} on {MILLIMETRE.show(focal_mm)}", m, ruler_mm / focal_mm))
    if focal_mm is not None and question.subject_mm is not None and not _short(question):
        m = magnification_from_distance(question.subject_mm, focal_mm)
        sd = m**2 / focal_mm * question.subject_mm * fact("lens", "distance").sd
        ways.append(Way(f"Distance {MILLIMETRE.show(question.subject_mm)} on {MILLIMETRE.show(focal_mm)}", m, sd))
    return ways


def _ruler_mm(question: LensFields) -> float:
    return fact("lens", "ruler").sd if question.ruler_sd_mm is None else question.ruler_sd_mm


def _short(question: LensFields) -> bool:
    """Shorter than the focal length by more than the ruler can be wrong: a telephoto lens."""
    if question.focal_mm is None or question.extension_mm is None:
        return False
    return question.extension_mm < question.focal_mm - 2 * _ruler_mm(question)


def bellows_entry(question: LensFields) -> Entry:
    """The bellows line of the ledger, with what disagrees and what was not given."""
    notes = [remark(Note.SHORT_EXTENSION)] if _short(question) else []
    ways = ways_of(question)
    if not ways:
        sd = fact("lens", "unknown_extension").sd
        if not notes:
            notes.append(remark(Note.EXTENSION_UNKNOWN, sd=f"{sd:.2f}"))
        unknown = (Unknown("how near the subject is (far away is taken)", sd),)
        ruler = Remedy("the extension by ruler", bellows_doubt_stops(0.0, _ruler_mm(question) / (question.focal_mm or USUAL_FOCAL_MM)))
        line = Entry("No bellows correction", Stops(0.0, sd), fact("lens", "unknown_extension").says, "judgement", tuple(notes), unknown)
        return replace(line, called="The bellows", remedy=ruler)
    used = ways[0]
    pupil = 1.0 if question.pupil_factor is None else question.pupil_factor
    stops = bellows_stops(used.magnification, pupil)
    for other in ways[1:]:
        apart = abs(bellows_stops(other.magnification, pupil) - stops)
        if apart > fact("meter", "agree").value:
            notes.append(remark(Note.ROUTES_DISAGREE, first=used.said, second=other.said[0].lower() + other.said[1:], stops=stops_said(apart)))
    if used.magnification == 0:
        notes.append(remark(Note.AT_INFINITY))
    doubt = bellows_doubt_stops(used.magnification, used.sd, pupil)
    lacks = bellows_doubt_stops(used.magnification, 0.0, pupil, fact("lens", "pupil").sd)
    if question.pupil_factor is not None or lacks == 0:
        return Entry(used.said, Stops(stops, doubt), SOURCE, "published", tuple(notes))
    unknown = (Unknown("the pupil magnification (1 is taken)", lacks),)
    whole = bellows_doubt_stops(used.magnification, used.sd, pupil, fact("lens", "pupil").sd)
    pupils = Remedy("both pupils of the lens, measured,", doubt)
    line = Entry(used.said, Stops(stops, whole), SOURCE, "published", tuple(notes), unknown, "pupils taken as equal")
    return replace(line, called="The bellows", remedy=pupils)


class BellowsQuestion(LensFields):
    """The lens, how near the subject is, and if wanted the aperture."""

    aperture_f: Annotated[float | None, APERTURE_F] = None


class BellowsAnswer(Answer):
    """How much longer."""

    factor: Annotated[Estimate, BELLOWS_FACTOR]
    bellows_stops: Annotated[Estimate, BELLOWS_STOPS]
    magnification: Annotated[Estimate, MAGNIFICATION_FACTOR]
    effective_f: Annotated[Estimate, EFFECTIVE_F] = Estimate()


def answer(question: BellowsQuestion) -> BellowsAnswer:
    """Magnification by the best way given, then the factor and its doubt."""
    entry = bellows_entry(question)
    stops, doubt = entry.stops.amount_stops, entry.stops.doubt_stops
    ways = ways_of(question)
    notes = list(entry.notes)
    if ways and entry.unknown and entry.stops.doubt_stops > 0:
        known = bellows_doubt_stops(ways[0].magnification, ways[0].sd)
        notes.append(not_given(entry.unknown, doubt, known))
    effective = Estimate()
    if question.aperture_f is not None:
        effective = around_stops(true_f_number(question.aperture_f, aperture_marks()) * 2 ** (stops / 2), doubt / 2)
    return BellowsAnswer(
        factor=around_stops(2**stops, doubt),
        bellows_stops=around(stops, doubt, least=0.0),
        magnification=around(ways[0].magnification, ways[0].sd, least=0.0) if ways else Estimate(),
        effective_f=effective,
        ledger=(entry.line,),
        notes=tuple(notes),
        sources=(SOURCE,),
    )


BELLOWS: Final = Operation(
    name="exposure.bellows",
    version=1,
    asks="How much longer do I expose because the lens is racked out?",
    question=BellowsQuestion,
    answer=BellowsAnswer,
    compute=answer,
    examples={
        "half life size": {"focal_mm": 210, "extension_mm": 315},
        "by sizes": {"image_size_mm": "8 in", "subject_size_mm": "12 in", "pupil_factor": 1},
        "two ways": {"focal_mm": 210, "extension_mm": 315, "subject_mm": "0.45 m", "aperture_f": "f/22"},
    },
)
