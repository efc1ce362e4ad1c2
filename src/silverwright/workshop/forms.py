"""Kinds of fields that several acts share; the rules stand behind the field's own mark."""

from datetime import UTC, date, datetime
from typing import Final

from pydantic import AfterValidator, ValidatorFunctionWrapHandler, WrapValidator

from silverwright.asking.fields import Moment, Words
from silverwright.asking.operation import refuse

FIRST_YEAR: Final = 1840  # our judgement: before that there was no such paper
LAST_YEAR: Final = 2200  # our judgement: a slip of the pen


def _one_line(written: str) -> str:
    """A name stands on a label: one line, something in it."""
    name = " ".join(written.split())
    if not name or not name.isprintable():
        raise refuse("A name of at least one letter is needed here, on one line.")
    return name


def _whole(number: float | None) -> float | None:
    if number is not None and number != int(number):
        raise refuse(f"{number:g} is no whole number.")
    return number


def _dated(written: object, read: ValidatorFunctionWrapHandler) -> object:
    """A day, or a day with its time; a time without a zone is this computer's time. A bare number is no day."""
    text = written.strip() if isinstance(written, str) else written
    if isinstance(text, int | float) or (isinstance(text, str) and text.replace(".", "", 1).lstrip("+-").isdigit()):
        raise refuse("A day is needed here, such as 2026-11-25 or 2026-11-25 14:30.")
    day = read(text)
    if isinstance(day, date) and not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise refuse(f"The year {day.year} cannot be meant: allowed is {FIRST_YEAR} to {LAST_YEAR}.")
    return day.astimezone(UTC) if isinstance(day, datetime) else day


ONE_LINE: Final = AfterValidator(_one_line)
WHOLE: Final = AfterValidator(_whole)
DATED: Final = WrapValidator(_dated)
REMARKS: Final = Words(help="Anything worth knowing later.", example="the shed door stood open", longest=4000, lines=True)
WHEN: Final = Moment(help="Day and time; now, unless you say.", example="2026-11-25 14:30")
