"""A book in another process: what the tests of crashes and full disks need."""

import os
import subprocess
import sys
from pathlib import Path

RECORDER = Path(__file__).with_name("recorder.py")


def environment(home: Path) -> dict[str, str]:
    """The environment of a process that opens the book in that folder, as a person's own would."""
    own = {name: value for name, value in os.environ.items() if not name.startswith(("DJANGO_", "SILVERWRIGHT_", "COV_"))}
    return own | {"SILVERWRIGHT_HOME": str(home)}


def recorder(home: Path, *words: str) -> "subprocess.Popen[str]":
    """Start the recorder; it acknowledges each act on its standard output."""
    return subprocess.Popen(
        [sys.executable, str(RECORDER), *words],
        env=environment(home),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def run(home: Path, *words: str) -> "subprocess.CompletedProcess[str]":
    """The same, to its end."""
    return subprocess.run([sys.executable, str(RECORDER), *words], env=environment(home), capture_output=True, text=True, timeout=120, check=False)
