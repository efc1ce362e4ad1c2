"""What a field is: one object that holds its unit, bounds, help and example, for questions, for acts and for the book."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from silverwright.units import Unit

if TYPE_CHECKING:
    from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic.json_schema import JsonSchemaValue
    from pydantic_core.core_schema import CoreSchema

MOST_NUMBERS: Final = 200  # our judgement: ten step tablets on one sheet
LONGEST_TEXT: Final = 4000  # our judgement: a page of remarks


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number with a unit, or a row of them. `1/4`, `1,25`, `2m30s`, `1:37`, `12 in` and `f/5.6` are read, too."""

    unit: Unit
    low: float
    high: float
    help: str
    example: object
    label: str = ""

    @property
    def allowed(self) -> str:
        """The bounds, for people."""
        return f"{self.unit.show(self.low)} to {self.unit.show(self.high)}"

    def __get_pydantic_core_schema__(self, source: Any, handler: "GetCoreSchemaHandler") -> "CoreSchema":  # noqa: ANN401
        from pydantic_core import core_schema as schema  # only pydantic comes here: kernels and columns do not pay for it

        bounded = schema.float_schema(ge=self.low, le=self.high, allow_inf_nan=False, strict=True)
        written = schema.union_schema([bounded, schema.str_schema(min_length=1, max_length=40)])
        number = schema.no_info_before_validator_function(self.unit.read, bounded, json_schema_input_schema=written)
        if source is float:
            return number
        if source == float | None:
            return schema.nullable_schema(number)
        if source == tuple[float, ...]:
            row = schema.tuple_variable_schema(number, max_length=MOST_NUMBERS)
            pasted = schema.union_schema([row, schema.str_schema()])
            return schema.no_info_before_validator_function(split_numbers, row, json_schema_input_schema=pasted)
        return handler(source)

    def __get_pydantic_json_schema__(self, schema: "CoreSchema", handler: "GetJsonSchemaHandler") -> "JsonSchemaValue":
        return handler(schema) | {"description": self.help, "unit": self.unit.sign, "examples": [self.example]}


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """A field whose type says what is allowed; here stands what people read."""

    help: str
    example: object
    label: str = ""

    def __get_pydantic_json_schema__(self, schema: "CoreSchema", handler: "GetJsonSchemaHandler") -> "JsonSchemaValue":
        return handler(schema) | {"description": self.help, "examples": [self.example]}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice(Plain):
    """One of a few words (a `Literal`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words(Plain):
    """Free text (a `str`), at most so long."""

    longest: int = 200
    lines: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: "GetCoreSchemaHandler") -> "CoreSchema":  # noqa: ANN401
        from pydantic_core import core_schema as schema

        text = schema.str_schema(max_length=min(self.longest, LONGEST_TEXT), strip_whitespace=True)
        return schema.nullable_schema(text) if source == str | None else text


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing(Plain):
    """Something in the book (a `str`): its name or, for a sheet, its number. `kind` is the model's name in lower case."""

    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag(Plain):
    """Yes or no (a `bool`)."""

    def __get_pydantic_core_schema__(self, source: Any, handler: "GetCoreSchemaHandler") -> "CoreSchema":  # noqa: ANN401
        from pydantic_core import core_schema as schema

        return schema.no_info_before_validator_function(_read_flag, schema.bool_schema(strict=True), json_schema_input_schema=schema.bool_schema())


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment(Plain):
    """A day or a day with time (a `datetime.date` or an aware `datetime.datetime`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Upload(Plain):
    """A file that was handed in (a `str`): its SHA-256. Pages, the command line and Python take the file itself and put its SHA-256 there."""


Mark = Quantity | Plain


def split_numbers(given: object) -> object:
    """Numbers pasted in a row, a column or with semicolons or tabs between; `1.88, 1.87` too."""
    return given.replace(";", " ").replace(", ", " ").split() if isinstance(given, str) else given


def _read_flag(given: object) -> object:
    """What a form, a command line or JSON sends for yes and no."""
    words = {"yes": True, "true": True, "on": True, "1": True, "no": False, "false": False, "off": False, "0": False, "": False}
    return words.get(given.strip().lower(), given) if isinstance(given, str) else given


def fields_of(record: "type[BaseModel]") -> dict[str, Mark]:
    """The fields of a record that people fill in or read, each with what we know about it."""
    marks = {name: [mark for mark in field.metadata if isinstance(mark, Mark)] for name, field in record.model_fields.items()}
    return {name: found[0] for name, found in marks.items() if found}


def label_of(name: str, mark: Mark) -> str:
    """What stands beside a field: its own label, or its name without the unit."""
    suffix = mark.unit.suffix if isinstance(mark, Quantity) else ""
    return mark.label or name.removesuffix(suffix).replace("_", " ").capitalize()
