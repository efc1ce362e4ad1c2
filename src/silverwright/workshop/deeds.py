"""Every act that there is, and the one way to do it."""

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Final

from silverwright.errors import UnknownName
from silverwright.workshop.act import AnyDeed, Done, carry_out
from silverwright.workshop.archive import ARCHIVE, BRING_BACK
from silverwright.workshop.baths import FILTER_BATH, LEAVE_OPEN, MATCH_BATH, MERGE_BATHS, SPLIT_BATH, TEST_BATH, USE_BATH
from silverwright.workshop.calibrate import CALIBRATE
from silverwright.workshop.chip import CHIP
from silverwright.workshop.correct import CORRECT
from silverwright.workshop.cut import CUT
from silverwright.workshop.cutpaper import CUT_PAPER
from silverwright.workshop.expose import EXPOSE
from silverwright.workshop.exposing import START, STOP_EXPOSURE
from silverwright.workshop.fieldlog import FIELD_LOG
from silverwright.workshop.gear import CAMERA, HOLDER, LENS, LIGHT, LOT, METER, PAPER, SCANNER
from silverwright.workshop.holders import LOAD, UNLOAD
from silverwright.workshop.holding import GO_ON, HOLD
from silverwright.workshop.judge import JUDGE
from silverwright.workshop.learn import LEARN
from silverwright.workshop.leaving import LEAVE_OUT, TAKE_BACK
from silverwright.workshop.mixing import MIX, REPLENISH, TOP_UP
from silverwright.workshop.process import PROCESS_DEED
from silverwright.workshop.reading_changed import READING_CHANGED
from silverwright.workshop.recipes import RECIPE_DEED
from silverwright.workshop.reciprocity import RECIPROCITY_TEST
from silverwright.workshop.scans import GRID, PLACES, READ_AGAIN, SCAN, STOP_WORK
from silverwright.workshop.stepsheet import STEP_SHEET
from silverwright.workshop.stocks import DATA_SHEET, STOCK, STOCK_TESTED
from silverwright.workshop.tones import SCENE_PATCHES
from silverwright.workshop.waste import DISCARD_BATH, EMPTY_WASTE, WASTE_BOTTLE
from silverwright.workshop.workroom import WORKROOM

DEEDS: Final[tuple[AnyDeed, ...]] = (
    PAPER,
    LOT,
    CAMERA,
    LENS,
    LIGHT,
    METER,
    HOLDER,
    SCANNER,
    CUT_PAPER,
    CHIP,
    LOAD,
    UNLOAD,
    EXPOSE,
    START,
    READING_CHANGED,
    HOLD,
    GO_ON,
    STOP_EXPOSURE,
    FIELD_LOG,
    CUT,
    PROCESS_DEED,
    STOCK,
    STOCK_TESTED,
    DATA_SHEET,
    RECIPE_DEED,
    MIX,
    USE_BATH,
    REPLENISH,
    TOP_UP,
    TEST_BATH,
    FILTER_BATH,
    LEAVE_OPEN,
    SPLIT_BATH,
    MERGE_BATHS,
    MATCH_BATH,
    WASTE_BOTTLE,
    DISCARD_BATH,
    EMPTY_WASTE,
    WORKROOM,
    SCAN,
    GRID,
    PLACES,
    READ_AGAIN,
    STOP_WORK,
    CALIBRATE,
    STEP_SHEET,
    SCENE_PATCHES,
    JUDGE,
    LEARN,
    LEAVE_OUT,
    TAKE_BACK,
    RECIPROCITY_TEST,
    CORRECT,
    ARCHIVE,
    BRING_BACK,
)


def find_deed(name: str) -> AnyDeed:
    """The act of that name."""
    by_name = {deed.name: deed for deed in DEEDS}
    if name not in by_name:
        raise UnknownName("act", name, get_close_matches(name, by_name, n=3))
    return by_name[name]


def do(name: str, given: Mapping[str, object], *, key: str = "", who: str = "") -> Done:
    """Do an act once: `do("load", {"holder": "holder 1", "side": "1", "lot": "box A"}, key="...")`."""
    return carry_out(find_deed(name), given, key=key, who=who)
