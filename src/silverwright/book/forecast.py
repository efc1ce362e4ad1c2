"""The next exposure of a paper, asked of `sensitometry.next` with all that own sheets tell."""

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from silverwright.book.circumstances import NOT_NAMED
from silverwright.book.evidence import Piece, Told
from silverwright.questions.next_exposure import NEXT, NextAnswer

MOST_REMEMBERED: Final = 64  # our judgement: every paper, tone and light of a day; a forecast is asked again at every letter that somebody types


@dataclass(frozen=True, slots=True)
class Next:
    """What is known of the next sheet: which tone the reading is of, the light, the day, and how well the light's colour was measured."""

    tone: str = "mid-grey"
    light: str = ""
    day: str = ""
    light_sd_stops: float | None = None

    @property
    def fields(self) -> dict[str, Any]:
        """As fields of the question; what nobody knows is left out."""
        told = {"tone": self.tone, "light": self.light or NOT_NAMED, "day": self.day, "light_sd_stops": self.light_sd_stops}
        return {name: value for name, value in told.items() if value not in ("", None)}


def forecast(told: Told, process: str, coming: Next) -> NextAnswer:
    """The forecast; the same question is answered once."""
    asked = {**told.newest, **coming.fields, "process": process, "evidence": told.rows, "own_points": told.points}
    return _answer(json.dumps(asked, sort_keys=True))


@lru_cache(maxsize=MOST_REMEMBERED)
def _answer(asked: str) -> NextAnswer:
    answer: NextAnswer = NEXT.ask(json.loads(asked))
    return answer


@dataclass(frozen=True, slots=True)
class Control:
    """A control step sheet: its day, its lamp, and the index that it speaks for by itself."""

    sheet: str
    day: str
    lamp: str
    ei: float


def control_history(told: Told, process: str) -> tuple[Control, ...]:
    """The control step sheets, the oldest first: what a day, or a tired bath, does to the paper."""
    pieces = sorted((one for one in told.pieces if one.control and one.counts), key=lambda one: (one.day, one.sheet))
    return tuple(Control(one.sheet, one.day, one.light, _alone(one, told, process)) for one in pieces)


def _alone(piece: Piece, told: Told, process: str) -> float:
    """The index of one step sheet, as if it were the only one."""
    return forecast(Told((piece,), told.points), process, Next(light=piece.light)).paper_ei.value or 0.0
