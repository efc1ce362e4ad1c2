"""What each note of the darkroom's chemistry says - strengths, mixing, acidity, tests, hazards. As in sentences.py."""

from typing import Final

from silverwright.notes import Note, Severity

OF_CHEMISTRY: Final[dict[Note, tuple[Severity, str]]] = {
    # stocks and what is mixed of them
    Note.BEFORE_OPENING: (
        "stop",
        (
            "Before you open {substances}: goggles and gloves on, fresh air, water at hand to rinse with for minutes. What was poured out never "
            "goes back into its bottle. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.STOCK_HAZARDS: ("stop", "In the bottle, {what}: {words}."),
    Note.THEY_MEET: ("stop", "{words}."),
    Note.PEROXIDE_POURED: (
        "stop",
        (
            "Strong peroxide burns skin and eyes, and gives off oxygen: clean glass or plastic, no metal, no dust, no rag that soaks it up, and "
            "never a vessel that is closed tight. A bottle for it has a cap that vents."
        ),
    ),
    Note.ACID_INTO_WATER: ("stop", "The water first, then the acid, slowly and stirring: water that is poured into strong acid boils and spits."),
    Note.LYE_INTO_WATER: ("stop", "Cold water first, then a little at a time, stirring: it grows hot, and hot lye spits into the eyes."),
    Note.LABEL_EITHER: ("know", "The label may mean {amount} % by weight or by volume: the two are {apart} % apart here, less than can be set."),
    Note.LABEL_UNCLEAR: (
        "care",
        (
            "{amount} % by weight is {weight} g in a litre, by volume {volume} g. Both are taken as equally likely: that alone widens the limits by "
            "±{half} %. An assay, or the safety data sheet, tells which."
        ),
    ),
    Note.NAIVE_RULE: (
        "know",
        "“Strength times volume stays the same” does not hold for percent by weight: here it makes the bath {off}. Weigh, or take the volumes above.",
    ),
    Note.SCALE_TOO_COARSE: (
        "care",
        "{wanted} g cannot be set on a scale that counts in {step} g: mix a larger amount, or first a weaker stock and of that more.",
    ),
    Note.DENSITY_TAKEN: (
        "know",
        "How dense solutions of {substance} are is not known here: 0.45 ± 0.25 mL for a gram is taken (our judgement). By weight it hardly matters.",
    ),
    Note.TEMPERATURE_TAKEN: (
        "know",
        "No temperature was given: {celsius} °C is taken, ±{sd} °C. That leaves ±{percent} % where weight and volume meet; a thermometer ends it.",
    ),
    Note.SPOON_ROUGH: (
        "care",
        "{what}: how much a spoon holds of it is rough, ±{percent} % (8 of 10). A scale tells it; a heaped spoon holds up to twice as much.",
    ),
    Note.NOT_KNOWN_HERE: (
        "care",
        "Of “{substance}” nothing is known here, neither its hazards nor its density: read its safety data sheet. It is counted by weight only.",
    ),
    Note.PH_NOT_COUNTED: ("know", "How acid it becomes is not counted: something in it is no acid, alkali or salt that is known here."),
    Note.REPLENISH_ONCE: (
        "know",
        "Fresh stock brings back the strength, not the bath: silver, salts and what wears the acid stay in it. A strength test tells how it works.",
    ),
    Note.BATH_IS_STRONGER: (
        "know",
        "The bath is already as strong as wanted: nothing is to be added.",
    ),
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
    Note.WATER_NOT_GIVEN: (
        "know",
        (
            "Not given: {what}. The limits hold all that such water usually has, {range}, our judgement; with the figure of the waterworks "
            "the silver that is taken out would be known to about a tenth."
        ),
    ),
    Note.WATER_FOR_BLEACH: (
        "care",
        (
            "Mix the bleach with distilled water. Chloride makes silver chloride of what the bleach dissolves: a milky haze that lies on the sheet "
            "and can develop later; and traces of copper and iron from pipes break peroxide down."
        ),
    ),
    Note.WATER_HARD: (
        "know",
        "At {hardness} of hardness a carbonate developer turns cloudy with chalk, and drops dry to white marks: rinse last in distilled water.",
    ),
    Note.WATER_FOR_WASHING: ("know", "For washing this water will do as it is; salts in water even move thiosulphate out rather faster."),
    # silver in a bath
    Note.SILVER_IN_WASTE: (
        "care",
        (
            "A used bleach holds silver as a used fixer does: it goes into its own waste bottle with a vented cap, not down the drain "
            "and not together with fixer. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.SILVER_PAST_LIMIT: (
        "care",
        (
            "More silver is in it than plain citrate is sure to hold: what falls out stays on the sheets and can turn amber in light or in the "
            "second developer. Make the acid fresh, or rinse longer before the bleach."
        ),
    ),
    Note.SILVER_LOWER_BOUND: (
        "know",
        (
            "The limit is a lower bound: citrate also holds silver in solution, and strong citric acid was found to hold {most} g/L. "
            "A milky drop of bromide solution on a rinsed highlight tells more than this figure."
        ),
    ),
    Note.SILVER_NO_CITRATE: ("know", "No citric acid is named in it: how much silver it holds is not known here. Name what is in it."),
    Note.SILVER_REFORMS: (
        "know",
        (
            "Peroxide dissolves silver here with {bleaching} V to spare; by its other couple it makes metal of dissolved silver again, with "
            "{reforming} V to spare (below 0 it cannot). The less acid, the more of the second."
        ),
    ),
    Note.SILVER_REACTION: (
        "know",
        "{equation}: a gram of silver takes {peroxide} mg of peroxide and {acid} mmol of acid. The acid wears, the peroxide falls apart by itself.",
    ),
    Note.LIMITS_HOLD: ("know", "Not given, and held by the limits: {what}."),
    Note.SILVER_AS_FOUND: ("know", "The silver that was found in the bath is used; by the sheets it would be {counted}."),
    Note.FIXER_BY_TEST: (
        "know",
        "A reversed sheet brings the fixer hardly any silver: judge the fixer by a silver test, not by counting sheets.",
    ),
    # washing
    Note.WASH_FIBRE: (
        "care",
        (
            "Fibre and baryta hold thiosulphate fast, and water takes it out slowly: the figures are the least that stays. A wash aid between two "
            "washes gets out most of it; a drop of the residual test on a margin tells."
        ),
    ),
    Note.WASH_RUNNING: ("know", "In running water the usual time is {time} for {base}; whether it is enough, only a test tells."),
    Note.WASH_LIMIT: (
        "know",
        "Compared with {limit}, which film may hold that is to last; for paper no limit had been set when that was written.",
    ),
    Note.WASH_SMALLER_FILLS: ("know", "The same water in twice as many fills of half the size would leave {share} of that."),
    Note.FIXER_TO_LAST: ("know", "For pictures that are to last, a single fixing bath is given up at {limit}: {sheets}."),
    Note.BOUND_AT_MOST: (
        "know",
        "No dissolved silver was named: told is what the chloride takes out where there is silver enough.",
    ),
    # what can hurt
    Note.HAZARD_FIRST: ("stop", "{what}{gear} The safety data sheet of your product and local rules come first."),
    Note.HAZARD_NO_DATA: (
        "stop",
        "{names} \N{EN DASH} no hazard data here: read its data sheet. Until then take it for something that burns and poisons.",
    ),
    Note.HAZARD_UNCLASSIFIED: (
        "care",
        "{names}: no class is on file here, which says nothing of what it does: read its data sheet.",
    ),
    Note.HAZARD_NOT_LAW: ("care", "By a proposal, not by law: {says} Ask which rules hold where you are."),
    Note.HAZARD_NEAR: ("care", "It is near a limit: a tenth stronger it would be {codes}, too. Treat it as if it were."),
    Note.HAZARD_PH_NEAR: ("care", "Its pH may as well lie where it counts as burning skin and eyes ({low} to {high}): treat it as if it did."),
    Note.HAZARD_MEMORY: ("know", "{codes}: a class or a limit behind it is from memory, unverified."),
    Note.HAZARD_LOOK_UP: (
        "know",
        "By these rules: {says} Your product's label and data sheet may say more: a maker classifies what is in the bottle.",
    ),
    Note.APART_NEVER: (
        "stop",
        "Never pour them together: {one} and {other} give {gas}. {words} The safety data sheet of your product and local rules come first.",
    ),
    Note.APART_FOAMS: (
        "care",
        "{one} and {other} give {gas}. {words} The safety data sheet of your product and local rules come first.",
    ),
    Note.APART_UNKNOWN: ("stop", "{words} The safety data sheet of your product and local rules come first."),
    Note.APART_NOT_LISTED: (
        "know",
        (
            "Among the pairs that are listed here none is of these two. Others may react that nobody listed: bleach, developer and fixer each have "
            "a waste bottle of their own in any case, and the safety data sheet of your product and local rules come first."
        ),
    ),
    # recipes and mixing
    Note.MIX_FIRST: (
        "stop",
        (
            "Before the first bottle is opened: goggles and nitrile gloves on, a window open, water at hand to rinse eyes at once and for minutes. "
            "Helpers and pupils pour no strong stock. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.MIX_PERMANGANATE: (
        "stop",
        (
            "Permanganate feeds fire and stains: nothing that burns near it. With table salt or hydrochloric acid it gives off chlorine, "
            "with strong sulphuric acid it can burst: only into the weak acid of the recipe, and never into a closed bottle."
        ),
    ),
    Note.MIX_CANCER: ("stop", "Dichromate causes cancer and burns, and its dust is breathed in while it is weighed. It is poison to water, too."),
    Note.MIX_SULPHUR: (
        "care",
        "It gives off sulphur dioxide: a window open, no warm solution, and nobody with asthma at this tray.",
    ),
    Note.MIX_NOT_ACID: (
        "care",
        "Thiosulphate and strong acid give off sulphur dioxide: never together with an acid bleach, in no tray, sink or waste bottle.",
    ),
    Note.MIX_ALLERGY: (
        "care",
        "Metol and hydroquinone make skin allergic, for good: gloves on at every tray, tongs for the sheets, no dust in the air.",
    ),
    Note.MIX_SELENIUM: (
        "stop",
        (
            "Selenite is a strong poison, swallowed or breathed in: take a ready-made concentrate, never the powder. Acid sets selenium free from "
            "it. Gloves, a window open, its own vessels, and its waste into a bottle of its own."
        ),
    ),
    Note.MIX_CYANIDE: (
        "stop",
        "Ferricyanide with strong acid or heat gives off hydrogen cyanide: never with an acid bleach, in no tray, sink or waste bottle.",
    ),
    Note.MIX_SULPHIDE: (
        "stop",
        (
            "Sulphide and acid give off hydrogen sulphide, which kills and soon cannot be smelled: a window open or outdoors, no acid in the room, "
            "and no unused paper or film near it."
        ),
    ),
    Note.MIX_LABEL: (
        "care",
        "What is in a ready-made concentrate is not known here: read label and safety data sheet before you open it, and take their figures.",
    ),
    Note.MIX_AGAINST: ("stop", "Not recommended: {why}."),
    Note.MIX_MISSING: ("care", "The bottles that you named do not suffice. To buy before you begin: {what}."),
    Note.MIX_USUAL: (
        "know",
        "No bottle named for: {what}. It is taken as usually sold ({source}). A line for your own bottle makes the amounts those of its label.",
    ),
    Note.MIX_OUTSIDE: ("care", "{what} lies outside what is told of such baths, {low} to {high} {unit} ({source})."),
    Note.MIX_UNCLEAR: (
        "care",
        "“{bottle}” may mean % by weight or by volume: the middle of both is taken, ±{half} % (one standard deviation). Its data sheet tells which.",
    ),
    Note.MIX_CHANGED: ("know", "Changed by you: {what}. Give the bath a name or a version of its own."),
    # tests of strength
    Note.TEST_PERMANGANATE: (
        "care",
        (
            "Goggles and nitrile gloves before a bottle is opened: peroxide and sulphuric acid burn eyes and skin. Acid into water, never water into "
            "acid. Crystals of permanganate never meet strong peroxide: it boils and throws hot liquid. Keep them from anything that burns. What was "
            "taken as a sample never goes back. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.TEST_IODINE: (
        "care",
        (
            "Goggles and nitrile gloves before a bottle is opened: peroxide and acid burn eyes and skin, iodine stains. Never ammonia into "
            "what is left: with iodine it makes a powder that explodes when it is dry (from memory, unverified). What was taken as a sample "
            "never goes back. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.TEST_GAS: (
        "care",
        (
            "Goggles on, and never a closed vessel: the tube stays open until no bubble comes. Stronger than 10 % is diluted before it meets "
            "yeast or manganese dioxide; strong peroxide boils on them and throws hot liquid. No flame near the oxygen. "
            "The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.TEST_PEROXIDE: (
        "care",
        (
            "Goggles and nitrile gloves before the bottle is opened: peroxide burns eyes and skin. What was taken as a sample never goes back, and "
            "no metal goes in. The safety data sheet of your product and local rules come first."
        ),
    ),
    Note.TEST_NOT_GIVEN: (
        "know",
        "Not given: {what}. Knowing it would bring the doubt from ±{now} % to about ±{then} % of the figure (one standard deviation).",
    ),
    Note.NORMALITY: (
        "care",
        "Permanganate of {given} mol/L? A bottle that says {given} N holds {fifth} mol/L: then all here is five times too much. Look at the label.",
    ),
    Note.READING_COARSE: (
        "know",
        "Most of the doubt is the reading of {taken}. Titrate more of the sample, so that three to five times as much goes in.",
    ),
    Note.USED_BATH_ASSAY: (
        "care",
        "A used bath: {why}. Believe the bleach-out test for what the bath can do, and this figure only as far as {side}.",
    ),
    Note.ASSAY_WEAK: ("know", "It has {share} % of what its label says. Mix by what you found, not by the label."),
    Note.ASSAY_LOOKED: (
        "care",
        "It came out {over} % stronger than its label, and you said that you looked again. Do one more run before you mix by it.",
    ),
    Note.STRIP_ROUGH: ("know", "A strip tells the half from the double, and little between. For mixing, titrate or measure the gas."),
    Note.STRIP_BEYOND: (
        "care",
        "It is the last colour of the scale: the true strength may be anything above. Dilute ten times more and dip a new strip.",
    ),
    Note.STRIP_PALE: (
        "care",
        (
            "It is the first colour or none: it may be anything below, or so strong that it bleached the strip. Dip one new strip with ten times "
            "less water, and one with ten times more."
        ),
    ),
    Note.PH_STRIP_BLEACHED: (
        "know",
        "A pH strip is no test here, and not of the acid either: peroxide bleaches its dyes. For pH believe a glass electrode, or compute it.",
    ),
    Note.BLEACH_ANALOGY: (
        "know",
        "{limit} times the fresh time as the end is said of fixers (navy14209); for a bleach it is taken by analogy. Let your own sheets move it.",
    ),
    Note.BLEACH_WHICH: (
        "know",
        (
            "The test does not tell what is short, peroxide or acid. Add a pinch of citric acid to the cup and dip another strip: as quick as fresh, "
            "then it was the acid. Silver that fills the bath slows it, too."
        ),
    ),
    Note.BLEACH_APART: (
        "know",
        (
            "The baths were {apart} °C apart. The time is brought to one temperature by a factor of {q10} for ten degrees, itself in doubt: "
            "test at one temperature."
        ),
    ),
    Note.DECAY_OWN: (
        "know",
        (
            "The rate is of this bottle, as it was kept. Silver, copper, alkali and warmth make it many times faster; another bath has its own. "
            "Where sheets went through in between, carry-over is in it, too."
        ),
    ),
    Note.DECAY_NONE: (
        "know",
        (
            "The two assays do not differ beyond their doubt: no loss is shown. Bottled peroxide may lose about {yearly} % of it in a year "
            "(asta2019). Wait longer for the next assay."
        ),
    ),
    Note.DECAY_RISES: (
        "care",
        "The second assay is stronger than the first, beyond their doubt. Peroxide does not grow: one assay is off, or water has dried away.",
    ),
    Note.DECAY_FAR: ("know", "That is {times} times as far ahead as both assays lie apart: a line drawn on so far is little more than a guess."),
    Note.DECAY_DOUBT: (
        "know",
        "How sure {which} is was not given: ±{taken} % of it is taken (one standard deviation), and the limits rest on that.",
    ),
    Note.DECAY_WARMTH: (
        "know",
        (
            "From {kept} °C to {other} °C by an activation energy of {energy} kJ/mol, {source}; a catalyst lowers it. Ten degrees more: about {q10} "
            "times as fast."
        ),
    ),
}
