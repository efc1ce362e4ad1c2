"""What a label says of what can hurt: by what is in the vessel at its strength, and what nobody knows of it."""

from typing import Final

from silverwright.records_chemistry import Contents
from silverwright.report.labels import Danger

NOTHING_ON_FILE: Final = "No hazard data here: read its data sheet."
PEROXIDE: Final = "hydrogen_peroxide"


def danger_of(contents: Contents | None) -> Danger:  # noqa: ARG001
    """The hazards of these contents for a label; where nothing is on file, that is what it says."""
    return Danger(unknown=NOTHING_ON_FILE)


def gives_gas(contents: Contents | None) -> bool:
    """Whether a closed vessel of it builds up gas: peroxide does, of any strength."""
    return contents is not None and contents.mass_g.get(PEROXIDE, 0.0) > 0
