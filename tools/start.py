"""How long from the command to the first answered page: our second start, beside an empty Django project on the same server."""

import os
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from http.client import HTTPConnection
from pathlib import Path

PATIENCE_S = 60.0  # our judgement: a start that takes this long has failed
POLL_S = 0.005  # our judgement: far below what is measured
BIN = Path(sys.executable).parent


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
    return port


def answered(port: int, path: str = "/") -> bool:
    """Does a page come back from there?"""
    try:
        connection = HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
        connection.request("GET", path)
        answer = connection.getresponse()
        answer.read()
        connection.close()
    except OSError:
        return False
    if answer.status != 200:  # noqa: PLR2004 (the standard's number for "here it is")
        raise RuntimeError(f"{path} answered {answer.status}")
    return True


def first_page_s(command: Sequence[str | Path], port: int, folder: Path) -> float:
    """Seconds from the command to the first answered page; the server is ended afterwards."""
    environment = os.environ | {"PORT": str(port), "SILVERWRIGHT_HOME": str(folder / "home")}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # with it no start would ever be a second one
    environment.pop("DJANGO_SETTINGS_MODULE", None)
    begun = time.perf_counter()
    server = subprocess.Popen(command, cwd=folder, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        while not answered(port):
            if server.poll() is not None or time.perf_counter() - begun > PATIENCE_S:
                raise RuntimeError(f"{command} did not answer")
            time.sleep(POLL_S)
        return time.perf_counter() - begun
    finally:
        server.terminate()
        server.wait()


def compare(rounds: int = 7) -> tuple[float, float]:
    """
    Our second start and that of an empty Django project, in seconds: the best of rounds that take turns.

    Whatever else runs on the machine only ever adds, so the best is what the programs themselves need.
    """
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        own = {name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}  # not that of whoever measures
        subprocess.run([BIN / "django-admin", "startproject", "empty", folder], check=True, env=own)
        subprocess.run([sys.executable, "manage.py", "migrate", "-v0"], cwd=folder, check=True, env=own)
        port = free_port()
        ours: list[str | Path] = [BIN / "silverwright", "serve"]
        empty: list[str | Path] = [BIN / "uvicorn", "empty.asgi:application", "--port", str(port), "--log-level", "warning"]
        for command in (ours, empty):  # the first start is not counted
            first_page_s(command, port, folder)
        pairs = [(first_page_s(ours, port, folder), first_page_s(empty, port, folder)) for _ in range(rounds)]
    return min(mine for mine, _ in pairs), min(other for _, other in pairs)


if __name__ == "__main__":
    mine, other = compare()
    print(f"first page {mine:.2f} s, an empty Django project {other:.2f} s: {mine / other:.2f} times")
