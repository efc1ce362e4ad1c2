"""The server as a person starts and ends it: address and folder, busy ports, signals, and the example that ends with whoever started it."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from tools.start import PATIENCE_S, compare, free_port

PROGRAM = [sys.executable, "-c", "from silverwright.cli.main import main; main()"]


@contextmanager
def started(words: list[str], home: Path, port: int | str) -> Iterator[subprocess.Popen[str]]:
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("DJANGO", "SILVERWRIGHT"))}
    environment |= {"SILVERWRIGHT_HOME": str(home), "PORT": str(port)}
    process = subprocess.Popen([*PROGRAM, *words], env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True)
    try:
        yield process
    finally:
        if process.poll() is None:
            process.kill()
        process.wait()
        for pipe in (process.stdout, process.stderr):
            if pipe is not None:
                pipe.close()


def line(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline()


def told(process: subprocess.Popen[str]) -> str:
    assert process.stderr is not None
    return process.stderr.read()


def listening(port: int) -> bool:
    with socket.socket() as one:
        return one.connect_ex(("127.0.0.1", port)) == 0


@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "terminate"])
def test_one_line_each_for_address_and_folder_and_a_clean_end(tmp_path: Path, end: signal.Signals) -> None:
    port = free_port()
    with started(["serve"], tmp_path / "data", port) as server:
        assert line(server) == f"silverwright  http://127.0.0.1:{port}/\n"
        assert line(server) == f"data folder   {tmp_path / 'data'}\n"
        assert listening(port)
        time.sleep(0.3)
        server.send_signal(end)
        assert server.wait(timeout=PATIENCE_S) == 0
        assert told(server) == ""
    assert (tmp_path / "data" / "book.sqlite3").exists()


def test_ctrl_c_during_the_start_is_clean_too(tmp_path: Path) -> None:
    """The port is taken before Django is loaded and the tables are made: from then on nobody sees a traceback."""
    port = free_port()
    with started(["serve"], tmp_path, port) as server:
        while not listening(port):
            time.sleep(0.005)
        server.send_signal(signal.SIGINT)
        assert server.wait(timeout=PATIENCE_S) == 0
        assert told(server) == ""


def test_a_busy_port_gives_the_next_free_one_and_says_so(tmp_path: Path) -> None:
    with socket.socket() as busy:
        busy.bind(("127.0.0.1", 0))
        busy.listen()
        port = busy.getsockname()[1]
        with started(["serve"], tmp_path, port) as server:
            address = line(server)
            server.terminate()
            server.wait(timeout=PATIENCE_S)
            assert f":{port}/" not in address
            assert f"Port {port} is busy" in told(server)


@pytest.mark.parametrize("port", ["often", "70000", "-1"])
def test_a_port_that_is_none_is_refused_in_words(tmp_path: Path, port: str) -> None:
    with started(["serve"], tmp_path, port) as server:
        assert server.wait(timeout=PATIENCE_S) == 2
        assert f"PORT is {port}; allowed is 0 to 65535." in told(server)


def test_a_folder_that_cannot_be_made_is_said_without_a_traceback(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    with started(["serve"], tmp_path / "file" / "data", free_port()) as server:
        assert server.wait(timeout=PATIENCE_S) not in {0, None}
        said = told(server)
    assert "Traceback" not in said
    assert said.strip()


@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGKILL], ids=["Ctrl-C", "killed"])
def test_the_example_ends_with_whoever_started_it(tmp_path: Path, end: signal.Signals) -> None:
    with started(["example"], tmp_path, free_port()) as command:
        address = line(command)
        assert "everything in it is invented" in address
        port = int(address.split("127.0.0.1:")[1].split("/")[0])
        assert line(command) == f"data folder   {tmp_path / 'example'}\n"
        assert listening(port)
        assert not (tmp_path / "book.sqlite3").exists(), "the user's own folder is not touched"
        command.send_signal(end)
        command.wait(timeout=PATIENCE_S)
        patience = time.monotonic() + PATIENCE_S
        while listening(port) and time.monotonic() < patience:
            time.sleep(0.05)
        assert not listening(port)


@pytest.mark.slow
def test_a_second_start_takes_at_most_twice_as_long_as_an_empty_django_project() -> None:
    ours, empty = compare(rounds=15)
    assert ours <= 2 * empty, f"{ours:.2f} s against {empty:.2f} s"
