"""A sheet's story in the order in which it happened."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from silverwright.asking.operation import Rests
from silverwright.book.counting import how_counted
from silverwright.book.find import called
from silverwright.book.life import amounts_said, verdict_words
from silverwright.book.models import Curve, Exposure, Processing, ProcessingStep, StepSheet, Verdict
from silverwright.book.queries import Story
from silverwright.units import BARE, CELSIUS, F_NUMBER, MILLIMETRE, SECOND, STOP
from silverwright.web.cards import given
from silverwright.web.changes import Told, told_changes
from silverwright.web.kept import kept_amount, kept_estimate, kept_limits
from silverwright.web.when import moment

EI_WORDS: Final[dict[str, tuple[Rests, str]]] = {
    "own sheets": ("own", "from own sheets"),
    "typed": ("judgement", "typed"),
    "unknown": ("judgement", "our judgement, nothing was known"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """One thing that happened to a sheet."""

    at: datetime
    mark: str
    word: str
    head: str
    says: tuple[str, ...] = ()
    steps: tuple[tuple[str, ...], ...] = ()
    rests: Rests | None = None
    rests_says: str = ""
    correct: str = ""  # where it is corrected
    href: str = ""
    href_says: str = ""

    @property
    def when(self) -> str:
        """The moment, as people read it."""
        return moment(self.at)


def told_story(story: Story) -> list[Happened | Told]:
    """Everything that happened, the oldest first; corrections follow in their own order."""
    events = [
        *(one for place, exposure in enumerate(story.line.exposures, start=1) for one in _exposed(story, exposure, place)),
        *(_processed(story, one, place) for place, one in enumerate(sorted(story.processings, key=lambda one: one.processed_at), start=1)),
        *([_measured(story, story.step_sheet)] if story.step_sheet else []),
        *(_judged(story, one, place) for place, one in enumerate(sorted(story.verdicts, key=lambda one: one.judged_at), start=1)),
        *(_learnt(one) for one in story.curves),
    ]
    return [*sorted(events, key=lambda one: one.at), *reversed(told_changes(story.changes, only_corrections=True))]


def _exposed(story: Story, exposure: Exposure, place: int) -> Iterable[Happened]:
    if exposure.planned is not None:
        question, answer = exposure.planned.question, exposure.planned.answer
        ei = question.get("paper_ei")
        rests, says = EI_WORDS.get(str(question.get("ei_from", "typed" if ei else "unknown")), EI_WORDS["typed"])
        aperture = question.get("aperture_f")
        head = f"{kept_amount(answer) or 'unknown'}{f' at {F_NUMBER.show(aperture)}' if aperture else ''}"
        high, low = kept_limits(answer)
        limits = f"8 of 10: between {low} and {high}." if low and high else ""
        yield Happened(
            at=min(exposure.planned.kept_at, exposure.exposed_at),  # a plan that was written down later still came first
            mark="planned",
            word="Planned",
            head=f"{head}, from EI {BARE.show(ei)}" if ei else f"{head}, EI not known",
            says=tuple(filter(None, (limits,))),
            rests=rests,
            rests_says=str(question.get("ei_rests_on") or says),
        )
    scene = exposure.scene
    extension = scene.get("extension_mm")
    details = [f"extension {MILLIMETRE.show(extension)}" if extension else "", _reading(scene), how_counted(exposure), amounts_said(exposure)]
    yield Happened(
        at=exposure.exposed_at,
        mark="exposed",
        word="Exposed" if place == 1 else f"Exposed again, {place}",
        head=given(exposure),
        says=tuple(filter(None, (" ".join(_sentence(text) for text in details if text), exposure.remarks))),
        correct=f"/book/correct/exposure/{story.line.sheet.exposed_as}/{place}",
    )


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}{'' if text.endswith('.') else '.'}"


def _reading(scene: dict[str, object]) -> str:
    """What was metered, in a few words."""
    if (ev := scene.get("reading_ev")) is not None:
        return f"EV {ev:g}"
    if (lx := scene.get("reading_lx")) is not None:
        return f"{lx:g} lx"
    if (cd := scene.get("reading_cd_per_m2")) is not None:
        return f"{cd:g} cd/m²"
    return ""


def _processed(story: Story, processing: Processing, place: int) -> Happened:
    steps = tuple(_step(step) for step in processing.steps.all() if step.archived_at is None)
    count = f"{len(steps)} step{'' if len(steps) == 1 else 's'}" if steps else "steps not written down"
    return Happened(
        at=processing.processed_at,
        mark="trays",
        word="Processed",
        head=f"{processing.process.capitalize()}, {count}",
        says=tuple(filter(None, (processing.remarks,))),
        steps=steps,
        correct=f"/book/correct/processing/{story.line.sheet}/{place}",
    )


def _step(step: ProcessingStep) -> tuple[str, ...]:
    """Step, time, temperature, bath and what else was said, and where it is corrected."""
    return (
        step.step,
        "" if step.step_s is None else SECOND.show(step.step_s),
        "" if step.temperature_celsius is None else CELSIUS.show(step.temperature_celsius),
        "; ".join(filter(None, (step.bath, step.light_given, step.remarks))),
        f"/book/correct/step/{called(step)[1]}",
    )


def _measured(story: Story, step_sheet: StepSheet) -> Happened:
    densities = [one.density for one in story.readings if one.density is not None]
    spread = f", densities {min(densities):.2f} to {max(densities):.2f}" if densities else ""
    act = step_sheet.history.order_by("history_id").first()
    return Happened(
        at=act.history_date,
        mark="measured",
        word="Measured",
        head=f"{len(story.readings)} patches{spread}",
        says=(f"{step_sheet.how.capitalize()}, read by {step_sheet.read_by}.", *filter(None, (step_sheet.remarks,))),
        correct=f"/book/correct/step-sheet/{story.line.sheet}",
    )


def _judged(story: Story, verdict: Verdict, place: int) -> Happened:
    doubts = ["judged while wet"] * verdict.judged_wet + ["under an unknown lamp"] * (verdict.lamp == "unknown")
    words = verdict_words(verdict.looks, verdict.off_stops, verdict.strip)
    return Happened(
        at=verdict.judged_at,
        mark="measured",
        word="Judged",
        head=words[0].upper() + words[1:],
        says=tuple(filter(None, (", ".join(doubts).capitalize(), verdict.remarks))),
        correct=f"/book/correct/verdict/{story.line.sheet}/{place}",
    )


def _learnt(curve: Curve) -> Happened:
    range_stops = kept_estimate(curve.answer.answer, "range_stops")
    known = f"EI {BARE.show(curve.camera_ei)}" if curve.camera_ei else "no EI, the light was not metered"
    range_says = STOP.show(range_stops.value) if range_stops.value else f"at least {STOP.show(range_stops.low)}" if range_stops.low else "unknown"
    return Happened(
        at=curve.learnt_at,
        mark="kept",
        word="Learnt",
        head=f"{known[0].upper()}{known[1:]}; range {range_says}",
        href="/findings",
        href_says="What is known now",
    )
