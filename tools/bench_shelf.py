"""How long the Shelf page takes in a full darkroom, above a page that reads nothing: in a process of its own, on a book of its own."""

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from http import HTTPStatus
from statistics import median
from tempfile import TemporaryDirectory
from typing import Final

from tools.measuring import Table

SHEETS, BATHS, STOCKS = 500, 40, 60
PAGE_MS: Final = 50.0  # the promise
TIMES: Final = 41
PAGES: Final = {"nothing": "/darkroom", "shelf": "/shelf"}
KINDS: Final = (
    ("bleach", "hydrogen peroxide; {}; % w/w\ncitric acid; 5; % w/w"),
    ("fixer", "sodium thiosulphate; {}; % w/w"),
    ("clearing", "sodium sulphite; {}; % w/w"),
    ("first developer", "metol; 1; g/L\nhydroquinone; {}; g/L\nsodium carbonate; 25; g/L"),
)
SUBSTANCES: Final = ("hydrogen peroxide", "citric acid", "sodium sulphite", "acetic acid", "sodium hydroxide", "sodium thiosulphate")


def shelf() -> Table:
    """The page with everything on it, and the first page beside it."""
    with TemporaryDirectory() as home:
        told = subprocess.run(
            [sys.executable, "-m", "tools.bench_shelf"],
            env={**os.environ, "SILVERWRIGHT_HOME": home, "DJANGO_SETTINGS_MODULE": "silverwright.web.settings"},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
    found: dict[str, float] = json.loads(told.splitlines()[-1])
    above = found["shelf"] - found["nothing"]
    reached = "reached" if above <= PAGE_MS else f"missed by {above - PAGE_MS:.0f} ms"
    row = [f"{found['shelf']:.1f} ms", f"{found['nothing']:.1f} ms", f"{above:.1f} ms", f"at most {PAGE_MS:.0f} ms above it: {reached}"]
    return Table(
        f"{SHEETS} sheets, {BATHS} baths, {STOCKS} bottles, two waste bottles: milliseconds of one core for the whole page, median of {TIMES}.",
        ["the Shelf", "a page that reads nothing", "above it", "target"],
        [row],
    )


def fill() -> None:
    """A darkroom with everything that was promised for."""
    from silverwright import api  # noqa: PLC0415 (only the process of its own opens a book)

    api.do("paper", name="RC paper, grade 2", base="RC")
    for number in range(SHEETS):
        api.do("expose", paper="RC paper, grade 2", given_s=60 + number, aperture_f="f/22")
    for number in range(BATHS):
        role, parts = KINDS[number % len(KINDS)]
        api.do("mix", role=role, name=f"bath {number}", volume_ml=1000, ingredients=parts.format(4 + 0.1 * number))
    for number in range(STOCKS):
        substance = SUBSTANCES[number % len(SUBSTANCES)]
        api.do("stock", name=f"bottle {number}", substance=substance, strength=5 + number / 10, strength_unit="% w/w", left_ml=500, vented=True)
    for name in ("waste 1", "waste 2"):
        api.do("waste-bottle", name=name, vented=True, begun_ml=2000, begun_with="sodium thiosulphate; 10; % w/w")


def measure() -> dict[str, float]:
    """Each page again and again, taken in turns."""
    from django.test import Client  # noqa: PLC0415

    client = Client(SERVER_NAME="127.0.0.1")
    if client.get(PAGES["shelf"]).status_code != HTTPStatus.OK:
        raise SystemExit("the Shelf page does not answer")
    times: dict[str, list[float]] = {name: [] for name in PAGES}
    for _ in range(TIMES):
        for name, address in PAGES.items():
            times[name].append(took_ms(lambda address=address: client.get(address)))  # type: ignore[misc]
    return {name: median(found) for name, found in times.items()}


def took_ms(do: Callable[[], object]) -> float:
    """How long its processor time is."""
    begun = time.process_time()
    do()
    return 1000 * (time.process_time() - begun)


PARTS: Final[dict[str, tuple[str, Callable[[], Table]]]] = {"shelf": ("The Shelf page", shelf)}


if __name__ == "__main__":
    fill()
    print(json.dumps(measure()))
