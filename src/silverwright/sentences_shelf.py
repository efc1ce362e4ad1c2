"""What each note of the Shelf says - paper, bottles, baths, labels, waste. As in sentences.py."""

from typing import Final

from silverwright.notes import Note, Severity

OF_THE_SHELF: Final[dict[Note, tuple[Severity, str]]] = {
    Note.BLADE_IN_THE_DARK: (
        "care",
        (
            "Before the first cut: a blade in dim light. Go through every cut once on scrap in room light, keep the guard on, find the blade's "
            "handle before the light goes out, hold the paper from the other side, and lock the blade after the last cut."
        ),
    ),
    Note.EMULSION_SIDE: (
        "know",
        (
            "Emulsion up, away from the burr that the blade leaves below. It is the side to which the paper curls, and the one that sticks to a "
            "moist fingertip at a corner (common practice, no source). A pencil stroke on the back of each piece keeps the side known."
        ),
    ),
    Note.FACTORY_EDGE: (
        "know",
        "Lay an edge of the factory against the stop wherever a piece still has one: it is straight. Each piece here has {edges}.",
    ),
    Note.OPENING_NOT_MEASURED: (
        "know",
        (
            "How often a piece sticks is not known: holders of one name differ by a millimetre. Measure between the guides of yours, on both sides, "
            "and try one piece from scrap before the paper."
        ),
    ),
    Note.TRIM_UNUSUAL: (
        "care",
        "{trim} under the holder's size: {low} to {high} is common practice. Less may stick, more may slip off its rails.",
    ),
    Note.TOO_FEW_PIECES: ("care", "From {sheets} come {pieces}, {missing} fewer than you want. For {wanted}, cut {needed}."),
    Note.DEPTH_USUAL: (
        "know",
        (
            "Depth not given: {depth} is taken, common practice {ends}. That leaves ±{now}; a depth that was measured would leave ±{then} "
            "(80 % limits)."
        ),
    ),
    Note.VESSEL_TIGHT: (
        "care",
        "Only {room} on each side of the sheet: {clear} let a finger or tongs under it, and wet fibre paper grows. A larger vessel is easier.",
    ),
    Note.DRUM_VENT: (
        "care",
        "A peroxide or permanganate bleach makes gas: a closed drum builds up pressure and spits. Bleach in an open tray, or leave the drum open.",
    ),
    Note.BOX_CARRIED: (
        "care",
        "A box that is carried with open trays inside splashes: fill it where it stands, level, and lift nothing over your head. Goggles stay on.",
    ),
    Note.NOT_FOOD: ("know", "A vessel of the darkroom never returns to food."),
    Note.AT_THE_BENCH: (
        "stop",
        (
            "Before you pour: goggles, gloves and fresh air. The acid or the peroxide goes into the water, never the water onto it; what was poured "
            "out never goes back into its bottle. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.BEFORE_DISCARDING: (
        "stop",
        (
            "Before you discard: goggles, gloves and fresh air. Bleach and fixer or developer never go into one bottle: heat, and a gas that hurts "
            "the lungs. Vented caps, no metal. Silver is for a collection point. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.BOTTLE_UNCLEAR: (
        "care",
        (
            "The label leaves open of what its per cent are: {by_weight} % by weight, or by volume, which is {by_volume} % by weight. "
            "Look at its data sheet and correct the bottle before you mix from it."
        ),
    ),
    Note.NO_DATA_HERE: ("care", "No hazard data here for {names}: read its safety data sheet before the bottle is opened."),
    Note.VENT_IT: (
        "stop",
        "Peroxide gives off oxygen as long as it stands: a closed vessel bursts. Put a vented cap on, then correct the bath to “vented: yes”.",
    ),
    Note.PEROXIDE_IN_METAL: (
        "stop",
        (
            "Peroxide in a can: metal breaks it down, and the gas bursts what is closed. If this can is metal, ask its maker or the fire brigade "
            "before you move or open it; a plastic one with a vented cap is meant for it. The safety data sheet of your product and "
            "local rules come first."
        ),
    ),
    Note.MIND_TOGETHER: ("care", "Mind what meets here: {words} The safety data sheet of your product and local rules come first."),
    Note.BOTTLE_EITHER: (
        "care",
        (
            "The label of “{bottle}” leaves open of what its per cent are, and it was taken all the same: the limits reach from {by_volume} to "
            "{by_weight} % by weight in the bottle. A strength test, or its data sheet, closes them."
        ),
    ),
    Note.SIZE_NOT_IN_BOOK: (
        "know",
        "The size of sheet {sheet} does not stand in the book: it counts as a sheet, and what it carries out of a bath does not.",
    ),
}
