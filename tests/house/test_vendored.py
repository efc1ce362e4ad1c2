"""What is copied from elsewhere is what it was, has its licence beside it, and nothing else lies there."""

import json

from tests.house.code import ROOT, SRC, none_of
from tools import vendor


def test_files_are_what_the_list_says() -> None:
    assert vendor.listed() == vendor.LIST.read_text()


def test_every_package_has_its_licence() -> None:
    packages = set(json.loads((ROOT / "package.json").read_text())["dependencies"])
    scripts = {script.package for script in vendor.SCRIPTS_WANTED}
    assert packages == {f"@fontsource-variable/{font.family.lower()}" for font in vendor.FONTS} | scripts
    for folder in (SRC / "report" / "fonts", SRC / "web" / "static" / "fonts"):
        none_of((font.family for font in vendor.FONTS if not (folder / f"LICENSE-{font.family.lower()}.txt").exists()), "A licence is missing")
    static = SRC / "web" / "static" / "vendor"
    none_of((name for name in scripts if not (static / f"LICENSE-{name}.txt").exists()), "A licence is missing")


def test_the_lock_is_exact_and_carries_no_address() -> None:
    lock = json.loads((ROOT / "package-lock.json").read_text())
    wanted = json.loads((ROOT / "package.json").read_text())["dependencies"]
    assert {name: lock["packages"][f"node_modules/{name}"]["version"] for name in wanted} == wanted
    assert all("integrity" in one for name, one in lock["packages"].items() if name)
    told = {name: {key: text for key, text in one.items() if key != "funding"} for name, one in lock["packages"].items()}
    assert "http" not in json.dumps(told), "nothing says from where it was fetched"
