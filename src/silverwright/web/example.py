"""The boatyard's own server: a second process, on its own port and with its own folder, that ends with the one that started it."""

import os
import subprocess
import sys
from threading import Lock, Thread
from typing import Final

from django.conf import settings

from silverwright.errors import NotStarted

FOLDER: Final = "example"
_START: Final = "from silverwright.cli.main import main; main()"


class Beside:
    """The second process, at most one."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._process: subprocess.Popen[str] | None = None
        self._address = ""
        self.opening = False
        self.trouble = ""

    def start(self) -> str:
        """The address of the example's server, which is started unless it runs already."""
        with self._lock:
            if self._process is None or self._process.poll() is not None:
                self._address = ""
                self._process = _start()
                self._address = _address(self._process)
            return self._address

    def open(self) -> None:
        """Start it without waiting: the first time it writes a whole book."""
        self.opening, self.trouble = True, ""
        Thread(target=self._open, daemon=True).start()

    def _open(self) -> None:
        try:
            self.start()
        except NotStarted as error:
            self.trouble = str(error)
        finally:
            self.opening = False

    @property
    def address(self) -> str:
        """Where it answers; nothing while it does not."""
        return self._address if self._process is not None and self._process.poll() is None else ""

    def wait(self) -> None:
        """Until it has ended."""
        if self._process is not None:
            self._process.wait()

    def stop(self) -> None:
        """Close the pipe: the other one ends by itself."""
        if self._process is not None and self._process.stdin is not None:
            self._process.stdin.close()


BESIDE: Final = Beside()


def _start() -> subprocess.Popen[str]:
    """
    The second process.

    Its standard input is a pipe that only this process holds: when this one ends, however it ends, the pipe closes and the other one stops.
    """
    own_port = int(os.environ.get("PORT", "0"))
    environment = os.environ | {
        "SILVERWRIGHT_HOME": str(settings.SILVERWRIGHT_HOME / FOLDER),
        "SILVERWRIGHT_EXAMPLE": "1",
        "PORT": str(own_port + 1 if own_port else 0),
    }
    command = [sys.executable, "-c", _START, "serve", "--with-parent"]
    return subprocess.Popen(command, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)  # noqa: S603 (our own program)


def _address(process: subprocess.Popen[str]) -> str:
    """What it says first, once its book is ready."""
    line = process.stdout.readline() if process.stdout else ""
    if "http://" not in line:
        process.kill()
        raise NotStarted
    return line.split()[-1]
