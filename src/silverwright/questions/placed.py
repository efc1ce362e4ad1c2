"""Where each part of a scene lies on the paper, and the exposures that would keep it."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import exp, hypot, log2
from typing import Final

from silverwright.asking.operation import EIGHTY_PERCENT_SD
from silverwright.exposure.meter import ev_from_luminance
from silverwright.exposure.scene import flare_share, split_loss, with_flare_ev
from silverwright.facts.load import fact
from silverwright.questions.entry import bare
from silverwright.questions.light import skin_entry
from silverwright.questions.meter import reading_of, reads_reflected
from silverwright.questions.papercurve import STOP_LOG10, CurveInHand, curve_in_hand, tone_log10
from silverwright.questions.readings import SceneQuestion, SceneReading, is_planned
from silverwright.records import Stops
from silverwright.units import EXPOSURE_VALUE

STRAY_SD: Final = {"little": -EIGHTY_PERCENT_SD, "usual": 0.0, "much": EIGHTY_PERCENT_SD}
NOTHING: Final = Stops(0.0)


@dataclass(frozen=True, slots=True)
class Part:
    """One reading as the meter would show it in EV, with its doubt, and how much more the paper sees of its colour than the meter does."""

    row: SceneReading
    ev: float
    sd_stops: float
    seen: Stops = NOTHING

    @property
    def paper_ev(self) -> float:
        """What the paper sees of it, where that differs from what the meter sees."""
        return self.ev + self.seen.amount_stops

    @property
    def name(self) -> str:
        """What it is called."""
        return self.row.part or self.row.becomes or ("the light" if self.row.of_the_light else f"EV {bare(EXPOSURE_VALUE, self.ev)}")


class Scene:
    """Readings against paper. An exposure counts in stops, more light upwards, from the one that makes a mid-grey of a reading of EV 0."""

    def __init__(self, question: SceneQuestion) -> None:
        self.question = question
        self.paper: CurveInHand = curve_in_hand(question)
        self.parts = tuple(_part(question, one) for one in question.readings)
        self.brightest_ev = max((one.paper_ev for one in self.parts if not one.row.of_the_light), default=self.parts[0].ev)
        self.stray_share = self._stray(0.0)
        self.kept = sorted((one for one in self.parts if one.row.keeps), key=lambda one: one.paper_ev)

    def _stray(self, moved_sd: float) -> float:
        """Stray light as a share of the brightest part: as measured, else from the usual flare factor."""
        question, flare = self.question, fact("scene", "flare_factor")
        if question.flare_percent is not None:
            return question.flare_percent / 100
        factor = flare.value * exp(flare.sd * (moved_sd + STRAY_SD[question.flare]))
        return flare_share(factor, fact("scene", "mean_range").value)

    def _on_paper_ev(self, part: Part, stray_share: float) -> float:
        """What the part amounts to with stray light; a reading of the light itself has none."""
        return part.ev if part.row.of_the_light else with_flare_ev(part.paper_ev, self.brightest_ev, stray_share)

    def lifted(self, part: Part) -> Stops:
        """What the part amounts to on the paper."""
        here = self._on_paper_ev(part, self.stray_share)
        more = self._on_paper_ev(part, self._stray(1.0)) - here
        return Stops(here, hypot(part.sd_stops, part.seen.doubt_stops, more))

    def _puts(self, part: Part, place_log10: float, sd_log10: float = 0.0) -> Stops:
        """The exposure that puts this part at this place of the curve."""
        lifted = self.lifted(part)
        return Stops(place_log10 / STOP_LOG10 - lifted.amount_stops, hypot(sd_log10 / STOP_LOG10, lifted.doubt_stops))

    @cached_property
    def least(self) -> Stops | None:
        """What the darkest part that keeps its detail needs."""
        curve = self.paper.curve
        return self._puts(self.kept[0], curve.shadow_log10, curve.shadow_sd_log10) if self.kept else None

    @cached_property
    def most(self) -> Stops | None:
        """What the brightest part that keeps its detail bears."""
        curve = self.paper.curve
        return self._puts(self.kept[-1], curve.highlight_log10, curve.highlight_sd_log10) if self.kept else None

    @cached_property
    def wanted(self) -> Stops | None:
        """What makes mid-grey and skin right."""
        skin = tone_log10(self.paper, "skin")
        return _middle(
            self._puts(one, skin if one.row.becomes == "skin" else 0.0) for one in self.parts if one.row.is_grey or one.row.becomes == "skin"
        )

    @cached_property
    def ends(self) -> Stops | None:
        """What makes paper white and black, where neither mid-grey nor skin says more."""
        curve = self.paper.curve
        places = {
            "paper white": (curve.highlight_log10, curve.highlight_sd_log10),
            "black": (curve.shadow_log10, curve.shadow_sd_log10),
        }
        return _middle(self._puts(one, *places[str(one.row.becomes)]) for one in self.parts if one.row.becomes in places)

    @cached_property
    def plan(self) -> Stops | None:
        """The exposure by the reading of the plan, else by the parts that are mid-grey."""
        question = self.question
        if is_planned(dict(question)):
            reading = reading_of(question, question.aperture_f)
            seen = skin_seen(question) if question.reading_tone == "skin" and reads_reflected(question) else NOTHING
            ev = reading.ev - constant_stops(question) + seen.amount_stops
            return Stops(tone_log10(self.paper, question.reading_tone) / STOP_LOG10 - ev, hypot(reading.sd_stops, seen.doubt_stops))
        return _middle(Stops(-one.ev, one.sd_stops) for one in self.parts if one.row.is_grey)

    @cached_property
    def best(self) -> Stops:
        """The exposure that loses least."""
        found = split_loss(self.least, self.most, self.wanted or self.ends)
        return found if found is not None else Stops(-self.brightest_ev)

    @cached_property
    def given(self) -> Stops:
        """The exposure for which the tones are told."""
        chosen = {"least loss": self.best, "as read": self.plan, "the shadows": self.least, "the highlights": self.most}
        return chosen[self.question.exposed_for] or self.best


def constant_stops(question: SceneQuestion) -> float:
    """How far a meter of this constant shows another EV than one of K 12.5."""
    base = fact("meter", "meter_k").value
    return log2((question.meter_k or base) / base)


def _part(question: SceneQuestion, row: SceneReading) -> Part:
    """The reading in EV of the photographer's own meter."""
    if row.reading_lx is not None:
        alone = dict.fromkeys(("reading_ev", "reading_cd_per_m2", "dial_time_s", "reading_sd_stops"))
        reading = reading_of(question.model_copy(update={**alone, "reading_lx": row.reading_lx}))
        ev, usual = reading.ev - constant_stops(question), reading.sd_stops
    else:
        k = question.meter_k or fact("meter", "meter_k").value
        ev = row.reading_ev if row.reading_ev is not None else ev_from_luminance(row.reading_cd_per_m2 or 0.0, k)
        usual = _usual_sd(row)
    seen = skin_seen(question) if row.becomes == "skin" else NOTHING
    return Part(row, ev, usual if row.reading_sd_stops is None else row.reading_sd_stops, seen)


def skin_seen(question: SceneQuestion) -> Stops:
    """How much more the paper sees of skin than the meter does: less, because skin is redder than a grey."""
    entry = skin_entry(question)
    return NOTHING if entry is None else Stops(-entry.stops.amount_stops, entry.stops.doubt_stops)


def _usual_sd(row: SceneReading) -> float:
    """How unsure such a reading is against the others."""
    if row.metered_with == "averaging":
        return fact("scene", "averaged_reading").sd
    return fact("meter", "reading").sd if row.metered_with == "incident" else fact("forecast", "place").sd


def _middle(found: Iterable[Stops]) -> Stops | None:
    """The middle of several exposures, its doubt that of their mean."""
    all_of_them = list(found)
    if not all_of_them:
        return None
    count = len(all_of_them)
    return Stops(sum(one.amount_stops for one in all_of_them) / count, hypot(*(one.doubt_stops for one in all_of_them)) / count)
