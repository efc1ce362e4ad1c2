"""The server, on this computer only."""

import gc
import os
import signal
import socket
import sys
from threading import Thread
from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.told import telling

if TYPE_CHECKING:
    from uvicorn import Server

USUAL_PORT: Final = 8017  # our judgement: free on most computers
PORTS_TRIED: Final = 40  # our judgement: more busy ports in a row means that something else is wrong
LAST_PORT: Final = 65535  # arithmetic: the last there is
GRACE_S: Final = 2  # our judgement: long enough for a page, short enough for a person who waits


def wanted_port() -> int:
    """`PORT`, or the usual one."""
    text = os.environ.get("PORT", "").strip() or str(USUAL_PORT)
    if not text.isdigit() or int(text) > LAST_PORT:
        raise click.UsageError(f"PORT is {text}; allowed is 0 to {LAST_PORT}.")
    return int(text)


def listen(port: int) -> socket.socket:
    """Listen on that port of this computer, or on the next free one."""
    for tried in range(port, min(port + PORTS_TRIED, LAST_PORT + 1)):
        listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":  # elsewhere this would share a busy port
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind(("127.0.0.1", tried))
            listener.listen()
        except OSError:
            listener.close()
            continue
        if tried != port:
            click.echo(f"Port {port} is busy; {tried} is free and is used.", err=True)
        return listener
    raise click.ClickException(f"Ports {port} to {port + PORTS_TRIED - 1} cannot be used. Name another one, as in PORT=9000.")


def end_with_stdin(server: "Server") -> None:
    """Stop as soon as whoever started us is gone: then nobody holds the other end of our standard input."""

    def wait() -> None:
        while os.read(sys.stdin.fileno(), 1):
            pass
        server.should_exit = True

    Thread(target=wait, daemon=True).start()


def load_pages() -> None:
    """Every page, before the address is said; from here on rubbish is collected, but never among what stays."""
    import silverwright.web.asgi
    import silverwright.web.urls  # noqa: F401 (loaded, not called)

    gc.freeze()
    gc.enable()


def serve(*, with_parent: bool) -> None:
    """Bring the book up to date, then answer until told to stop."""
    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, lambda *_: sys.exit(0))
    listener = listen(wanted_port())
    port = listener.getsockname()[1]
    os.environ["PORT"] = str(port)  # the example's server looks for its own port beside this one
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "silverwright.web.settings")
    gc.disable()  # what is loaded now stays: looking through it for rubbish takes a tenth of the start
    from django.conf import settings

    from silverwright.book.opening import open_book

    with telling():
        open_book()
        if settings.EXAMPLE:
            from silverwright.workshop.example import fill

            gc.enable()
            fill()
    from uvicorn import Config, Server

    from silverwright.book.files import clear_away
    from silverwright.cli.work import Keeper

    load_pages()
    clear_away()
    app = "silverwright.web.asgi:application"
    server = Server(Config(app, log_level="warning", access_log=False, timeout_graceful_shutdown=GRACE_S, lifespan="off"))
    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, lambda *_: setattr(server, "should_exit", True))  # until the server listens to them itself, and once it sends them on
    click.echo(f"silverwright  http://127.0.0.1:{port}/")
    click.echo(f"data folder   {settings.SILVERWRIGHT_HOME}")
    if with_parent:
        end_with_stdin(server)
    keeper = Keeper()
    try:
        server.run(sockets=[listener])
    finally:
        keeper.end()


def command(name: str) -> click.Command:
    """`silverwright serve`."""
    return click.Command(
        name,
        params=[click.Option(["--with-parent"], is_flag=True, hidden=True)],
        callback=serve,
        help="Open the book: pages for the browser on this computer. Ctrl-C ends it.",
        epilog="\b\nExamples:\n  silverwright serve\n  PORT=9000 SILVERWRIGHT_HOME=~/darkroom silverwright serve",
    )
