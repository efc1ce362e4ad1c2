"""The server as a person starts it: a process of its own on a free port, with a folder of its own."""

import os
import signal
import subprocess
import sys
from pathlib import Path
from types import TracebackType
from typing import Self

PROGRAM = [sys.executable, "-c", "from silverwright.cli.main import main; main()"]
PATIENCE_S = 60


def surroundings(home: Path, **more: str) -> dict[str, str]:
    """What a process of ours sees: this folder, and nothing of whoever runs the tests."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith(("DJANGO", "SILVERWRIGHT"))}
    return clean | {"SILVERWRIGHT_HOME": str(home)} | more


class Served:
    """`silverwright serve`, until it is stopped; it can be started again on the same folder and port."""

    def __init__(self, home: Path, *, example: bool = False) -> None:
        self.home = home
        self.address = ""
        self._more = {"SILVERWRIGHT_EXAMPLE": "1"} if example else {}
        self._port = "0"
        self._process: subprocess.Popen[str] | None = None

    def start(self) -> "Served":
        """Start it, and wait until it says where it is."""
        self._process = subprocess.Popen(
            [*PROGRAM, "serve"], env=surroundings(self.home, PORT=self._port, **self._more), stdout=subprocess.PIPE, text=True, start_new_session=True
        )
        assert self._process.stdout is not None
        line = self._process.stdout.readline()
        assert "http://" in line, f"the server did not start: {line!r}"
        self.address = line.split()[-1].rstrip("/")
        self._port = self.address.rpartition(":")[2]
        return self

    def worked_ms(self) -> float:
        """How long its processor time is so far: unlike the clock, this does not see what else the machine does."""
        assert self._process is not None
        fields = Path(f"/proc/{self._process.pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
        return 1000 * (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")  # user and system, the 14th and 15th of proc(5)

    def stop(self) -> int:
        """Ctrl-C; what it ended with."""
        if self._process is None:
            return 0
        self._process.send_signal(signal.SIGINT)
        try:
            ended = self._process.wait(timeout=PATIENCE_S)
        finally:
            self._process.kill()
            if self._process.stdout is not None:
                self._process.stdout.close()
            self._process = None
        return ended

    def kill(self) -> None:
        """As if the computer had lost its power: the server and its worker, at once."""
        assert self._process is not None
        os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait(timeout=PATIENCE_S)
        if self._process.stdout is not None:
            self._process.stdout.close()
        self._process = None

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.stop()
