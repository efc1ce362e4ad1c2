"""Questions, acts and the book for programs: JSON in, JSON out, described by one OpenAPI document. Imported when the first program asks."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Final

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import path
from ninja import NinjaAPI, Schema
from ninja.errors import HttpError, ValidationError
from ninja.params.functions import Body, Header
from ninja.parser import Parser
from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from silverwright import __version__
from silverwright.asking.operation import AnyOperation
from silverwright.book.queries import act_of
from silverwright.catalogue import CATALOGUE
from silverwright.errors import SilverwrightError
from silverwright.web.pages.wrong import Trouble, trouble_of, wrong
from silverwright.workshop.act import AnyDeed, Done
from silverwright.workshop.deeds import DEEDS, do

NOT_READABLE: Final = Trouble(400, "Not JSON", "This is not JSON that can be read: an object is needed, with finite numbers and whole letters.")
NO_OBJECT: Final = Trouble(422, "An object is needed", "A JSON object is needed: each field with its value.")


BODY: Final[Any] = Body(...)
KEY: Final[Any] = Header("", alias="Idempotency-Key", description="Sent again with the same content it makes one event, not two.")


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
REFUSED: Final = {frozenset({400, 404, 409, 413, 415, 422, 503, 507}): Problems}


@api.exception_handler(SilverwrightError)
def _ours(request: HttpRequest, error: SilverwrightError) -> HttpResponse:
    return wrong(request, trouble_of(error))


@api.exception_handler(ValidationError)
def _no_object(request: HttpRequest, error: ValidationError) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    return wrong(request, NO_OBJECT)


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


for _operation in CATALOGUE:
    api.post(
        f"ask/{_operation.name}", response={200: _operation.answer, **REFUSED}, summary=_operation.asks, operation_id=_operation.name, tags=["ask"]
    )(_asker(_operation))
for _deed in DEEDS:
    api.post(f"do/{_deed.name}", response={frozenset({200, 201}): Done, **REFUSED}, summary=_deed.says, operation_id=_deed.name, tags=["do"])(
        _doer(_deed)
    )


@api.get("openapi.json", include_in_schema=False)
def describe(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 (ninja's shape)
    """Every address, what it takes and what it answers."""
    return JsonResponse(api.get_openapi_schema(path_prefix="/api/"))


urlpatterns = [path("", api.urls)]
