"""Every kind of error of ours that a command can meet has its exit code, and its words go to stderr."""

import click
import pytest

from silverwright.cli.told import EXIT_CODES, telling
from silverwright.errors import Fault, NotStarted, ScanFailed, ScanRefused, SilverwrightError
from silverwright.web.pages.wrong import STATUS


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (ScanRefused([Fault("file", "", "The file is empty."), Fault("untagged", "", "Say what its numbers mean.")]), "is empty. Say what"),
        (ScanFailed("reading it takes too long."), "The scan could not be read: reading it takes too long. The file is kept as it is."),
    ],
    ids=["refused", "failed"],
)
def test_a_scan_that_cannot_be_read(capsys: pytest.CaptureFixture[str], error: SilverwrightError, words: str) -> None:
    with pytest.raises(click.exceptions.Exit) as ended, telling():
        raise error
    assert ended.value.exit_code == 8
    assert words in capsys.readouterr().err


def test_what_a_page_tells_a_command_tells_too() -> None:
    assert set(STATUS) - set(EXIT_CODES) == {NotStarted}
