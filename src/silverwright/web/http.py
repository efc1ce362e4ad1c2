"""Questions, acts and the book for programs: JSON in, JSON out, described by one OpenAPI document. Imported when the first program asks."""

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import Annotated, Any, Final, Literal

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import path
from ninja import NinjaAPI, Schema
from ninja.errors import HttpError, ValidationError
from ninja.params.functions import Body, Header, Query
from ninja.parser import Parser
from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from silverwright import __version__
from silverwright.asking.operation import AnyOperation
from silverwright.book.counting import count_known, counts_running
from silverwright.book.documents import document
from silverwright.book.files import keep_open
from silverwright.book.lots import box_known, boxes, holders
from silverwright.book.queries import act_of, paper_known, sheet_story, sheets
from silverwright.book.scans import calibration_known, scan_known, scans
from silverwright.book.shelf import bath_known, shelf, stock_known
from silverwright.catalogue import catalogue, find
from silverwright.errors import SilverwrightError
from silverwright.questions.mix import MixQuestion
from silverwright.questions.recipe import recipes_for
from silverwright.web.guard import BYTES
from silverwright.web.hazardcard import hazard_card_file
from silverwright.web.labels import sheet_labels_file, shelf_labels_file
from silverwright.web.mixing import mixing_card_file
from silverwright.web.outdoors import HTML, PDF, card_file, field_page_file, ruler_file
from silverwright.web.pages.wrong import NOTHING_THERE, Trouble, trouble_of, wrong
from silverwright.workshop.act import AnyDeed, Done
from silverwright.workshop.deeds import DEEDS, do, find_deed
from silverwright.workshop.flashes import PlannedFlashes, plan_either
from silverwright.workshop.labels import SheetLabelsForm, ShelfLabelsForm
from silverwright.workshop.outdoors import OutdoorsForm, take_along
from silverwright.workshop.plan import Planned
from silverwright.workshop.scene import EitherForm
from silverwright.workshop.stamp import stamp

NOT_READABLE: Final = Trouble(400, "Not JSON", "This is not JSON that can be read: an object is needed, with finite numbers and whole letters.")
NO_OBJECT: Final = Trouble(422, "An object is needed", "A JSON object is needed: each field with its value.")
NO_FILTER: Final = Trouble(422, "Not a filter", "A filter has no such value; /api/openapi.json names those that there are.")


BODY: Final[Any] = Body(...)
FILTERS: Final[Any] = Query(...)
KEY: Final[Any] = Header("", alias="Idempotency-Key", description="Sent again with the same content it makes one event, not two.")


class Filters(Schema):
    """What the sheets are found by; what is left empty does not count."""

    paper: str = ""
    lot: str = ""
    state: Literal["", "exposed", "cut", "processed", "measured"] = ""
    process: str = ""
    light_class: str = ""
    year: str = ""
    words: str = ""
    archived: Literal["", "yes"] = ""


class HandedIn(Schema):
    """A file that was kept."""

    file: str
    size_bytes: int


class Problem(Schema):
    """One thing wrong, and the field that it belongs to."""

    field: str
    given: str
    problem: str


class BothValues(Schema):
    """What was changed meanwhile: what was sent, and what stands in the book now."""

    field: str
    mine: str
    theirs: str


class Problems(Schema):
    """Everything that is wrong, at once."""

    problems: list[Problem]
    both: list[BothValues] = []


class OurParser(Parser):
    """JSON as the standard has it: no `NaN`, no half letters."""

    def parse_body(self, request: HttpRequest) -> Any:  # noqa: ANN401 (ninja's shape)
        """Read the body."""
        given = json.loads(request.body, parse_constant=_refuse)
        json.dumps(given, ensure_ascii=False).encode()  # a lone surrogate cannot be written anywhere
        return given


def _refuse(constant: str) -> None:
    raise ValueError(constant)


@dataclass(frozen=True, slots=True)
class Unread:
    """A body that is passed on as it came, and described as the record that will read it: so all faults are found at once, in our words."""

    record: type[BaseModel]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:  # noqa: ANN401
        return core_schema.dict_schema(keys_schema=core_schema.str_schema())

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        self.record.model_rebuild()
        return handler(self.record.__pydantic_core_schema__)


api = NinjaAPI(title="silverwright", version=__version__, docs_url=None, openapi_url=None, parser=OurParser())
REFUSED: Final = dict.fromkeys((400, 403, 404, 409, 411, 413, 415, 422, 503, 507), Problems)


@api.exception_handler(SilverwrightError)
def _ours(request: HttpRequest, error: SilverwrightError) -> HttpResponse:
    return wrong(request, trouble_of(error))


@api.exception_handler(ValidationError)
def _no_object(request: HttpRequest, error: ValidationError) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    return wrong(request, NO_OBJECT if request.method == "POST" else NO_FILTER)


@api.exception_handler(HttpError)
def _unreadable(request: HttpRequest, error: HttpError) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    return wrong(request, NOT_READABLE)


def _asker(operation: AnyOperation) -> Callable[..., HttpResponse]:
    def ask(request: HttpRequest, given: Any) -> HttpResponse:  # noqa: ANN401, ARG001 (ninja knows it by this name)
        return JsonResponse(operation.ask(given).model_dump(mode="json"))

    ask.__annotations__ = {"request": HttpRequest, "given": Annotated[dict[str, Any], Unread(operation.question), BODY], "return": HttpResponse}
    return ask


def _doer(deed: AnyDeed) -> Callable[..., HttpResponse]:
    def act(request: HttpRequest, given: Any, idempotency_key: str) -> HttpResponse:  # noqa: ANN401, ARG001 (ninja knows it by this name)
        again = bool(idempotency_key) and act_of(idempotency_key) is not None
        done = do(deed.name, given, key=idempotency_key)
        return JsonResponse(done.model_dump(mode="json"), status=200 if again else 201)

    act.__annotations__ = {
        "request": HttpRequest,
        "given": Annotated[dict[str, Any], Unread(deed.form), BODY],
        "idempotency_key": Annotated[str, KEY],
        "return": HttpResponse,
    }
    return act


for _operation in catalogue():
    api.post(
        f"ask/{_operation.name}", response={200: _operation.answer, **REFUSED}, summary=_operation.asks, operation_id=_operation.name, tags=["ask"]
    )(_asker(_operation))
for _deed in DEEDS:
    api.post(
        f"do/{_deed.name}",
        response={200: Done, 201: Done, **REFUSED},
        summary=_deed.says,
        description=_deed.warning.sentence if _deed.warning else None,
        operation_id=_deed.name,
        tags=["do"],
    )(_doer(_deed))


@api.post(
    "plan",
    response={200: Planned | PlannedFlashes, **REFUSED},
    summary="How long do I expose, or with how many flashes, with everything that the book knows?",
    operation_id="plan",
)
def plan_it(request: HttpRequest, given: Annotated[dict[str, Any], Unread(EitherForm), BODY]) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Ask the ledger, or the flash question, with what the book knows; nothing is kept."""
    return JsonResponse(plan_either(given).model_dump(mode="json"))


FILES_OF_KIND: Final[dict[str, Any]] = {
    kind: {"200": {"description": "The file.", "content": {kind: {"schema": {"type": "string", "format": "binary"}}}}} for kind in (HTML, PDF)
}


@api.post(
    "field-page",
    response=REFUSED,
    summary="The field page: one file for a phone, with every figure in it.",
    operation_id="field-page",
    tags=["take along"],
    openapi_extra={"responses": FILES_OF_KIND[HTML]},
)
def take_field_page(request: HttpRequest, given: Annotated[dict[str, Any], Unread(OutdoorsForm), BODY]) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Time, count and log without a server, for one paper with its lenses; nothing is kept."""
    return field_page_file(take_along(given))


@api.post(
    "card",
    response=REFUSED,
    summary="The exposure card as PDF.",
    operation_id="card",
    tags=["take along"],
    openapi_extra={"responses": FILES_OF_KIND[PDF]},
)
def take_card(
    request: HttpRequest,  # noqa: ARG001 (ninja's shape)
    given: Annotated[dict[str, Any], Unread(OutdoorsForm), BODY],
    size: Literal["a6", "a4"] = "a6",
) -> HttpResponse:
    """Times by reading and extension, what to add for another aperture or light, a log on the back."""
    return card_file(take_along(given), size)


@api.get(
    "ruler",
    response=REFUSED,
    summary="The ruler target as PDF.",
    operation_id="ruler",
    tags=["take along"],
    openapi_extra={"responses": FILES_OF_KIND[PDF]},
)
def take_ruler(request: HttpRequest, sheet: Literal["a4", "us-letter"] = "a4") -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Two bars exactly 200 mm apart."""
    return ruler_file(sheet)


@api.get("recipes", response={200: list[dict[str, Any]], **REFUSED}, summary="The recipes in the order of the process.", operation_id="recipes")
def list_recipes(request: HttpRequest, role: str = "") -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Every recipe with its parts, who says so, and what can hurt; or those for one step, such as bleach."""
    return JsonResponse([asdict(one) for one in recipes_for(role)], safe=False)


@api.get(
    "hazard-card",
    response=REFUSED,
    summary="The hazard card for the wall as PDF.",
    operation_id="hazard-card",
    tags=["print"],
    openapi_extra={"responses": FILES_OF_KIND[PDF]},
)
def take_hazard_card(request: HttpRequest, page: Literal["a4", "us-letter"] = "a4") -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """First steps with your own poison centre's number, what must never meet, and what each bottle and bath here can do."""
    return hazard_card_file(page)


@api.post(
    "mixing-card",
    response=REFUSED,
    summary="The mixing card as PDF.",
    operation_id="mixing-card",
    tags=["print"],
    openapi_extra={"responses": FILES_OF_KIND[PDF]},
)
def take_mixing_card(
    request: HttpRequest,  # noqa: ARG001 (ninja's shape)
    given: Annotated[dict[str, Any], Unread(MixQuestion), BODY],
    page: Literal["a5", "half-letter"] = "a5",
) -> HttpResponse:
    """One bath on one card: the caution before each amount, what comes of it, what has to be bought."""
    return mixing_card_file(given, page)


@api.post(
    "labels",
    response=REFUSED,
    summary="Labels for bottles, baths and waste as PDF.",
    operation_id="labels",
    tags=["print"],
    openapi_extra={"responses": FILES_OF_KIND[PDF]},
)
def take_labels(
    request: HttpRequest,  # noqa: ARG001 (ninja's shape)
    given: Annotated[dict[str, Any], Unread(ShelfLabelsForm), BODY],
    size: Literal["62x29", "a4", "us-letter"] = "62x29",
) -> HttpResponse:
    """One on each page of 62 x 29 mm, or 24 on a sheet to cut apart, with what can hurt and a code to scan."""
    return shelf_labels_file(given, size)


@api.post(
    "sheet-labels",
    response=REFUSED,
    summary="Labels for sheets or holder sides as PDF.",
    operation_id="sheet-labels",
    tags=["print"],
    openapi_extra={"responses": FILES_OF_KIND[PDF]},
)
def take_sheet_labels(
    request: HttpRequest,  # noqa: ARG001 (ninja's shape)
    given: Annotated[dict[str, Any], Unread(SheetLabelsForm), BODY],
    size: Literal["62x29", "a4", "us-letter"] = "62x29",
) -> HttpResponse:
    """Number, subject, paper and clipped corners, with a code to scan."""
    return sheet_labels_file(given, size)


@api.post(
    "files",
    response={201: HandedIn, **REFUSED},
    summary="Hand in a file; it is kept byte for byte, and acts name it by its SHA-256.",
    operation_id="hand-in",
    openapi_extra={"requestBody": {"required": True, "content": {BYTES: {"schema": {"type": "string", "format": "binary"}}}}},
)
def hand_in(request: HttpRequest) -> HttpResponse:
    """Keep the body as a file. The same bytes sent twice are kept once."""
    kept = keep_open(request)
    return JsonResponse({"file": kept.sha256, "size_bytes": kept.size_bytes}, status=201)


@api.get("boxes", response={200: list[dict[str, Any]], **REFUSED}, summary="The boxes of paper.", operation_id="boxes")
def list_boxes(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Sheets left, what was cut from which box, strips, chips."""
    return JsonResponse(document(boxes()), safe=False)


@api.get("boxes/{name}", response={200: dict[str, Any], **REFUSED}, summary="One box of paper.", operation_id="box-known")
def one_box(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """The same of one box."""
    return JsonResponse(document(box_known(name)))


@api.get("holders", response={200: list[dict[str, Any]], **REFUSED}, summary="The holders, side by side.", operation_id="holders")
def list_holders(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """What is in which side, and which corner of it is clipped."""
    return JsonResponse(document(holders()), safe=False)


@api.get("scans", response={200: list[dict[str, Any]], **REFUSED}, summary="The scans, the newest first.", operation_id="scans")
def list_scans(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Every scan with where it stands."""
    return JsonResponse(document(scans()), safe=False)


@api.get("scans/{name}", response={200: dict[str, Any], **REFUSED}, summary="One scan and its densities.", operation_id="scan-known")
def one_scan(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Where it stands, how far its work is, its patches and their densities."""
    return JsonResponse(document(scan_known(name)))


@api.get(
    "scanners/{name}/calibration",
    response={200: dict[str, Any], **REFUSED},
    summary="How a scanner tells density, and which steps of its tablet are left out.",
    operation_id="calibration",
)
def one_calibration(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """What its tablet said: each step with its miss, the steps to look at, those left out with the reason."""
    return JsonResponse(document(calibration_known(name)))


@api.get("counts", response={200: list[dict[str, Any]], **REFUSED}, summary="What is being exposed now, the newest first.", operation_id="counts")
def list_counts(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Every count that runs, with how long is left."""
    return JsonResponse(document(counts_running(stamp())), safe=False)


@api.get("counts/{name}", response={200: dict[str, Any], **REFUSED}, summary="One count, running or not.", operation_id="count-known")
def one_count(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """How it stands, everything that happened to it, and the sheet that it became."""
    return JsonResponse(document(count_known(name, stamp())))


@api.get("shelf", response={200: dict[str, Any], **REFUSED}, summary="What stands on the shelf.", operation_id="shelf")
def the_shelf(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Bottles, baths in use and waste bottles with what is in them today, own recipes, the room's numbers."""
    return JsonResponse(document(shelf()))


@api.get("baths/{name}", response={200: dict[str, Any], **REFUSED}, summary="One bath's whole story.", operation_id="bath-known")
def one_bath(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """What it holds, how strong, where everything went, and all that happened to it."""
    return JsonResponse(document(bath_known(name)))


@api.get("stocks/{name}", response={200: dict[str, Any], **REFUSED}, summary="One bottle with its tests.", operation_id="stock-known")
def one_stock(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """What is left in it, how strong it is by its label or its newest test."""
    return JsonResponse(document(stock_known(name)))


@api.get("sheets", response={200: list[dict[str, Any]], **REFUSED}, summary="The sheets, the newest first.", operation_id="sheets")
def list_sheets(request: HttpRequest, filters: Annotated[Filters, FILTERS]) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Every sheet that fits, with where it stands."""
    return JsonResponse(document(sheets(filters.model_dump())), safe=False)


@api.get("sheets/{number}", response={200: dict[str, Any], **REFUSED}, summary="One sheet's whole story.", operation_id="sheet")
def one_sheet(request: HttpRequest, number: str) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Everything that the book has of a sheet."""
    return JsonResponse(document(sheet_story(number)))


@api.get("papers/{name}", response={200: dict[str, Any], **REFUSED}, summary="What own sheets say of a paper.", operation_id="paper-known")
def one_paper(
    request: HttpRequest,  # noqa: ARG001 (ninja's shape)
    name: str,
    process: Literal["direct positive", "negative"] = "direct positive",
    fresh_baths: bool = False,  # noqa: FBT001, FBT002 (ninja's shape)
) -> HttpResponse:
    """Its curve, its evidence, its control step sheets and the forecast; for the baths as they stand, or for baths mixed afresh."""
    return JsonResponse(document(paper_known(name, process, fresh_baths=fresh_baths)))


@api.get("openapi.json", include_in_schema=False)
def describe(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Every address, what it takes and what it answers."""
    return JsonResponse(api.get_openapi_schema(path_prefix="/api/"))


def unknown(request: HttpRequest, kind: str, name: str) -> HttpResponse:
    """No question and no act of that name: say which ones are near."""
    {"ask": find, "do": find_deed}.get(kind, _nowhere)(name)
    return wrong(request, NOTHING_THERE)


def _nowhere(_name: str) -> None:
    return None


urlpatterns = [path("", api.urls), path("<str:kind>/<str:name>", unknown)]
