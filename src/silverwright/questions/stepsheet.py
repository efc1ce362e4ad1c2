"""What did each patch of my step sheet get?"""

from collections.abc import Sequence
from math import hypot, log2, sqrt
from statistics import median
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag
from silverwright.asking.operation import Answer, Estimate, Operation, Remark, refuse, remark
from silverwright.exposure.meter import paper_exposure_lx_s, time_from_ev
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.shutter import hand_doubt_stops, true_f_number
from silverwright.exposure.strips import strips_effective_s
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.bellows import LensFields, bellows_entry, f_number_by_stop
from silverwright.questions.entry import Entry, around_stops
from silverwright.questions.filter import filter_entry
from silverwright.questions.marks import aperture_marks
from silverwright.questions.meter import ReadingFields, reading_of
from silverwright.questions.mirror import MirrorFields, mirror_entry
from silverwright.questions.reciprocity import ReciprocityFields, reciprocity_of
from silverwright.records import PatchLight, Stops
from silverwright.sensitometry.steps import STOP_LOG10, between_strips_log10, even_tablet, patch_log10
from silverwright.units import F_NUMBER, LUX, SECOND
from silverwright.vocabulary import (
    APERTURE_F,
    CAMERA_EI,
    DOUBT_STOPS,
    EFFECTIVE_S,
    EXPOSURE_LOG10,
    EXPOSURE_SD_LOG10,
    FILTER_FACTOR,
    GIVEN_S,
    PAPER_LX,
    RIGHT_LOG10,
    RIGHT_STRIP,
    STRIP_APERTURES_F,
    STRIP_EI,
    STRIP_S,
    STRIP_TIMES_S,
    TABLET_DENSITIES,
    TABLET_FIRST_DENSITY,
    TABLET_STEP_DENSITY,
    TABLET_STEPS,
)

How = Literal["step tablet", "timed strips", "dark slide", "apertures", "typed"]


class StepsQuestion(MirrorFields, ReciprocityFields, LensFields, ReadingFields):
    """How the patches were exposed, and the light where somebody metered it: the scene's, or that on the paper itself."""

    paper_lx: Annotated[float | None, PAPER_LX] = None
    aperture_f: Annotated[float | None, APERTURE_F] = None
    aperture_scale: Annotated[
        Literal["marked", "exact"], Choice(help="As marked on the lens, or a measured f-number.", example="marked", label="Aperture scale")
    ] = "marked"
    filter_factor: Annotated[float | None, FILTER_FACTOR] = None
    timed_by: Annotated[
        Literal["hand", "shutter"] | None,
        Choice(help="By hand (cap, B or T) or by the shutter; left open, by hand from one second on.", example="hand", label="Timed by"),
    ] = None
    given_s: Annotated[float | None, GIVEN_S] = None
    strip_times_s: Annotated[tuple[float, ...], STRIP_TIMES_S] = ()
    strip_apertures_f: Annotated[tuple[float, ...], STRIP_APERTURES_F] = ()
    tablet_densities: Annotated[tuple[float, ...], TABLET_DENSITIES] = ()
    tablet_first_density: Annotated[float | None, TABLET_FIRST_DENSITY] = None
    tablet_step_density: Annotated[float | None, TABLET_STEP_DENSITY] = None
    tablet_steps: Annotated[float | None, TABLET_STEPS] = None
    exposure_log10: Annotated[tuple[float, ...], EXPOSURE_LOG10] = ()
    typed_metered: Annotated[bool, Flag(help="The typed log exposures are of lux seconds.", example=True, label="Typed in lux seconds")] = False
    how: Annotated[How, Choice(help="How the patches got their exposure.", example="dark slide", label="Exposed by")]
    right_strip: Annotated[float | None, RIGHT_STRIP] = None

    @field_validator("dial_ei")
    @classmethod
    def _one_reading(cls, dial_ei: float | None, seen: ValidationInfo) -> float | None:
        """Here a reading may be missing: then log exposures are relative."""
        if seen.data.get("dial_time_s") is not None and dial_ei is None:
            raise refuse("The time on a meter means little without the EI that it was set to: give that too.")
        return dial_ei

    @field_validator("how")
    @classmethod
    def _what_this_way_needs(cls, how: How, seen: ValidationInfo) -> How:
        given = seen.data
        needs: dict[How, tuple[str, str]] = {
            "timed strips": ("strip_times_s", "Needed: the time of each strip, such as 4 8 16 32."),
            "dark slide": ("strip_times_s", "Needed: the times in the order given, such as 8 3.3 4.7 6.6 9.4."),
            "apertures": ("strip_apertures_f", "Needed: the aperture of each patch, such as f/32 f/22 f/16."),
            "typed": ("exposure_log10", "Needed: the log exposure of each patch, such as -0.9 -0.75 -0.6."),
        }
        if how in needs and given.get(needs[how][0]) == ():
            raise refuse(needs[how][1], field=needs[how][0])
        if how == "step tablet" and given.get("tablet_densities") == () and None in {given.get("tablet_steps"), given.get("tablet_step_density")}:
            raise refuse("Needed: the densities of the tablet, or how many steps it has and how far apart they are.", field="tablet_densities")
        if how != "typed" and _is_metered(given):
            if given.get("paper_lx") is None and how != "apertures" and given.get("aperture_f", 0) is None and given.get("stop_mm", 0) is None:
                raise refuse("With a reading of the scene, the aperture is needed to know the light on the paper.", field="aperture_f")
            if how in {"step tablet", "apertures"} and given.get("given_s", 0) is None:
                raise refuse("The light was metered: now the time is needed, too.", field="given_s")
        return how

    @field_validator("right_strip")
    @classmethod
    def _such_a_strip(cls, right_strip: float | None, seen: ValidationInfo) -> float | None:
        sized: dict[str, str] = {
            "timed strips": "strip_times_s",
            "dark slide": "strip_times_s",
            "apertures": "strip_apertures_f",
            "typed": "exposure_log10",
        }
        strips = len(seen.data.get(sized.get(seen.data.get("how", ""), ""), ()))
        if right_strip is not None and strips and right_strip > strips:
            raise refuse(f"There are {strips} strips. Count them in the order exposed.")
        return right_strip


def _is_metered(given: dict[str, object]) -> bool:
    """Whether the light is known in lux."""
    return any(given.get(name) is not None for name in ("paper_lx", "reading_ev", "reading_cd_per_m2", "reading_lx", "dial_time_s"))


class StepsAnswer(Answer):
    """The log exposure of each patch, in the order exposed, and what it amounts to."""

    exposure_log10: Annotated[Sequence[float], EXPOSURE_LOG10]
    metered: Annotated[bool, Flag(help="Log exposures are of lux seconds.", example=True, label="Light was metered")]
    strip_s: Annotated[Sequence[float], STRIP_S] = ()
    effective_s: Annotated[Sequence[float], EFFECTIVE_S] = ()
    strip_ei: Annotated[Sequence[float], STRIP_EI] = ()
    exposure_sd_log10: Annotated[Estimate, EXPOSURE_SD_LOG10]
    light_sd_stops: Annotated[Estimate, DOUBT_STOPS] = Field(default_factory=Estimate)
    right_log10: Annotated[Estimate, RIGHT_LOG10] = Field(default_factory=Estimate)
    right_ei: Annotated[Estimate | None, CAMERA_EI] = None
    right_sd_stops: Annotated[Estimate | None, DOUBT_STOPS] = None


def answer(question: StepsQuestion) -> StepsAnswer:
    """Time after reciprocity, aperture and tablet make each patch; a reading makes it absolute."""
    if question.how == "typed":
        return _joined(question, question.exposure_log10, question.typed_metered, (), fact("meter", "reading_again").sd)
    totals = _totals_s(question)
    effective = _effective_s(question, totals)
    metered = _is_metered(question.model_dump())
    light = _light_entries(question) if metered else []
    apertures = _apertures_f(question, len(totals))
    densities = _tablet(question) or (0.0,) * len(totals)
    base_lx = 2 ** sum(entry.stops.amount_stops for entry in light)
    patches = [PatchLight(base_lx / f**2, t, density) for f, t, density in zip(apertures, effective, densities, strict=True)]
    exposures = tuple(patch_log10(patch) for patch in patches)
    at = _reference(question, len(exposures))
    time_entries = _time_entries(question, totals[at], effective[at], apertures[at], densities[at])
    shared = hypot(*(entry.stops.doubt_stops for entry in (*light, *time_entries[2:])))
    found = _joined(question, exposures, metered, (*light, *time_entries) if metered else (), shared)
    timed = {"strip_s": totals, "effective_s": effective} if question.strip_times_s or question.given_s else {}
    return found.model_copy(update={**timed, "exposure_sd_log10": Estimate(value=_patch_sd_log10(question, totals))})


def _totals_s(question: StepsQuestion) -> tuple[float, ...]:
    """What each patch got in all, before reciprocity; one second where no time was given and none is needed."""
    if question.how == "timed strips":
        return question.strip_times_s
    if question.how == "dark slide":
        return tuple(sum(question.strip_times_s[: number + 1]) for number in range(len(question.strip_times_s)))
    patches = len(_tablet(question)) if question.how == "step tablet" else len(question.strip_apertures_f)
    return (question.given_s or 1.0,) * patches


def _effective_s(question: StepsQuestion, totals: tuple[float, ...]) -> tuple[float, ...]:
    """The same after reciprocity, by the law that the ledger uses."""
    needed = reciprocity_of(question).needed
    if question.how == "dark slide":
        return strips_effective_s(question.strip_times_s, needed)
    return tuple(effective_s(total, needed) for total in totals)


def _tablet(question: StepsQuestion) -> tuple[float, ...]:
    if question.how != "step tablet":
        return ()
    if question.tablet_densities or question.tablet_step_density is None or question.tablet_steps is None:
        return question.tablet_densities
    first = fact("curve", "tablet_first_density").value if question.tablet_first_density is None else question.tablet_first_density
    return even_tablet(first, question.tablet_step_density, round(question.tablet_steps))


def _apertures_f(question: StepsQuestion, patches: int) -> tuple[float, ...]:
    """True f-number of each patch; 1 where the light was metered on the paper or nobody asks."""
    if question.how == "apertures":
        return tuple(_true_f(question, one) for one in question.strip_apertures_f)
    if question.paper_lx is not None:
        return (1.0,) * patches
    by_stop = f_number_by_stop(question)
    if question.aperture_f is None:
        return (1.0 if by_stop is None else by_stop[0],) * patches
    return (_true_f(question, question.aperture_f),) * patches


def _true_f(question: StepsQuestion, aperture_f: float) -> float:
    return true_f_number(aperture_f, aperture_marks()) if question.aperture_scale == "marked" else aperture_f


def _reference(question: StepsQuestion, patches: int) -> int:
    """The patch for which the ledger stands: the right strip, or the middle one."""
    strip = question.right_strip if question.right_strip is not None else (patches + 1) / 2
    return min(round(strip), patches) - 1


def _light_entries(question: StepsQuestion) -> list[Entry]:
    """The light on the paper at f/1, in stops from one lux."""
    if question.paper_lx is not None:
        again = fact("meter", "reading_again")
        sd = again.sd if question.reading_sd_stops is None else question.reading_sd_stops
        return [Entry(f"Light on the paper {LUX.show(question.paper_lx)}", Stops(log2(question.paper_lx), sd), again.says, again.rests)]
    by_stop = f_number_by_stop(question)
    reading = reading_of(question, question.aperture_f or (by_stop[0] if by_stop else None), own_sheets=True)
    q, k = fact("meter", "paper_plane"), fact("meter", "meter_k")
    light_lx = paper_exposure_lx_s(time_from_ev(reading.ev, 1.0, 1.0), k.value, q.value)
    first = Entry(f"Reading {reading.said}: light on the paper at f/1", Stops(log2(light_lx), reading.sd_stops), q.says, "published")
    between = [one for one in (bellows_entry(question), mirror_entry(question), filter_entry(question.filter_factor)) if one is not None]
    return [first, *(Entry(one.what, Stops(0.0 - one.stops.amount_stops, one.stops.doubt_stops), one.source, one.rests) for one in between)]


def _time_entries(question: StepsQuestion, total_s: float, effective: float, f_number: float, density: float) -> list[Entry]:
    """Time, tablet, aperture and reciprocity of one patch, in stops; the first two are each patch's own, the others all patches share."""
    hand, law = fact("lens", "hand_count"), reciprocity_of(question)
    marking, tablet = fact("lens", "aperture_marking"), fact("curve", "tablet_density")
    entries = [
        Entry(f"Time {SECOND.show(total_s)}", Stops(log2(total_s), _clock_sd_stops(question, total_s)), hand.says, hand.rests),
        Entry(f"Tablet, density {density:.2f}", Stops(-density / STOP_LOG10, tablet.sd / STOP_LOG10 if density else 0.0), tablet.says, tablet.rests),
    ]
    reciprocity = Stops(log2(effective / total_s), law.sd_stops(effective))
    entries.append(Entry(f"Reciprocity of {SECOND.show(total_s)} given", reciprocity, law.source, law.rests))
    if f_number != 1:
        by_stop = f_number_by_stop(question) if question.aperture_f is None and question.how != "apertures" else None
        doubt = by_stop[1] if by_stop else marking.sd if question.aperture_scale == "marked" else 0.0
        entries.append(Entry(f"Aperture {F_NUMBER.show(f_number)}", Stops(-2 * log2(f_number), doubt), marking.says, marking.rests))
    return entries


def _clock_sd_stops(question: StepsQuestion, total_s: float) -> float:
    """How unsure a time is, by hand or shutter."""
    by_hand = question.timed_by == "hand" or (question.timed_by is None and total_s >= fact("lens", "hand_from").value)
    return hand_doubt_stops(total_s, fact("lens", "hand_count").sd) if by_hand else fact("lens", "shutter").sd


def _patch_sd_log10(question: StepsQuestion, totals: tuple[float, ...]) -> float:
    """How unsure the exposure of one patch is against the others: its own time, the tablet, the engraved aperture."""
    if question.how == "step tablet":
        return fact("curve", "tablet_density").sd
    if question.how == "apertures":
        return fact("lens", "aperture_marking").sd * STOP_LOG10 if question.aperture_scale == "marked" else 0.0
    pushes = range(1, len(totals) + 1) if question.how == "dark slide" else (1,) * len(totals)
    return median(_clock_sd_stops(question, total) * sqrt(times) for total, times in zip(totals, pushes, strict=True)) * STOP_LOG10


def _joined(question: StepsQuestion, exposures: tuple[float, ...], metered: bool, entries: tuple[Entry, ...], light_sd: float) -> StepsAnswer:  # noqa: FBT001
    """The answer from log exposures: indices where the light is known, and what "this strip is right" says."""
    q_k = paper_exposure_lx_s(1.0, fact("meter", "meter_k").value, fact("meter", "paper_plane").value)
    eye = fact("paper", "strip_by_eye")
    doubt = hypot(eye.sd, light_sd)
    right = None if question.right_strip is None else between_strips_log10(exposures, min(question.right_strip, len(exposures)))
    return StepsAnswer(
        exposure_log10=exposures,
        metered=metered,
        strip_ei=tuple(q_k / 10**one for one in exposures) if metered else (),
        exposure_sd_log10=Estimate(value=0.0),
        light_sd_stops=Estimate(value=light_sd) if metered else Estimate(),
        right_log10=Estimate(value=right),
        right_ei=around_stops(q_k / 10**right, doubt) if metered and right is not None else None,
        right_sd_stops=Estimate(value=doubt) if metered and right is not None else None,
        ledger=tuple(entry.line for entry in entries if entry.stops != Stops(0.0)),
        notes=_notes(entries, light_sd, metered=metered),
        sources=tuple(dict.fromkeys([*(entry.source for entry in entries), eye.says])),
    )


def _notes(entries: tuple[Entry, ...], light_sd: float, *, metered: bool) -> tuple[Remark, ...]:
    told = [note for entry in entries for note in entry.notes]
    return (*told, remark(Note.SHARED_DOUBT, doubt=f"{light_sd:.2f}") if metered else remark(Note.RELATIVE_ONLY))


STEPS: Final = Operation(
    name="sensitometry.steps",
    version=1,
    asks="What did each patch of my step sheet get?",
    question=StepsQuestion,
    answer=StepsAnswer,
    compute=answer,
    examples={
        "dark slide at the window": {
            "how": "dark slide",
            "strip_times_s": "8 3.3 4.7 6.6 9.4",
            "reading_ev": 10,
            "meter_k": 12.5,
            "aperture_f": "f/16",
            "right_strip": 3,
        },
        "step tablet under the enlarger": {
            "how": "step tablet",
            "tablet_steps": 21,
            "tablet_step_density": 0.15,
            "paper_lx": 1.5,
            "given_s": 10,
            "reciprocity_model": "none",
        },
        "by apertures, nothing metered": {"how": "apertures", "strip_apertures_f": "f/45 f/32 f/22 f/16 f/11"},
    },
)
