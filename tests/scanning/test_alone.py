"""Who reads files knows neither the book nor the web, and who only sends orders loads none of the libraries that read."""

import subprocess
import sys

from tests.house.code import ROOT

READERS = {"numpy", "pyvips", "tifffile", "imagecodecs", "PIL", "cv2"}
HOUSE = {"django", "pydantic", "click", "ninja", "sqlite3", "silverwright.book", "silverwright.web", "silverwright.workshop"}


def modules_after(code: str) -> set[str]:
    told = subprocess.run([sys.executable, "-c", f"{code}\nimport sys; print(*sys.modules)"], capture_output=True, text=True, check=True, cwd=ROOT)
    return set(told.stdout.split())


def test_sending_orders_is_light() -> None:
    assert modules_after("import silverwright.scanning.capped, silverwright.scanning.orders") & (READERS | HOUSE) == set()


def test_the_child_knows_files_only() -> None:
    loaded = modules_after("import silverwright.scanning.child, silverwright.scanning.look, silverwright.scanning.measure")
    assert {"numpy", "pyvips", "tifffile"} <= loaded
    assert loaded & (HOUSE | {"PIL", "cv2", "scipy"}) == set()


def test_measuring_an_uncompressed_tiff_begins_without_the_second_library() -> None:
    assert "pyvips" not in modules_after("import silverwright.scanning.child, silverwright.scanning.measure")
