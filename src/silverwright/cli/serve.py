"""The server, on this computer only."""

import os
import signal
import socket
import sys
from typing import Final

import click

USUAL_PORT: Final = 8017  # our judgement: free on most computers
PORTS_TRIED: Final = 40  # our judgement: more busy ports in a row means something else is wrong
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
    raise click.ClickException(f"Ports {port} to {port + PORTS_TRIED - 1} are all busy. Name another one, as in PORT=9000.")


def serve() -> None:
    """Bring the book up to date, then answer until told to stop."""
    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, lambda *_: sys.exit(0))  # before the server takes over, a signal simply ends it
    listener = listen(wanted_port())
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "silverwright.web.settings")
    import django

    django.setup()
    from django.conf import settings
    from django.core.management import call_command

    call_command("migrate", verbosity=0, interactive=False)
    from uvicorn import Config, Server

    address = f"http://127.0.0.1:{listener.getsockname()[1]}/"
    click.echo(f"silverwright  {address}")
    click.echo(f"data folder   {settings.SILVERWRIGHT_HOME}")
    config = Config("silverwright.web.asgi:application", log_level="warning", access_log=False, timeout_graceful_shutdown=GRACE_S, lifespan="off")
    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, signal.SIG_IGN)  # the server ends on it, and then sends it on to us
    Server(config).run(sockets=[listener])


def command(name: str) -> click.Command:
    """`silverwright serve`."""
    return click.Command(
        name,
        callback=serve,
        help="Open the book: pages for the browser on this computer. Ctrl-C ends it.",
        epilog="\b\nExamples:\n  silverwright serve\n  PORT=9000 SILVERWRIGHT_HOME=~/darkroom silverwright serve",
    )
