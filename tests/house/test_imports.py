"""Every module can be imported first, and the command line's help stays quick."""

import json
import subprocess
import sys

import pytest
from tests.house.code import ROOT, sources

from silverwright.catalogue import HOMES, catalogue

ALONE = """
import json, os, sys
import click, numpy, pydantic, scipy.interpolate, django.db.models, django.forms  # outside packages once; every child has our code to itself

def alone(name):
    child = os.fork()
    if child == 0:
        sys.stderr = open(os.devnull, "w")
        try:
            __import__(name)
        except BaseException:
            os._exit(1)
        os._exit(0)
    return os.waitpid(child, 0)[1] == 0

names = json.loads(sys.stdin.read())
with_django = [name for name in names if name.split(".")[1:2] in (["book"], ["workshop"], ["web"])]
broken = [name for name in names if name not in with_django and not alone(name)]
django.setup()
broken += [name for name in with_django if not alone(name)]
print(json.dumps(broken))
"""


def names() -> list[str]:
    return [".".join(path.relative_to(ROOT / "src").with_suffix("").parts).removesuffix(".__init__") for path in sources()]


@pytest.mark.slow
def test_every_module_alone() -> None:
    told = subprocess.run([sys.executable, "-c", ALONE], input=json.dumps(names()), capture_output=True, text=True, check=True, cwd=ROOT)
    assert json.loads(told.stdout) == []


def modules_after(code: str) -> set[str]:
    told = subprocess.run([sys.executable, "-c", f"{code}\nimport sys; print(*sys.modules)"], capture_output=True, text=True, check=True, cwd=ROOT)
    return set(told.stdout.split())


def test_help_imports_neither_django_nor_pydantic_nor_numpy() -> None:
    loaded = modules_after("from silverwright.cli.main import main\nmain(['--help'], standalone_mode=False)")
    assert "click" in loaded
    assert loaded & {"django", "pydantic", "numpy", "scipy", "ninja", "uvicorn"} == set()


def test_asking_needs_no_django_and_a_bellows_question_no_numpy() -> None:
    asked = "main(['ask', 'exposure.bellows', '--focal-mm', '210', '--extension-mm', '315'], standalone_mode=False)"
    loaded = modules_after(f"from silverwright.cli.main import main\n{asked}")
    assert "pydantic" in loaded
    assert loaded & {"django", "numpy", "scipy", "ninja", "uvicorn"} == set()


def test_pages_load_no_numbers_before_they_are_asked() -> None:
    pages = "import silverwright.web.pages.findings, silverwright.web.pages.camera, silverwright.web.pages.measure, silverwright.workshop.worker"
    settings = "import os; os.environ['DJANGO_SETTINGS_MODULE'] = 'tests.settings'"
    loaded = modules_after(f"{settings}\nimport django; django.setup()\n{pages}")
    assert "silverwright.questions.next_exposure" in loaded
    assert loaded & {"numpy", "scipy", "pyvips", "tifffile", "vl_convert"} == set()


def test_a_question_that_is_asked_brings_no_other_subject() -> None:
    loaded = modules_after("from silverwright.catalogue import find\nfind('exposure.filter')")
    assert {one for one in loaded if one.startswith("silverwright.questions.")} <= {
        f"silverwright.questions.{one}" for one in ("entry", "filter", "light")
    }, "a coloured filter asks for the light"


def test_every_question_is_called_as_the_catalogue_has_it() -> None:
    assert [one.name for one in catalogue()] == list(HOMES)


def test_the_forecast_needs_no_scipy() -> None:
    loaded = modules_after("from silverwright.catalogue import find\nfind('sensitometry.next').ask({})")
    assert "numpy" in loaded
    assert "scipy" not in loaded
