"""The worker: a process of its own beside the server, which keeps it alive."""

import os
import signal
import subprocess
import sys
from threading import Event, Thread
from typing import Final

import click

FIRST_S: Final = 1.0  # our judgement: the first page comes first
AGAIN_S: Final = 1.0  # our judgement: soon enough for work that was interrupted, slow enough for a worker that cannot start
END_S: Final = 5.0  # our judgement: a worker that is asked to end needs one beat
PROGRAM: Final = "from silverwright.cli.main import main; main()"


def work(*, with_parent: bool) -> None:
    """Read scans and whatever else waits, until told to stop."""
    told_to_end = Event()
    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, lambda *_: told_to_end.set())
    if with_parent:
        Thread(target=_end_with_stdin, args=(told_to_end,), daemon=True).start()
    from silverwright.book.opening import open_book
    from silverwright.cli.told import telling

    with telling():
        open_book()
        from silverwright.workshop.worker import work_until

        work_until(told_to_end)


def _end_with_stdin(told_to_end: Event) -> None:
    """Whoever started us holds the other end of our standard input; when they are gone, so are we."""
    while os.read(sys.stdin.fileno(), 1):
        pass
    told_to_end.set()


class Keeper:
    """Keeps one worker alive beside a server."""

    def __init__(self) -> None:
        self._ended = Event()
        self._thread = Thread(target=self._keep, daemon=True)
        self._thread.start()

    def _keep(self) -> None:
        self._ended.wait(FIRST_S)
        while not self._ended.is_set():
            command = [sys.executable, "-c", PROGRAM, "work", "--with-parent"]
            with subprocess.Popen(command, stdin=subprocess.PIPE, start_new_session=True) as worker:  # noqa: S603 (our own program)
                while worker.poll() is None and not self._ended.wait(AGAIN_S):
                    pass
                if worker.stdin is not None:
                    worker.stdin.close()
                try:
                    worker.wait(END_S)
                except subprocess.TimeoutExpired:
                    worker.kill()
            self._ended.wait(AGAIN_S)

    def end(self) -> None:
        """Let it end, and wait for it."""
        self._ended.set()
        self._thread.join()


def command(name: str) -> click.Command:
    """`silverwright work`."""
    return click.Command(
        name,
        params=[click.Option(["--with-parent"], is_flag=True, hidden=True)],
        callback=work,
        help="Read the scans that wait. The server starts this by itself; it is only needed without one. Ctrl-C ends it.",
        epilog="\b\nExample:\n  silverwright work",
    )
