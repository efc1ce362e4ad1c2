"""The next exposure of a paper, asked of `sensitometry.next` with all that own sheets tell."""

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from django.utils.timezone import localtime

from silverwright.book.circumstances import NOT_NAMED
from silverwright.book.evidence import Told
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
    asked = {**told.newest, **coming.fields, "process": process, "evidence": told.rows, "own_points": told.points}
    return _answer(json.dumps(asked, sort_keys=True))


@lru_cache(maxsize=MOST_REMEMBERED)
def _answer(asked: str) -> NextAnswer:
    answer: NextAnswer = NEXT.ask(json.loads(asked))
    return answer
