"""The few words that a column may hold: one list for the book's columns and for the forms of the acts."""

from typing import Final, Literal, get_args

from silverwright.questions import bellows, light
from silverwright.records_chemistry import Role

Surface = Literal["unknown", "glossy", "pearl", "semi-matt", "matt"]
Base = Literal["unknown", "RC", "fibre"]
Contrast = Literal["unknown", "graded", "variable contrast"]
Sensitivity = light.Sensitivity
LightClass = light.LightClass
CameraKind = bellows.CameraKind
MeterReads = Literal["reflected", "incident"]
IncidentHead = Literal["dome", "flat"]
ApertureScale = Literal["marked", "exact"]
Turned = Literal["no", "mirror or prism"]
Process = Literal["direct positive", "negative"]
SideState = Literal["empty", "loaded", "exposed", "unloaded"]
StepName = Literal[
    "first development",
    "stop bath",
    "rinse",
    "bleach",
    "clearing",
    "second exposure",
    "second development",
    "fixing",
    "washing",
    "toning",
    "drying",
    "other",
]
HowExposed = Literal["step tablet", "timed strips", "dark slide", "apertures", "typed"]
ChipShows = Literal["base white", "fullest black"]
ReadBy = Literal["densitometer", "scan", "grey scale by eye"]
Looks = Literal["right", "too dark", "too light"]
Lamp = Literal["known", "unknown"]
Untagged = Literal["unknown", "linear", "gamma 2.2", "sRGB"]
Shows = Literal["step sheet", "picture", "step tablet"]
GridBy = Literal["nobody", "found", "by hand"]
CountState = Literal["running", "recorded", "nothing exposed"]
JobState = Literal["waiting", "running", "done", "failed", "stopped"]
Evidence = Literal["step sheet", "verdict", "strip by eye", "scene patches"]
StrengthSaid = Literal["not stated", "% w/w", "% w/v", "g/L", "mol/L", "volumes", "%, label unclear", "undiluted"]
Container = Literal["unknown", "glass bottle", "plastic bottle", "can", "tub", "bag"]
TestedBy = Literal[
    "permanganate titration", "iodine titration", "gas volume", "test strips", "bleach-out test", "silver test", "black strip", "other"
]
BathRole = Literal[Role, "other"]
KeptIn = Literal["tray", "bottle", "slot tank", "drum", "box camera"]
BathState = Literal["in use", "discarded", "merged"]
BathEventName = Literal["made", "used", "replenished", "topped up", "tested", "filtered", "left open", "split", "merged", "discarded"]
RuleSet = Literal["in force", "proposal of July 2024"]

LONGEST_WORD: Final = 40  # our judgement: longer than any word above


def listed(words: object) -> tuple[str, ...]:
    """The words of one of these lists, in their order."""
    return get_args(words)
