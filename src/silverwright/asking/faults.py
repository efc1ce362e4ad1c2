"""Our own words for everything that can be wrong with what was typed."""

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Final

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from silverwright.asking.fields import Mark, Quantity, fields_of, label_of
from silverwright.asking.rows import Rows
from silverwright.errors import Fault

SENTENCES: Final = {
    "missing": "Needed. {help}",
    "extra_forbidden": "This is not asked here.{near}",
    "greater_than_equal": "Too small: allowed is {allowed}. {help}",
    "less_than_equal": "Too large: allowed is {allowed}. {help}",
    "finite_number": "Not a finite number: allowed is {allowed}.",
    "float_type": "A number is needed here, such as {example}.",
    "float_parsing": "A number is needed here, such as {example}.",
    "value_error": "{own} Write it like {example}.",
    "rule": "{own}",
    "literal_error": "Choose {choices}.",
    "tuple_type": "A row of values is needed here, such as {example}.",
    "too_short": "At least one is needed here, such as {example}.",
    "too_long": "Too many: at most {most}.",
    "string_type": "Words are needed here, such as {example}.",
    "string_too_long": "Too long: at most {most} letters.",
    "string_too_short": "Needed. {help}",
    "bool_type": "Say yes or no.",
    "model_type": "Fields with their values are needed here.",
    "model_attributes_type": "Fields with their values are needed here.",
    "date_from_datetime_parsing": "A day is needed here, such as {example}.",
    "date_parsing": "A day is needed here, such as {example}.",
    "date_type": "A day is needed here, such as {example}.",
    "date_from_datetime_inexact": "A day is needed here, such as {example}.",
    "datetime_from_date_parsing": "A day with its time is needed here, such as {example}.",
    "datetime_parsing": "A day with its time is needed here, such as {example}.",
    "datetime_type": "A day with its time is needed here, such as {example}.",
    "datetime_object_invalid": "A day with its time is needed here, such as {example}.",
    "timezone_aware": "The time zone is needed too, such as {example}.",
}
OTHERWISE: Final = "This cannot be read here; write it like {example}."
LONGEST_ECHO: Final = 80  # our judgement: enough to recognise what was typed


def faults_of(record: type[BaseModel], given: object, error: ValidationError) -> tuple[Fault, ...]:
    """Every fault of what was typed, in our own words: one sentence beside one field, though twenty rows of it are wrong."""
    found: dict[str, Fault] = {}
    for one in error.errors(include_url=False):
        fault = _fault(record, given, one)
        found.setdefault(fault.field, fault)
    return tuple(found.values())


def _fault(record: type[BaseModel], given: object, error: ErrorDetails) -> Fault:
    context = error.get("ctx", {})
    name = str(context.get("field") or (error["loc"][0] if error["loc"] else ""))
    fields: Mapping[str, Mark] = fields_of(record)
    mark = fields.get(name)
    typed = given.get(name, "") if isinstance(given, Mapping) else given
    typed = {True: "yes", False: "no"}.get(typed, typed) if isinstance(typed, bool) else typed
    where = ""
    if len(error["loc"]) > 1 and isinstance(place := error["loc"][1], int):
        where = f"Number {place + 1} of the row: "
        if isinstance(mark, Rows):
            column = str(error["loc"][2]) if len(error["loc"]) > 2 else ""  # noqa: PLR2004 (field, row, column)
            mark = fields_of(mark.row).get(column, mark)
            where = f"Row {place + 1}{', ' + label_of(column, mark).lower() if column else ''}: "
            typed = error["input"]
            typed = " ".join(str(cell) for cell in typed.values()) if isinstance(typed, Mapping) else typed
    near = get_close_matches(name, fields, n=1)
    problem = SENTENCES.get(error["type"], OTHERWISE).format(
        help=mark.help if mark else "",
        example=mark.example if mark else "",
        allowed=mark.allowed if isinstance(mark, Quantity) else "",
        near=f" Did you mean {near[0]}?" if near else "",
        choices=context.get("expected", ""),
        own=context.get("error", context.get("said", "")),
        most=context.get("max_length", ""),
    )
    return Fault(name, str(typed)[:LONGEST_ECHO], where + problem.strip())
