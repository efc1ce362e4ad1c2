"""What each note of the darkroom's chemistry says - strengths, mixing, acidity, tests, hazards. As in sentences.py."""

from typing import Final

from silverwright.notes import Note, Severity

OF_CHEMISTRY: Final[dict[Note, tuple[Severity, str]]] = {
    # acid and water
    Note.PH_EXTREME: (
        "care",
        (
            "At pH {ph} this can burn eyes and skin. Goggles and gloves before it is poured; a splash in the eye is rinsed at once and for minutes, "
            "then a doctor sees it. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.GAS_IN_ACID: (
        "stop",
        (
            "{salt} in this acid gives off {gas}. Do not mix them in a closed vessel or a closed room. "
            "The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.PH_STRIP_PEROXIDE: (
        "care",
        "Peroxide bleaches the dyes of a pH strip: read it within seconds, or believe a glass electrode. The figure here is computed.",
    ),
    Note.PH_DISAGREES: (
        "care",
        (
            "You read pH {read}, the balance of what is in it gives {computed}, within {low} to {high}: something else is in it, or less or "
            "more of what was named, or the reading is off. Believe a glass electrode that was set on a buffer the same day."
        ),
    ),
    Note.PH_STABILISER: (
        "know",
        "Bottled peroxide is kept with a little acid, and nobody says how much: without another acid its pH may be anything from 2 to 6.",
    ),
    Note.PH_ROUGH: ("know", "In so strong a solution ions hold each other: the balance is rough here, and its limits are wide."),
    Note.REACTS_UNCOUNTED: ("care", "{one} and {other} use each other up. The balance counts both as if they did not."),
}
