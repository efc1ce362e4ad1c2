"""Two hundred processes killed while they record: nothing acknowledged is lost, nothing is half there."""

import os
import random
import signal
import sqlite3
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from tests.book.outside import recorder

KILLS = 200
AT_ONCE = 2  # recorders at a time: they also stand in each other's way
LONGEST_S = 20  # for one act, on the slowest computer


def rows(home: Path, query: str) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(home / "book.sqlite3")) as book:
        return list(book.execute(query))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and kill")
def test_two_hundred_kills(tmp_path: Path, record_property: Callable[[str, object], None]) -> None:
    """However slow the computer is: each recorder lives until it has acknowledged none, one or two acts, and a random part of an act longer."""
    home, said = tmp_path / "home", tmp_path / "said"
    said.mkdir()
    chance = random.Random(20261125)
    nursery = recorder(home, "nursery", str(said))
    assert nursery.stdin is not None
    assert nursery.stdout is not None
    assert nursery.stdout.readline() == "ok first-0 26-001\n"

    def start(name: str) -> tuple[int, str]:
        nursery.stdin.write(f"{name}\n")  # type: ignore[union-attr]
        nursery.stdin.flush()  # type: ignore[union-attr]
        return int(nursery.stdout.readline()), name  # type: ignore[union-attr]

    began, pace_s = time.monotonic(), 0.1
    running: list[tuple[int, str]] = []
    try:
        running += [start(f"k{number}") for number in range(AT_ONCE)]
        for kill in range(AT_ONCE, KILLS + AT_ONCE):
            process, name = running.pop(0)
            acts, waited = kill % 3, time.monotonic()
            while len(lines(said / name)) < acts and time.monotonic() - waited < LONGEST_S:
                time.sleep(0.001)
            if acts:
                pace_s = 0.8 * pace_s + 0.2 * (time.monotonic() - waited) / acts
            time.sleep(chance.uniform(0, 1.5 * pace_s))
            end(process)
            if kill < KILLS:
                running.append(start(f"k{kill}"))
    finally:
        for process, _ in running:
            end(process)
        nursery.stdin.close()
    took_s = time.monotonic() - began
    assert nursery.wait(30) == 0, nursery.stderr.read() if nursery.stderr else ""
    acknowledged = dict(line.split()[1:] for file in said.iterdir() for line in lines(file))
    found = rows(home, "SELECT key, json_extract(result, '$.name') FROM book_act WHERE deed = 'expose'")
    kept = {row[0]: row[1] for row in found}
    record_property("measured", f"{KILLS} kills in {took_s:.0f} s: {len(acknowledged)} acts acknowledged, {len(kept)} in the book")
    assert rows(home, "PRAGMA integrity_check") == [("ok",)]
    assert not {key: number for key, number in acknowledged.items() if kept.get(key) != number}
    assert not whole_or_nothing(home)
    assert 0 <= len(kept) - 1 - len(acknowledged) <= KILLS, "each process may be killed between its last act and saying so"
    assert len(acknowledged) > KILLS / 2, "too few to mean anything"


def lines(said: Path) -> list[str]:
    """What a recorder has acknowledged so far, whole lines only."""
    text = said.read_text() if said.exists() else ""
    return text.splitlines() if text.endswith("\n") or not text else text.splitlines()[:-1]


def end(process: int) -> None:
    """Kill it, and wait until it is gone."""
    try:
        os.kill(process, signal.SIGKILL)
    except ProcessLookupError:
        pytest.fail("it ended by itself: an act failed")
    for _ in range(1000):
        try:
            os.kill(process, 0)
        except ProcessLookupError:
            return
        time.sleep(0.002)
    pytest.fail("it does not end")


def whole_or_nothing(home: Path) -> dict[str, object]:
    """What of an act is there without the rest: there must be nothing."""
    acts = [name for (name,) in rows(home, "SELECT json_extract(result, '$.name') FROM book_act WHERE deed = 'expose'")]
    numbers = [number for (number,) in rows(home, "SELECT number FROM book_sheet")]
    exposed = [number for (number,) in rows(home, "SELECT s.number FROM book_exposure e JOIN book_sheet s ON s.id = e.sheet_id")]
    history = [number for (number,) in rows(home, "SELECT number FROM book_historicalsheet")]
    told = Counter(acts)
    return {
        name: found
        for name, found in {
            "acts without a sheet": told - Counter(numbers),
            "sheets without an act": Counter(numbers) - told,
            "sheets without an exposure": Counter(numbers) - Counter(exposed),
            "sheets without history": Counter(numbers) - Counter(history),
            "history without a sheet": Counter(history) - Counter(numbers),
            "acts without a result": rows(home, "SELECT id FROM book_act WHERE result = '{}'"),
            "exposures without their plan": rows(home, "SELECT id FROM book_exposure WHERE planned_id IS NULL"),
            "gaps in the numbers": sorted(set(range(1, len(numbers) + 1)) - {int(str(number).split("-")[1]) for number in numbers}),
        }.items()
        if found
    }
