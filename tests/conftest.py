"""What every test shares: hypothesis without a deadline, every operation's examples, and page tests that are never skipped in silence."""

import os

import pytest
from hypothesis import settings
from tools.bootstrap import chromium

from silverwright.catalogue import catalogue

settings.register_profile("house", deadline=None)
settings.register_profile("quick", deadline=None, max_examples=5)  # make quick
settings.load_profile("house")
SKIPPED = pytest.StashKey[int]()


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """`operation, example` stands for every example of every operation."""
    if {"operation", "example"} <= set(metafunc.fixturenames):
        every = [pytest.param(one, dict(given), id=f"{one.name}: {name}") for one in catalogue() for name, given in one.examples.items()]
        metafunc.parametrize(("operation", "example"), every)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Without Chromium the page tests are skipped, or, where nobody is watching, refused."""
    if chromium():
        return
    pages = [item for item in items if item.get_closest_marker("browser")]
    config.stash[SKIPPED] = len(pages)
    if pages and os.environ.get("CI") == "true":
        raise pytest.UsageError(f"No Chromium: {len(pages)} page tests cannot run.")
    for item in pages:
        item.add_marker(pytest.mark.skip(reason="no Chromium"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Say it at the end, where it is read."""
    if skipped := config.stash.get(SKIPPED, 0):
        terminalreporter.section("NO CHROMIUM", sep="=", red=True, bold=True)
        terminalreporter.line(
            f"{skipped} page tests were SKIPPED: what people see in the browser was not tested. `make test` as root brings Chromium."
        )
