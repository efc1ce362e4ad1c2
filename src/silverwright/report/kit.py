"""What somebody takes along for one paper: its lenses, its lights, and every figure asked of the ledger beforehand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from silverwright.questions.ledger import LEDGER, LedgerAnswer, LedgerQuestion

START: Final[Mapping[str, Any]] = {"reading_ev": 10, "aperture_f": 22, "magnification_factor": 0}  # where tables start; the ledger only adds to it
AFTER_METERED: Final = 3  # arithmetic: reciprocity, aperture and clock, and the sheet are the ledger's last three lines
READINGS: Final = ("reading_ev", "reading_cd_per_m2", "reading_lx", "dial_time_s", "dial_aperture_f", "dial_ei")
NEARNESS: Final = ("extension_mm", "subject_mm", "image_size_mm", "subject_size_mm", "target_image_mm", "target_mm", "magnification_factor")
# The columns of the field page's log, in their order.
COLUMNS: Final = (
    "entry",
    "when",
    "paper",
    "process",
    "camera",
    "meter",
    "lens",
    "holder",
    "side",
    "reading_ev",
    "reading_lx",
    "dial_time_s",
    "dial_aperture_f",
    "dial_ei",
    "extension_mm",
    "subject_mm",
    "target_image_mm",
    "target_mm",
    "magnification_factor",
    "aperture_f",
    "filter_factor",
    "light_class",
    "planned_s",
    "given_s",
    "subject",
    "remarks",
    "anyway",
    "page",
)


@dataclass(frozen=True, slots=True)
class Taken:
    """Something that is taken along or met - a lens, a light - and the fields of the ledger's question that it fills in."""

    name: str
    fields: Mapping[str, Any]
    known: bool = True  # whether the book knows it by that name

    @property
    def is_hole(self) -> bool:
        """Whether it is one hole of a measured diameter: then no other aperture can be set."""
        return "stop_mm" in self.fields


@dataclass(frozen=True, slots=True)
class Place:
    """A side of a holder, as the log names it and as people say it, and whether it was exposed before one went out."""

    name: str
    said: str
    exposed: bool = False
    empty: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """One paper in one process, taken along."""

    paper: str
    process: str
    fields: Mapping[str, Any]  # of the ledger's question: what is known of the paper, the meter and the process
    lenses: Sequence[Taken]
    lights: Sequence[Taken] = ()
    light: str = ""  # the one that one expects; nothing where nobody said
    places: Sequence[Place] = ()
    log: Mapping[str, str] = field(default_factory=dict)  # what every line of the log says of itself: paper, camera, meter
    reads: str = "ev"  # what the meter that is taken along shows: ev or lx
    aperture_f: float = 22.0
    rests: str = ""  # what the paper's EI rests on, in a sentence
    cautions: Sequence[str] = ()
    made: str = ""
    day: str = ""
    invented: bool = False


def ask(question: Mapping[str, Any], **changes: object) -> LedgerAnswer:
    """The ledger's answer for a question with some fields changed; a field changed to nothing is left out."""
    return LEDGER.compute(asked(question, **changes))


def asked(question: Mapping[str, Any], **changes: object) -> LedgerQuestion:
    """That question."""
    return LedgerQuestion.model_validate({name: value for name, value in {**question, **changes}.items() if value is not None})


def metered(answer: LedgerAnswer) -> tuple[float, float]:
    """The sum above the reciprocity line in stops from one second, and its variance."""
    above = answer.ledger[:-AFTER_METERED]
    return sum(line.amount for line in above), sum(line.doubt**2 for line in above)


def lit(kit: Kit) -> Mapping[str, Any]:
    """What the light that one expects fills in."""
    return next((light.fields for light in kit.lights if light.name == kit.light), {})


class Asker:
    """One lens of a kit, far from a subject at EV 10 and f/22: what a change of one thing does to the sum above the reciprocity line."""

    def __init__(self, kit: Kit, lens: Taken) -> None:
        known = {name: value for name, value in {**kit.fields, **lens.fields}.items() if name not in (*READINGS, *NEARNESS)}
        self.question: dict[str, Any] = {**known, **START}
        if lens.is_hole:
            self.question |= {"aperture_f": None, "extension_mm": lens.fields.get("extension_mm")}  # by its diameter and its distance
        self.start = metered(ask(self.question))

    def part(self, **changes: object) -> tuple[float, float]:
        """Stops and variance that the change adds."""
        stops, variance = metered(ask(self.question, **changes))
        return stops - self.start[0], variance - self.start[1]

    def near(self, **how: object) -> tuple[float, float]:
        """Stops and variance for a nearness that is told in another way than by magnification."""
        return self.part(magnification_factor=None, **how)
