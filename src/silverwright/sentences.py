"""What each note says, once: how much it matters, and its sentence, in which figures are filled in."""

from typing import Final

from silverwright.notes import Note, Severity
from silverwright.sentences_chemistry import OF_CHEMISTRY
from silverwright.sentences_shelf import OF_THE_SHELF

SENTENCES: Final[dict[Note, tuple[Severity, str]]] = {
    Note.MIRROR_IMAGE: ("know", "A direct positive is a mirror image of the scene unless a mirror or a prism turned it."),
    Note.HOURS: (
        "care",
        (
            "{hours} hours are longer than any light stays the same: read it again on the way, and let the changing light tell when to end. Other "
            "limits at such times: reciprocity is in doubt by ±{reciprocity} stop, a camera or a subject that settles by a hair shows, and light "
            "that leaks in counts. It takes {stops} stops more light to come down to {minutes} minutes{opening}."
        ),
    ),
    Note.TOO_SHORT: (
        "care",
        (
            "{time} is shorter than anything that can be {how}: {least} gives {stops} too much, and no bracket helps. Close down to {opening}, "
            "or put a neutral filter of {stops} in front."
        ),
    ),
    Note.AT_INFINITY: ("know", "The lens stands at infinity focus: the bellows asks for nothing."),
    Note.SHORT_EXTENSION: (
        "care",
        (
            "The extension is shorter than the focal length. That is normal for a telephoto lens, but then the extension says nothing: "
            "give the magnification (image over subject size). Until then no bellows correction is made."
        ),
    ),
    Note.ROUTES_DISAGREE: ("care", "{first} and {second} disagree by {stops}. {first} is used; correct one of them."),
    Note.PRIOR_ONLY: ("know", "This rests on our judgement and common practice, not on your own sheets."),
    Note.NOT_GIVEN: ("know", "Not given: {what}. Knowing it would bring the whole doubt from ±{now} to about ±{then} stop (one standard deviation)."),
    Note.EI_UNKNOWN: ("care", "Nothing is known of this paper's EI: {ei} is taken, ±{sd} stops. A test strip tells most."),
    Note.EXTENSION_UNKNOWN: (
        "care",
        (
            "Nothing says how near the subject is: no bellows correction is made, and ±{sd} stop is added. "
            "Give the extension, the distance, or image and subject size; far away, give magnification 0."
        ),
    ),
    Note.NEUTRAL_ONLY: (
        "care",
        (
            "The factor printed for a coloured filter does not hold on paper: yellow can stop nearly all that the paper sees. "
            "Use a neutral filter, or your own factor."
        ),
    ),
    Note.BLUE_READING_ORTHO: (
        "care",
        (
            "A blue filter on the meter shows what a blue-sensitive paper sees. This paper sees green too, or may: what that adds is taken "
            "from the table."
        ),
    ),
    Note.EI_OF_LIGHT: ("know", "EI {ei} holds in noon daylight. In this light ({light}) the paper gets {offset}, {rests}: there it is as EI {here}."),
    Note.LIGHT_CONTRAST: (
        "care",
        ("This light holds {stops} {more} blue against green than noon daylight: a variable-contrast paper becomes {softer}. A graded one does not."),
    ),
    Note.FILM_LAW: ("care", "This law was found on film. Paper may follow another; the doubt stays that of our own first guess."),
    Note.BEYOND_POINTS: ("care", "{time} lies outside your own points, {first} to {last}: the line is drawn on, and less sure there."),
    Note.SLIDE: ("know", "Draw the dark slide, give {first} to the whole sheet, then push the slide over one strip before each further time."),
    Note.STOPPED_EARLY: ("know", "Stopped early: {given} of {meant}, {stops} less. The sheet is recorded with what it was given."),
    Note.STOPPED_LATE: ("know", "Stopped late: {given} in place of {meant}, {stops} more. The sheet is recorded with what it was given."),
    Note.COUNTED_OTHERWISE: ("know", "By the clock here it was {clock}; recorded is {given}, as it was sent."),
    Note.CLOCK_UNSURE: (
        "care",
        (
            "Only the wall clock tells how long it was: the computer was started anew meanwhile, or has no clock that nobody can set. "
            "If you counted otherwise, correct the time given."
        ),
    ),
    Note.INTERRUPTED: (
        "know",
        (
            "After reciprocity {given} on the longest strip amounts to {effective}: its pieces count as one exposure of their sum, our judgement. "
            "If each piece counted by itself it would be {apart}, {stops} more."
        ),
    ),
    Note.TABLE_NO_METER: (
        "care",
        (
            "This is the mean of many days, no reading: the light of a moment may be half of it or double. Meter when you can, make a test "
            "strip, or give three sheets."
        ),
    ),
    Note.SUN_NOT_UP: (
        "stop",
        (
            "The sun stands {height} below the horizon: no daylight that can be reckoned with. Under street lamps or in the moon only a reading "
            "or a test strip tells; lamps and flash can be planned."
        ),
    ),
    Note.NO_SUN_TODAY: (
        "care",
        "A place without sun on {day}: there it stays below the horizon, {highest} at its highest. What light there is comes from the sky alone.",
    ),
    Note.TWILIGHT: (
        "care",
        (
            "Twilight: by the height of the sun, {height}, the light {goes} by {trend} stop a minute. That is a "
            "warning and sets no exposure: read the light while the shutter is open."
        ),
    ),
    Note.ONE_STRIP_ONCE: (
        "know",
        (
            "Each strip gets its one exposure and is covered before and after: a card with a window one strip wide in front of the paper, or "
            "pieces of one sheet in several holders. A dark slide that is pushed on adds the strips up and spoils the test. One even grey card "
            "in steady light, best of a lamp; meter it before and after; process all strips together."
        ),
    ),
    Note.SHORT_BY_HAND: (
        "care",
        (
            "{time} at {aperture} is short for a hand, ±{sd} stop. Dim the light or put a neutral filter in front until the shortest strip takes "
            "{enough} or more; all strips then take longer alike."
        ),
    ),
    Note.OWN_POINT: (
        "know",
        "Write down with the paper, as an own test: {metered} by the meter needed {needed}. The Camera uses it from then on.",
    ),
    Note.STRIP_ODD: (
        "care",
        (
            "{strip} misses what the others tell by {off}, {sd} standard deviations. Light that changed, an opening off its mark, a count gone "
            "wrong? Look at it, or leave it out."
        ),
    ),
    Note.BEYOND_SCALE: (
        "care",
        (
            "{strip} lies {off} beyond the short strips: the scale is drawn on, and less sure there. A strip at the widest aperture with less "
            "time would hold it."
        ),
    ),
    Note.LIGHT_GOES: (
        "care",
        "By the readings the light {goes} by {trend} a minute, 80 % limits {low} to {high}. Read it again {again}.",
    ),
    Note.LIGHT_FAILS: (
        "stop",
        (
            "Going on like this the light fails before all has been given: {stops} would still be missing in the end. Open the aperture, add "
            "light, or close the shutter and write down what was given."
        ),
    ),
    Note.LIGHT_LONG: (
        "care",
        (
            "{time} in all is longer than any light stays as it is: read it every few minutes. Other limits at such times: what moves or settles "
            "by a hair shows, light that leaks in counts, and the law of reciprocity is drawn on far beyond any test."
        ),
    ),
    Note.ALL_GIVEN: ("care", "All has been given, and {stops} more. Close the shutter."),
    Note.FLASH_EYES: (
        "care",
        (
            "Before the first flash: a flash dazzles, and near the eyes it can hurt them. Say when it comes; nobody looks into the head. "
            "Heads and packs hold a charge that can kill, long after they are unplugged: never open one. The maker's manual comes first."
        ),
    ),
    Note.FLASH_NEAR: (
        "stop",
        "The flash stands {distance} from the subject. So near it is not for a face: eyes and skin can be hurt. Move it away.",
    ),
    Note.FLASH_SERIES: (
        "care",
        (
            "A series of flashes can bring on a seizure: ask everyone in the room first, and give none if anyone is not sure. "
            "Count slowly, a second or more from one to the next, and let the lamp say ready."
        ),
    ),
    Note.FLASH_MANY: (
        "care",
        (
            "{flashes} flashes: nobody sits through them without moving, and heads grow hot. Half the distance saves three of four, "
            "one stop of aperture half of them."
        ),
    ),
    Note.FLASH_TOO_MUCH: ("care", "One flash gives {stops} too much. Close down to {aperture}, move the flash to {distance}, or turn it down."),
    Note.FLASH_TOO_MUCH_READ: ("care", "One flash gives {stops} too much. Close down to {aperture}, or turn it down and read it again."),
    Note.FLASH_WHOLE: ("know", "{flashes} gives {stops} {which} than is needed. At {aperture} it would be right."),
    Note.FLASH_BY_ENERGY: (
        "know",
        (
            "Watt-seconds alone say little: ±{sd} stop. A flash meter at its lowest setting tells more, "
            "and one sheet with strips of one, two and four flashes tells most."
        ),
    ),
    Note.FLASH_READ: (
        "know",
        "The flash meter read what reaches the subject: distance and what stands in front of the head are in it. Read again after each change.",
    ),
    Note.HEADS_OVERLAP: ("know", "Heads add up where they light the same place. What only one of them lights gets that one's light."),
    Note.DAYLIGHT_ENOUGH: (
        "care",
        "In {open} the light that is there gives all that the sheet needs, or so nearly that one flash would be too much: none, or a shorter time.",
    ),
    Note.SITTER_MOVES: ("care", "To be sharp in {of_hundred} of 100 sittings, the time is {stops} too long. Each way out stands by itself."),
    Note.SITTER_MAYBE: ("know", "It fits, but by less than the doubt: people differ. A head rest or a sheet of this sitter makes it surer."),
    Note.SITTER_SHORT: (
        "care",
        "Under {shortest}: so short no movement was measured. What is missing is drawn on from the shortest times, and rougher than the rest.",
    ),
    Note.SITTER_LONG: ("care", "Over {longest}: so long no movement was measured, and nobody tried. The table is drawn on."),
    Note.SITTER_OWN: ("know", "{sheets} of your own changed what is believed of this sitter from {before} to {after} of the way of standing people."),
    Note.SITTER_DEPTH: (
        "care",
        "To and fro the face leaves the depth of field: blur {blur} at {aperture}. {needed} would hold it, or focus anew right before the exposure.",
    ),
    Note.SITTER_FACE_LIGHT: (
        "care",
        (
            "More light on a face dazzles and warms: no bare lamp near it, breaks for the eyes, never the sun through a glass or a mirror. "
            "Nobody is made to stare."
        ),
    ),
    Note.DERIVED_NOT_ISO: ("know", "Points and indices are derived from ISO 6846 and ISO 2240; they are not ISO speeds or ISO ranges."),
    Note.NOT_METERED: ("know", "The light was not metered: the patches give range and contrast, but no exposure index."),
    Note.SHADOWS_BEYOND: (
        "care",
        (
            "The shadow end lies beyond the least exposed patch (log exposure {first}): what needs it reads “at least” or “at most”. "
            "Add patches with less exposure."
        ),
    ),
    Note.HIGHLIGHTS_BEYOND: (
        "care",
        (
            "The highlight end lies beyond the most exposed patch (log exposure {last}): what needs it reads “at least” or “at most”. "
            "Add patches with more exposure."
        ),
    ),
    Note.GREY_BEYOND: (
        "care",
        ("The density of an 18 % grey, {density}, lies beyond the patches or off this curve: there is no exposure index, at most a bound."),
    ),
    Note.FEW_PATCHES: (
        "know",
        ("{patches} patches: the plain logistic is drawn. From {needed} patches on, the shape is chosen by leaving patches out."),
    ),
    Note.TURNS_BACK: (
        "care",
        (
            "The curve turns back at {patches}: {amounts} of density against the reading's doubt of {doubt}. "
            "Wrong order, a misread patch, veil or re-reversal?"
        ),
    ),
    Note.OTHER_WAY_ROUND: (
        "care",
        ("Density {does} with exposure, as in a {instead}, though a {process} was said. Are the patches typed the other way round?"),
    ),
    Note.SCATTERED_PATCHES: (
        "care",
        (
            "The patches lie {noise} off any smooth curve, the doubt of a reading is {doubt}: "
            "uneven development, a misread patch or a wrong step. The limits are wider for it."
        ),
    ),
    Note.SHAPE_OUTSIDE: (
        "care",
        ("The {shape} that is drawn lies outside the limits of the likely curves in {figures}; those limits are widened to hold it."),
    ),
    Note.FILE_EIGHT_BITS: (
        "care",
        "The file has 8 bits: 256 steps from black to white, few of them in the dark tones. Scan with 16 bits where the scanner can.",
    ),
    Note.FILE_LOSSY: (
        "care",
        "The file is packed by JPEG, which smooths fine tones: the mean of a patch holds, its grain does not. Save scans as TIFF.",
    ),
    Note.PROFILE_TAKEN: ("know", "The tone curve of the embedded profile “{name}” was taken off."),
    Note.PROFILE_TABLE: (
        "care",
        (
            "The embedded profile “{name}” is a table of colours, not a curve for each channel: red, green and blue are those of linear "
            "sRGB, each made from all three."
        ),
    ),
    Note.PROFILE_NOT_USED: ("care", "The embedded profile cannot be used: {why}. The numbers are taken for {untagged}, as you said."),
    Note.NO_PROFILE: ("know", "The file carries no profile; its numbers are taken for {untagged}, as you said."),
    Note.ALPHA_IGNORED: ("know", "Beside its light the file stores something more for each pixel, transparency or infrared. It is not used."),
    Note.TURNED_BY_TAG: ("know", "The file says of its picture that it is to be {how}. It is shown and counted so; the file stays as it is."),
    Note.DPI_IGNORED: ("know", "The file says {dpi} dots per inch, and no scanner does. It is not used."),
    Note.OWN_SHEETS_USED: ("know", "The paper's EI {ei} comes from your own sheets: {rests}."),
    Note.TYPED_WINS: ("know", "Your own sheets say EI {ei} ({rests}); the EI that you typed is used."),
    Note.GIVES_NO_EI: ("know", "No EI from “{what}”: {why}. It leaves the EI as it is."),
    Note.OTHER_LIGHT: (
        "care",
        (
            "Your own sheets were exposed in another light ({theirs}) than this one ({this}). Between them stands the table of lights, "
            "which may be off by 0.3 stop: the first sheet in this light tells more."
        ),
    ),
    Note.BOX_EMPTY: ("care", "By the book, “{lot}” was empty already. Count what is left and correct it."),
    Note.LOG_LEFT: ("care", "Line {line}: {problems} It is not recorded."),
    Note.LOG_CHANGED: ("care", "Line {line} came in before, as sheet {sheet}, with other words. The book keeps what it has: correct it there."),
    Note.DOUBLE_EXPOSURE: ("care", "{side} was exposed already: this is a second exposure of sheet {sheet}."),
    Note.SHARED_DOUBT: (
        "know",
        "The doubt of the light, ±{doubt} stop, moves all patches together: it is in the exposure index, not in range and contrast.",
    ),
    Note.RELATIVE_ONLY: ("know", "Nobody metered the light: log exposures count from an arbitrary zero, and no index follows from them."),
    Note.EVIDENCE_DISAGREES: (
        "care",
        "What was found disagrees beyond chance; its doubts are widened by {factor}. Another box, developer or light among it?",
    ),
    Note.WHICH_DISAGREES: (
        "care",
        (
            "{sheet} disagrees with the rest: it came out as if it had got {stops} {more} light than the others foretell, {sd} standard "
            "deviations. Look at its reading, time and baths; leave it out if you know why."
        ),
    ),
    Note.SLOW_SAMPLER: ("know", "These sheets leave several curves possible: they were weighed the slow way. Nothing is to be done about it."),
    Note.BATHS_COUNTED: (
        "know",
        (
            "The next sheet counts as number {nth} through these baths ({batch}); by now they have lost about {lost} stop of speed. Mixed "
            "afresh? Say so on Findings, and name them anew when the sheet is processed."
        ),
    ),
    Note.NEWEST_SHEETS: ("know", "The newest {kept} sheets are used; {left} older ones say little of the next."),
    Note.SCAN_DENSITY: ("know", "Off a flatbed this is a scan density: its lamp stands on one or two sides, not all round as the standard asks."),
    Note.AT_THE_TRAYS: (
        "stop",
        (
            "Before the trays: gloves, goggles and fresh air. Peroxide and acid bleaches burn skin and eyes; a closed vessel on a peroxide "
            "bleach builds up gas. The safety data sheets of your products and your local rules come first."
        ),
    ),
    Note.NO_FILTER_NUMBER: ("know", "The class is that of the exposure range. The number of a contrast filter is not a class."),
    Note.SHUTTER_OFF: (
        "care",
        "The mark {mark} is {stops} stop {way}. Keep these speeds with the lens in the book: the Camera then reckons with them.",
    ),
    Note.MEASURED_ONCE: ("know", "Each mark was measured once: how far releases lie apart is our judgement, ±{sd} stop. Three of one mark tell it."),
    Note.FAR_TAKEN: ("care", "Nothing says how near the subject is: it is taken as far away. Give the extension, the distance or the magnification."),
    Note.HORIZON_SHARP: ("know", "It is sharp to the horizon."),
    Note.SPREADS_DISAGREE: ("care", "On the rail near and far lie {rail} apart, by their distances {tape}. The rail is used; correct one of them."),
    Note.MOVEMENT_BLURS: (
        "care",
        "Movement alone blurs by {moved}, and {wanted} counts as sharp: no opening and no tilt mends that, only less time or a stiller sitter.",
    ),
    Note.SIDE_NOT_LOADED: ("care", "By the book nothing was in {side}: the paper that you named is taken. Load the next one in the book first."),
    Note.NOT_ALL_SHARP: (
        "care",
        "Near and far cannot both be sharp to {wanted}: at best, {best}, a point there becomes {blur}. Tilt, step back, or let one of them go.",
    ),
    Note.ENDS_UNSHARP: ("care", "As the lens stands, a point near or far becomes {blur}, not {wanted}. Focus between them and stop down to {stop}."),
    Note.MOVE_FOR_BLUE: ("care", "After focusing by eye move the back {moved} {way}: the paper sees blue, and this lens brings it to focus there."),
    Note.PINHOLE_ALIKE: ("know", "A pinhole draws near and far alike: nothing is focused, and nothing is quite sharp."),
    Note.SHIFT_SEEN: (
        "know",
        "For this paper the lens is {size} % {way} than for the eye. Keep {percent} % with the lens, as its shift for blue.",
    ),
    Note.SHIFT_NOT_SEEN: ("know", "The shift is within the doubt of the test: focus as the eye sees it."),
    Note.OPENINGS_APART: (
        "know",
        "The {pieces} openings count as one exposure of their sum. If each counted by itself, they were {stops} more; half of it is in the doubt.",
    ),
    Note.OPENINGS_HAND: ("know", "A hand that opens and closes {many} times is about {off} off in all: longer and fewer openings are surer."),
    Note.TOO_FINE: (
        "care",
        "Each of {many} openings would last {each}: no hand is so fast. Take {most} at most, or a smaller aperture.",
    ),
    Note.EACH_ROUNDED: ("know", "{many} times {each} is {stops} stop {way} than what is left: make up for it in the last one."),
    Note.TOO_MUCH_GIVEN: ("care", "{stops} more than needed: nothing is left to give."),
    Note.FOCAL_UNKNOWN: (
        "care",
        "Extension and distance say nothing without the focal length: give that too. Until then no bellows correction is made, ±{sd} stop is added.",
    ),
    Note.TWO_FIT: (
        "care",
        "Two magnifications fit this distance: {one} is taken, {other} would fit as well. Measure a ruler on the ground glass to tell them apart.",
    ),
    Note.BOX_TOO_SHORT: (
        "care",
        "The box is {short} shorter than the focal length: nothing is ever sharp. Move the lens forward, or the paper back.",
    ),
    Note.NO_PINHOLE: ("care", "A hole of {hole} at {way} is no pinhole any more: it draws a blur of its own size."),
    Note.TABLET_TURNED: ("know", "The tablet lay the other way round: its last patch is taken for the first density."),
    Note.NOT_MONOTONE: (
        "care",
        "{steps} left out: its light does not fall while its density rises. Dust, a scratch, a wrong density, or two steps changed about?",
    ),
    Note.STEP_ODD: (
        "care",
        (
            "{step} does not go with the others: they miss it by {miss}, one another by {usual}. A scratch, dust, or another density than is "
            "said? Look at it; it can be left out."
        ),
    ),
    Note.STEP_UNEVEN: (
        "care",
        "{steps}: uneven inside, far more than those beside it. A scratch, dust or glare? Wipe the tablet and scan it again, or leave it out.",
    ),
    Note.STEPS_LEFT_OUT: ("know", "{steps} left out by you: the calibration rests on the others."),
    Note.ENDS_MISSED: (
        "know",
        "{ends}: the largest miss is that of the steps between. An end has no neighbour beyond it, so it is not scored.",
    ),
    Note.ENDS_CLIPPED: (
        "care",
        (
            "{steps} left out: the {end} end of the tablet is clipped. The scanner's automatic exposure or contrast may be on: "
            "turn every automatic correction off and scan again."
        ),
    ),
    Note.HALO_SUSPECTED: (
        "care",
        (
            "Light overshoots beside the edges of the patches by {percent} of their step: the scanner sharpens. "
            "Turn every automatic correction off and scan again; patch densities near an edge are not to be trusted."
        ),
    ),
    Note.PATCHES_OVERSHOOT: (
        "care",
        (
            "Light overshoots beside the edges of these patches by {percent} of their step: the scanner sharpens, or the developer left lines there. "
            "Scan again with every automatic correction off; what remains is in the sheet, and the middles that are measured lie clear of it."
        ),
    ),
    Note.FEW_STEPS: ("know", "{steps} steps: how far the calibration misses is hardly known from so few. From {enough} on it can be believed."),
    Note.INDICATIVE_ABOVE: ("know", "Above density {density} a scan is indicative only: stray light and noise weigh as much as the tone."),
    Note.INDICATIVE: ("care", "{patches}: above density {density}, where a scan is indicative only."),
    Note.PATCH_CLIPPED: (
        "care",
        "{patches} left out: clipped at {end}. Scan without automatic corrections, and with room at both ends of the scale.",
    ),
    Note.BEYOND_TABLET: (
        "care",
        "{patches}: beyond the tablet ({lightest} to {darkest}): {what}.",
    ),
    Note.EIGHT_BITS: (
        "care",
        (
            "A file of {bits} bits: from one number to the next density jumps by {light} at the lightest and by {dark} at the darkest patch. "
            "Scan with 16 bits."
        ),
    ),
    Note.RANGE_GUESSED: (
        "care",
        (
            "No step sheet of this paper is known: {who} a range of {stops}, which may as well be {low} to {high}. "
            "A step sheet in your own process replaces it."
        ),
    ),
    Note.SCENE_TOO_LONG: (
        "care",
        (
            "The scene is {stops} longer than the paper. Something must give: choose which end, or make both fit by softer light, a softer paper "
            "or filter, or pre-exposure."
        ),
    ),
    Note.SKIN_SEEN: (
        "know",
        "Skin is redder than a grey: this paper gets {stops} stop less of it than the meter reads. That is reckoned in.",
    ),
    Note.AVERAGED_READING: (
        "know",
        "A meter that averages takes in what lies around a part: the scene may be longer than it reads. Go near, or use a spot meter.",
    ),
    Note.TONES_IF_RIGHT: (
        "know",
        "The tones hold for an exposure that is right to ±{sd} stop, one sheet's own scatter. Give the ledger's whole doubt to widen them.",
    ),
    Note.PREEXPOSURE_OPENS_SHADOWS: (
        "know",
        (
            "In a direct positive a pre-exposure acts on the shadows: it opens them and costs {lost} of the deepest black. By itself it holds no "
            "highlights: they burn out {burnt} sooner. Flashing under an enlarger does the opposite."
        ),
    ),
    Note.PREEXPOSURE_VEILS: (
        "know",
        "In a negative a pre-exposure lifts the shadows of the scene and lays a veil of {veil} over the clear parts.",
    ),
    Note.PREEXPOSURE_BY_CARD: (
        "know",
        (
            "To give it: fill the picture with an even card, out of focus, read the card, and enter it beside the picture's reading and its "
            "time: the card's time stands here then. The card first, then the picture, on the same sheet."
        ),
    ),
    Note.PREEXPOSURE_UNTRIED: (
        "care",
        (
            "That two exposures add up is arithmetic. A paper may make more of weak light after a first exposure, or less: "
            "two strips of one sheet, with and without it, tell."
        ),
    ),
    Note.SCENE_FITS: ("know", "The scene fits on the paper: nothing needs to be given up."),
    **OF_CHEMISTRY,
    **OF_THE_SHELF,
}
