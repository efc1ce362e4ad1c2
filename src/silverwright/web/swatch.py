"""A density as a small patch of its tone."""

from silverwright.report.tone import grey


def swatch(density: float) -> str:
    """A patch; a page under safelight keeps it dark."""
    patch = f'<rect class="tone" width="60" height="18" fill="{grey(density)}"/>'
    return f'<svg class="swatch" viewBox="0 0 60 18" aria-hidden="true" focusable="false">{patch}</svg>'
