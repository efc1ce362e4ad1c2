"""Every note that an answer may carry: kept as its code, shown as its sentence, the same everywhere."""

from enum import StrEnum
from typing import Final, Literal

Severity = Literal["know", "care", "stop"]


class Note(StrEnum):
    """A doubt worth saying."""

    MIRROR_IMAGE = "mirror-image"
    AT_INFINITY = "at-infinity"
    SHORT_EXTENSION = "short-extension"
    ROUTES_DISAGREE = "routes-disagree"
    PRIOR_ONLY = "prior-only"


SENTENCES: Final[dict[Note, tuple[Severity, str]]] = {
    Note.MIRROR_IMAGE: ("know", "A direct positive is a mirror image of the scene unless a mirror or a prism turned it."),
    Note.AT_INFINITY: ("know", "The lens stands at infinity focus: the bellows asks for nothing."),
    Note.SHORT_EXTENSION: (
        "care",
        (
            "The extension is shorter than the focal length. That is normal for a telephoto lens, but then the extension says nothing: "
            "give the magnification (image over subject size). Until then no bellows correction is made."
        ),
    ),
    Note.ROUTES_DISAGREE: ("care", "{first} and {second} disagree by {stops} stop. {first} is used; correct one of them."),
    Note.PRIOR_ONLY: ("know", "This rests on our judgement and common practice, not on your own sheets."),
}
