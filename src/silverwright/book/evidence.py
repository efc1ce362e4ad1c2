"""What the photographer's own sheets say of a paper in a process: rows of the book become evidence for its EI."""

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from silverwright.book.models import Curve, Exposure, Paper, Processing, ReciprocityTest, Sheet, Verdict
from silverwright.errors import BadQuestion
from silverwright.exposure.ledger import index_of_exposure
from silverwright.exposure.shutter import true_time_s
from silverwright.facts.load import fact
from silverwright.questions.camera import by_hand, corrections, f_number, reading_entry, summed
from silverwright.questions.index import INDEX, IndexAnswer
from silverwright.questions.ledger import LedgerQuestion
from silverwright.questions.marks import time_marks
from silverwright.questions.reciprocity import reciprocity_of
from silverwright.vocabulary import VERDICT_STOPS

MOST_REMEMBERED: Final = 4096  # our judgement: more exposures than a long life of sheets
KINDS: Final = {"curve": "curve", "strip": "strip by eye", "verdict": "verdict"}


@dataclass(frozen=True, slots=True)
class Evidence:
    """
    One thing that own sheets say of a paper's EI.

    `ei` is what the exposure of the sheet or strip amounted to; how it looks then says which EI it asks for. Without an EI it says why it has
    none. `old`: the readings of a step sheet were corrected after its curve was learnt.
    """

    kind: str
    sheet: str
    says: str
    ei: float | None
    sd_stops: float | None
    light_class: str
    judged_wet: bool = False
    unknown_lamp: bool = False
    why_not: str = ""
    looks: str = "right"
    off_stops: float = 0.0
    old: bool = False

    @property
    def row(self) -> dict[str, object]:
        """As a row of the question `sensitometry.index`; the doubt of what the eye says is that question's own."""
        told: dict[str, object] = {"kind": KINDS[self.kind], "ei": self.ei, "sd_stops": self.sd_stops, "note": f"sheet {self.sheet}"}
        judged = {"verdict": self.looks, "off_stops": self.off_stops, "judged": "wet" if self.judged_wet else "dry"}
        told |= {} if self.kind == "curve" else judged | {"lamp": "unknown" if self.unknown_lamp else "usual"}
        return {name: value for name, value in told.items() if value is not None}


def evidence_for(paper: Paper, process: str) -> tuple[Evidence, ...]:
    """Everything that own sheets say of this paper in this process, curves before verdicts; archived sheets say nothing."""
    curves = Curve.objects.filter(
        step_sheet__sheet__paper=paper, process=process, archived_at=None, step_sheet__archived_at=None, step_sheet__sheet__archived_at=None
    )
    newest: dict[int, Curve] = {}
    of_curve = curves.select_related("answer", "step_sheet__sheet__whole").prefetch_related(*_with_it("step_sheet__sheet"))
    for curve in of_curve.order_by("learnt_at", "pk"):
        newest[curve.step_sheet_id] = curve
    found = [_from_curve(curve) for curve in newest.values()]
    verdicts = Verdict.objects.filter(sheet__paper=paper, archived_at=None, sheet__archived_at=None).select_related(
        "sheet__whole", "sheet__step_sheet"
    )
    points = own_points(paper)
    last: dict[tuple[int, bool], Verdict] = {}
    for verdict in verdicts.prefetch_related(*_with_it("sheet")).order_by("judged_at", "pk"):
        last[(verdict.sheet_id, verdict.strip is not None)] = verdict  # who looks again knows better
    found += [_from_verdict(verdict, points) for verdict in last.values() if process_of(verdict.sheet) == process]
    return tuple(found)


def _with_it(sheet: str) -> tuple[str, ...]:
    """What is read of every sheet, fetched for all of them at once: the camera asks while somebody types."""
    return tuple(f"{one}__{what}" for one in (sheet, f"{sheet}__whole") for what in ("exposures", "processings"))


def known_index(evidence: tuple[Evidence, ...], process: str) -> IndexAnswer | None:
    """The EI that everything telling one speaks for, asked of `sensitometry.index`; nothing without evidence."""
    rows = [one.row for one in evidence if one.ei is not None]
    return INDEX.ask({"evidence": rows, "process": process}) if rows else None


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


def index_of(exposure: Exposure, points: tuple[dict[str, float], ...] | None = None) -> float | None:
    """The EI that an exposure amounts to: what was really given, against what was metered; nothing where either is unknown."""
    if exposure.given_s is None or exposure.aperture_f is None:
        return None
    tests = own_points(exposure.sheet.paper) if points is None else points
    return _index_of(exposure.given_s, json.dumps({**exposure.scene, "aperture_f": exposure.aperture_f, "own_points": tests}))


@lru_cache(maxsize=MOST_REMEMBERED)
def _index_of(given_s: float, scene_json: str) -> float | None:
    """The same from what it rests on alone, so that it is worked out once while somebody types at the camera."""
    try:
        scene = LedgerQuestion.model_validate(json.loads(scene_json))
    except BadQuestion:
        return None
    reading, _ = reading_entry(scene)
    given_s = given_s if by_hand(scene, given_s) else true_time_s(given_s, time_marks())
    other_stops = summed(corrections(scene)).amount_stops
    return index_of_exposure(given_s, f_number(scene), reading.ev, other_stops, reciprocity_of(scene).needed)


def _from_curve(curve: Curve) -> Evidence:
    sheet = curve.step_sheet.sheet
    shots = exposures_of(sheet)
    lacks = "no patch is as dark as a grey must be" if curve.step_sheet.metered else "its light was not metered, so it gives range and contrast only"
    return Evidence(
        kind="curve",
        sheet=sheet.number,
        says=f"curve of step sheet {sheet}",
        ei=curve.camera_ei,
        sd_stops=curve.camera_ei_sd_stops,
        light_class=shots[-1].light_class if shots else "unknown",
        why_not=lacks if curve.camera_ei is None else "",
        old=is_old(curve),
    )


def is_old(curve: Curve) -> bool:
    """Whether what the curve was learnt from says something else today."""
    step_sheet = curve.step_sheet
    today = {str(position): version for position, version in step_sheet.telling.values_list("position", "version")}
    then = curve.answer.evidence
    return (then.get("step_sheet_version"), then.get("readings")) != (step_sheet.version, today) or process_of(step_sheet.sheet) != curve.process


def _from_verdict(verdict: Verdict, points: tuple[dict[str, float], ...]) -> Evidence:
    shots = exposures_of(verdict.sheet)
    ei, why_not = _judged_index(verdict, shots, points)
    return Evidence(
        kind="verdict" if verdict.strip is None else "strip",
        sheet=verdict.sheet.number,
        says=_verdict_words(verdict),
        ei=ei,
        sd_stops=None,
        light_class=shots[-1].light_class if shots else "unknown",
        judged_wet=verdict.judged_wet,
        unknown_lamp=verdict.lamp == "unknown",
        why_not=why_not,
        looks=verdict.looks,
        off_stops=verdict.off_stops or 0.0,
    )


def _judged_index(verdict: Verdict, shots: list[Exposure], points: tuple[dict[str, float], ...]) -> tuple[float | None, str]:
    """The EI at which the judged sheet or strip was exposed, or why it has none."""
    if verdict.strip is not None:
        patch = verdict.sheet.step_sheet.patches.filter(position=verdict.strip).first() if hasattr(verdict.sheet, "step_sheet") else None
        if patch is None or patch.exposure_log10 is None or not patch.step_sheet.metered:
            return None, "the light on its strips was not metered"
        return fact("meter", "paper_plane").value * fact("meter", "meter_k").value / 10**patch.exposure_log10, ""
    if len(shots) != 1:
        return None, "it was exposed more than once" if shots else "its exposure is not in the book"
    ei = index_of(shots[0], points)
    return ei, "" if ei is not None else "its reading, time or aperture is not in the book"


def _verdict_words(verdict: Verdict) -> str:
    """`half a stop too dark, sheet 26-018`, `strip 3 is right, sheet 26-017`."""
    return f"{verdict_words(verdict.looks, verdict.off_stops, verdict.strip)}, sheet {verdict.sheet}"


def verdict_words(looks: str, off_stops: float | None, strip: float | None = None) -> str:
    """`right`, `half a stop too dark`, `1.5 stops too light`, `strip 3 is right`."""
    common = {0.5: "half a stop ", 1.0: "a stop "}
    words = f"{common.get(off_stops) or f'{VERDICT_STOPS.unit.show(off_stops)} '}{looks}" if off_stops else looks
    return words if strip is None else f"strip {strip:g} is {words}"
