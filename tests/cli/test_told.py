"""Every kind of error of ours that a command can meet has its exit code, and its words go to stderr."""

import click
import pytest

from silverwright.catalogue import find
from silverwright.cli.told import EXIT_CODES, tell, telling
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


def test_rows_that_belong_together_stand_side_by_side() -> None:
    plan = find("exposure.reciprocity-plan")
    answer = plan.ask(plan.examples["from f/8 to f/45"])
    lines = tell(answer).splitlines()
    head = next(at for at, line in enumerate(lines) if line.startswith("Aperture of the strip"))
    assert lines[head].split("  ")[-1] == "Density against the short"
    assert [line.split()[0] for line in lines[head + 1 : head + 7]] == ["f/8", "f/8", "f/8", "f/16", "f/22", "f/45"]
    assert lines[head + 6].endswith("0.222")
    assert lines[head + 7] == ""


def test_a_table_too_long_to_read_stays_a_row_of_its_ends() -> None:
    changing = find("exposure.changing")
    rows = "\n".join(f"{10 * at},10" for at in range(30))
    told = tell(changing.ask({"exposure_s": 600, "light_readings": rows}))
    assert "29 numbers, 10 s to 290 s (4:50)" in " ".join(told.split())
