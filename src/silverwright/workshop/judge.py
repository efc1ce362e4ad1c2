"""What the eye says of a sheet: right, half a stop too dark, strip 3 is right."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Annotated, Any, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag, Thing
from silverwright.asking.operation import Typed, refuse
from silverwright.book import words
from silverwright.book.life import verdict_words
from silverwright.book.models import Sheet, StepSheet, Verdict
from silverwright.errors import BadQuestion, Fault
from silverwright.vocabulary import STRIP, VERDICT_STOPS
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, REMARKS, WHEN, WHOLE

HALF_A_STOP: Final = 0.5  # our judgement: what people mean when they say "too dark" and no more


class JudgeForm(Typed):
    """What the eye says."""

    sheet: Annotated[str, Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")]
    looks: Annotated[words.Looks | None, Choice(help="How the middle tones look; a strip that is named is right.", example="too dark")] = None
    off_stops: Annotated[float | None, VERDICT_STOPS] = None
    strip: Annotated[float | None, STRIP, WHOLE] = None
    judged_wet: Annotated[bool, Flag(help="Judged while it was wet: it dries darker.", example="yes")] = False
    lamp: Annotated[words.Lamp, Choice(help="Judged under the lamp that you always use, or an unknown one.", example="known")] = "known"
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("off_stops")
    @classmethod
    def _right_is_not_off(cls, off_stops: float | None, info: ValidationInfo) -> float | None:
        if off_stops and info.data.get("looks") == "right":
            raise refuse("A sheet that is right is not off by anything: choose too dark or too light, or leave this empty.")
        return off_stops


def _unsaid(given: Mapping[str, object]) -> Sequence[Fault]:
    """A verdict that nobody gave is not recorded."""
    if given.get("looks") or given.get("strip"):
        return ()
    return (Fault("looks", "", "How does it look? Choose right, too dark or too light, or name the strip that is right."),)


def _judge(doing: Doing[JudgeForm]) -> Done:
    sheet: Sheet = doing.things["sheet"]
    form = doing.form
    looks = form.looks or "right"
    strips = StepSheet.objects.filter(sheet=sheet).first()
    if form.strip is not None and (strips is None or form.strip > strips.patches.count()):
        has = f"has {strips.patches.count()} strips" if strips else "has no strips in the book; enter them as a step sheet first"
        raise BadQuestion([Fault("strip", f"{form.strip:g}", f"Sheet {sheet} {has}.")])
    off_stops = 0.0 if looks == "right" else HALF_A_STOP if form.off_stops is None else form.off_stops
    Verdict.objects.create(
        sheet=sheet,
        looks=looks,
        off_stops=off_stops,
        strip=None if form.strip is None else int(form.strip),
        judged_wet=form.judged_wet,
        lamp=form.lamp,
        judged_at=form.when or doing.at,
        remarks=form.remarks,
    )
    return doing.done(("sheet", sheet.number), f"Sheet {sheet}: {verdict_words(looks, off_stops, form.strip)}.")


JUDGE: Final[Deed[Any]] = Deed(
    name="judge",
    says="Say how a sheet looks: right, too dark, too light, or which strip is right.",
    form=JudgeForm,
    perform=_judge,
    faults=_unsaid,
    examples={"half a stop": {"sheet": "26-018", "looks": "too dark", "off_stops": 0.5}, "strips": {"sheet": "26-017", "strip": 3}},
)
