"""What a sheet shares with others: its light, its day, its baths and its box."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from django.utils.timezone import localtime

from silverwright.book.life import exposures_of, processings_of
from silverwright.book.models import Processing, ProcessingStep, Sheet

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


@dataclass(frozen=True, slots=True)
class Batches:
    """
    The baths of every stay in the trays, and how many sheets had gone through them before.

    A stay whose baths nobody named went through those of the stay before; `newest` is where the next sheet goes.
    """

    of_stay: Mapping[int, tuple[str, int]]
    newest: tuple[str, int]


def batches_of_all(process: str) -> Batches:
    """Every stay in the trays of one process, whatever the paper: baths tire of all of them."""
    named = ProcessingStep.objects.filter(step__in=OF_THE_BATCH, archived_at=None).exclude(bath="")
    baths: dict[int, list[str]] = {}
    for stay, bath in named.order_by("processing", "position").values_list("processing", "bath"):
        baths.setdefault(stay, []).append(bath)
    used: dict[str, int] = {}
    found, batch = {}, ""
    for stay in Processing.objects.filter(archived_at=None, process=process).order_by("processed_at", "pk").values_list("pk", flat=True):
        batch = ", ".join(dict.fromkeys(baths.get(stay, ()))) or batch
        found[stay] = (batch, used.get(batch, 0))
        used[batch] = used.get(batch, 0) + 1
    return Batches(found, (batch, used.get(batch, 0)))


def circumstances(sheet: Sheet, batches: Batches) -> Circumstances:
    """What a sheet shares with others; until it is processed it is meant for the newest baths."""
    shots, stays = exposures_of(sheet), processings_of(sheet)
    at = stays[-1].processed_at if stays else shots[-1].exposed_at if shots else sheet.made_at
    batch, age = batches.of_stay[stays[-1].pk] if stays else batches.newest
    light_class = shots[-1].light_class if shots else "unknown"
    return Circumstances(
        light="" if light_class == "unknown" else light_class,
        day=localtime(at).date().isoformat(),
        batch=batch,
        age=age,
        lot=str(sheet.lot or ""),
    )


def next_to(last: Circumstances, batches: Batches) -> Row:
    """What the next sheet shares with others: the newest baths, and the box of the last sheet; the day and the light are its own."""
    batch, age = batches.newest
    told = replace(last, batch=batch, age=age).row
    return {name: told[name] for name in ("batch", "lot", *["age"] * bool(batch))}
