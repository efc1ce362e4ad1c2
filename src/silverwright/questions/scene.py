"""Does the scene fit on the paper, and which exposure loses least?"""

from collections.abc import Sequence
from math import hypot
from typing import Annotated, ClassVar, Final

from silverwright.asking.fields import Plain
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Remark, Rests, remark
from silverwright.exposure.papercurve import density_at
from silverwright.exposure.scene import lost_stops
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import around, stops_said
from silverwright.questions.light import skin_entry
from silverwright.questions.papercurve import STOP_LOG10, rules_from
from silverwright.questions.placed import Part, Scene
from silverwright.questions.readings import SceneQuestion, is_planned
from silverwright.records import Stops
from silverwright.vocabulary import RANGE_STOPS
from silverwright.vocabulary_camera import (
    BLOCKED_STOPS,
    BURNT_STOPS,
    HIGHLIGHT_END_STOPS,
    HIGHLIGHTS_EV,
    IMAGE_STOPS,
    PART_DENSITY,
    PART_HIGH,
    PART_LOW,
    PART_STOPS,
    ROOM_STOPS,
    SCENE_STOPS,
    SET_EV,
    SHADOW_END_STOPS,
    SHADOWS_EV,
    SHIFT_STOPS,
    TOO_LONG_STOPS,
    WANTED_EV,
)

BLOCKS_UP: Final = "blocks up"
BURNS_OUT: Final = "burns out"
SHOWN_STOPS: Final = 0.05  # our judgement: a loss that rounds to nothing is not told


class SceneAnswer(Answer):
    """Whether the scene fits, which exposure loses least, and what each part becomes with it."""

    table: ClassVar[tuple[str, ...]] = ("parts", "part_stops", "part_density", "part_low", "part_high", "happens")
    too_long_stops: Annotated[Estimate | None, TOO_LONG_STOPS] = None
    room_stops: Annotated[Estimate | None, ROOM_STOPS] = None
    scene_stops: Annotated[Estimate | None, SCENE_STOPS] = None
    image_stops: Annotated[Estimate | None, IMAGE_STOPS] = None
    range_stops: Annotated[Estimate, RANGE_STOPS]
    shadow_end_stops: Annotated[Estimate, SHADOW_END_STOPS]
    highlight_end_stops: Annotated[Estimate, HIGHLIGHT_END_STOPS]
    set_ev: Annotated[Estimate, SET_EV]
    shift_stops: Annotated[Estimate | None, SHIFT_STOPS] = None
    blocked_stops: Annotated[Estimate, BLOCKED_STOPS]
    burnt_stops: Annotated[Estimate, BURNT_STOPS]
    shadows_ev: Annotated[Estimate | None, SHADOWS_EV] = None
    highlights_ev: Annotated[Estimate | None, HIGHLIGHTS_EV] = None
    wanted_ev: Annotated[Estimate | None, WANTED_EV] = None
    parts: Annotated[tuple[str, ...], Plain(help="The parts of the scene.", example="sail", label="Parts")] = ()
    part_stops: Annotated[Sequence[float], PART_STOPS] = ()
    part_density: Annotated[Sequence[float], PART_DENSITY] = ()
    part_low: Annotated[Sequence[float], PART_LOW] = ()
    part_high: Annotated[Sequence[float], PART_HIGH] = ()
    happens: Annotated[tuple[str, ...], Plain(help="What happens to each part.", example="blocks up by 0.6 stop", label="What happens")] = ()


def answer(question: SceneQuestion) -> SceneAnswer:
    """The readings laid on the paper's curve, by the exposure that loses least or the one that was chosen."""
    scene = Scene(question)
    lines = _lines(scene)
    over = Stops(sum(one.amount for one in lines), hypot(*(one.doubt for one in lines)))
    tones = [_tone(scene, one) for one in scene.parts]
    curve = scene.paper.curve
    return SceneAnswer(
        too_long_stops=_loss(over) if lines else None,
        room_stops=_loss(Stops(-over.amount_stops, over.doubt_stops)) if lines else None,
        scene_stops=_whole(lines[:-2]),
        image_stops=_whole(lines[:-1]),
        range_stops=around(scene.paper.range_stops, curve.range_sd_log10 / STOP_LOG10, least=0.0),
        shadow_end_stops=around(curve.shadow_log10 / STOP_LOG10, curve.shadow_sd_log10 / STOP_LOG10),
        highlight_end_stops=around(curve.highlight_log10 / STOP_LOG10, curve.highlight_sd_log10 / STOP_LOG10),
        set_ev=around(-scene.given.amount_stops, scene.given.doubt_stops),
        shift_stops=_shift(scene),
        blocked_stops=_loss(_beyond(scene, scene.least, 1.0)),
        burnt_stops=_loss(_beyond(scene, scene.most, -1.0)),
        shadows_ev=_ev(scene.least),
        highlights_ev=_ev(scene.most),
        wanted_ev=_ev(scene.wanted),
        parts=tuple(one.name for one in scene.parts),
        part_stops=tuple(_place_log10(scene, one) / STOP_LOG10 for one in scene.parts),
        part_density=tuple(density for density, _, _ in tones),
        part_low=tuple(low for _, low, _ in tones),
        part_high=tuple(high for _, _, high in tones),
        happens=tuple(_happens(scene, one) for one in scene.parts),
        ledger=lines,
        notes=_notes(scene, over if lines else None),
        sources=tuple(dict.fromkeys((*(one.source for one in lines), scene.paper.source, "jonescondit1941", *rules_from()))),
    )


def _whole(lines: Sequence[Line]) -> Estimate | None:
    """Some lines of the working together."""
    return around(sum(one.amount for one in lines), hypot(*(one.doubt for one in lines)), least=0.0) if lines else None


def _ev(exposure: Stops | None) -> Estimate | None:
    """An exposure as the EV that a mid-grey would read."""
    return None if exposure is None else around(-exposure.amount_stops, exposure.doubt_stops)


def _loss(beyond: Stops) -> Estimate:
    """What lies beyond an end, and no less than nothing."""
    value, low, high = lost_stops(beyond, EIGHTY_PERCENT_SD)
    return Estimate(value=value, low=low, high=high, percent=80)


def _beyond(scene: Scene, bound: Stops | None, sign: float) -> Stops:
    """How far the exposure falls short of what the shadows need, or goes beyond what the highlights bear."""
    if bound is None:
        return Stops(0.0)
    return Stops(sign * (bound.amount_stops - scene.given.amount_stops), bound.doubt_stops)


def _shift(scene: Scene) -> Estimate | None:
    """How much more than by the photographer's own reading; a doubt that both share is not counted twice."""
    plan, given = scene.plan, scene.given
    if plan is None:
        return None
    apart = 0.0 if given is plan else hypot(given.doubt_stops, plan.doubt_stops if is_planned(dict(scene.question)) else 0.0)
    return around(given.amount_stops - plan.amount_stops, apart)


def _lines(scene: Scene) -> tuple[Line, ...]:
    """The scene in stops, less what stray light takes, less what the paper holds."""
    if not scene.kept:
        return ()
    dark, light = scene.kept[0], scene.kept[-1]
    as_read, as_seen = light.ev - dark.ev, light.paper_ev - dark.paper_ev
    on_paper = scene.lifted(light).amount_stops - scene.lifted(dark).amount_stops
    read_sd = hypot(dark.sd_stops, light.sd_stops) if dark is not light else 0.0
    stray_sd = max(0.0, scene.lifted(dark).doubt_stops ** 2 - dark.sd_stops**2 - dark.seen.doubt_stops**2) ** 0.5
    flare, measured = fact("scene", "flare_factor"), scene.question.flare_percent is not None
    usual, paper = fact("forecast", "place"), scene.paper
    skin = skin_entry(scene.question) if (light.row.becomes == "skin") != (dark.row.becomes == "skin") else None
    colour = () if skin is None else (_line("The colour of skin", as_seen - as_read, skin.stops.doubt_stops, skin.source, skin.rests),)
    return (
        _line(f"Scene, {dark.name} to {light.name}", as_read, read_sd, f"as read; the doubt is {usual.says}", usual.rests),
        *colour,
        _line("Stray light", on_paper - as_seen, stray_sd, "as measured" if measured else flare.says, "own" if measured else flare.rests),
        _line(paper.said, -paper.range_stops, paper.curve.range_sd_log10 / STOP_LOG10, paper.source, paper.rests),
    )


def _line(what: str, amount: float, doubt: float, source: str, rests: Rests) -> Line:
    return Line(what=what, amount=amount, doubt=doubt, unit="stops", source=source, rests=rests)


def _place_log10(scene: Scene, part: Part) -> float:
    """Where a part lies on the curve."""
    return (scene.lifted(part).amount_stops + scene.given.amount_stops) * STOP_LOG10


def _tone(scene: Scene, part: Part) -> tuple[float, float, float]:
    """Density with its limits: the curve's band, and the doubt of the place on it."""
    place, curve = _place_log10(scene, part), scene.paper.curve
    density, low, high = density_at(curve, place)
    reach = EIGHTY_PERCENT_SD * hypot(scene.lifted(part).doubt_stops, _exposure_sd(scene)) * STOP_LOG10
    ends = [density_at(curve, place + side)[0] for side in (-reach, reach)]
    lightest = density - hypot(density - low, density - min(ends))
    return density, max(lightest, min(density, 0.0)), density + hypot(high - density, max(ends) - density)


def _exposure_sd(scene: Scene) -> float:
    """How far the sheet's exposure may be off: the ledger's doubt, else what one sheet differs from the next."""
    return fact("paper", "one_sheet").sd if scene.question.doubt_stops is None else scene.question.doubt_stops


def _happens(scene: Scene, part: Part) -> str:
    """What becomes of a part, in words."""
    curve, place = scene.paper.curve, _place_log10(scene, part)
    under, over = (curve.shadow_log10 - place) / STOP_LOG10, (place - curve.highlight_log10) / STOP_LOG10
    if part.row.becomes == "paper white":
        return f"grey, {stops_said(-over)} short of white" if over < -SHOWN_STOPS else "paper white"
    if part.row.becomes == "black":
        return f"grey, {stops_said(-under)} short of black" if under < -SHOWN_STOPS else "black"
    if under >= SHOWN_STOPS:
        return f"{BLOCKS_UP} by {stops_said(under)}"
    return f"{BURNS_OUT} by {stops_said(over)}" if over >= SHOWN_STOPS else "keeps its tone"


def is_lost(happens: str) -> bool:
    """Whether what happens to a part is the loss of its tone."""
    return happens.startswith((BLOCKS_UP, BURNS_OUT))


def _notes(scene: Scene, over: Stops | None) -> tuple[Remark, ...]:
    """What is worth saying."""
    notes = list(scene.paper.notes)
    if over is not None and over.amount_stops >= SHOWN_STOPS:
        notes.append(remark(Note.SCENE_TOO_LONG, stops=stops_said(over.amount_stops)))
    seen = next((one.seen for one in scene.parts if one.seen.amount_stops), None)
    if seen is not None:
        notes.append(remark(Note.SKIN_SEEN, stops=f"{-seen.amount_stops:.1f}"))
    if any(one.row.metered_with == "averaging" for one in scene.parts):
        notes.append(remark(Note.AVERAGED_READING))
    if scene.question.doubt_stops is None:
        notes.append(remark(Note.TONES_IF_RIGHT, sd=f"{_exposure_sd(scene):.2f}"))
    return tuple(notes)


SCENE: Final = Operation(
    name="exposure.scene",
    version=1,
    asks="Does the scene fit on the paper, and which exposure loses least?",
    question=SceneQuestion,
    answer=SceneAnswer,
    compute=answer,
    examples={
        "boat under a bright sky": {
            "readings": "12.6,light with tone,sail\n10,mid-grey,planks\n7.4,dark with detail,under the boat",
            "range_stops": 3.4,
            "range_sd_stops": 0.2,
        },
        "own step sheet": {
            "readings": "reading_ev,becomes,part\n9.4,skin,face\n7.9,dark with detail,jersey\n10.6,paper white,collar",
            "curve": (
                "exposure_log10,density,low,high\n-0.9,1.88,1.85,1.91\n-0.6,1.85,1.82,1.88\n-0.45,1.81,1.78,1.84\n-0.3,1.68,1.64,1.72\n"
                "-0.15,1.41,1.37,1.45\n0,0.98,0.94,1.02\n0.15,0.55,0.51,0.59\n0.3,0.28,0.25,0.31\n0.45,0.15,0.12,0.18\n0.75,0.09,0.06,0.12"
            ),
            "curve_from": "step sheet 26-018",
            "shadow_log10": -0.31,
            "highlight_log10": 0.54,
            "middle_log10": 0.076,
            "doubt_stops": 0.3,
        },
        "two parts, paper unknown": {"readings": "12\n8"},
        "light on the subject and two parts": {
            "readings": "reading_lx,reading_ev,becomes\n2560,,\n,12.5,light with tone\n,8,dark with detail",
            "incident_head": "dome",
            "grade": 2,
            "exposed_for": "as read",
        },
    },
)
