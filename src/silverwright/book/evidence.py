"""What the photographer's own sheets tell of a paper in a process: rows of the book become the evidence of the next exposure."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from math import log10
from typing import Any, Final

from django.db.models import Prefetch

from silverwright.book.circumstances import NOT_NAMED, Circumstances, Row, batches_of_all, circumstances, next_to
from silverwright.book.life import exposures_of, own_points, process_of, verdict_words
from silverwright.book.metered import metered_log10, sees
from silverwright.book.models import Act, LeftOut, Paper, Reading, ScenePatch, Sheet, StepSheet, Verdict
from silverwright.questions.light import table_offset

PAPERS_REMEMBERED: Final = 32  # our judgement: more papers than one works with in a day


@dataclass(frozen=True, slots=True)
class Piece:
    """
    One thing that a sheet tells, as rows of the question `sensitometry.next`.

    `why_not` says why it gives no EI. What is left out keeps its rows, and the reason. `instead_of`: earlier words on the sheet, which it replaces.
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
    instead_of: str = ""

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
    sees: str = "unknown"

    @property
    def rows(self) -> list[Row]:
        """The rows of all that counts."""
        return [row for piece in self.pieces if piece.counts for row in piece.rows]

    def in_light(self, light: str) -> set[str]:
        """The sheets that count and lay in this light; in one that nobody named, where it is empty."""
        return {one.sheet for one in self.pieces if one.counts and not one.control and one.light == light}

    @property
    def gives_ei(self) -> bool:
        """Whether any of it says how fast the paper is: a step sheet in light that nobody metered tells its contrast only."""
        return any(row.get("metered", True) for row in self.rows)


def told_by(paper: Paper, process: str) -> Told:
    """Everything that own sheets tell of this paper in this process; read again only after another act."""
    newest = Act.objects.order_by("pk").values_list("pk", "at", "key").last()
    return _told(paper.pk, process, newest)


@lru_cache(maxsize=PAPERS_REMEMBERED)
def _told(paper: int, process: str, _newest_act: object) -> Told:
    sheets = [sheet for sheet in _sheets(paper) if process_of(sheet) == process]
    batches = batches_of_all(process)
    pieces = [piece for sheet in sheets for piece in _pieces(sheet, circumstances(sheet, batches))]
    last = max((one for one in sheets if not _is_control(one)), key=lambda sheet: (sheet.made_at, sheet.pk), default=None)
    of_paper = Paper.objects.get(pk=paper)
    points, seen = own_points(of_paper), sees(of_paper)
    if last is None:
        return Told(tuple(pieces), points, sees=seen)
    among = circumstances(last, batches)
    return Told(tuple(pieces), points, next_to(among, batches), among.light, seen)


def kinds_told(sheet: Sheet) -> set[str]:
    """Which kinds of evidence a sheet gives, as it stands this moment."""
    return {one.evidence for one in _pieces(sheet, circumstances(sheet, batches_of_all(process_of(sheet))))}


def _is_control(sheet: Sheet) -> bool:
    """Whether it lay under a fixed lamp: its light is not the one that the next picture will have."""
    read: StepSheet | None = getattr(sheet, "step_sheet", None)
    return read is not None and read.lamp_id is not None


def _sheets(paper: int) -> list[Sheet]:
    """Every sheet of the paper that is not archived, with all that is read of it, in few queries."""
    with_it = [f"{one}{what}" for one in ("", "whole__") for what in ("exposures__light", "processings")]
    kept: dict[str, None] = {"archived_at": None}
    found = Sheet.objects.filter(paper=paper, archived_at=None).select_related(
        "paper", "whole__paper", "lot", "step_sheet__lamp", "step_sheet__worked_out"
    )
    found = found.prefetch_related(
        *with_it,
        Prefetch("step_sheet__readings", Reading.objects.filter(**kept)),
        Prefetch("verdicts", Verdict.objects.filter(**kept)),
        Prefetch("scene_patches", ScenePatch.objects.filter(**kept)),
        Prefetch("left_out", LeftOut.objects.filter(**kept)),
    )
    return list(found.order_by("made_at", "pk"))


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
    shared |= {} if lamp else _by_table(sheet, among)
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
    """What the eye said last of the picture, and last of its strips; each names the earlier words that it replaces."""
    said: dict[bool, list[Verdict]] = {}
    for verdict in sorted(sheet.verdicts.all(), key=lambda one: (one.judged_at, one.pk)):
        said.setdefault(verdict.strip is not None, []).append(verdict)
    found = []
    for *earlier, last in said.values():
        words = ", ".join(f"“{verdict_words(one.looks, one.off_stops, one.strip)}”" for one in earlier)
        found.append(replace(_verdict(sheet, last, among), instead_of=words))
    return found


def _verdict(sheet: Sheet, verdict: Verdict, among: Circumstances) -> Piece:
    strip = verdict.strip is not None
    exposed, why_not = _strip_exposure(sheet, verdict.strip, among) if strip else _sheet_exposure(sheet)
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


def _strip_exposure(sheet: Sheet, strip: int | None, among: Circumstances) -> tuple[Row, str]:
    """What the chosen strip got."""
    read: StepSheet | None = getattr(sheet, "step_sheet", None)
    patch = next((one for one in read.readings.all() if one.position == strip), None) if read else None
    if read is None or patch is None or patch.exposure_log10 is None or not read.metered:
        return {}, "the light on its strips was not metered"
    shift, time_s = _strip_times(read).get(patch.position, (0.0, None))
    return {"exposure_log10": patch.exposure_log10 + shift, "time_s": time_s, **({} if read.lamp_id else _by_table(sheet, among))}, ""


def _by_table(sheet: Sheet, among: Circumstances) -> Row:
    """How much more of its light the paper got than the meter told, by the table of lights; nothing of a light that nobody named."""
    offset = table_offset(among.light, sees(sheet.paper))
    return {"light_stops": offset.amount_stops} if offset else {}


def _sheet_exposure(sheet: Sheet) -> tuple[Row, str]:
    """What a picture got, as the meter tells it."""
    shots = exposures_of(sheet)
    if len(shots) != 1:
        return {}, "it was exposed more than once" if shots else "its exposure is not in the book"
    found = metered_log10(shots[0])
    return (found._asdict(), "") if found else ({}, "its reading, time or aperture is not in the book")


def _places(sheet: Sheet, among: Circumstances) -> Piece | None:
    """The places of a picture that were metered and measured."""
    places = [one for one in sheet.scene_patches.all() if one.reading_ev is not None and one.density is not None]
    if not places:
        return None
    shots = exposures_of(sheet)
    rows = []
    for one in places if len(shots) == 1 else ():
        if (found := metered_log10(shots[0], one.reading_ev)) is not None:
            row = {"sheet": sheet.number, "kind": "scene patch", **among.row, **found._asdict(), "density": one.density}
            rows.append(_without_none(row))
    says = f"{len(places)} metered place{'s' if len(places) > 1 else ''} of the picture"
    why_not = "" if rows else "its time or aperture is not in the book"
    return Piece(sheet.number, "scene patches", says, among.light, among.day, tuple(rows), why_not)


def _without_none(row: Row) -> Row:
    return {name: value for name, value in row.items() if value is not None}
