"""The locks hold what pyproject asks for, each with its checksums, for every Python that is meant, and the same in both."""

import re
import tomllib
from itertools import pairwise

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from tests.house.code import ROOT, none_of, text_of
from tools.bootstrap import LOCKS

PROJECT = tomllib.loads(text_of(ROOT / "pyproject.toml"))
ENTRY = re.compile(r"^([a-z0-9][a-z0-9._-]*)==(\S+)(?: ; (.+?))? \\$", re.MULTILINE)


def locked(kind: str) -> dict[str, set[str]]:
    """Each package with its version, or its versions where Pythons differ."""
    found: dict[str, set[str]] = {}
    for name, version, _ in ENTRY.findall(text_of(ROOT / LOCKS[kind])):
        found.setdefault(canonicalize_name(name), set()).add(version)
    return found


def asked(*groups: str) -> list[Requirement]:
    words = [*PROJECT["project"]["dependencies"], *PROJECT["build-system"]["requires"]]
    return [Requirement(one) for one in words + [word for group in groups for word in PROJECT["dependency-groups"][group]]]


def missing(kind: str, wanted: list[Requirement]) -> list[str]:
    there = locked(kind)
    return [str(one) for one in wanted if not any(one.specifier.contains(version) for version in there.get(canonicalize_name(one.name), ()))]


def test_the_locks_hold_what_is_asked() -> None:
    none_of(missing("run", asked("build")), "Not in requirements.lock: run `make lock`")
    none_of(missing("dev", asked("build", "dev")), "Not in requirements-dev.lock: run `make lock`")


def test_the_server_runs_with_the_versions_that_were_tested() -> None:
    dev = locked("dev")
    none_of((f"{name} {versions}" for name, versions in locked("run").items() if dev.get(name) != versions), "The locks differ")


def test_every_package_has_its_checksums() -> None:
    for name in LOCKS.values():
        text = text_of(ROOT / name)
        starts = [match.start() for match in ENTRY.finditer(text)]
        parts = [text[here:there] for here, there in pairwise([*starts, len(text)])]
        none_of((part.split()[0] for part in parts if "--hash=sha256:" not in part), "No checksum")
        assert "://" not in text


def test_the_pythons_that_are_meant_are_the_same_everywhere() -> None:
    assert PROJECT["project"]["requires-python"] == ">=3.11"
    assert "python_full_version < '3.12'" in text_of(ROOT / LOCKS["run"]), "one lock serves them all"
