"""What can hurt is said before what was done, to a person who sits at the terminal; what reads the output gets the result alone."""

import os
import pty
import subprocess
from pathlib import Path

from tests.cli.test_serve import PROGRAM

MIXED = ["mix", "--role", "clearing", "--volume-ml", "1 L", "--ingredients", "sodium sulphite; 2; % w/w"]


def test_a_person_at_the_terminal_reads_the_caution_first(tmp_path: Path) -> None:
    ours, theirs = pty.openpty()
    told = subprocess.run([*PROGRAM, *MIXED], env=environment(tmp_path), stdout=subprocess.PIPE, stderr=theirs, text=True, check=True)
    os.close(theirs)
    before = os.read(ours, 2000).decode()
    os.close(ours)
    assert " ".join(before.split()).startswith("stop: Before you pour: goggles, gloves and fresh air.")
    assert told.stdout.startswith("Bath “clearing 1”")


def test_a_program_reads_the_result_alone(tmp_path: Path) -> None:
    told = subprocess.run([*PROGRAM, *MIXED], env=environment(tmp_path), capture_output=True, text=True, check=True)
    assert told.stderr == ""
    assert told.stdout.startswith("Bath “clearing 1”")


def environment(home: Path) -> dict[str, str]:
    """As a person's shell, with a book of its own."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("DJANGO", "SILVERWRIGHT"))}
    return kept | {"SILVERWRIGHT_HOME": str(home)}
