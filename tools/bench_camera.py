"""The Camera: how long a full ledger takes, a page's answer, the exposure card and a question on the command line."""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from typing import Any, Final
from urllib.parse import urlencode

from tests.loop.still_life import LENS, PAPER
from tests.pages.served import Served
from tests.pages.test_pace import mean_work_ms
from tools.measuring import Table

from silverwright.questions.ledger import LEDGER, LedgerQuestion

LEDGER_MS, PAGE_MS, CARD_S, ASK_FACTOR = 1.0, 30.0, 1.0, 1.5  # the targets
ROUNDS: Final = 200
PAGES: Final = 60
COMMANDS: Final = 15
FULL: Final[dict[str, Any]] = {  # every line that a ledger can have
    "reading_cd_per_m2": 64,
    "reading_tone": "skin",
    "meter_k": 14,
    "light_class": "warm LED lamp",
    "sensitivity": "blue",
    "paper_ei": 1.5,
    "focal_mm": 210,
    "extension_mm": 300,
    "subject_mm": 720,
    "aperture_f": "f/11",
    "filter_factor": 2,
    "turned": "mirror or prism",
    "measured_speeds": "1 1.1\n1/2 0.55",
    "own_points": "30 38\n60 90",
    "bracket_sheets": "3",
}
BIN: Final = Path(sys.executable).parent
ASKED: Final = ["--reading-ev", "10", "--aperture-f", "22", "--paper-ei", "2"]


def mean_ms(work: Callable[[], object]) -> float:
    """The quickest of five means: what it takes when nothing else runs."""
    found = []
    for _ in range(5):
        begun = time.perf_counter()
        for _ in range(ROUNDS):
            work()
        found.append(1000 * (time.perf_counter() - begun) / ROUNDS)
    return min(found)


def verdict(value: float, most: float, unit: str) -> str:
    """`at most 1 ms: reached`."""
    return f"at most {most:g} {unit}: {'reached' if value <= most else f'missed by {value - most:.2g} {unit}'}"


def ledger() -> list[str]:
    """The whole question with every line, from the typed text to the answer."""
    question = LedgerQuestion.model_validate(FULL)
    worked_ms, asked_ms = mean_ms(lambda: LEDGER.compute(question)), mean_ms(lambda: LEDGER.ask(FULL))
    lines = len(LEDGER.compute(question).ledger)
    return [f"a ledger of {lines} lines", f"{worked_ms:.2f} ms, {asked_ms:.2f} ms with its reading", verdict(asked_ms, LEDGER_MS, "ms")]


def pages() -> list[list[str]]:
    """On the boatyard's example: a new answer while somebody types, above a page that asks nothing; and the card, the first one of a server."""
    scene = {"by": "ev", "paper": PAPER, "lens": LENS, "extension_mm": "315", "aperture_f": "f/22"}
    answers = [f"/camera?{urlencode({**scene, 'reading_ev': 8 + place / 20})}" for place in range(PAGES)]
    live, nothing = {"HX-Request": "true"}, ["/no-such-page"] * PAGES
    with tempfile.TemporaryDirectory() as folder:
        served = Served(Path(folder), example=True).start()
        try:
            mean_work_ms(served, answers[:2], live)
            mean_work_ms(served, nothing[:2], {})
            above_ms = mean_work_ms(served, answers, live) - mean_work_ms(served, nothing, {})
            begun = time.perf_counter()
            mean_work_ms(served, [f"/camera/card.pdf?{urlencode({'paper': PAPER, 'lens': LENS})}"], {})
            card_s = time.perf_counter() - begun
        finally:
            served.stop()
    return [
        ["the Camera's answer, above an empty page", f"{above_ms:.1f} ms of the processor", verdict(above_ms, PAGE_MS, "ms")],
        ["the first exposure card, as PDF", f"{card_s:.2f} s", verdict(card_s, CARD_S, "s")],
    ]


def command_s(command: Sequence[str | Path]) -> float:
    """Seconds of one command."""
    begun = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, env=os.environ)
    return time.perf_counter() - begun


def asking() -> list[str]:
    """A question on the command line beside a bare command, in turn."""
    ours: list[str | Path] = [BIN / "silverwright", "ask", "exposure.ledger", *ASKED]
    bare: list[str | Path] = [sys.executable, Path(__file__).with_name("bare_command.py"), *ASKED]
    command_s(ours), command_s(bare)
    times = [(command_s(ours), command_s(bare)) for _ in range(COMMANDS)]
    ours_s, bare_s = median(one for one, _ in times), median(other for _, other in times)
    took = f"{1000 * ours_s:.0f} ms beside {1000 * bare_s:.0f} ms: {ours_s / bare_s:.2f} times"
    return ["`silverwright ask`, beside a bare command", took, verdict(ours_s / bare_s, ASK_FACTOR, "times")]


def camera() -> Table:
    """Everything that the Camera promised to do quickly."""
    return Table(
        says=(
            "What one waits for at the camera. The page's answer is the processor time of the server on the boatyard's example, for a new "
            "reading each time. The bare command (`tools/bare_command.py`) uses the same command-line framework and builds one model of "
            f"three fields; both ran {COMMANDS} times in turn, the middle counts."
        ),
        head=["what", "measured", "target"],
        rows=[ledger(), *pages(), asking()],
    )


PARTS: Final[dict[str, tuple[str, Callable[[], Table]]]] = {"camera": ("The Camera", camera)}
