"""What uvicorn serves."""

import asyncio
import os
import warnings
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

from django.core.asgi import get_asgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "silverwright.web.settings")
warnings.filterwarnings("ignore", "StreamingHttpResponse must consume synchronous iterators")  # our static files are small enough to be read whole
_django = get_asgi_application()

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]


async def application(scope: Message, receive: Receive, send: Send) -> None:
    """Django, which would write a body of any length to the disk before it asks: one that the guard refuses is not taken in at all."""
    unread = scope["type"] == "http" and not _acceptable(scope)
    await _django(scope, _nothing() if unread else receive, send)  # type: ignore[arg-type]  # the stubs want asgiref's own scope types


def _acceptable(scope: MutableMapping[str, Any]) -> bool:
    from silverwright.web.guard import longest_body  # noqa: PLC0415 (set up above)

    length = dict(scope["headers"]).get(b"content-length")
    if length is None:
        return scope["method"] in {"GET", "HEAD", "OPTIONS"}
    return length.isdigit() and int(length) <= longest_body(scope["path"])


def _nothing() -> Receive:
    """A body without content, and then silence until the answer is out."""
    first = iter([True])

    async def receive() -> Message:
        if not next(first, False):
            await asyncio.Event().wait()
        return {"type": "http.request", "body": b"", "more_body": False}

    return receive
