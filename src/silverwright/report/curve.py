"""A paper's curve as a picture: patches, band of doubt, range, the tones of the paper beside both axes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import Any, Final

from silverwright.densitometry.density import density_of_reflectance
from silverwright.facts.load import fact
from silverwright.report.inks import Inks, config
from silverwright.report.tone import grey
from silverwright.units import BARE, STOP

WIDTH, HEIGHT = 394, 274  # our judgement: about as wide as a curve's toe and shoulder need
TONE_COLUMNS, TONE_ROWS = 30, 20  # our judgement: steps that the eye still tells apart
BRACKET_Y, BRACKET_TEXT_Y = -8, -18  # above the plot
BESIDE_DENSITY = 0.25  # our judgement: where the words of a point stand: between two lines, on the side where the curve is not
OVERLAP = 1.06  # our judgement: neighbours overlap by this, so that no seam shows
MOST_TICKS: Final = 7  # our judgement: more figures than this run into each other
SMALL_STEP_LOG10, LARGE_STEP_LOG10 = 0.5, 1.0

Layer = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePicture:
    """What a curve's picture shows."""

    curve_log10: Sequence[float]
    curve_density: Sequence[float]
    band_low: Sequence[float]
    band_high: Sequence[float]
    patch_log10: Sequence[float]
    patch_density: Sequence[float]
    left_out: frozenset[int] = frozenset()  # places of patches that the fit left out
    shadow_log10: float | None = None
    highlight_log10: float | None = None
    range_says: str = ""
    speed_log10: float | None = None
    speed_density: float = 0.0
    speed_says: str = ""
    metered: bool = True


def picture_of(document: Mapping[str, Any]) -> CurvePicture:
    """The picture of an answer of `sensitometry.curve` as it was kept."""

    def value(name: str) -> float | None:
        estimate = document.get(name) or {}
        found = estimate.get("value")
        return None if found is None else float(found)

    def row(name: str) -> tuple[float, ...]:
        return tuple(document.get(name) or ())

    ei = value("camera_ei")
    return CurvePicture(
        curve_log10=row("curve_log10"),
        curve_density=row("curve_density"),
        band_low=row("band_low"),
        band_high=row("band_high"),
        patch_log10=row("patch_log10"),
        patch_density=row("patch_density"),
        shadow_log10=value("shadow_log10"),
        highlight_log10=value("highlight_log10"),
        range_says=_range_says(document.get("range_stops") or {}),
        speed_log10=value("middle_log10") if ei is not None else None,
        speed_density=density_of_reflectance(fact("curve", "grey_reflectance_percent").value / 100),
        speed_says=f"EI\N{NO-BREAK SPACE}{BARE.show(ei)}" if ei is not None else "",
        metered=document.get("camera_ei") is not None,
    )


def _range_says(estimate: Mapping[str, Any]) -> str:
    if estimate.get("value") is not None:
        return f"range {STOP.show(estimate['value'])}"
    return f"range at least {STOP.show(estimate['low'])}" if estimate.get("low") is not None else ""


def curve_chart(picture: CurvePicture, inks: Inks) -> Layer:
    """The Vega-Lite dict."""
    span = _span(picture)
    top = _top(picture)
    layers = [
        *_tones(picture, span, top),
        _grid(span, top, picture),
        _band(picture),
        _line(picture),
        *_range(picture, top, inks),
        _axes(inks),
        *_patches(picture, inks),
        *_speed(picture, inks),
    ]
    return {"width": WIDTH, "height": HEIGHT, "layer": layers, "config": config(inks)}


def _span(picture: CurvePicture) -> tuple[float, float]:
    """From the first to the last exposure that is drawn."""
    exposures = [*picture.curve_log10, *picture.patch_log10]
    return floor(min(exposures) * 20) / 20, ceil(max(exposures) * 20) / 20


def _top(picture: CurvePicture) -> float:
    """The next half density above everything."""
    return max(SMALL_STEP_LOG10, ceil(max(*picture.band_high, *picture.patch_density, *picture.curve_density) * 2) / 2)


def _values(**columns: Sequence[Any]) -> Layer:
    names = list(columns)
    return {"values": [dict(zip(names, row, strict=True)) for row in zip(*columns.values(), strict=True)]}


def _at(field: str, axis: str = "quantitative") -> Layer:
    return {"field": field, "type": axis}


def _grid(span: tuple[float, float], top: float, picture: CurvePicture) -> Layer:
    """Both scales, with their words; the tones stand between the axis and its figures."""
    step = SMALL_STEP_LOG10 if span[1] - span[0] <= MOST_TICKS * SMALL_STEP_LOG10 else LARGE_STEP_LOG10
    across = [round(step * place, 2) for place in range(ceil(span[0] / step - 1e-9), floor(span[1] / step + 1e-9) + 1)]
    exposure = "exposure, log of lx·s" if picture.metered else "exposure, log; light not metered"
    x_axis = {"values": across, "offset": 26, "format": ".1f", "title": exposure, "titleAnchor": "end", "titlePadding": 12}
    y_axis = {
        "values": [place / 2 for place in range(round(top * 2) + 1)],
        "offset": 26,
        "format": ".1f",
        "title": "density",
        "titleAngle": 0,
        "titleAlign": "left",
        "titleAnchor": "end",
        "titleX": -52,
        "titleY": -14,
    }
    return {
        "data": {"values": [{"x": span[0], "y": 0}, {"x": span[1], "y": top}]},
        "mark": {"type": "point", "opacity": 0},
        "encoding": {
            "x": {**_at("x"), "scale": {"domain": list(span), "nice": False, "zero": False}, "axis": x_axis},
            "y": {**_at("y"), "scale": {"domain": [0, top], "nice": False, "clamp": True}, "axis": y_axis},
        },
    }


def _tones(picture: CurvePicture, span: tuple[float, float], top: float) -> list[Layer]:
    """Below: what the paper makes of each exposure. Beside: what each density looks like."""
    wide, high = (span[1] - span[0]) / TONE_COLUMNS, top / TONE_ROWS
    lefts = [span[0] + wide * place for place in range(TONE_COLUMNS)]
    lows = [high * place for place in range(TONE_ROWS)]
    below = _values(
        left=lefts,
        right=[min(left + wide * OVERLAP, span[1]) for left in lefts],
        grey=[grey(_density_at(picture, left + wide / 2)) for left in lefts],
    )
    beside = _values(low=lows, high=[min(low + high * OVERLAP, top) for low in lows], grey=[grey(low + high / 2) for low in lows])
    colour = {"field": "grey", "type": "nominal", "scale": None}
    return [
        {
            "name": "tones_below",
            "data": below,
            "mark": "rect",
            "encoding": {"x": _at("left"), "x2": {"field": "right"}, "y": {"value": HEIGHT + 6}, "y2": {"value": HEIGHT + 22}, "color": colour},
        },
        {
            "name": "tones_beside",
            "data": beside,
            "mark": "rect",
            "encoding": {"y": _at("low"), "y2": {"field": "high"}, "x": {"value": -20}, "x2": {"value": -6}, "color": colour},
        },
    ]


def _density_at(picture: CurvePicture, exposure_log10: float) -> float:
    """The curve's density at an exposure, straight between its points."""
    points = sorted(zip(picture.curve_log10, picture.curve_density, strict=True))
    if exposure_log10 <= points[0][0]:
        return points[0][1]
    for (left, density), (right, after) in pairwise(points):
        if exposure_log10 <= right:
            return density + (after - density) * (exposure_log10 - left) / ((right - left) or 1.0)
    return points[-1][1]


def _band(picture: CurvePicture) -> Layer:
    return {
        "data": _values(x=picture.curve_log10, low=picture.band_low, high=picture.band_high),
        "mark": "area",
        "encoding": {"x": _at("x"), "y": _at("low"), "y2": {"field": "high"}},
    }


def _line(picture: CurvePicture) -> Layer:
    return {
        "data": _values(x=picture.curve_log10, y=picture.curve_density),
        "mark": {"type": "line", "clip": False},
        "encoding": {"x": _at("x"), "y": _at("y")},
    }


def _axes(inks: Inks) -> Layer:
    """The L that both scales stand on."""
    edges = [{"x": 0, "x2": 0, "y": 0, "y2": HEIGHT}, {"x": 0, "x2": WIDTH, "y": HEIGHT, "y2": HEIGHT}]
    return {
        "layer": [
            {
                "data": {"values": [{}]},
                "mark": {"type": "rule", "color": inks.ink, "strokeCap": "square"},
                "encoding": {name: {"value": place} for name, place in edge.items()},
            }
            for edge in edges
        ]
    }


def _patches(picture: CurvePicture, inks: Inks) -> list[Layer]:
    """Squares for what the curve rests on, crosses for what it leaves out."""
    kept = [place for place in range(len(picture.patch_log10)) if place not in picture.left_out]
    out = sorted(picture.left_out)

    def some(places: Sequence[int]) -> Layer:
        return _values(x=[picture.patch_log10[place] for place in places], y=[picture.patch_density[place] for place in places])

    squares: Layer = {"data": some(kept), "mark": "point", "encoding": {"x": _at("x"), "y": _at("y")}}
    cross = {"type": "point", "shape": "M-0.5,-0.5L0.5,0.5M-0.5,0.5L0.5,-0.5", "stroke": inks.problem, "filled": False, "strokeWidth": 2, "size": 120}
    crosses: Layer = {"data": some(out), "mark": cross, "encoding": {"x": _at("x"), "y": _at("y")}}
    return [squares, crosses] if out else [squares]


def _range(picture: CurvePicture, top: float, inks: Inks) -> list[Layer]:
    """A bracket over the exposures that the paper holds; an end that no patch reached lies at the picture's edge and has no upright."""
    if not picture.range_says:
        return []
    first, last = _span(picture)
    left = first if picture.shadow_log10 is None else picture.shadow_log10
    right = last if picture.highlight_log10 is None else picture.highlight_log10
    layers: list[Layer] = [
        {"data": {"values": [{"a": left, "b": right}]}, "mark": "rule", "encoding": {"x": _at("a"), "x2": {"field": "b"}, "y": {"value": BRACKET_Y}}},
        _text(picture.range_says, (left + right) / 2, {"value": BRACKET_TEXT_Y}, fontWeight=700),
    ]
    for says, place, side in (("shadow point", picture.shadow_log10, "left"), ("highlight point", picture.highlight_log10, "right")):
        if place is None:
            continue
        upright = {"x": _at("x"), "y": {"value": BRACKET_Y - 1}, "y2": {"value": HEIGHT}}
        layers.append({"data": {"values": [{"x": place}]}, "mark": "rule", "encoding": upright})
        height = BESIDE_DENSITY if _density_at(picture, place) > top / 2 else top - BESIDE_DENSITY
        layers.append(_text(says, place, {"datum": height}, align=side, dx=8 if side == "left" else -8, color=inks.second))
    return layers


def _speed(picture: CurvePicture, inks: Inks) -> list[Layer]:
    """Where an 18 % grey lands: the point that the exposure index is taken from."""
    if picture.speed_log10 is None:
        return []
    falling = picture.curve_density[-1] <= picture.curve_density[0]
    where = {"data": {"values": [{"x": picture.speed_log10, "y": picture.speed_density}]}, "encoding": {"x": _at("x"), "y": _at("y")}}
    side = {"align": "left", "dx": 14} if falling else {"align": "right", "dx": -14}
    return [
        {**where, "mark": {"type": "point", "shape": "circle", "size": 150, "fill": inks.mark, "stroke": inks.paper, "strokeWidth": 2}},
        {**where, "mark": {"type": "text", "text": picture.speed_says, "fontWeight": 700, "dy": -6, **side}},
    ]


def _text(says: str, x: float, y: Layer, **mark: Any) -> Layer:  # noqa: ANN401 (the mark's own words)
    return {"data": {"values": [{"x": x}]}, "mark": {"type": "text", "text": says, **mark}, "encoding": {"x": _at("x"), "y": y}}
