"""What page tests share: posting a form as a browser does, and a small book to begin with."""

import re
from collections.abc import Mapping
from html import unescape

from django.test import Client

from silverwright.workshop.deeds import do

ORIGIN = {"Origin": "http://testserver"}
PAPER, LENS, HOLDER, BOX = "RC paper, grade 2", "210 mm lens in a leaf shutter", "holder 1", "box A"
DENSITIES = "1.88 1.87 1.85 1.81 1.68 1.41 0.98 0.55 0.28 0.15 0.11 0.09"
EXPOSURES = "-0.9 -0.75 -0.6 -0.45 -0.3 -0.15 0 0.15 0.3 0.45 0.6 0.75"
SCENE = {"paper": PAPER, "lens": LENS, "reading_ev": "10", "extension_mm": "315", "aperture_f": "f/22", "paper_ei": "1.5"}


class Book:
    """A browser without script."""

    def __init__(self, client: Client) -> None:
        self.client = client
        self.text = ""
        self.status = 0
        self.address = ""

    def open(self, address: str) -> str:
        """Read a page; its text without markup noise."""
        response = self.client.get(address)
        self.status, self.address = response.status_code, address
        self.text = unescape(response.content.decode())
        return self.text

    def send(self, address: str, fields: Mapping[str, str], *, follow: bool = True) -> str:
        """Post a form and go where it leads."""
        response = self.client.post(address, dict(fields), headers=ORIGIN)
        self.status, self.address = response.status_code, address
        self.text = unescape(response.content.decode())
        if follow and response.status_code == 303:
            return self.open(response.headers["Location"])
        return self.text

    def hidden(self) -> dict[str, str]:
        """The hidden fields of the page's forms."""
        return dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', self.text))

    def problem(self, field: str) -> str:
        """What stands beside a field."""
        found = re.search(rf'<div id="p-{re.escape(field)}"[^>]*>(.*?)</div>', self.text, re.DOTALL)
        return re.sub(r"<[^>]+>", "", found[1]) if found else ""

    def value(self, field: str) -> str:
        """What stands in a field."""
        found = re.search(
            rf'<(?:input|textarea)[^>]*name="{re.escape(field)}"[^>]*?(?:value="([^"]*)"[^>]*>|>\n?(.*?)</textarea>)', self.text, re.DOTALL
        )
        return (found[1] if found[1] is not None else found[2]).strip() if found else ""


def begin() -> None:
    """A paper, its box, a lens and a loaded holder."""
    do("paper", {"name": PAPER, "base": "RC", "grade": "2"})
    do("lot", {"name": BOX, "paper": PAPER, "sheets_left": "25"})
    do("lens", {"name": LENS, "focal_mm": "210"})
    do("holder", {"name": HOLDER})
    do("load", {"holder": HOLDER, "side": "1", "lot": BOX})


def exposed(**more: str) -> str:
    """A sheet that was exposed; its number."""
    return do("expose", {**SCENE, "given_s": "1:37", "subject": "caulking mallet", **more}).name.partition("/")[0]


def measured(**more: str) -> str:
    """A step sheet of twelve patches with its curve; its number."""
    number = exposed(subject="step sheet")
    do("step-sheet", {"sheet": number, "how": "typed", "metered": "yes", "exposure_log10": EXPOSURES, "densities": DENSITIES, **more})
    do("learn", {"sheet": number})
    return number
