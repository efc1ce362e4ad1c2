"""
Front-end files: fetched in exactly the versions of package-lock.json, copied with their licences, listed with their checksums.

    python tools/vendor.py          fetch and copy again
    python tools/vendor.py --check  only compare what is there with the list
"""

import hashlib
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

ROOT = Path(__file__).resolve().parent.parent
MODULES = ROOT / "node_modules"
PACKAGES = MODULES / "@fontsource-variable"
PAGES = ROOT / "src" / "silverwright" / "web" / "static" / "fonts"
SCRIPTS = ROOT / "src" / "silverwright" / "web" / "static" / "vendor"
PAPER = ROOT / "src" / "silverwright" / "report" / "fonts"
LIST = ROOT / "tools" / "vendored.sha256"
REGULAR, BOLD = 400, 700  # the standard's weights of these two styles
BOLD_STYLE, REGULAR_SELECTION, BOLD_SELECTION = 1, 1 << 6, 1 << 5  # bits of the OpenType standard
FAMILY, STYLE, FULL, POSTSCRIPT = 1, 2, 4, 6  # its numbers of names
DROPPED = {FAMILY, STYLE, FULL, POSTSCRIPT, 16, 17, 25}  # the old names, and those of variable fonts


@dataclass(frozen=True)
class Font:
    """A variable font for the pages, and where to cut it for paper, where no variable font can be set."""

    family: str
    file: str
    cuts: dict[str, dict[str, float]]

    @property
    def package(self) -> Path:
        """Where npm puts it."""
        return PACKAGES / self.family.lower()


# How heavy each style is drawn is our judgement: as the pages set it, looked at on paper.
FONTS = (
    Font("Archivo", "archivo-latin-wdth-normal.woff2", {"Regular": {"wght": 400, "wdth": 100}, "Bold": {"wght": 650, "wdth": 100}}),
    Font("Besley", "besley-latin-wght-normal.woff2", {"Regular": {"wght": 500}, "Bold": {"wght": 700}}),
)


@dataclass(frozen=True)
class Script:
    """A script for the pages: the file that npm brings, and its licence."""

    package: str
    file: str
    licence: str

    @property
    def folder(self) -> Path:
        """Where npm puts it."""
        return MODULES / self.package


SCRIPTS_WANTED = (Script("openseadragon", "build/openseadragon/openseadragon.min.js", "LICENSE.txt"),)


def cut(font: Font, style: str) -> TTFont:
    """One static style of a variable font, named as programs look for it."""
    variable = TTFont(font.package / "files" / font.file, recalcTimestamp=False)
    static = instantiateVariableFont(variable, font.cuts[style], inplace=False)
    names = static["name"]
    names.names = [one for one in names.names if one.nameID not in DROPPED]
    for number, words in ((FAMILY, font.family), (STYLE, style), (FULL, f"{font.family} {style}"), (POSTSCRIPT, f"{font.family}-{style}")):
        names.setName(words, number, 3, 1, 0x409)
    bold = style == "Bold"
    static["OS/2"].usWeightClass = BOLD if bold else REGULAR
    static["OS/2"].fsSelection = BOLD_SELECTION if bold else REGULAR_SELECTION
    static["head"].macStyle = BOLD_STYLE if bold else 0
    del static["STAT"]
    static.flavor = None
    return static


def fetch() -> None:
    """Copy every file again from exact versions."""
    subprocess.run(["npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund"], cwd=ROOT, check=True)
    for folder in (PAGES, PAPER, SCRIPTS):
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
    for font in FONTS:
        shutil.copy(font.package / "files" / font.file, PAGES / font.file)
        for folder in (PAGES, PAPER):
            shutil.copy(font.package / "LICENSE", folder / f"LICENSE-{font.family.lower()}.txt")
        for style in font.cuts:
            cut(font, style).save(PAPER / f"{font.family}-{style}.ttf")
    for script in SCRIPTS_WANTED:
        shutil.copy(script.folder / script.file, SCRIPTS)
        shutil.copy(script.folder / script.licence, SCRIPTS / f"LICENSE-{script.package}.txt")


def listed() -> str:
    """Every vendored file with its checksum, as `sha256sum -c` reads it."""
    files = sorted(path for folder in (PAGES, PAPER, SCRIPTS) for path in folder.iterdir())
    return "".join(f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {path.relative_to(ROOT).as_posix()}\n" for path in files)


def main() -> int:
    """Fetch and list, or compare."""
    if "--check" in sys.argv[1:]:
        return int(listed() != LIST.read_text())
    fetch()
    LIST.write_text(listed())
    return 0


if __name__ == "__main__":
    sys.exit(main())
