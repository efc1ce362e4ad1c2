"""The Python door: the example in its own description runs, in a book that is opened by it."""

import subprocess
import sys
from pathlib import Path

from tests.book.outside import environment

from silverwright import api


def test_the_example_of_the_description_runs(tmp_path: Path) -> None:
    assert api.__doc__
    lines = [line.strip().removeprefix(">>> ") for line in api.__doc__.splitlines() if line.strip().startswith(">>> ")]
    assert len(lines) > 5
    program = "\n".join([*lines, "story = api.story(done.name)", "print(done.says, story.line.state, len(api.sheets(state='exposed')))"])
    done = subprocess.run([sys.executable, "-c", program], env=environment(tmp_path / "home"), capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.stdout.split()[-2:] == ["exposed", "1"]
    assert (tmp_path / "home" / "book.sqlite3").exists()
