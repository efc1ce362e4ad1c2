"""Scene against paper, pre-exposure and the ways to less contrast, as people ask for them."""

from collections.abc import Callable
from itertools import pairwise
from math import exp, hypot, log, log2, log10
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from silverwright.catalogue import find
from silverwright.errors import BadQuestion
from silverwright.notes import Note
from silverwright.questions.papercurve import range_of_grade

STOP = log10(2)
CURVE = (
    "exposure_log10,density,low,high\n-0.9,1.88,1.85,1.91\n-0.6,1.85,1.82,1.88\n-0.45,1.81,1.78,1.84\n-0.3,1.68,1.64,1.72\n"
    "-0.15,1.41,1.37,1.45\n0,0.98,0.94,1.02\n0.15,0.55,0.51,0.59\n0.3,0.28,0.25,0.31\n0.45,0.15,0.12,0.18\n0.75,0.09,0.06,0.12"
)
OWN = {"curve": CURVE, "curve_from": "step sheet 26-018", "shadow_log10": -0.31, "highlight_log10": 0.54, "middle_log10": 0.076}
BOAT = "12.6,light with tone,sail\n10,mid-grey,planks\n7.4,dark with detail,under the boat"
LONG = {"readings": BOAT, "range_stops": 3.4, "range_sd_stops": 0.2}


def ask(name: str, **given: object) -> Any:
    return find(name).ask(given)


def faults(name: str, **given: object) -> list[str]:
    with pytest.raises(BadQuestion) as caught:
        ask(name, **given)
    return [fault.field for fault in caught.value.faults]


def notes(answer: Any) -> list[str]:
    return [one.note.value for one in answer.notes]


def test_a_scene_that_is_too_long_loses_as_much_at_both_ends() -> None:
    """5.2 stops read; flare of a factor 2.83 at 160:1 is 1.17 % of the sail over everything; 3.4 stops of paper."""
    answer = ask("exposure.scene", **LONG)
    share = (2.83 - 1) / (160 - 2.83)
    image = log2((1 + share) / (2**-5.2 + share))
    assert answer.scene_stops.value == pytest.approx(5.2)
    assert answer.image_stops.value == pytest.approx(image)
    assert answer.too_long_stops.value == pytest.approx(image - 3.4)
    assert answer.blocked_stops.value == pytest.approx(answer.burnt_stops.value) == pytest.approx((image - 3.4) / 2)
    assert sum(line.amount for line in answer.ledger) == pytest.approx(answer.too_long_stops.value)
    assert "scene-too-long" in notes(answer)


def test_each_line_of_the_working_says_what_it_rests_on() -> None:
    scene, flare, paper = ask("exposure.scene", **LONG).ledger
    assert (scene.rests, flare.rests, paper.rests) == ("judgement", "trade", "own")
    assert flare.source == "from memory, unverified"


def test_what_happens_is_said_of_every_part() -> None:
    answer = ask("exposure.scene", **LONG)
    assert answer.parts == ("sail", "planks", "under the boat")
    assert [one.split(" by ")[0] for one in answer.happens] == ["burns out", "keeps its tone", "blocks up"]
    kept = ask("exposure.scene", **LONG, exposed_for="the shadows")
    assert [one.split(" by ")[0] for one in kept.happens] == ["burns out", "keeps its tone", "keeps its tone"]
    assert kept.blocked_stops.value == 0
    assert kept.burnt_stops.value == pytest.approx(answer.too_long_stops.value)
    assert kept.set_ev.value == pytest.approx(answer.shadows_ev.value)


def test_a_scene_that_fits_is_exposed_for_its_mid_grey() -> None:
    answer = ask("exposure.scene", readings="10.5,light with tone\n10,mid-grey\n9.5,dark with detail", range_stops=5, flare_percent=0)
    assert answer.set_ev.value == pytest.approx(10)
    assert answer.shift_stops.value == pytest.approx(0)
    assert (answer.blocked_stops.value, answer.burnt_stops.value, answer.too_long_stops.value) == (0, 0, 0)
    assert answer.part_density[1] == pytest.approx(0.745, abs=0.002)
    assert answer.room_stops.value == pytest.approx(4.0)


def test_the_mid_grey_gives_way_to_a_part_that_would_be_lost() -> None:
    """The dark part lies 2.5 stops under the planks; this paper holds -1.24 stops there: 1.26 stops more."""
    answer = ask("exposure.scene", readings="10,mid-grey\n7.5,dark with detail", range_stops=2.8, flare_percent=0)
    assert answer.blocked_stops.value == pytest.approx(0, abs=1e-9)
    assert answer.set_ev.value == pytest.approx(answer.shadows_ev.value)
    assert answer.shift_stops.value == pytest.approx(10 - answer.set_ev.value)
    assert answer.wanted_ev.value == pytest.approx(10)


def test_the_own_curve_counts_and_says_so() -> None:
    answer = ask("exposure.scene", readings="9.4,skin,face\n7.9,dark with detail,jersey", flare_percent=0, **OWN)
    assert answer.range_stops.value == pytest.approx(0.85 / STOP)
    assert answer.part_density[0] == pytest.approx(0.45, abs=1e-6)
    assert (answer.ledger[-1].source, answer.ledger[-1].rests) == ("step sheet 26-018", "own")
    assert "range-guessed" not in notes(answer)
    jersey_log10 = 0.076 + answer.part_stops[1] * STOP
    points = [(float(one.split(",")[0]), float(one.split(",")[1])) for one in CURVE.splitlines()[1:]]
    (x, d), (x2, d2) = next(pair for pair in pairwise(points) if pair[0][0] <= jersey_log10 < pair[1][0])
    assert answer.part_density[1] == pytest.approx(d + (jersey_log10 - x) / (x2 - x) * (d2 - d))


def test_points_of_an_own_curve_are_found_where_nobody_says_them() -> None:
    """Its ends are 1.88 and 0.09: shadow point at 0.09 + 0.9 x 1.79 = 1.701, highlight point at 0.13, grey at 0.745, straight between points."""
    answer = ask("exposure.scene", readings="10\n8", curve=CURVE)
    shadow = -0.45 + (1.81 - 1.701) / (1.81 - 1.68) * 0.15
    highlight = 0.45 + (0.15 - 0.13) / (0.15 - 0.09) * 0.30
    assert answer.range_stops.value == pytest.approx((highlight - shadow) / STOP, abs=1e-6)


def test_the_doubt_of_an_unknown_paper_is_wide_and_said() -> None:
    own, guess = (ask("exposure.scene", readings="12\n8", **more) for more in (OWN, {}))
    assert guess.range_stops.high - guess.range_stops.low > 2 * (own.range_stops.high - own.range_stops.low)
    assert "range-guessed" in notes(guess)


def test_a_grade_tells_a_range() -> None:
    """Grade 2 is 1.05 log10, grade 3 0.875; both are known from memory only."""
    two, three = (ask("exposure.scene", readings="12\n8", grade=grade) for grade in (2, 3))
    assert two.range_stops.value == pytest.approx(1.05 / STOP)
    assert three.range_stops.value == pytest.approx(0.875 / STOP)
    assert ask("exposure.scene", readings="12\n8", grade=2.5).range_stops.value == pytest.approx((1.05 + 0.875) / 2 / STOP)
    assert "unverified" in two.ledger[2].source


def test_the_reading_of_the_page_is_what_the_shift_counts_from() -> None:
    """EV 10 of a mid-grey, but 12 and 8 must be kept: the middle of both."""
    answer = ask("exposure.scene", readings="12\n8", reading_ev=11, meter_k=12.5, range_stops=6, flare_percent=0)
    assert answer.shift_stops.value == pytest.approx(11 - answer.set_ev.value)
    asked = ask("exposure.scene", readings="12\n8", reading_ev=11, meter_k=12.5, range_stops=6, exposed_for="as read")
    assert asked.set_ev.value == pytest.approx(11)
    assert asked.shift_stops.value == 0


def test_a_reading_of_another_tone_is_put_where_that_tone_lies() -> None:
    """The EI of the ledger then is the one for skin: a plain reading of 9.4 of skin makes skin of it."""
    answer = ask("exposure.scene", readings="9.4,skin", reading_ev=9.4, reading_tone="skin", flare_percent=0, exposed_for="as read", **OWN)
    assert answer.part_density[0] == pytest.approx(0.45, abs=1e-6)


def test_skin_is_redder_than_the_meter_knows() -> None:
    """Blue-sensitive paper gets 0.69 stop less of skin, one that sees green too 0.44: so much more to expose, and said."""
    grey, blue, ortho = (
        ask("exposure.scene", readings=f"9,{word}", flare_percent=0, sensitivity=sees, **OWN)
        for word, sees in (("mid-grey", "blue"), ("skin", "blue"), ("skin", "ortho"))
    )
    assert blue.set_ev.value == pytest.approx(ortho.set_ev.value - 0.25)
    skin_log10 = 0.15 + (0.55 - 0.45) / (0.55 - 0.28) * 0.15 - 0.076
    assert blue.set_ev.value == pytest.approx(9 - 0.69 - skin_log10 / STOP)
    assert "skin-seen" in notes(blue)
    assert "skin-seen" not in notes(grey)
    pair = ask("exposure.scene", readings="9,skin\n7,dark with detail", flare_percent=0, sensitivity="blue", **OWN)
    assert pair.scene_stops.value == pytest.approx(2 - 0.69)
    assert sum(line.amount for line in pair.ledger) == pytest.approx(2 - 0.69 - 0.85 / STOP)


def test_readings_are_those_of_the_own_meter() -> None:
    """K 14 instead of 12.5 moves every EV alike: what is set on that meter stays what it reads. 14 cd/m2 are EV log2(14 x 100 / 14)."""
    usual, other = (ask("exposure.scene", **LONG, meter_k=k) for k in (12.5, 14))
    assert other.set_ev.value == pytest.approx(usual.set_ev.value)
    luminance = ask("exposure.scene", readings="reading_cd_per_m2\n14\n3.5", meter_k=14)
    assert luminance.parts == ("EV 6.64", "EV 4.64")


def test_light_on_the_subject_tells_the_mid_grey_and_not_the_range() -> None:
    """Under a dome of C 330, 2560 lx are EV 9.6."""
    rows = "reading_lx,reading_ev,becomes\n2560,,\n,12,light with tone\n,9,dark with detail"
    answer = ask("exposure.scene", readings=rows, incident_head="dome", flare_percent=0)
    assert answer.scene_stops.value == pytest.approx(3)
    assert answer.wanted_ev.value == pytest.approx(log2(2560 * 100 / 330))
    assert answer.parts[0] == "the light"


def test_white_and_black_may_go_where_they_are_wanted() -> None:
    rows = "12,paper white,sky\n10,mid-grey\n6,black,doorway"
    answer = ask("exposure.scene", readings=rows, range_stops=3)
    assert answer.happens == ("paper white", "keeps its tone", "black")
    assert (answer.blocked_stops.value, answer.burnt_stops.value) == (0, 0)
    flat = ask("exposure.scene", readings="10.5,paper white\n10,black", range_stops=4, flare_percent=0)
    assert all("short of" in one for one in flat.happens)


def test_an_averaging_meter_is_less_sure_and_says_why() -> None:
    spot, averaging = (ask("exposure.scene", readings=f"reading_ev,metered_with\n12,{word}\n8,{word}") for word in ("spot", "averaging"))
    assert averaging.ledger[0].doubt == pytest.approx(hypot(0.3, 0.3))
    assert averaging.ledger[0].doubt > spot.ledger[0].doubt
    assert "averaged-reading" in notes(averaging)


def test_more_flare_shortens_the_scene() -> None:
    ranges = [ask("exposure.scene", **LONG, flare=word).image_stops.value for word in ("little", "usual", "much")]
    assert ranges == sorted(ranges, reverse=True)
    assert ask("exposure.scene", **LONG, flare_percent=0).image_stops.value == pytest.approx(5.2)


def test_a_negative_keeps_the_same_scene() -> None:
    """The same readings, shadows and highlights stay those of the scene; only the densities turn round."""
    positive, negative = (ask("exposure.scene", **LONG, process=process) for process in ("direct positive", "negative"))
    assert negative.too_long_stops.value == pytest.approx(positive.too_long_stops.value)
    assert positive.part_density[0] < positive.part_density[2]
    assert negative.part_density[0] > negative.part_density[2]


@pytest.mark.parametrize(
    ("given", "fields"),
    [
        ({}, ["readings"]),
        ({"readings": "becomes\nskin"}, ["readings"]),
        ({"readings": "reading_lx,becomes\n500,skin"}, ["readings"]),
        ({"readings": "reading_lx,metered_with\n500,spot"}, ["readings"]),
        ({"readings": "12\n8", "exposed_for": "as read"}, ["exposed_for"]),
        ({"readings": "12,black", "exposed_for": "the shadows"}, ["exposed_for"]),
        ({"readings": "12\n8", "curve": "0,1\n1,0.1"}, ["curve"]),
        ({"readings": "12\n8", "curve": "-1,1.8\n0,1.9\n1,0.1"}, ["curve"]),
        ({"readings": "12\n8", "curve": "-1,1.8\n0,0.9\n0,0.8\n1,0.1"}, ["curve"]),
        ({"readings": "12\n8", "curve": "-1,0.6\n0,0.4\n1,0.1"}, ["middle_log10"]),
        ({"readings": "12\n8", "curve": "-1,0.1\n0,0.9\n1,1.8"}, ["process"]),
        ({"readings": "12\n8", "curve": CURVE, "shadow_log10": 0.9}, ["shadow_log10"]),
        ({"readings": "12\n8", "shadow_log10": 0.5, "highlight_log10": -0.5}, ["shadow_log10"]),
        ({"readings": "12\n8", "range_stops": 0.1}, ["range_stops"]),
    ],
)
def test_what_contradicts_itself_is_refused_beside_its_field(given: dict[str, object], fields: list[str]) -> None:
    assert faults("exposure.scene", **given) == fields


evs = st.floats(-5, 20)
words = st.sampled_from([None, "paper white", "light with tone", "skin", "mid-grey", "dark with detail", "black"])
rows = st.lists(st.fixed_dictionaries({"reading_ev": evs, "becomes": words}), min_size=1, max_size=6)
papers = st.fixed_dictionaries({}, optional={"range_stops": st.floats(0.5, 12), "grade": st.floats(0, 5), "process": st.just("negative")})


@given(rows, papers)
@settings(max_examples=60)
def test_limits_hold_the_point(readings: list[dict[str, object]], paper: dict[str, object]) -> None:
    answer = ask("exposure.scene", readings=readings, **paper)
    for name in (
        "too_long_stops",
        "room_stops",
        "scene_stops",
        "image_stops",
        "range_stops",
        "set_ev",
        "shift_stops",
        "blocked_stops",
        "burnt_stops",
    ):
        told = getattr(answer, name)
        if told is not None:
            assert told.low <= told.value + 1e-9
            assert told.value <= told.high + 1e-9
    assert all(low <= one <= high for low, one, high in zip(answer.part_low, answer.part_density, answer.part_high, strict=True))


@given(rows, papers, st.floats(-3, 3))
@settings(max_examples=40)
def test_a_darker_day_moves_the_exposure_and_nothing_else(readings: list[dict[str, Any]], paper: dict[str, object], darker: float) -> None:
    here = ask("exposure.scene", readings=readings, **paper)
    there = ask("exposure.scene", readings=[one | {"reading_ev": one["reading_ev"] - darker} for one in readings], **paper)
    assert there.set_ev.value == pytest.approx(here.set_ev.value - darker)
    assert there.part_density == pytest.approx(here.part_density, abs=1e-6)


@given(rows, papers, st.integers(0, 5), st.floats(-1e-4, 1e-4))
@settings(max_examples=60)
def test_answers_are_continuous_in_a_reading(readings: list[dict[str, Any]], paper: dict[str, object], which: int, little: float) -> None:
    moved = [one | {"reading_ev": one["reading_ev"] + little * (number == which)} for number, one in enumerate(readings)]
    here, there = (ask("exposure.scene", readings=one, **paper) for one in (readings, moved))
    assert there.set_ev.value == pytest.approx(here.set_ev.value, abs=2e-4)
    assert there.blocked_stops.value == pytest.approx(here.blocked_stops.value, abs=4e-4)
    assert there.part_density == pytest.approx(here.part_density, abs=0.01)


class Darkroom:
    """A paper and a scene drawn from what is believed of them; its arithmetic is its own."""

    def __init__(self, seed: int, range_stops: float, range_sd: float) -> None:
        self.random = Random(seed)
        draw = self.random.gauss
        self.dmin, self.net = draw(0.1, 0.1), exp(draw(0.5, 0.3))
        while not 0.05 < (0.745 - self.dmin) / self.net < 0.85:
            self.dmin, self.net = draw(0.1, 0.1), exp(draw(0.5, 0.3))
        self.range_log10 = max(0.4, draw(range_stops, range_sd)) * STOP
        self.aside_log10 = draw(0, 0.3) * STOP
        self.share = max(0.0, (2.83 * exp(draw(0, 0.27)) - 1) / 157.17)
        grey = log((self.net - 0.745 + self.dmin) / (0.745 - self.dmin))
        bright = log(self.net / 0.04 - 1)
        self.slope = (bright + log(9)) / self.range_log10
        self.grey = grey
        self.shadow_log10 = (-log(9) - grey) / self.slope - self.aside_log10
        self.highlight_log10 = (bright - grey) / self.slope - self.aside_log10
        self.evs = [draw(ev, 0.1) for ev in (12.6, 10.0, 7.4)]

    def on_paper(self, ev: float) -> float:
        """In lux, with the light that strays."""
        return log2((2.0**ev + self.share * 2.0 ** self.evs[0]) / (1 + self.share))

    def density(self, place_log10: float) -> float:
        """Each side of the grey by its own scale."""
        plain = (-log(9) - self.grey) / self.slope if place_log10 < 0 else (log(self.net / 0.04 - 1) - self.grey) / self.slope
        end = self.shadow_log10 if place_log10 < 0 else self.highlight_log10
        return self.dmin + self.net / (1 + exp(min(700.0, self.grey + self.slope * place_log10 * plain / end)))


def test_four_of_five_truths_lie_within_the_limits() -> None:
    """400 darkrooms drawn from what is believed: the excess of the scene, the exposure for the shadows, and the density of each part."""
    answer = ask("exposure.scene", readings=BOAT, range_stops=3.4, range_sd_stops=0.3, doubt_stops=0.3)
    doubt = hypot(*(line.doubt for line in answer.ledger))
    excess = sum(line.amount for line in answer.ledger)
    held = {"excess": 0, "shadows": 0, "highlights": 0, "sail": 0, "planks": 0, "boat": 0}
    for seed in range(400):
        room = Darkroom(seed, 3.4, 0.3)
        sail, _, boat = (room.on_paper(ev) for ev in room.evs)
        held["excess"] += abs(sail - boat - room.range_log10 / STOP - excess) <= 1.2816 * doubt
        held["shadows"] += answer.shadows_ev.low <= boat - room.shadow_log10 / STOP <= answer.shadows_ev.high
        held["highlights"] += answer.highlights_ev.low <= sail - room.highlight_log10 / STOP <= answer.highlights_ev.high
        set_ev = answer.set_ev.value + room.random.gauss(0, 0.3)
        for name, ev, low, high in zip(("sail", "planks", "boat"), room.evs, answer.part_low, answer.part_high, strict=True):
            held[name] += low <= room.density((room.on_paper(ev) - set_ev) * STOP) <= high
    told = {name: f"{count / 4:.1f} % +- {(count * (400 - count) / 400) ** 0.5 / 4:.1f}" for name, count in held.items()}
    assert all(0.74 <= count / 400 <= 0.86 for count in held.values()), told


def halved(holds: Callable[[float], bool], low: float, high: float) -> float:
    """Where something begins to hold."""
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def gains(room: Darkroom, share: float) -> tuple[float, float, float, float]:
    """What a pre-exposure costs in this darkroom's black, opens as clear as before, opens by a step sheet, and costs in the highlights."""
    black, shadow = room.density(-9), room.shadow_log10
    enough = room.density(shadow) - room.density(shadow + STOP / 3)

    def both(place: float) -> float:
        return room.density(log10(10**place + share))

    clear = 0.0
    if both(shadow) - both(shadow + STOP / 3) >= enough:
        clear = shadow - halved(lambda place: both(place) - both(place + STOP / 3) >= enough, shadow - 4, shadow)
    point = room.dmin + 0.9 * (both(-9) - room.dmin)
    flat = shadow - halved(lambda place: both(place) <= point, -6, 3)
    return black - both(-9), clear / STOP, max(0.0, flat / STOP), log2(1 + share / 10**room.highlight_log10)


def test_what_pre_exposure_does_lies_within_the_limits_four_times_of_five() -> None:
    answer = ask("exposure.preexposure", range_stops=3.4, range_sd_stops=0.3, preexposure_percent=20)
    told = [answer.black_cost_density, answer.shadow_gain_stops, answer.range_gain_stops, answer.highlight_cost_stops]
    truths = [gains(Darkroom(seed, 3.4, 0.3), 0.2) for seed in range(400)]
    held = [sum(one.low <= truth[at] <= one.high for truth in truths) / 400 for at, one in enumerate(told)]
    errors = [f"{share:.3f} +- {(share * (1 - share) / 400) ** 0.5:.3f}" for share in held]
    assert all(0.74 <= share <= 0.90 for share in held), errors


def test_pre_exposure_says_what_it_costs_and_that_it_holds_no_highlights() -> None:
    answer = ask("exposure.preexposure", range_stops=3.4, range_sd_stops=0.2)
    assert answer.black_cost_density.value == pytest.approx(0.10, abs=0.001)
    assert answer.black_cost_density.low < 0.10 < answer.black_cost_density.high
    assert answer.range_gain_stops.value > answer.shadow_gain_stops.value > 0
    assert answer.highlight_cost_stops.value > 0
    assert "preexposure-opens-shadows" in notes(answer)
    share = answer.preexposure_percent.value / 100
    assert answer.under_grey_stops.value == pytest.approx(-log2(share))
    assert answer.less_stops.value == pytest.approx(-log2(1 - share))


def test_pre_exposed_tones_keep_the_grey_and_lighten_the_blacks() -> None:
    answer = ask("exposure.preexposure", range_stops=3.4, preexposure_percent=20, tones_stops="-3 -1 0 2")
    assert answer.after_density[2] == pytest.approx(answer.before_density[2], abs=0.002)
    assert answer.after_density[0] < answer.before_density[0]
    assert answer.after_density[3] > answer.before_density[3]


def test_a_scene_is_shorter_after_pre_exposure() -> None:
    """Against the highlight, the share is the strength less the highlight point: 2.20 log10 by 5 % leaves 1.27."""
    found = ask("exposure.preexposure", preexposure_percent=10, scene_stops=2.2 / STOP, **OWN)
    share = 0.1 / 10 ** (0.54 - 0.076)
    assert found.image_stops.value == pytest.approx(log10((1 + share) / (10**-2.2 + share)) / STOP)


def test_the_card_is_timed_from_the_picture() -> None:
    """97 s by the meter at EV 10 without reciprocity; the card reads 1.5 stops more; a fifth of it: 6.86 s, and 13.7 s a stop further down."""
    given_all = {"preexposure_percent": 20, "range_stops": 3, "reading_ev": 10, "card_ev": 11.5, "exposure_s": 97, "reciprocity_model": "none"}
    answer = ask("exposure.preexposure", aperture_f="f/22", **given_all)
    assert answer.card_s.value == pytest.approx(97 * 0.2 / 2**1.5)
    assert answer.picture_s.value == pytest.approx(97 * 0.8, rel=1e-6)
    assert answer.card_f == (32, 45, 64)
    assert answer.card_at_s == pytest.approx([97 * 0.2 / 2**1.5 * 2**down for down in (1, 2, 3)])
    assert answer.card_s.low < answer.card_s.value < answer.card_s.high


@pytest.mark.parametrize(("tone", "density"), [("highlight with texture", 0.09 + 0.15), ("skin", 0.45), ("shadow with detail", 0.09 + 0.8 * 1.79)])
def test_the_card_is_timed_from_the_grey_that_the_reading_means(tone: str, density: float) -> None:
    """A grey lies as far from a read tone as that tone lies from the grey on the curve: asked back through the table of tones."""
    given_all = {"preexposure_percent": 20, "reading_ev": 10, "card_ev": 10, "exposure_s": 97, "reciprocity_model": "none", **OWN}
    grey, other = (ask("exposure.preexposure", **given_all, reading_tone=one).card_s.value for one in ("mid-grey", tone))
    above_stops = log2(grey / other)
    assert (above_stops > 0) is (tone != "shadow with detail"), "a light part was read: the grey beside it is darker, and its share less"
    back = ask("exposure.preexposure", **given_all, tones_stops=f"0 {above_stops}").before_density
    assert back[0] == pytest.approx(0.98 + 0.076 / 0.15 * (0.55 - 0.98)), "on the line between two points"
    assert back[1] == pytest.approx(density, abs=0.005)


def test_light_on_the_subject_and_a_meter_of_another_constant_meet_on_its_scale() -> None:
    """2560 lx are EV 10 to a flat receptor; a spot meter of K 14 reads such a grey 0.16 lower, and that is what is set on it."""
    rows = "reading_lx,reading_ev,becomes\n2560,,\n,12.5,light with tone\n,8,dark with detail"
    for k, ev in ((12.5, 10), (14, 10 - log2(14 / 12.5))):
        answer = ask("exposure.scene", readings=rows, incident_head="flat", meter_k=k, range_stops=6, exposed_for="as read", flare_percent=0)
        assert answer.set_ev.value == pytest.approx(ev)


@pytest.mark.parametrize(
    ("given", "fields"),
    [
        ({"preexposure_percent": 20, "black_lost_density": 0.1}, ["black_lost_density"]),
        ({"card_ev": 10}, ["reading_ev"]),
        ({"card_ev": 10, "reading_ev": 9}, ["exposure_s"]),
        ({"black_lost_density": 2.5}, ["black_lost_density"]),
        ({"black_lost_density": 1.2}, ["black_lost_density"]),
    ],
)
def test_half_a_pre_exposure_is_refused(given: dict[str, object], fields: list[str]) -> None:
    assert faults("exposure.preexposure", **given) == fields


def test_each_way_to_less_contrast_has_its_own_effect_or_none() -> None:
    """Grade 3 to 2: 0.175 log10. Fill light for 1.2 stops: 1.3 times what is there. Of developers nothing is known."""
    answer = ask("exposure.contrast", too_long_stops=1.2, contrast_of="graded", grade=3)
    assert answer.grade_gain_stops.value == pytest.approx(0.175 / STOP)
    assert answer.filter_gain_stops.value is None
    assert answer.developer_gain_stops.value is None
    assert answer.fill_gain_stops.value == pytest.approx(1.2)
    assert answer.fill_light_factor.value == pytest.approx(2**1.2 - 1)
    assert len(answer.ways) == 5
    assert sum("unknown" in one.split(".")[0] for one in answer.ways) == 2
    assert "0.6 stop too little alone" in answer.ways[0]
    assert "1.4, enough" in answer.ways[-1]
    low, value, high = answer.preexposure_gain_stops.low, answer.preexposure_gain_stops.value, answer.preexposure_gain_stops.high
    alone = ask("exposure.preexposure", grade=3)
    assert low <= alone.shadow_gain_stops.value <= value <= alone.range_gain_stops.value <= high


def test_an_own_test_replaces_what_is_printed_or_unknown() -> None:
    answer = ask("exposure.contrast", too_long_stops=1.2, own_gains="first developer,0.8,0.2,half strength\nfilter,1.4,,amber")
    assert answer.developer_gain_stops.value == pytest.approx(0.8)
    assert answer.filter_gain_stops.value == pytest.approx(1.4)
    assert any("your own test: half strength" in one for one in answer.ways)
    assert not any("published" in one for one in answer.ways)
    assert faults("exposure.contrast", too_long_stops=1, own_gains="filter,1\nfilter,2") == ["own_gains"]


def test_a_scene_that_fits_needs_no_way() -> None:
    assert "scene-fits" in notes(ask("exposure.contrast", too_long_stops=0))


def test_a_step_sheet_made_with_pre_exposure_tells_the_gain() -> None:
    """Twelve patches of the closed form, each with a third of the mid-grey's light more, given to the question about step sheets."""
    exposures = [number * 0.15 - 1.5 for number in range(16)]
    plain, flashed = ([0.1 + 1.65 / (1 + exp(7.0 * (log10(10**x + more) - 0.0))) for x in exposures] for more in (0.0, 0.33 * 10**0.063))
    ranges = [ask("sensitometry.curve", exposure_log10=exposures, densities=one).range_stops.value for one in (plain, flashed)]
    usual = ask("exposure.preexposure", preexposure_percent=33)
    gained = usual.range_gain_stops.value - usual.highlight_cost_stops.value
    assert ranges[1] - ranges[0] == pytest.approx(gained, abs=0.25)


@pytest.mark.parametrize("figure", ["shadow_log10", "highlight_log10", "middle_log10", "shadow_sd_log10"])
def test_a_figure_of_a_curve_without_the_curve_asks_for_it(figure: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        find("exposure.scene").ask({"readings": "10,mid-grey,planks", figure: 0.2})
    assert [(fault.field, "give the curve too" in fault.problem) for fault in caught.value.faults] == [(figure, True)]


@pytest.mark.parametrize("row", ["0,0.8,0.9,1.0", "0,0.8,0.6,0.7"])
def test_a_point_outside_its_own_band_is_refused_with_both_named(row: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        find("exposure.scene").ask(
            {"readings": "10,mid-grey,planks", "curve": f"exposure_log10,density,low,high\n-0.6,1.8,1.7,1.9\n{row}\n0.6,0.1,,"}
        )
    (fault,) = caught.value.faults
    assert fault.field == "curve"
    assert "density 0.8 lies outside its own band" in fault.problem


def test_a_typed_range_that_the_grade_contradicts_counts_and_says_so() -> None:
    def disagreeing(range_stops: float) -> str:
        answer = find("exposure.scene").ask({"readings": "10,mid-grey,planks", "range_stops": range_stops, "range_sd_stops": 0.1, "grade": 2})
        return " ".join(note.sentence for note in answer.notes if note.note is Note.ROUTES_DISAGREE)

    far, near = range_of_grade(2)[0] + 3, range_of_grade(2)[0]
    assert "grade 2, which tells" in disagreeing(far)
    assert disagreeing(near) == ""


def test_a_pre_exposure_that_cannot_be_timed_yet_says_how_to_give_it() -> None:
    def told(**more: object) -> bool:
        return any(note.note is Note.PREEXPOSURE_BY_CARD for note in ask("exposure.preexposure", range_stops=3.4, **more).notes)

    assert told(preexposure_percent=20)
    assert not told(preexposure_percent=20, reading_ev=10, exposure_s=97, aperture_f=22, card_ev=11.5)
