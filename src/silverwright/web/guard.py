"""Who may ask: this machine's own names, this page's own forms, and bodies of a sensible size; and every refusal in words."""

import shutil
from collections.abc import Callable
from http import HTTPStatus
from typing import Final

from django.conf import settings
from django.core.exceptions import DisallowedHost
from django.http import HttpRequest, HttpResponse, HttpResponsePermanentRedirect
from django.http.response import HttpResponseBase
from django.urls import is_valid_path

from silverwright.book.trouble import plain_trouble
from silverwright.errors import SilverwrightError
from silverwright.units import file_size
from silverwright.web.pages.wrong import Trouble, trouble_of, wrong

READING = frozenset({"GET", "HEAD", "OPTIONS"})
WRITING = frozenset({"POST"})

WRONG_HOST = Trouble(403, "Not this name", "This server answers only to the names of its own machine, such as localhost.")
WRONG_METHOD = Trouble(405, "Not this way", "Pages are read with GET, and acts are sent with POST.")
FOREIGN = Trouble(403, "Not from here", "This was sent by another site or another program. Open the page here and send it from there.")
NO_LENGTH = Trouble(411, "How long is it?", "Send the length of the body with it (Content-Length).")
TOO_LONG = Trouble(413, "Too much at once", f"At most {file_size(settings.LARGEST_BODY_BYTES)} are taken at a time. Send it in parts.")
TOO_LARGE = Trouble(
    413, "Too large a file", "This file is larger than a scan of a gigapixel, or the disk has no room for it. Nothing of it was kept."
)
NOT_JSON = Trouble(415, "JSON is needed", "Send the fields as a JSON object, with the header Content-Type: application/json.")
NOT_BYTES = Trouble(415, "A file is needed", "Send the file's bytes as they are, with the header Content-Type: application/octet-stream.")
FILES: Final = "/api/files"
BYTES: Final = "application/octet-stream"


class Guard:
    """The middleware: refuse before anything is read, and turn every error of ours into its page."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Refuse, or pass on."""
        trouble = refusal(request)
        response = wrong(request, trouble) if trouble else self.get_response(request)
        if response.status_code == HTTPStatus.NOT_FOUND and (there := without_slash(request)):
            response = HttpResponsePermanentRedirect(there)
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        response.headers.setdefault("Cache-Control", "private, no-cache")  # a record is private, yet "back" keeps what was typed
        return response

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Our own errors have words and a status, and so have the store's; anything else is ours to mend and goes on to the page for that."""
        try:
            with plain_trouble():
                raise error  # noqa: TRY301 (the store's words are translated on their way out)
        except SilverwrightError as ours:
            return wrong(request, trouble_of(ours))
        except Exception:  # noqa: BLE001 (Django asked whether we know it; it logs and answers what we do not)
            return None


def without_slash(request: HttpRequest) -> str:
    """The page that is meant by an address with a slash too many at its end; none for programs, and none for what is sent."""
    path = request.path.rstrip("/")
    if request.method != "GET" or path == request.path or path.startswith("/api") or not is_valid_path(path):
        return ""
    address, mark, query = request.get_full_path().partition("?")
    return f"{address.rstrip('/')}{mark}{query}"


def refusal(request: HttpRequest) -> Trouble | None:
    """Why this request is not even looked at, if it is not."""
    try:
        host = request.get_host()
    except DisallowedHost:
        return WRONG_HOST
    if request.method in READING:
        return None
    if request.method not in WRITING:
        return WRONG_METHOD
    if foreign(request, f"{request.scheme}://{host}"):
        return FOREIGN
    return _body_refusal(request)


def foreign(request: HttpRequest, own: str) -> bool:
    """
    Did anything but our own page send this?

    A browser names the origin of every POST; it must be ours to the port. One that hides it must at least say "same-origin".
    A program sends neither: it may use the JSON address, where a browser's form cannot reach it.
    """
    origin, site = request.headers.get("Origin"), request.headers.get("Sec-Fetch-Site")
    if origin is not None:
        return origin != own
    if site is not None:
        return site != "same-origin"
    return not request.path.startswith("/api/")


def _body_refusal(request: HttpRequest) -> Trouble | None:
    length = request.headers.get("Content-Length", "")
    if not length.isascii() or not length.isdigit():
        return NO_LENGTH
    if int(length) > longest_body(request.path):
        return TOO_LARGE if request.path in settings.TAKES_FILES else TOO_LONG
    if request.path == FILES and request.content_type != BYTES:
        return NOT_BYTES
    if request.path.startswith("/api/") and request.path != FILES and request.content_type != "application/json":
        return NOT_JSON
    return None


def longest_body(path: str) -> int:
    """How many bytes are taken at this address: as many as a scan has where scans are handed in, and never more than the disk holds twice."""
    if path not in settings.TAKES_FILES:
        return int(settings.LARGEST_BODY_BYTES)
    free = shutil.disk_usage(settings.SILVERWRIGHT_HOME).free
    return int(min(settings.LARGEST_FILE_BYTES, free // 2))
