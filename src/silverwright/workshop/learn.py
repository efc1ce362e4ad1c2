"""A paper is learnt from a step sheet: its curve is asked for, kept, and from then on the Camera takes its EI."""

from math import log2
from typing import Annotated, Any, Final

from pydantic import create_model

from silverwright.asking.fields import Thing, fields_of
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate, Typed
from silverwright.book.life import process_of
from silverwright.book.models import Curve, KeptAnswer, Sheet, StepSheet
from silverwright.errors import BadQuestion, Fault
from silverwright.questions.curve import CURVE, CurveAnswer, CurveQuestion
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.scene import relaxed

NOT_ASKED: Final = frozenset(fields_of(CurveQuestion)) - {"shape_wanted", "exposure_sd_log10", "light_sd_stops"}


class SheetToLearn(Typed):
    """The step sheet that is learnt from."""

    sheet: Annotated[str, Thing(kind="sheet", help="The step sheet, by its number.", example="26-018")]


LearnForm: type[SheetToLearn] = create_model(
    "LearnForm", __base__=SheetToLearn, __doc__="What is learnt from which sheet.", **relaxed(CurveQuestion, without=NOT_ASKED)
)


def _prepare(doing: Doing[SheetToLearn]) -> tuple[dict[str, Any], CurveAnswer, dict[str, Any]]:
    """Ask for the curve before anything is written: it takes its time."""
    sheet: Sheet = doing.things["sheet"]
    step_sheet = StepSheet.objects.filter(sheet=sheet, archived_at=None).first()
    if step_sheet is None:
        raise BadQuestion([Fault("sheet", sheet.number, f"Sheet {sheet} has no readings yet. Enter it as a step sheet first.")])
    rows = list(step_sheet.telling)
    more = doing.form.model_dump(mode="json", exclude_defaults=True, exclude={"sheet"})
    asked: dict[str, Any] = {
        "patches": [{"density": row.density, "exposure_log10": row.exposure_log10} for row in rows],
        "metered": step_sheet.metered,
        "process": process_of(sheet),
        "read_by": step_sheet.read_by,
        "density_sd": step_sheet.density_sd,
        "fixed_out_density": step_sheet.fixed_out_density,
        **_doubts(step_sheet),
    } | more
    asked = {name: value for name, value in asked.items() if value is not None}
    try:
        answer: CurveAnswer = CURVE.ask(asked)
    except BadQuestion as bad:
        own = fields_of(LearnForm)
        raise BadQuestion([Fault(one.field if one.field in own else "sheet", one.given, one.problem) for one in bad.faults]) from None
    seen = {"sheets": [sheet.number], "step_sheet_version": step_sheet.version, "readings": {str(row.position): row.version for row in rows}}
    return asked, answer, seen


def _doubts(step_sheet: StepSheet) -> dict[str, float | None]:
    """How unsure the exposures are, each against the others and all together, as it was worked out for the step sheet."""
    worked_out = step_sheet.worked_out.answer if step_sheet.worked_out else {}
    found = {name: (worked_out.get(name) or {}).get("value") for name in ("exposure_sd_log10", "light_sd_stops")}
    return found if step_sheet.metered else {"exposure_sd_log10": found["exposure_sd_log10"]}


def _learn(doing: Doing[SheetToLearn]) -> Done:
    asked, answer, seen = doing.ready
    sheet: Sheet = doing.things["sheet"]
    kept = KeptAnswer.objects.create(
        operation=CURVE.name,
        operation_version=CURVE.version,
        question=asked,
        answer=answer.model_dump(mode="json"),
        evidence=seen,
        kept_at=doing.at,
        name=f"curve of {sheet.paper}, sheet {sheet}",
    )
    ei, sd_stops = index_in(answer.camera_ei)
    process = process_of(sheet)
    Curve.objects.create(
        step_sheet=sheet.step_sheet,
        process=process,
        answer=kept,
        camera_ei=ei,
        camera_ei_sd_stops=sd_stops,
        learnt_at=doing.at,
    )
    what = f"EI {ei:.2g} in the light that it lay in" if ei is not None else "no EI"
    reach = f"range {answer.range_log10.value:.2f}" if answer.range_log10.value is not None else "range open"
    return doing.done(
        ("sheet", sheet.number),
        f"“{sheet.paper}” learnt from sheet {sheet}: {reach}, {what}. The Camera {'uses it from now on' if ei is not None else 'keeps its EI'}.",
        answer.notes,
        paper=sheet.paper.name,
        process=process,
        camera_ei=None if answer.camera_ei is None else answer.camera_ei.model_dump(mode="json"),
        range_log10=answer.range_log10.model_dump(mode="json"),
    )


def index_in(estimate: Estimate | None) -> tuple[float | None, float | None]:
    """An EI and its doubt in stops; nothing where an end was not reached on both sides."""
    if estimate is None or estimate.value is None:
        return None, None
    ends = [abs(log2(end / estimate.value)) for end in (estimate.low, estimate.high) if end]
    return (estimate.value, sum(ends) / len(ends) / EIGHTY_PERCENT_SD) if ends else (None, None)


LEARN: Final[Deed[Any]] = Deed(
    name="learn",
    says="Learn a paper's curve and EI from a step sheet; the Camera uses it from then on.",
    form=LearnForm,
    perform=_learn,
    prepare=_prepare,
    examples={"boatyard": {"sheet": "26-018"}},
)
