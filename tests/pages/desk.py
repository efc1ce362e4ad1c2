"""What lies on the desk before a page test begins: a book with sheets, a scanner, and scans that were read; put there by HTTP, as a program does."""

import json
import time
from functools import cache
from pathlib import Path
from typing import Any, Final
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import numpy as np
from trials.scans.files import Form, write
from trials.scans.made import Made, picture, step_sheet, tablet
from trials.scans.scanner import Scanner, draw_scanner

PAPER, LENS, SCANNER = "RC paper, grade 2", "210 mm lens", "flatbed in the office"
SEED: Final = 7
LONGEST_PX: Final = 1000
PATIENCE_S: Final = 60
TABLET: Final = " ".join(f"{0.05 + 0.1 * step:.2f}" for step in range(20))  # as its leaflet says


@cache
def scanner() -> Scanner:
    """One scanner for everything."""
    return draw_scanner(np.random.default_rng([SEED, 0]))


@cache
def made(what: str, seed: int = SEED) -> Made:
    """A scan of the trials, with its truth."""
    return {"tablet": tablet, "step sheet": step_sheet, "picture": picture}[what](seed, scanner=scanner(), longest_px=LONGEST_PX)


def file_of(what: str, folder: Path, name: str, seed: int = SEED) -> Path:
    """The same as a file."""
    return write(made(what, seed), folder / name, Form())


def corners_of(found: Made) -> list[float]:
    """Its true corners: across and down of each, in percent."""
    return [100 * part for corner in found.corners for part in corner]


class Desk:
    """Acts by HTTP on one server."""

    def __init__(self, address: str) -> None:
        self.address = address

    def ask(self, path: str, body: bytes | None = None, kind: str = "application/json") -> Any:
        """One request; what it answers."""
        request = Request(self.address + path, data=body, headers={"Content-Type": kind})
        try:
            with urlopen(request, timeout=PATIENCE_S) as answer:
                return json.load(answer)
        except HTTPError as error:
            raise AssertionError(f"{path}: {error.code} {error.read().decode()}") from error

    def do(self, deed: str, **given: object) -> str:
        """Do an act; the name of what it made."""
        name: str = self.ask(f"/api/do/{deed}", json.dumps(given).encode())["name"]
        return name.partition("/")[0]

    def begin(self, *subjects: str) -> list[str]:
        """A paper, a lens, and exposed sheets; their numbers."""
        self.do("paper", name=PAPER, base="RC", grade="2")
        self.do("lens", name=LENS, focal_mm=210)
        shot = {"paper": PAPER, "lens": LENS, "reading_ev": 10, "aperture_f": "f/22", "extension_mm": 210, "given_s": 60}
        return [self.do("expose", subject=subject, **shot) for subject in subjects]

    def hand_in(self, content: bytes, **given: object) -> str:
        """A file becomes a scan, and is read."""
        kept = self.ask("/api/files", content, "application/octet-stream")["file"]
        return self.read(self.do("scan", file=kept, **given))

    def read(self, scan: str) -> str:
        """Wait until nothing is being read any more."""
        until = time.monotonic() + PATIENCE_S
        while self.state(scan) in {"waiting", "running"}:
            assert time.monotonic() < until, f"{scan} is still {self.state(scan)}"
            time.sleep(0.1)
        return scan

    def state(self, scan: str) -> str:
        """Where it stands."""
        found: str = self.ask(f"/api/scans/{scan}")["state"]
        return found

    def densities(self, scan: str) -> list[float]:
        """Its densities."""
        found: list[float] = self.ask(f"/api/scans/{scan}")["densities"]["densities"]
        return found

    def calibrate(self, folder: Path) -> str:
        """The scanner sees a tablet; the scan's name."""
        self.do("scanner", name=SCANNER)
        true = made("tablet")
        content = file_of("tablet", folder, "tablet.tif").read_bytes()
        scan = self.hand_in(content, shows="step tablet", scanner=SCANNER, rows=true.rows, columns=true.columns)
        self.place(scan, true)
        self.do("calibrate", scan=scan, densities=TABLET)
        return scan

    def place(self, scan: str, true: Made) -> None:
        """The grid lies where it truly is, and is measured."""
        self.do("grid", scan=scan, corners_percent=" ".join(map(str, corners_of(true))), rows=true.rows, columns=true.columns)
        self.read(scan)
