"""Reading the book: what pages, command line, HTTP and Python show of it. Nothing here changes anything."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from django.db.models import Case, CharField, Exists, OuterRef, Q, QuerySet, Value, When

from silverwright.book.controls import Control, control_history
from silverwright.book.evidence import Told, told_by
from silverwright.book.files import VIEWS
from silverwright.book.find import BY_NAME, NAMED, find_thing
from silverwright.book.forecast import Next, forecast, unasked
from silverwright.book.life import process_of, processings_of
from silverwright.book.metered import READINGS
from silverwright.book.models import Act, Count, Curve, Exposure, Holder, HolderSide, Paper, Processing, Reading, Scan, Sheet, StepSheet, Verdict
from silverwright.book.models.kept import Kept
from silverwright.book.story import Change, changes_of
from silverwright.questions.next_exposure import NextAnswer

LAST_SHEETS: Final = 8  # our judgement: two rows of cards
STATES: Final = ("exposed", "cut", "processed", "measured")


@dataclass(frozen=True, slots=True)
class SheetLine:
    """
    A sheet in a list: where it stands, and the exposures that it has had (a piece has those of its sheet).

    `verdict` is the newest one, `densities` are those of its patches in their order, `scan` is the newest of which there is a picture.
    """

    sheet: Sheet
    state: str
    exposures: tuple[Exposure, ...]
    verdict: Verdict | None = None
    densities: tuple[float, ...] = ()
    scan: Scan | None = None

    @property
    def exposure(self) -> Exposure | None:
        """The newest exposure."""
        return self.exposures[-1] if self.exposures else None


@dataclass(frozen=True, slots=True)
class FirstPage:
    """What matters today: last sheets, what waits, what is in the holders, and the paper in use with its process."""

    last: tuple[SheetLine, ...]
    to_process: tuple[SheetLine, ...]
    to_measure: tuple[SheetLine, ...]
    sides: tuple[HolderSide, ...]
    paper: Paper | None
    process: str


@dataclass(frozen=True, slots=True)
class Story:
    """One sheet's whole story."""

    line: SheetLine
    process: str
    pieces: tuple[Sheet, ...]
    processings: tuple[Processing, ...]
    step_sheet: StepSheet | None
    readings: tuple[Reading, ...]
    curves: tuple[Curve, ...]
    verdicts: tuple[Verdict, ...]
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class PaperKnown:
    """What own sheets say of a paper in a process: all that they tell, the forecast of the next exposure; `curve` is the newest one."""

    paper: Paper
    process: str
    told: Told
    next: NextAnswer
    controls: tuple[Control, ...]
    curves: tuple[Curve, ...]

    @property
    def curve(self) -> Curve | None:
        """The newest curve."""
        return self.curves[0] if self.curves else None


def sheets(filters: Mapping[str, str] | None = None) -> tuple[SheetLine, ...]:
    """
    The sheets, the newest first, each with where it stands.

    Filters: paper, lot, state (exposed, cut, processed, measured), process, light_class, year (26 or 2026), words (in number, subject or
    remarks), archived (yes). An empty filter is left out.
    """
    wanted = {name: str(text).strip() for name, text in (filters or {}).items() if str(text).strip()}
    found = Sheet.objects.filter(archived_at__isnull=wanted.get("archived") != "yes")
    found = found.filter(**{f"{name}__name__iexact": wanted[name] for name in ("paper", "lot") if name in wanted})
    if "year" in wanted:
        found = found.filter(year=int(wanted["year"][-2:]) if wanted["year"][-2:].isdecimal() else -1)
    for name in ("process", "light_class"):
        if name in wanted:
            shots = Exposure.objects.filter(**{name: wanted[name]}, archived_at=None)
            found = found.filter(Q(pk__in=shots.values("sheet")) | Q(whole__in=shots.values("sheet")))
    if words := wanted.get("words"):
        found = found.filter(Q(number__icontains=words) | Q(subject__icontains=words) | Q(remarks__icontains=words))
    told = _with_state(found)
    return _lines(told.filter(state=wanted["state"]) if "state" in wanted else told)


def first_page() -> FirstPage:
    """What matters today."""
    told = _with_state(Sheet.objects.filter(archived_at=None))
    newest = last_exposure()
    paper = newest.sheet.paper if newest else Paper.objects.filter(archived_at=None).order_by("-pk").first()
    return FirstPage(
        last=_lines(told.exclude(pk__in=_controls())[:LAST_SHEETS]),
        to_process=_lines(told.filter(state="exposed")),
        to_measure=_lines(told.filter(state="processed")),
        sides=sides(),
        paper=paper,
        process=newest.process if newest else "direct positive",
    )


def _controls() -> QuerySet[Any, int]:
    """Control step sheets, and what was cut into them: they have their place on Findings."""
    read = StepSheet.objects.filter(lamp__isnull=False, archived_at=None)
    return Sheet.objects.filter(Q(step_sheet__in=read) | Q(pieces__step_sheet__in=read)).values_list("pk", flat=True)


def last_exposure() -> Exposure | None:
    """The newest exposure of a sheet that is not archived."""
    return _exposures().last()


def last_metered() -> Exposure | None:
    """The newest exposure with a reading or by flashes, of the paper that was used last; a step sheet has none. Without one, the newest exposure."""
    newest = last_exposure()
    of_paper = _exposures().filter(sheet__paper=newest.sheet.paper).reverse() if newest else ()
    return next((one for one in of_paper if set(READINGS) & set(one.scene) or one.flashes_given is not None), newest)


def _exposures() -> QuerySet[Exposure]:
    found = Exposure.objects.filter(archived_at=None, sheet__archived_at=None)
    return found.select_related("sheet__paper", "camera", "lens", "light", "meter").order_by("exposed_at", "pk")


def sheet_story(number: str) -> Story:
    """One sheet's whole story; `UnknownName` when there is no such sheet."""
    sheet = find_thing("sheet", number)
    assert isinstance(sheet, Sheet)  # noqa: S101 (the kind says so)
    step_sheet = StepSheet.objects.filter(sheet=sheet).first()
    return Story(
        line=_lines(_with_state(Sheet.objects.filter(pk=sheet.pk)))[0],
        process=process_of(sheet),
        pieces=tuple(sheet.pieces.order_by("letter")),
        processings=tuple(processings_of(sheet)),
        step_sheet=step_sheet,
        readings=tuple(step_sheet.patches) if step_sheet else (),
        curves=tuple(step_sheet.curves.select_related("answer")) if step_sheet else (),
        verdicts=tuple(sheet.verdicts.all()),
        changes=changes_of(sheet),
    )


def gear(*, archived: bool = False) -> dict[str, tuple[Kept, ...]]:
    """Papers, lots and gear by kind, in the order of their names."""
    found: dict[str, tuple[Kept, ...]] = {}
    for kind, model in NAMED.items():
        rows: QuerySet[Any] = model.objects.filter(archived_at__isnull=not archived)  # type: ignore[attr-defined]
        found[kind] = tuple(rows.select_related("paper", "cut_from").prefetch_related("chips") if kind == "lot" else rows)
    return found


def sides(holder: Holder | None = None) -> tuple[HolderSide, ...]:
    """Every holder side that is not archived, with what is in it."""
    found = HolderSide.objects.filter(holder__archived_at=None).select_related("holder", "lot__paper", "sheet")
    return tuple(found.filter(holder=holder) if holder else found)


def names(kind: str) -> tuple[str, ...]:
    """What can be chosen of a kind: every name or number that is not archived."""
    if kind == "sheet":
        return tuple(Sheet.objects.filter(archived_at=None).values_list("number", flat=True))
    if kind == "count":
        return tuple(Count.objects.filter(state="running").values_list("name", flat=True))
    if kind not in BY_NAME:
        return ()
    return tuple(BY_NAME[kind].objects.filter(archived_at=None).values_list("name", flat=True))  # type: ignore[attr-defined]


def paper_known(name: str, process: str = "direct positive", coming: Next | None = None, *, fresh_baths: bool = False) -> PaperKnown:
    """What own sheets say of a paper, for the next sheet, today and in the light of the last one unless said; `UnknownName` without such a paper."""
    paper = find_thing("paper", name)
    assert isinstance(paper, Paper)  # noqa: S101 (the kind says so)
    curves = Curve.objects.filter(step_sheet__sheet__paper=paper, process=process, archived_at=None, step_sheet__archived_at=None)
    told = told_by(paper, process)
    answer = forecast(told, process, coming or replace(unasked(told), fresh_baths=fresh_baths))
    newest = tuple(curves.select_related("answer", "step_sheet__sheet"))
    return PaperKnown(paper, process, told, answer, control_history(told, process), newest)


def thing_history(kind: str, name: str) -> tuple[Change, ...]:
    """Everything that was ever changed on one thing, the newest first."""
    return changes_of(find_thing(kind, name))


def last_processing(process: str = "") -> Processing | None:
    """The newest stay in the trays of which steps were written down, of that process where one is named."""
    found = Processing.objects.filter(archived_at=None, steps__archived_at=None, **({"process": process} if process else {}))
    return found.select_related("sheet").prefetch_related("steps").distinct().order_by("processed_at", "pk").last()


def newest_act() -> int:
    """The number of the newest act: as long as it is the same, nothing has been done."""
    return Act.objects.order_by("-pk").values_list("pk", flat=True).first() or 0


def act_of(key: str) -> Act | None:
    """The act that was sent with this key."""
    return Act.objects.filter(key=key).first()


def _with_state(found: QuerySet[Sheet]) -> QuerySet[Any]:
    """The same sheets, the newest first, each with where it stands."""
    of_this = Q(sheet=OuterRef("pk"))
    judged = Exists(Verdict.objects.filter(of_this, archived_at=None))
    read = Exists(Reading.objects.filter(step_sheet__sheet=OuterRef("pk"), archived_at=None))
    processed = Exists(Processing.objects.filter(of_this | Q(sheet=OuterRef("whole")), archived_at=None))
    cut = Exists(Sheet.objects.filter(whole=OuterRef("pk"), archived_at=None))
    reached = (When(judged | read, then=Value("measured")), When(processed, then=Value("processed")), When(cut, then=Value("cut")))
    state = Case(*reached, default=Value("exposed"), output_field=CharField())
    return found.annotate(state=state).select_related("paper", "lot", "whole").order_by("-year", "-running", "letter")


def _lines(rows: QuerySet[Any]) -> tuple[SheetLine, ...]:
    """Sheets as they stand in a list, in few queries however many there are."""
    sheets_found = list(rows)
    wholes = {sheet.whole_id or sheet.pk for sheet in sheets_found}
    shots: dict[int, list[Exposure]] = {}
    by_time = Exposure.objects.filter(sheet__in=wholes, archived_at=None).order_by("exposed_at", "pk")
    for exposure in by_time.select_related("camera", "lens", "light", "meter", "side__holder", "planned"):
        shots.setdefault(exposure.sheet_id, []).append(exposure)
    verdicts = {one.sheet_id: one for one in Verdict.objects.filter(sheet__in=sheets_found, archived_at=None).order_by("judged_at", "pk")}
    patches: dict[int, list[float]] = {}
    read = Reading.objects.filter(step_sheet__sheet__in=sheets_found, archived_at=None, density__isnull=False).order_by("position")
    for number, density in read.values_list("step_sheet__sheet", "density"):
        patches.setdefault(number, []).append(density or 0.0)
    pictures = _pictured(sheets_found)
    return tuple(
        SheetLine(
            sheet,
            sheet.state,
            tuple(shots.get(sheet.whole_id or sheet.pk, ())),
            verdicts.get(sheet.pk),
            tuple(patches.get(sheet.pk, ())),
            pictures.get(sheet.pk),
        )
        for sheet in sheets_found
    )


def _pictured(sheets_found: list[Any]) -> dict[int, Scan]:
    """The newest scan of each sheet of which there is a picture for the eye."""
    read = Scan.objects.filter(sheet__in=sheets_found, archived_at=None, said="").exclude(header={}).select_related("file")
    return {scan.sheet_id or 0: scan for scan in reversed(list(read)) if (VIEWS / scan.views / "thumb.png").is_file()}
