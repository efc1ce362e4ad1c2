"""What the photographer's own sheets tell of a paper in a process: rows of the book become the evidence of the next exposure."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from math import log10
from typing import Any, Final

from django.db.models import Prefetch
from django.utils.timezone import localtime

from silverwright.book.life import exposures_of, own_points, process_of, processings_of, verdict_words
from silverwright.book.models import Act, Exposure, LeftOut, Paper, ProcessingStep, Reading, ScenePatch, Sheet, StepSheet, Verdict
from silverwright.errors import BadQuestion
from silverwright.exposure.ledger import index_of_exposure
from silverwright.exposure.meter import paper_exposure_lx_s
from silverwright.exposure.shutter import true_time_s
from silverwright.facts.load import fact
from silverwright.questions.camera import by_hand, corrections, f_number, reading_entry, summed
from silverwright.questions.ledger import LedgerQuestion
from silverwright.questions.marks import time_marks

MOST_REMEMBERED: Final = 4096  # our judgement: more exposures than a long life of sheets
PAPERS_REMEMBERED: Final = 32  # our judgement: more papers than one works with in a day
NOT_NAMED: Final = "not named"  # our judgement: who never names a light, a bath or a box works with the one that there is
OF_THE_BATCH: Final = ("first development", "bleach")  # the baths that make a direct positive light or dark
Row = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Piece:
    """
    One thing that a sheet tells, as rows of the question `sensitometry.next`.

    `why_not` says why it gives no EI. What is left out keeps its rows, and the reason.
    """

    sheet: str
    evidence: str
    says: str
    light: str
    day: str
    rows: tuple[Row, ...] = ()
    why_not: str = ""
    left_out: str = ""
    control: bool = False

    @property
    def counts(self) -> bool:
        """Whether the forecast rests on it."""
        return bool(self.rows) and not self.left_out


@dataclass(frozen=True, slots=True)
class Told:
    """Everything that own sheets tell, and what the next sheet would share with the last one: batch and lot, and its light."""

    pieces: tuple[Piece, ...]
    points: tuple[dict[str, float], ...]
    newest: Mapping[str, Any] = field(default_factory=dict)
    light: str = ""

    @property
    def rows(self) -> list[Row]:
        """The rows of all that counts."""
        return [row for piece in self.pieces if piece.counts for row in piece.rows]

    @property
    def gives_ei(self) -> bool:
        """Whether any of it says how fast the paper is: a step sheet in light that nobody metered tells its contrast only."""
        return any(row.get("metered", True) for row in self.rows)


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What a sheet shares with others: its light, day, batch of baths with its age in sheets, and lot."""

    light: str
    day: str
    batch: str
    age: int
    lot: str

    @property
    def row(self) -> Row:
        """As columns of a row."""
        shared = {"light": self.light or NOT_NAMED, "batch": self.batch or NOT_NAMED, "lot": self.lot or NOT_NAMED}
        return {"day": self.day, **shared} | ({"age": self.age} if self.batch else {})


def told_by(paper: Paper, process: str) -> Told:
    """Everything that own sheets tell of this paper in this process; read again only after another act."""
    newest = Act.objects.order_by("pk").values_list("pk", "at", "key").last()
    return _told(paper.pk, process, newest)


@lru_cache(maxsize=PAPERS_REMEMBERED)
def _told(paper: int, process: str, _newest_act: object) -> Told:
    sheets = [sheet for sheet in _sheets(paper) if process_of(sheet) == process]
    batches = _batches()
    pieces = [piece for sheet in sheets for piece in _pieces(sheet, _circumstances(sheet, batches))]
    last = max(sheets, key=lambda sheet: (sheet.made_at, sheet.pk), default=None)
    points = own_points(Paper.objects.get(pk=paper))
    if last is None:
        return Told(tuple(pieces), points)
    among = _circumstances(last, batches)
    return Told(tuple(pieces), points, _next_to(among), among.light)


def _sheets(paper: int) -> list[Sheet]:
    """Every sheet of the paper that is not archived, with all that is read of it, in few queries."""
    with_it = [f"{one}{what}" for one in ("", "whole__") for what in ("exposures__light", "processings")]
    kept: dict[str, None] = {"archived_at": None}
    found = Sheet.objects.filter(paper=paper, archived_at=None).select_related("whole", "lot", "step_sheet__lamp", "step_sheet__worked_out")
    found = found.prefetch_related(
        *with_it,
        Prefetch("step_sheet__readings", Reading.objects.filter(**kept)),
        Prefetch("verdicts", Verdict.objects.filter(**kept)),
        Prefetch("scene_patches", ScenePatch.objects.filter(**kept)),
        Prefetch("left_out", LeftOut.objects.filter(**kept)),
    )
    return list(found.order_by("made_at", "pk"))


def _batches() -> dict[int, tuple[str, int]]:
    """For each stay in the trays the baths that it went through, and how many sheets had gone through them before."""
    steps = ProcessingStep.objects.filter(step__in=OF_THE_BATCH, archived_at=None, processing__archived_at=None).exclude(bath="")
    baths: dict[int, list[str]] = {}
    for stay, bath in steps.order_by("processing__processed_at", "processing", "position").values_list("processing", "bath"):
        baths.setdefault(stay, []).append(bath)
    used: dict[str, int] = {}
    found = {}
    for stay, names in baths.items():
        batch = ", ".join(dict.fromkeys(names))
        found[stay] = (batch, used.setdefault(batch, 0))
        used[batch] += 1
    return found


def _circumstances(sheet: Sheet, batches: Mapping[int, tuple[str, int]]) -> Circumstances:
    shots, stays = exposures_of(sheet), processings_of(sheet)
    at = stays[-1].processed_at if stays else shots[-1].exposed_at if shots else sheet.made_at
    batch, age = batches.get(stays[-1].pk, ("", 0)) if stays else ("", 0)
    light_class = shots[-1].light_class if shots else "unknown"
    return Circumstances(
        light="" if light_class == "unknown" else light_class,
        day=localtime(at).date().isoformat(),
        batch=batch,
        age=age,
        lot=str(sheet.lot or ""),
    )


def _next_to(last: Circumstances) -> Row:
    """What the next sheet shares with the last one: its baths, one sheet older, and its lot; the day and the light are its own."""
    told = {**last.row, "age": last.age + 1}
    return {name: told[name] for name in ("batch", "lot", *["age"] * bool(last.batch))}


def _pieces(sheet: Sheet, among: Circumstances) -> list[Piece]:
    """Everything that one sheet tells."""
    left_out = {one.evidence: one.reason for one in sheet.left_out.all()}
    found = [_step_sheet(sheet, among), *_verdicts(sheet, among), _places(sheet, among)]
    return [Piece(**{**{name: getattr(one, name) for name in Piece.__slots__}, "left_out": left_out.get(one.evidence, "")}) for one in found if one]


def _step_sheet(sheet: Sheet, among: Circumstances) -> Piece | None:
    """The patches of a step sheet, each with what it got before reciprocity."""
    read: StepSheet | None = getattr(sheet, "step_sheet", None)
    if read is None or read.archived_at is not None:
        return None
    rows = [one for one in read.readings.all() if not one.left_out and one.density is not None and one.exposure_log10 is not None]
    lamp = read.lamp
    says = f"{'control step sheet' if lamp else 'step sheet'} {sheet}, {len(rows)} patches"
    light = str(lamp) if lamp else among.light
    if not rows:
        return None
    times = _strip_times(read)
    shared = {"sheet": sheet.number, "kind": "control" if lamp else "step sheet", "metered": read.metered, **among.row, "light": light or NOT_NAMED}
    told = tuple(
        {
            **shared,
            "exposure_log10": (one.exposure_log10 or 0.0) + times.get(one.position, (0.0, None))[0],
            "time_s": times.get(one.position, (0.0, None))[1],
            "density": one.density,
            "sd": read.density_sd,
        }
        for one in rows
    )
    lacks = "" if read.metered else "its light was not metered, so it gives range and contrast only"
    return Piece(sheet.number, "step sheet", says, light, among.day, tuple(_without_none(row) for row in told), lacks, control=lamp is not None)


def _strip_times(read: StepSheet) -> dict[int, tuple[float, float]]:
    """For each patch what takes reciprocity out of its log exposure again, and the time that it got; nothing where times are not known."""
    answer = read.worked_out.answer if read.worked_out else {}
    times = zip(answer.get("strip_s", ()), answer.get("effective_s", ()), strict=False)
    return {place: (log10(given / effective), given) for place, (given, effective) in enumerate(times, start=1) if given > 0 and effective > 0}


def _verdicts(sheet: Sheet, among: Circumstances) -> list[Piece]:
    """What the eye said last of the picture, and last of its strips."""
    last: dict[bool, Verdict] = {}
    for verdict in sorted(sheet.verdicts.all(), key=lambda one: (one.judged_at, one.pk)):
        last[verdict.strip is not None] = verdict
    return [_verdict(sheet, verdict, among) for verdict in last.values()]


def _verdict(sheet: Sheet, verdict: Verdict, among: Circumstances) -> Piece:
    strip = verdict.strip is not None
    exposed, why_not = _strip_exposure(sheet, verdict.strip) if strip else _sheet_exposure(sheet)
    words = verdict_words(verdict.looks, verdict.off_stops, verdict.strip)
    says = ", ".join(
        [words[:1].upper() + words[1:], *(["judged wet"] * verdict.judged_wet), *(["under an unknown lamp"] * (verdict.lamp == "unknown"))]
    )
    kind = "strip by eye" if strip else "verdict"
    off = verdict.off_stops or 0.0
    row = {
        "sheet": sheet.number,
        "kind": kind,
        **among.row,
        **exposed,
        "dark_stops": -off if verdict.looks == "too light" else off,
        "judged": "wet" if verdict.judged_wet else None,
        "lamp": "unknown" if verdict.lamp == "unknown" else None,
        "tone": _tone(sheet),
    }
    return Piece(sheet.number, kind, says, among.light, among.day, (_without_none(row),) if exposed else (), why_not)


def _tone(sheet: Sheet) -> str | None:
    """What the reading of a picture was of, where it was not a mid-grey."""
    shots = exposures_of(sheet)
    return shots[-1].scene.get("reading_tone") if shots else None


def _strip_exposure(sheet: Sheet, strip: int | None) -> tuple[Row, str]:
    """What the chosen strip got."""
    read: StepSheet | None = getattr(sheet, "step_sheet", None)
    patch = next((one for one in read.readings.all() if one.position == strip), None) if read else None
    if read is None or patch is None or patch.exposure_log10 is None or not read.metered:
        return {}, "the light on its strips was not metered"
    shift, time_s = _strip_times(read).get(patch.position, (0.0, None))
    return {"exposure_log10": patch.exposure_log10 + shift, "time_s": time_s}, ""


def _sheet_exposure(sheet: Sheet) -> tuple[Row, str]:
    """What a picture got, as the meter tells it."""
    shots = exposures_of(sheet)
    if len(shots) != 1:
        return {}, "it was exposed more than once" if shots else "its exposure is not in the book"
    found = metered_log10(shots[0])
    return ({"exposure_log10": found[0], "time_s": found[1]}, "") if found else ({}, "its reading, time or aperture is not in the book")


def _places(sheet: Sheet, among: Circumstances) -> Piece | None:
    """The places of a picture that were metered and measured."""
    places = [one for one in sheet.scene_patches.all() if one.reading_ev is not None and one.density is not None]
    if not places:
        return None
    shots = exposures_of(sheet)
    rows = []
    for one in places if len(shots) == 1 else ():
        if (found := metered_log10(shots[0], one.reading_ev)) is not None:
            row = {"sheet": sheet.number, "kind": "scene patch", **among.row, "exposure_log10": found[0], "time_s": found[1], "density": one.density}
            rows.append(_without_none(row))
    says = f"{len(places)} metered place{'s' if len(places) > 1 else ''} of the picture"
    why_not = "" if rows else "its time or aperture is not in the book"
    return Piece(sheet.number, "scene patches", says, among.light, among.day, tuple(rows), why_not)


def metered_log10(exposure: Exposure, reading_ev: float | None = None) -> tuple[float, float] | None:
    """
    The log exposure, in lux seconds, that a sheet got as the meter tells it, before reciprocity, and the true time.

    With a reading, of the place that was metered at that exposure value. Nothing where reading, time or aperture is not known.
    """
    if exposure.given_s is None or exposure.aperture_f is None:
        return None
    scene = {**exposure.scene, "aperture_f": exposure.aperture_f}
    if reading_ev is not None:
        scene = {name: value for name, value in scene.items() if name not in _READINGS} | {"reading_ev": reading_ev}
    return _metered_log10(exposure.given_s, json.dumps(scene))


_READINGS: Final = ("reading_ev", "reading_cd_per_m2", "reading_lx", "dial_time_s", "dial_aperture_f", "dial_ei")


@lru_cache(maxsize=MOST_REMEMBERED)
def _metered_log10(given_s: float, scene_json: str) -> tuple[float, float] | None:
    """The same from what it rests on alone, so that it is worked out once while somebody types at the camera."""
    try:
        scene = LedgerQuestion.model_validate(json.loads(scene_json))
    except BadQuestion:
        return None
    reading, _ = reading_entry(scene)
    true_s = given_s if by_hand(scene, given_s) else true_time_s(given_s, time_marks())
    other_stops = summed(corrections(scene)).amount_stops
    ei = index_of_exposure(true_s, f_number(scene), reading.ev, other_stops, lambda metered_s: metered_s)
    lux_seconds = paper_exposure_lx_s(ei, fact("meter", "meter_k").value, fact("meter", "paper_plane").value)
    return log10(lux_seconds), true_s


def _without_none(row: Row) -> Row:
    return {name: value for name, value in row.items() if value is not None}
