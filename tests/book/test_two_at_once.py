"""Several processes write in one book: numbers are given once, a key is one act, and nobody overwrites unseen."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from tests.book.outside import run

AT_ONCE = 4


def test_numbers_are_given_once(tmp_path: Path) -> None:
    home = tmp_path / "home"
    assert run(home, "count").stdout == "0 0 0\n"
    with ThreadPoolExecutor(AT_ONCE) as pool:
        ended = list(pool.map(lambda who: run(home, "many", "0", "10", f"r{who}-"), range(AT_ONCE)))
    assert [one.stderr for one in ended] == [""] * AT_ONCE
    numbers = [line.split()[2] for one in ended for line in one.stdout.splitlines()]
    assert sorted(numbers) == [f"26-{running:03}" for running in range(1, 10 * AT_ONCE + 1)]


def test_one_key_sent_by_all_is_one_act(tmp_path: Path) -> None:
    home = tmp_path / "home"
    assert run(home, "many", "0", "1", "first").returncode == 0
    with ThreadPoolExecutor(AT_ONCE) as pool:
        ended = list(pool.map(lambda _: run(home, "same", "once"), range(AT_ONCE)))
    assert {one.stdout for one in ended} == {"ok once 26-002\n"}, [one.stderr for one in ended]
    assert run(home, "count").stdout == "2 3 0\n"


def test_opened_for_the_first_time_by_all_at_once(tmp_path: Path) -> None:
    home = tmp_path / "home"
    with ThreadPoolExecutor(AT_ONCE) as pool:
        ended = list(pool.map(lambda _: run(home, "count"), range(AT_ONCE)))
    assert [(one.stdout, one.stderr) for one in ended] == [("0 0 0\n", "")] * AT_ONCE
