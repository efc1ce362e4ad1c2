"""The boatyard: an invented book to learn with. Its acts stand in `example.toml`; here they are done, one after the other."""

import os
import tomllib
from importlib.resources import files
from typing import Any, Final

from silverwright.book.files import keep_open
from silverwright.book.models import Act
from silverwright.errors import BadQuestion, Fault
from silverwright.workshop.deeds import do, find_deed

SCANS: Final = files("silverwright.workshop").joinpath("boatyard")
INVENTED: Final = "Invented, for the boatyard example."
MARK: Final = "SILVERWRIGHT_EXAMPLE"


def acts() -> dict[str, dict[str, Any]]:
    """Every act of the boatyard in its order: its key, and its fields with the deed's name among them; its files are kept for it."""
    written = _written()
    for given in written.values():
        if isinstance(name := given.get("file"), str):
            with SCANS.joinpath(name).open("rb") as file:
                given["file"] = keep_open(file).sha256
    return written


def _written() -> dict[str, dict[str, Any]]:
    return tomllib.loads(files("silverwright.workshop").joinpath("example.toml").read_text(encoding="utf-8"))


def fill() -> int:
    """Write into the open book what of the boatyard does not stand there yet, act by act; how many that were."""
    if os.environ.get(MARK) != "1":
        raise BadQuestion([Fault(MARK, os.environ.get(MARK, ""), "The boatyard is invented: it stands in a book of its own, never in yours.")])
    there = set(Act.objects.values_list("key", flat=True))
    missing = {key: dict(given) for key, given in acts().items() if key not in there}
    for key, given in missing.items():
        deed = find_deed(str(given.pop("deed")))
        if "remarks" in deed.form.model_fields:
            given["remarks"] = f"{given.get('remarks', '')} {INVENTED}".strip()
        do(deed.name, given, key=key, who="invented")
    return len(missing)
