"""A drawing's dict to SVG that a page can hold under a strict content policy, once for each content."""

import hashlib
import json
import re
import tempfile
from functools import lru_cache
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any, Final

VEGA_LITE: Final = "6.4"  # the schema that the tests check the dicts against
KEPT_DRAWINGS: Final = 64  # our judgement: the curves that somebody looks at in one evening, 30 kB each
_HEAD: Final = re.compile(r'<svg [^>]*?width="([\d.]+)" height="([\d.]+)"[^>]*>')
_ASIDE: Final = re.compile(r' (?:role|aria-[a-z]+|pointer-events)="[^"]*"')
_CLASS: Final = re.compile(r' class="([^"]*)"')
_EMPTY: Final = re.compile(r'<path d="" display="none"/>|<path d="M0,0h0v0h0Z"/>')


def svg(chart: dict[str, Any], says: str, kept: Path | None = None) -> str:
    """
    The drawing as SVG; `says` is what somebody hears who does not see it.

    A drawing is looked up by its content first: in this process, then in the folder `kept`, where a restart finds it again.
    """
    return _svg(json.dumps(chart, sort_keys=True), says, kept)


@lru_cache(maxsize=KEPT_DRAWINGS)
def _svg(chart: str, says: str, kept: Path | None) -> str:
    name = hashlib.sha256(f"{says}\n{chart}".encode()).hexdigest()
    place = kept / f"{name}.svg" if kept else None
    if place and place.is_file():
        return place.read_text(encoding="utf-8")
    drawn = plain(_convert(chart), says)
    if place:
        _keep(place, drawn)
    return drawn


def _convert(chart: str) -> str:
    import vl_convert  # noqa: PLC0415 (86 MB that only drawing needs)

    with as_file(files("silverwright.report") / "fonts") as folder:
        vl_convert.register_font_directory(str(folder))
        return str(vl_convert.vegalite_to_svg(chart, vl_version=VEGA_LITE))


def plain(drawn: str, says: str) -> str:
    """One picture with one sentence: no roles of its parts, no fixed size; tones of the paper are marked, so that a page can keep them dark."""
    head = _HEAD.match(drawn)
    if head is None:
        raise ValueError("This is not a drawing.")
    body = _ASIDE.sub("", drawn[head.end() :])
    body = _CLASS.sub(lambda found: ' class="tones"' if "tones" in found[1] else "", body)
    sentence = says.replace("&", "&amp;").replace('"', "&quot;").replace("<", "&lt;")
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {head[1]} {head[2]}" role="img" aria-label="{sentence}">{_EMPTY.sub("", body)}'


def _keep(place: Path, drawn: str) -> None:
    """Written beside, then renamed: nobody reads half a drawing."""
    place.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile("w", dir=place.parent, delete=False, encoding="utf-8") as file:
        file.write(drawn)
    Path(file.name).replace(place)
