"""A density as a small patch of its tone."""

from collections.abc import Sequence
from math import ceil
from typing import Final

from silverwright.report.tone import grey

WIDE, HIGH = 100, 125  # a sheet is drawn 4 to 5
OVERLAP: Final = 0.3  # our judgement: neighbours overlap by this, so that no seam shows
ONE_COLUMN: Final = 7  # our judgement: more patches than this stand in two columns


def swatch(density: float) -> str:
    """A patch; a page under safelight keeps it dark."""
    patch = f'<rect class="tone" width="60" height="18" fill="{grey(density)}"/>'
    return f'<svg class="swatch" viewBox="0 0 60 18" aria-hidden="true" focusable="false">{patch}</svg>'


def patches(densities: Sequence[float], says: str) -> str:
    """A step sheet as its patches look; a page under safelight keeps them dark."""
    columns = 1 if len(densities) <= ONE_COLUMN else 2
    rows = ceil(len(densities) / columns)
    wide, high = WIDE / columns, HIGH / rows
    size = f'width="{wide:g}" height="{high + OVERLAP:.2f}"'
    places = [(place // rows * wide, place % rows * high) for place in range(len(densities))]
    drawn = "".join(
        f'<rect class="tone" x="{x:g}" y="{y:g}" {size} fill="{grey(density)}"/>' for (x, y), density in zip(places, densities, strict=True)
    )
    return f'<svg viewBox="0 0 {WIDE} {HIGH}" role="img" aria-label="{says}">{drawn}</svg>'
