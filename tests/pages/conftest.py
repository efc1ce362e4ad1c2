"""A real browser and real servers for the page tests; whatever the browser complains of fails the test that saw it."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Dialog, Page, Request, Response, sync_playwright
from tests.pages.served import Served
from tools.bootstrap import chromium

ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"]
PATIENCE_MS = 15_000
NO_FAULT = re.compile(
    r"Failed to load resource: the server responded with a status of 4\d\d"  # a refusal in words
    r"|htmx:sendAbort|htmx:afterRequest"  # a newer question has overtaken one that was still under way; a lost connection says sendError
)


class Complaints(list[str]):
    """What a browser said while pages were open: console, scripts that fail or speak, requests to other hosts, answers that broke."""

    def listen(self, context: BrowserContext, own: str) -> None:
        """Hear everything that this context says."""
        context.on("console", self._console)
        context.on("weberror", lambda error: self.append(f"script: {error.error}"))
        context.on("dialog", self._dialog)
        context.on("request", lambda request: self._request(request, own))
        context.on("response", self._response)

    def _console(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"} and not NO_FAULT.match(message.text):
            self.append(f"console: {message.text} ({message.location.get('url')})")

    def _dialog(self, dialog: Dialog) -> None:
        self.append(f"a script speaks: {dialog.message}")
        dialog.dismiss()

    def _request(self, request: Request, own: str) -> None:
        if not request.url.startswith((own, "data:", "about:", "blob:")):
            self.append(f"another host: {request.url}")

    def _response(self, response: Response) -> None:
        if response.status >= 500:
            self.append(f"{response.status}: {response.url}")


Opener = Callable[..., Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything in here needs the browser."""
    for item in items:
        if item.path.is_relative_to(__file__.rpartition("/")[0]):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """One browser for a module: it leaves before the database tests of other modules, which cannot run beside its loop."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=chromium(), args=ARGUMENTS)
        yield found
        found.close()


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server on an empty book that nobody writes into."""
    with Served(tmp_path_factory.mktemp("empty")) as server:
        yield server


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server on a book for one module to write into."""
    with Served(tmp_path_factory.mktemp("scratch")) as server:
        yield server


@pytest.fixture(scope="session")
def boatyard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The boatyard's example, filled; nobody writes into it."""
    with Served(tmp_path_factory.mktemp("boatyard"), example=True) as server:
        yield server


@pytest.fixture
def opened(browser: Browser) -> Iterator[Opener]:
    """`opened(server, "/camera", theme="dark", ...)`: a page in a context of its own; complaints fail the test."""
    contexts: list[BrowserContext] = []
    complaints = Complaints()

    def open_page(server: Served, path: str = "/", *, theme: str = "day", width: int = 1280, beside: bool = False, **more: Any) -> Page:
        height = more.pop("height", 900)
        context = browser.new_context(viewport={"width": width, "height": height}, locale="en-GB", timezone_id="Europe/Berlin", **more)
        context.set_default_timeout(PATIENCE_MS)
        context.add_cookies([{"name": "theme", "value": theme, "url": server.address}])
        complaints.listen(context, "http://127.0.0.1:" if beside else server.address)
        contexts.append(context)
        page = context.new_page()
        page.goto(server.address + path)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert not complaints, "\n".join(complaints)
