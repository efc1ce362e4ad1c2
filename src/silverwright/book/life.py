"""What a sheet went through, and what was said of it: rows of the book as the parts of one life."""

from silverwright.book.models import Curve, Exposure, Paper, Processing, ReciprocityTest, Sheet
from silverwright.units import SECOND
from silverwright.vocabulary import VERDICT_STOPS


def own_points(paper: Paper) -> tuple[dict[str, float], ...]:
    """The paper's own reciprocity tests, as rows of the ledger's question."""
    tests = ReciprocityTest.objects.filter(paper=paper, archived_at=None)
    return tuple({"metered_s": test.metered_s or 0.0, "needed_s": test.needed_s or 0.0} for test in tests)


def process_of(sheet: Sheet) -> str:
    """What became of a sheet: as it was processed, or, until then, as it was meant."""
    done = processings_of(sheet)
    if done:
        return done[-1].process
    meant = exposures_of(sheet)
    return meant[-1].process if meant else "direct positive"


def exposures_of(sheet: Sheet) -> list[Exposure]:
    """The exposures of a sheet in their order; a piece has those of its sheet."""
    found = [one for one in sheet.exposed_as.exposures.all() if one.archived_at is None]
    return sorted(found, key=lambda one: (one.exposed_at, one.pk))


def processings_of(sheet: Sheet) -> list[Processing]:
    """The trays that a sheet has been through, in their order; a piece shares those of its sheet."""
    of_both = [*sheet.processings.all(), *(sheet.whole.processings.all() if sheet.whole else ())]
    return sorted((one for one in of_both if one.archived_at is None), key=lambda one: (one.processed_at, one.pk))


def is_old(curve: Curve) -> bool:
    """Whether what the curve was learnt from says something else today."""
    step_sheet = curve.step_sheet
    today = {str(position): version for position, version in step_sheet.telling.values_list("position", "version")}
    then = curve.answer.evidence
    return (then.get("step_sheet_version"), then.get("readings")) != (step_sheet.version, today) or process_of(step_sheet.sheet) != curve.process


def amounts_said(exposure: Exposure) -> str:
    """What an exposure amounts to, where the light changed while the shutter was open: it is this from which the forecast learns."""
    return "" if exposure.amounts_to_s is None else f"the light changed, it amounts to {SECOND.show(exposure.amounts_to_s)} as metered"


def verdict_words(looks: str, off_stops: float | None, strip: float | None = None) -> str:
    """`right`, `half a stop too dark`, `1.5 stops too light`, `strip 3 is right`."""
    common = {0.5: "half a stop ", 1.0: "a stop "}
    words = f"{common.get(off_stops) or f'{VERDICT_STOPS.unit.show(off_stops)} '}{looks}" if off_stops else looks
    return words if strip is None else f"strip {strip:g} is {words}"
