# /// script
# requires-python = ">=3.11"
# dependencies = ["fonttools[woff]>=4.60,<5"]
# ///
"""
Cut static TTFs out of the pages' variable fonts, for the programs that read no variable ones.

`uv run tools/static_fonts.py FOLDER`, where FOLDER holds the variable WOFF2 files and their licences. It is run when the fonts are vendored anew;
its results are kept in the repository.
"""

import shutil
import sys
from pathlib import Path
from typing import Final, NamedTuple

from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

REPORT_FONTS: Final = Path(__file__).parent.parent / "src/silverwright/report/fonts"
FAMILY_ID, STYLE_ID, UNIQUE_ID, FULL_ID, POSTSCRIPT_ID = 1, 2, 3, 4, 6
OURS: Final = frozenset({0, FAMILY_ID, STYLE_ID, UNIQUE_ID, FULL_ID, 5, POSTSCRIPT_ID, 13, 14})  # the names that a static font needs


class Cut(NamedTuple):
    """One static font: where it comes from and which weight."""

    source: str
    family: str
    style: str
    axes: dict[str, float]


CUTS: Final = (
    Cut("archivo-latin-wdth-normal.woff2", "Archivo", "Regular", {"wght": 400, "wdth": 100}),
    Cut("archivo-latin-wdth-normal.woff2", "Archivo", "Bold", {"wght": 650, "wdth": 100}),
    Cut("besley-latin-wght-normal.woff2", "Besley", "Regular", {"wght": 500}),
    Cut("besley-latin-wght-normal.woff2", "Besley", "Bold", {"wght": 700}),
)


def cut(folder: Path, wanted: Cut) -> Path:
    """One static TTF whose family is named as the style sheet names it."""
    font = instancer.instantiateVariableFont(TTFont(folder / wanted.source), wanted.axes, inplace=True)
    names = font["name"]
    names.names = [name for name in names.names if name.nameID in OURS]
    postscript = f"{wanted.family}-{wanted.style}"
    full = wanted.family if wanted.style == "Regular" else f"{wanted.family} {wanted.style}"
    for place, text in ((FAMILY_ID, wanted.family), (STYLE_ID, wanted.style), (UNIQUE_ID, postscript), (FULL_ID, full), (POSTSCRIPT_ID, postscript)):
        names.setName(text, place, 3, 1, 0x409)
    bold = wanted.style == "Bold"
    font["OS/2"].usWeightClass = 700 if bold else 400  # what programs look for, whatever the drawing's own weight
    font["OS/2"].fsSelection = 1 << 5 if bold else 1 << 6
    font["head"].macStyle = 1 if bold else 0
    font.flavor = None
    target = REPORT_FONTS / f"{postscript}.ttf"
    font.save(target)
    return target


def main(folder: Path) -> None:
    """All of them, with their licences."""
    REPORT_FONTS.mkdir(parents=True, exist_ok=True)
    for wanted in CUTS:
        target = cut(folder, wanted)
        print(target.name, target.stat().st_size)
    for licence in folder.glob("LICENSE-*.txt"):
        shutil.copyfile(licence, REPORT_FONTS / licence.name)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
