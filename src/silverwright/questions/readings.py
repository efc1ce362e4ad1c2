"""Several readings of one scene, and what each part must become."""

from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Record, refuse
from silverwright.asking.rows import Rows
from silverwright.questions.light import LightFields
from silverwright.questions.meter import ReadingFields
from silverwright.questions.paper import Tone
from silverwright.questions.papercurve import CurveFields
from silverwright.vocabulary import APERTURE_F, LEDGER_SD_STOPS, READING_EV, READING_SD_STOPS
from silverwright.vocabulary_camera import FLARE_PERCENT, PART_LUMINANCE, SUBJECT_LX

Becomes = Literal["paper white", "light with tone", "skin", "mid-grey", "dark with detail", "black"]
MeteredWith = Literal["spot", "averaging", "incident"]
ExposedFor = Literal["least loss", "as read", "the shadows", "the highlights"]
KEEP_NOTHING: Final = frozenset({"paper white", "black"})


class SceneReading(Record):
    """One reading of one part of the scene, and what that part must become."""

    reading_ev: Annotated[float | None, READING_EV] = None
    becomes: Annotated[
        Becomes | None,
        Choice(help="What it must become; left open, it must keep its detail somewhere.", example="dark with detail", label="Must become"),
    ] = None
    part: Annotated[str | None, Words(help="What was read.", example="planks in the shade", label="Part")] = None
    reading_cd_per_m2: Annotated[float | None, PART_LUMINANCE] = None
    reading_lx: Annotated[float | None, SUBJECT_LX] = None
    metered_with: Annotated[
        MeteredWith | None, Choice(help="A spot meter, one that averages, or the light on the subject.", example="spot", label="Metered with")
    ] = None
    reading_sd_stops: Annotated[float | None, READING_SD_STOPS] = None

    @property
    def of_the_light(self) -> bool:
        """Whether it is of the light on the subject, and so of a mid-grey, and not of a part."""
        return self.metered_with == "incident" or (self.reading_lx is not None and self.metered_with is None)

    @property
    def is_grey(self) -> bool:
        """Whether it tells where a mid-grey lies."""
        return self.of_the_light or self.becomes == "mid-grey"

    @property
    def keeps(self) -> bool:
        """Whether this part must keep its detail."""
        return not self.of_the_light and self.becomes not in KEEP_NOTHING


class SceneQuestion(CurveFields, LightFields, ReadingFields):
    """Several readings of one scene, the paper, what it sees, and if wanted the reading that the exposure was planned with."""

    aperture_f: Annotated[float | None, APERTURE_F] = None
    reading_tone: Annotated[
        Tone, Choice(help="What the reading is of: the EI then is the one that makes this tone right.", example="skin", label="The reading is of")
    ] = "mid-grey"
    doubt_stops: Annotated[float | None, LEDGER_SD_STOPS] = None
    readings: Annotated[
        tuple[SceneReading, ...],
        Field(validate_default=True),
        Rows(
            row=SceneReading,
            help="A line for each part of the scene: its reading, what it must become, what it is.",
            example="12.5, light with tone, sail\n10, mid-grey, planks\n7, dark with detail, under the boat",
        ),
    ] = ()
    exposed_for: Annotated[
        ExposedFor, Choice(help="The exposure for which the tones are told.", example="least loss", label="Exposed for"), Field(validate_default=True)
    ] = "least loss"
    flare: Annotated[
        Literal["little", "usual", "much"],
        Choice(help="Stray light: little (hood, no bright sky), usual, much (window in the picture, old glass).", example="usual", label="Flare"),
    ] = "usual"
    flare_percent: Annotated[float | None, FLARE_PERCENT] = None

    @field_validator("dial_ei")
    @classmethod
    def _one_reading(cls, dial_ei: float | None, seen: ValidationInfo) -> float | None:  # noqa: ARG003 (the shape of what it replaces)
        """Here the reading of the plan may be missing: the parts have their own."""
        return dial_ei

    @field_validator("readings")
    @classmethod
    def _whole(cls, readings: tuple[SceneReading, ...]) -> tuple[SceneReading, ...]:
        if not readings:
            raise refuse("Needed: a reading of at least one part, better of the darkest and the brightest that must keep their detail, such as 7.")
        for number, one in enumerate(readings, 1):
            ways = [name for name in ("reading_ev", "reading_cd_per_m2", "reading_lx") if getattr(one, name) is not None]
            if len(ways) != 1:
                told = "no reading" if not ways else "more than one reading"
                raise refuse(f"Row {number} has {told}. Give it once: EV, luminance, or the light on the subject in lux.")
            if one.of_the_light and one.becomes not in {None, "mid-grey"}:
                raise refuse(f"Row {number} is of the light on the subject: that tells where a mid-grey lies, not what a part must become.")
            if one.reading_lx is not None and not one.of_the_light:
                raise refuse(f"Row {number} is in lux, which is light on the subject; a {one.metered_with} reading of a part is in EV or cd/m².")
        return readings

    @field_validator("exposed_for")
    @classmethod
    def _as_read_needs_a_reading(cls, exposed_for: ExposedFor, seen: ValidationInfo) -> ExposedFor:
        rows = seen.data.get("readings", ())
        keeps = any(one.keeps for one in rows)
        if exposed_for == "as read" and rows and not (is_planned(seen.data) or any(one.is_grey for one in rows)):
            raise refuse("As read: but no reading says so. Give the reading that you exposed by, or mark one part as mid-grey.")
        if exposed_for in {"the shadows", "the highlights"} and rows and not keeps:
            raise refuse(f"To expose for {exposed_for}, at least one part must keep its detail.")
        return exposed_for


def is_planned(given: dict[str, object]) -> bool:
    """Whether the reading of the plan can be reckoned with."""
    if any(given.get(name) is not None for name in ("reading_ev", "reading_cd_per_m2", "reading_lx")):
        return True
    at = given.get("dial_aperture_f") or given.get("aperture_f")
    return given.get("dial_time_s") is not None and given.get("dial_ei") is not None and at is not None
