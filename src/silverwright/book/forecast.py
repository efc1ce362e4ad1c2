"""The next exposure of a paper, asked of `sensitometry.next` with all that own sheets tell."""

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from django.utils.timezone import localtime

from silverwright.book.circumstances import NOT_NAMED
from silverwright.book.evidence import Told
from silverwright.questions.light import LIGHTS, row_of, table_offset
from silverwright.questions.next_exposure import NEXT, NextAnswer

FRESH: Final = "mixed afresh"
MOST_REMEMBERED: Final = 256  # our judgement: each paper, tone and light of a day, and a year of weekly controls; one asks at every letter typed


@dataclass(frozen=True, slots=True)
class Next:
    """
    What is known of the next sheet: which tone the reading is of, the light, the day, and how well the light's colour was measured.

    `fresh_baths` says that the baths were mixed afresh: they are no bath that was used before, and no sheet has gone through them.
    """

    tone: str = "mid-grey"
    light: str = ""
    day: str = ""
    light_sd_stops: float | None = None
    fresh_baths: bool = False

    @property
    def fields(self) -> dict[str, Any]:
        """As fields of the question; what nobody knows is left out."""
        told = {"tone": self.tone, "light": self.light or NOT_NAMED, "day": self.day, "light_sd_stops": self.light_sd_stops}
        fresh = {"batch": FRESH, "age": 0} if self.fresh_baths else {}
        return fresh | {name: value for name, value in told.items() if value not in ("", None)}


def unasked(told: Told) -> Next:
    """The next sheet as long as nobody says more: today's, in the light of the last picture. Every door asks it like this."""
    return Next(light=told.light, day=localtime().date().isoformat())


def forecast(told: Told, process: str, coming: Next) -> NextAnswer:
    """The forecast; the same question is answered once."""
    light = _light_stops(told, coming)
    lit = {} if light is None else {"light_stops": light}
    asked = {**told.newest, **coming.fields, **lit, "process": process, "evidence": told.rows, "own_points": told.points}
    return _answer(json.dumps(asked, sort_keys=True))


def _light_stops(told: Told, coming: Next) -> float | None:
    """
    How much more of the next sheet's light the paper gets than the meter tells, by the table.

    Nothing for a fixed lamp, which is a light of its own, and for a light that nobody named here or on the sheets: the EI then is the one that
    holds in it. Read through blue, only what the paper sees besides blue is left of it.
    """
    if coming.light in {"", NOT_NAMED}:
        return None if told.in_light("") else 0.0
    offset = table_offset(coming.light, told.sees)
    a_lamp = any(one.control and one.light == coming.light for one in told.pieces) and not told.in_light(coming.light)
    if a_lamp or offset is None or coming.light not in LIGHTS:
        return None
    return offset.amount_stops - (row_of(coming.light, "blue").value if coming.light_sd_stops is not None else 0.0)


@lru_cache(maxsize=MOST_REMEMBERED)
def _answer(asked: str) -> NextAnswer:
    answer: NextAnswer = NEXT.ask(json.loads(asked))
    return answer
