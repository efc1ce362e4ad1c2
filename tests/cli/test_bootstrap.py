"""A Python that cannot be used is told in one sentence, and the environment is filled only when it must be."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest
from tools import bootstrap


@pytest.mark.parametrize(
    ("version", "words"), [((3, 6), "too old"), ((3, 10), "too old"), ((3, 14), "newer than this version was tried with"), ((4, 0), "newer")]
)
def test_a_python_that_is_not_meant_gets_one_sentence(version: tuple[int, int], words: str) -> None:
    sentence = bootstrap.refusal(version, can_make=True)
    assert words in sentence
    assert f"{version[0]}.{version[1]}" in sentence
    assert "3.11, 3.12 or 3.13" in sentence
    assert "\n" not in sentence


@pytest.mark.parametrize("version", [(3, 11), (3, 12), (3, 13)])
def test_the_meant_ones_are_not_refused(version: tuple[int, int]) -> None:
    assert bootstrap.refusal(version, can_make=True) == ""
    assert "venv" in bootstrap.refusal(version, can_make=False)


def test_a_filled_environment_is_left_alone(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "stamp").write_text(f"{bootstrap.place()}\n{bootstrap.fingerprint('dev')}\n")
    monkeypatch.setattr(bootstrap, "STAMP", tmp_path / "stamp")
    monkeypatch.setattr(bootstrap, "PYTHON", Path(sys.executable))
    monkeypatch.setattr(bootstrap, "run", lambda _: pytest.fail("nothing is to be installed"))
    assert bootstrap.environment("dev") == 0
    assert bootstrap.environment("run") == 0, "what tests need holds what the server needs"


def test_where_uv_fails_pip_is_tried(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    ran: list[list[str]] = []

    def run(command: list[str]) -> bool:
        ran.append(command)
        return command[0] != "uv"

    monkeypatch.setattr(bootstrap, "STAMP", tmp_path / "stamp")
    monkeypatch.setattr(bootstrap, "uv_works", lambda: True)
    monkeypatch.setattr(bootstrap, "venv_works", lambda: True)
    monkeypatch.setattr(bootstrap, "run", run)
    assert bootstrap.environment("run") == 0
    assert ran[0][0] == "uv"
    assert any("--require-hashes" in command for command in ran if command[0] != "uv")
    assert [command for command in ran if "-e" in command and "--no-deps" in command and "--no-build-isolation" in command]


def test_without_uv_and_venv_there_is_one_sentence(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(bootstrap, "STAMP", tmp_path / "stamp")
    monkeypatch.setattr(bootstrap, "uv_works", lambda: False)
    monkeypatch.setattr(bootstrap, "venv_works", lambda: False)
    assert bootstrap.environment("run") == 1
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize(("ci", "code"), [("true", 1), ("", 0)])
def test_no_chromium_is_loud_and_in_ci_a_failure(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], ci: str, code: int) -> None:
    monkeypatch.setattr(bootstrap, "chromium", lambda: None)
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    monkeypatch.setenv("CI", ci)
    assert bootstrap.browser() == code
    assert "SKIPPED" in capsys.readouterr().err


def test_an_old_python_can_read_the_file() -> None:
    """No syntax newer than the oldest Python 3 that people may still start it with."""
    ast.parse(Path(bootstrap.__file__).read_text(encoding="utf-8"), feature_version=(3, 5))


def test_it_is_asked_in_one_word() -> None:
    told = subprocess.run([sys.executable, bootstrap.__file__, "everything"], capture_output=True, text=True, check=False)
    assert told.returncode == 2
    assert "run" in told.stderr
