"""What went wrong, as a page or, for programs, as JSON: what happened, whether anything was kept, what to do."""

from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from silverwright.errors import (
    BadBackup,
    BadQuestion,
    BookBusy,
    BookDamaged,
    BookOutOfReach,
    BookTooNew,
    Contradiction,
    DiskFull,
    Fault,
    NotEnoughReadings,
    NotStarted,
    OutOfRange,
    ScanFailed,
    ScanRefused,
    SilverwrightError,
    Stale,
    UnknownName,
)


@dataclass(frozen=True, slots=True)
class Trouble:
    """A status, a head, one sentence or two, and what belongs to it."""

    status: int
    head: str
    says: str
    faults: tuple[Fault, ...] = ()
    both: tuple[tuple[str, str, str], ...] = ()  # what was changed meanwhile: field, mine, theirs


NOTHING_THERE: Final = Trouble(404, "Nothing here", "There is no page at this address. Nothing was changed.")
UNREADABLE: Final = Trouble(400, "This could not be read", "What arrived could not be read. Nothing was changed; go back and send it again.")
NOT_ALLOWED: Final = Trouble(403, "Not from here", "This is not answered from where it was sent. Nothing was changed.")
OURS: Final = Trouble(
    500,
    "Something broke here",
    "This is a fault of the program, not of what you typed. What was recorded before is kept; go back, your text is still there.",
)
STATUS: Final[dict[type[SilverwrightError], tuple[int, str]]] = {
    BadQuestion: (422, "This cannot be used yet"),
    OutOfRange: (422, "This cannot be worked out"),
    NotEnoughReadings: (422, "Too few readings"),
    BadBackup: (422, "This backup cannot be used"),
    UnknownName: (404, "Not here"),
    Stale: (409, "Changed meanwhile"),
    Contradiction: (409, "Already used"),
    DiskFull: (507, "The disk is full"),
    BookBusy: (503, "The book is busy"),
    BookDamaged: (503, "The book cannot be read"),
    BookOutOfReach: (503, "The book cannot be opened"),
    BookTooNew: (503, "The book is newer than the program"),
    NotStarted: (503, "The example did not start"),
    ScanRefused: (422, "This scan cannot be measured"),
    ScanFailed: (503, "The scan could not be read"),
}


def trouble_of(error: SilverwrightError) -> Trouble:
    """The status and the words of an error of ours."""
    status, head = next((told for kind, told in STATUS.items() if isinstance(error, kind)), (422, "This cannot be done"))
    if isinstance(error, BadQuestion):
        return Trouble(status, head, "Go back and mend what stands here.", faults=error.faults)
    if isinstance(error, ScanRefused):
        return Trouble(status, head, "The file is kept as it is.", faults=error.faults)
    if isinstance(error, Stale):
        fields = dict.fromkeys([*error.mine, *error.theirs])
        return Trouble(status, head, str(error), both=tuple((name, error.mine.get(name, ""), error.theirs.get(name, "")) for name in fields))
    return Trouble(status, head, str(error))


def wrong(request: HttpRequest, trouble: Trouble) -> HttpResponse:
    """The trouble as a page, or as JSON under `/api/`."""
    if request.path.startswith("/api/"):
        return JsonResponse(problems(trouble), status=trouble.status)
    return render(request, "wrong.html", {"trouble": trouble}, status=trouble.status)


def problems(trouble: Trouble) -> dict[str, object]:
    """The one JSON shape of everything that goes wrong."""
    faults = trouble.faults or (Fault("", "", trouble.says),)
    told: dict[str, object] = {"problems": [{"field": fault.field, "given": fault.given, "problem": fault.problem} for fault in faults]}
    if trouble.both:
        told["both"] = [{"field": field, "mine": mine, "theirs": theirs} for field, mine, theirs in trouble.both]
    return told


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:  # noqa: ARG001 (Django's shape)
    """400."""
    return wrong(request, UNREADABLE)


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:  # noqa: ARG001 (Django's shape)
    """403."""
    return wrong(request, NOT_ALLOWED)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:  # noqa: ARG001 (Django's shape)
    """404."""
    return wrong(request, NOTHING_THERE)


def broken(request: HttpRequest) -> HttpResponse:
    """500."""
    return wrong(request, OURS)
