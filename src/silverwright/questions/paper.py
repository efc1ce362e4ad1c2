"""What is known of the paper's speed, and its line in the ledger: the paper's EI instead of the meter's."""

from dataclasses import replace
from math import hypot, log2
from typing import Annotated, Literal

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Question, remark
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Entry, Remedy, Unknown, bare
from silverwright.records import Stops
from silverwright.units import EXPOSURE_INDEX
from silverwright.vocabulary import DOUBT_EI_STOPS, PAPER_EI

Tone = Literal["mid-grey", "highlight with texture", "skin", "shadow with detail"]


class PaperFields(Question):
    """The paper's exposure index, how sure it is, and for which tone."""

    paper_ei: Annotated[float | None, PAPER_EI] = None
    paper_ei_sd_stops: Annotated[float | None, DOUBT_EI_STOPS] = None
    ei_from: Annotated[
        Literal["typed", "own sheets", "unknown"] | None,
        Choice(help="Where the EI comes from: typed, own sheets, or unknown.", example="typed", label="EI from"),
    ] = None
    ei_rests_on: Annotated[str, Words(help="What the EI rests on.", example="1 step sheet, 2 verdicts", label="EI rests on")] = ""
    reading_tone: Annotated[
        Tone, Choice(help="What the reading is of: the EI then is the one that makes this tone right.", example="skin", label="The reading is of")
    ] = "mid-grey"


def ei_entry(question: PaperFields, dial_ei: float) -> Entry:
    """The paper's EI instead of the meter's."""
    guess, typed = fact("paper", "ei_unknown"), fact("paper", "ei_typed")
    ei = guess.value if question.paper_ei is None else question.paper_ei
    unknown = question.paper_ei is None or question.ei_from == "unknown"
    sd = question.paper_ei_sd_stops
    if sd is None or question.paper_ei is None:
        sd = guess.sd if unknown else typed.sd
    shown = bare(EXPOSURE_INDEX, ei)
    tone = "" if question.reading_tone == "mid-grey" else f" for {question.reading_tone}"
    what = f"The paper's EI {shown}{tone} instead of {bare(EXPOSURE_INDEX, dial_ei)}"
    strip = Remedy("a test strip of this paper in this process", hypot(fact("paper", "strip_by_eye").sd, fact("paper", "one_sheet").sd))
    line = Entry(what, Stops(log2(dial_ei / ei), sd), question.ei_rests_on, "judgement", called="The paper's EI", remedy=strip)
    if unknown:
        note = remark(Note.EI_UNKNOWN, ei=shown, sd=f"{sd:g}")
        lacks = (Unknown(f"the paper's EI ({shown} is taken)", sd),)
        return replace(line, source=question.ei_rests_on or guess.says, notes=(note,), unknown=lacks)
    if question.ei_from == "own sheets":
        return replace(line, source=question.ei_rests_on or "your own sheets", rests="own", stands="Findings says which sheet would narrow it most.")
    doubt = "typed, with its doubt" if question.paper_ei_sd_stops is not None else f"typed; its doubt is {typed.says}"
    return replace(line, source=question.ei_rests_on or doubt)
