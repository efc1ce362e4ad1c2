"""What a sheet shares with others: its light, its day, its baths and its box."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from django.utils.timezone import localtime

from silverwright.book.life import exposures_of, processings_of
from silverwright.book.models import ProcessingStep, Sheet

NOT_NAMED: Final = "not named"  # our judgement: who never names a light, a bath or a box works with the one that there is
OF_THE_BATCH: Final = ("first development", "bleach")  # the baths that make a direct positive light or dark
Row = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What a sheet shares with others: its light, day, batch of baths with its age in sheets, and lot."""

    light: str
    day: str
    batch: str
    age: int
    lot: str

    @property
    def row(self) -> Row:
        """As columns of a row."""
        shared = {"light": self.light or NOT_NAMED, "batch": self.batch or NOT_NAMED, "lot": self.lot or NOT_NAMED}
        return {"day": self.day, **shared} | ({"age": self.age} if self.batch else {})


def batches_of_all() -> dict[int, tuple[str, int]]:
    """For each stay in the trays the baths that it went through, and how many sheets had gone through them before."""
    steps = ProcessingStep.objects.filter(step__in=OF_THE_BATCH, archived_at=None, processing__archived_at=None).exclude(bath="")
    baths: dict[int, list[str]] = {}
    for stay, bath in steps.order_by("processing__processed_at", "processing", "position").values_list("processing", "bath"):
        baths.setdefault(stay, []).append(bath)
    used: dict[str, int] = {}
    found = {}
    for stay, names in baths.items():
        batch = ", ".join(dict.fromkeys(names))
        found[stay] = (batch, used.setdefault(batch, 0))
        used[batch] += 1
    return found


def circumstances(sheet: Sheet, batches: Mapping[int, tuple[str, int]]) -> Circumstances:
    """What a sheet shares with others; until it is processed, as far as it goes."""
    shots, stays = exposures_of(sheet), processings_of(sheet)
    at = stays[-1].processed_at if stays else shots[-1].exposed_at if shots else sheet.made_at
    batch, age = batches.get(stays[-1].pk, ("", 0)) if stays else ("", 0)
    light_class = shots[-1].light_class if shots else "unknown"
    return Circumstances(
        light="" if light_class == "unknown" else light_class,
        day=localtime(at).date().isoformat(),
        batch=batch,
        age=age,
        lot=str(sheet.lot or ""),
    )


def next_to(last: Circumstances) -> Row:
    """What the next sheet shares with the last one: its baths, one sheet older, and its lot; the day and the light are its own."""
    told = {**last.row, "age": last.age + 1}
    return {name: told[name] for name in ("batch", "lot", *["age"] * bool(last.batch))}
