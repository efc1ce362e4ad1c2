"""Nothing is lost and nothing comes from nowhere: a thousand random histories of baths that are split and poured together."""

from fractions import Fraction
from math import isclose

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, consumes, invariant, rule

from silverwright.chemistry.balance import Balance, disposed, found, measured_again, moved, parted, poured, used
from silverwright.errors import OutOfRange
from silverwright.records_chemistry import Contents

KEYS = ("hydrogen_peroxide", "citric_acid", "silver")
HISTORIES = 1000
grams = st.floats(0, 500)
masses = st.dictionaries(st.sampled_from(KEYS), grams, max_size=3)
volumes_ml = st.floats(1, 5000)
shares = st.floats(0, 1)
brought = st.builds(Contents, st.floats(0, 50), masses)


class Shelf(RuleBasedStateMachine):
    """Baths by their number, and beside them an account in exact fractions that knows no bath: what came in from outside."""

    baths = Bundle("baths")

    def __init__(self) -> None:
        super().__init__()
        self.known: dict[int, Balance] = {}
        self.in_g: dict[str, Fraction] = dict.fromkeys(KEYS, Fraction(0))
        self.most_g: dict[str, Fraction] = dict.fromkeys(KEYS, Fraction(0))
        self.waste_g: dict[str, float] = dict.fromkeys(KEYS, 0.0)

    def _outside(self, key: str, mass_g: float) -> None:
        self.in_g[key] += Fraction(mass_g)
        self.most_g[key] += abs(Fraction(mass_g))

    @rule(target=baths, volume_ml=volumes_ml, mass_g=masses)
    def make(self, volume_ml: float, mass_g: dict[str, float]) -> int:
        number = len(self.known)
        self.known[number] = poured(Balance(), Contents(volume_ml, mass_g))
        for key, mass in mass_g.items():
            self._outside(key, mass)
        return number

    @rule(bath=baths, volume_ml=volumes_ml, mass_g=masses)
    def replenish(self, bath: int, volume_ml: float, mass_g: dict[str, float]) -> None:
        self.known[bath] = poured(self.known[bath], Contents(volume_ml, mass_g))
        for key, mass in mass_g.items():
            self._outside(key, mass)

    @rule(bath=baths, brought=brought, share=shares, spent_g=masses, silver_g=st.floats(0, 1))
    def use(self, bath: int, brought: Contents, share: float, spent_g: dict[str, float], silver_g: float) -> None:
        before = self.known[bath]
        carried_ml = share * (before.bath.volume_ml + brought.volume_ml)
        self.known[bath] = used(before, brought, carried_ml, spent_g, {"silver": silver_g})
        for key, mass in (*brought.mass_g.items(), ("silver", silver_g)):
            self._outside(key, mass)

    @rule(bath=baths, key=st.sampled_from(KEYS), mass_g=grams)
    def test(self, bath: int, key: str, mass_g: float) -> None:
        self.most_g[key] += Fraction(mass_g)
        self.known[bath] = found(self.known[bath], key, mass_g)
        assert self.known[bath].bath.mass_g[key] == mass_g

    @rule(bath=baths, volume_ml=volumes_ml)
    def leave_open(self, bath: int, volume_ml: float) -> None:
        before = self.known[bath]
        self.known[bath] = measured_again(before, volume_ml)
        assert self.known[bath].bath.mass_g == before.bath.mass_g

    @rule(target=baths, bath=baths, share=shares)
    def split(self, bath: int, share: float) -> int:
        number = len(self.known)
        self.known[bath], self.known[number] = moved(self.known[bath], Balance(), share * self.known[bath].bath.volume_ml)
        return number

    @rule(bath=consumes(baths), into=baths)
    def merge(self, bath: int, into: int) -> None:
        if bath != into:
            self.known[bath], self.known[into] = moved(self.known[bath], self.known[into], self.known[bath].bath.volume_ml)
            assert all(isclose(mass, 0, abs_tol=1e-9) for mass in self.known[bath].bath.mass_g.values())

    @rule(bath=baths, share=shares)
    def discard(self, bath: int, share: float) -> None:
        self.known[bath], waste = disposed(self.known[bath], share * self.known[bath].bath.volume_ml)
        for key, mass in waste.mass_g.items():
            self.waste_g[key] += mass

    @invariant()
    def each_bath_adds_up(self) -> None:
        for balance in self.known.values():
            for key in KEYS:
                assert isclose(balance.came_in_g(key), balance.went_g(key), rel_tol=1e-9, abs_tol=1e-9 * float(self.most_g[key]))

    @invariant()
    def all_together_adds_up(self) -> None:
        """By the account beside: what came from outside is somewhere, whatever was moved between the baths."""
        for key in KEYS:
            somewhere = sum((Fraction(balance.went_g(key)) for balance in self.known.values()), Fraction(0))
            assert abs(somewhere - self.in_g[key]) <= Fraction(1, 10**9) * self.most_g[key]
            assert isclose(sum(one.disposed_g.get(key, 0.0) for one in self.known.values()), self.waste_g[key], rel_tol=1e-9, abs_tol=1e-12)

    @invariant()
    def nothing_is_below_nothing(self) -> None:
        for balance in self.known.values():
            assert balance.bath.volume_ml >= 0
            assert all(mass >= 0 for mass in balance.bath.mass_g.values())


TestHistories = Shelf.TestCase
TestHistories.settings = settings(max_examples=HISTORIES, stateful_step_count=12, deadline=None, derandomize=True)


def test_sheets_dilute_a_bath_as_the_power_says() -> None:
    """Twenty sheets of 4 mL through a litre: (V/(V+v))^n, as chemistry of photography has it."""
    balance = poured(Balance(), Contents(1000, {"citric_acid": 50}))
    for _ in range(20):
        balance = used(balance, Contents(4), 4, {}, {})
    assert balance.bath.volume_ml == pytest.approx(1000)
    assert balance.bath.mass_g["citric_acid"] / 50 == pytest.approx(0.923, abs=0.0005)


def test_no_more_reacts_than_is_there() -> None:
    balance = used(poured(Balance(), Contents(100, {"citric_acid": 1})), Contents(0), 0, {"citric_acid": 3}, {})
    assert balance.bath.mass_g["citric_acid"] == 0
    assert balance.reacted_g["citric_acid"] == 1


@pytest.mark.parametrize("volume_ml", [-1, 101, float("nan")])
def test_nobody_pours_off_more_than_there_is(volume_ml: float) -> None:
    with pytest.raises(OutOfRange):
        parted(Contents(100, {"silver": 1}), volume_ml)


def test_less_than_nothing_is_refused() -> None:
    start = poured(Balance(), Contents(100, {"silver": 1}))
    with pytest.raises(OutOfRange):
        poured(start, Contents(-1))
    with pytest.raises(OutOfRange):
        found(start, "silver", -1)
    with pytest.raises(OutOfRange):
        measured_again(start, 0)
    with pytest.raises(OutOfRange):
        used(start, Contents(0), 0, {"silver": -1}, {})
