"""A mirror or a prism that turns the picture right: what light it takes."""

from typing import Annotated, Literal

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Question, refuse
from silverwright.facts.load import fact
from silverwright.questions.entry import Entry, Remedy, Unknown
from silverwright.records import Stops
from silverwright.vocabulary_lens import MIRROR_SD_STOPS, MIRROR_STOPS


class MirrorFields(Question):
    """Whether something turns the picture right, and how much light it was measured to take."""

    turned: Annotated[
        Literal["no", "mirror or prism"], Choice(help="Whether a mirror or prism turns the image right.", example="no", label="Turned right")
    ] = "no"
    mirror_stops: Annotated[float | None, MIRROR_STOPS] = None
    mirror_sd_stops: Annotated[float | None, MIRROR_SD_STOPS] = None

    @field_validator("mirror_stops")
    @classmethod
    def _of_a_mirror(cls, mirror_stops: float | None, seen: ValidationInfo) -> float | None:
        if mirror_stops is not None and seen.data.get("turned") == "no":
            raise refuse("A loss in a mirror or prism, but nothing turns the picture: say “mirror or prism”, or leave the loss out.")
        return mirror_stops


def mirror_entry(question: MirrorFields) -> Entry | None:
    """The line of the mirror or prism: as measured, or as mirrors usually are; none where nothing turns the picture."""
    if question.turned == "no":
        return None
    usual, measured = fact("lens", "mirror"), fact("lens", "mirror_measured")
    if question.mirror_stops is not None:
        sd = measured.sd if question.mirror_sd_stops is None else question.mirror_sd_stops
        return Entry("Mirror or prism, as measured", Stops(question.mirror_stops, sd), "your own measurement", "own", called="The mirror or prism")
    return Entry(
        "Mirror or prism, as they usually are",
        Stops(usual.value, usual.sd),
        usual.says,
        usual.rests,
        unknown=(Unknown(f"what the mirror or prism takes ({usual.value:g} stop is taken)", usual.sd),),
        called="The mirror or prism",
        remedy=Remedy("a reading with and without the mirror or prism", measured.sd),
    )
