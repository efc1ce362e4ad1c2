"""The loop by typed commands, each a process of its own, on one scratch folder."""

import json
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tests.loop import still_life
from tests.pages.served import PROGRAM, surroundings

from silverwright.asking.show import as_typed
from silverwright.cli.fields import option_name


def test_the_loop_by_typed_commands(tmp_path: Path) -> None:
    def silverwright(*words: str) -> Any:
        told = subprocess.run([*PROGRAM, *words, "--json"], env=surroundings(tmp_path), capture_output=True, text=True, check=False)
        assert told.returncode == 0, f"{words}\n{told.stdout}{told.stderr}"
        return json.loads(told.stdout)

    def options(given: Mapping[str, object]) -> list[str]:
        return [word for field, text in as_typed(given).items() for word in (option_name(field), text)]

    for deed, given in still_life.BEFORE:
        silverwright(deed, *options(given))
    planned = silverwright("plan", *options({**still_life.SCENE, **still_life.TYPED_EI}))
    still_life.check_plan(planned["answer"])
    done = silverwright("expose", *options(still_life.EXPOSE))
    assert done["values"]["given_s"] == 97
    for deed, given in still_life.afterwards(done["name"]):
        learnt = silverwright(deed, *options(given))["values"]
    still_life.check_learnt(learnt)
    still_life.check_next(silverwright("plan", *options(still_life.SCENE)), learnt)
    (sheet,) = silverwright("sheets")
    assert json.dumps(sheet).count(still_life.SUBJECT)
    story = json.dumps(silverwright("story", done["name"]))
    assert all(f"{density}" in story for density in still_life.DENSITIES)
