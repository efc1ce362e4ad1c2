"""The balance of charges against the roots of its polynomial, against the formulas of chemicals, and in what must always hold."""

import re
from itertools import pairwise
from math import log10, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.acidity import (
    among_ions,
    bare_share,
    base_to_ph_mol_per_l,
    charge_mol_per_l,
    davies_log10,
    ionic_strength_mol_per_l,
    lost_protons,
    ph_of,
    ph_sd,
    pk_at,
    reserve_sd_mol_per_l,
    with_base,
)
from silverwright.errors import BadQuestion, OutOfRange
from silverwright.facts.load import facts, table
from silverwright.questions.acidity import acidity_of, ions_of, parts_of, unknown_in
from silverwright.questions.ph import PH_OF
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Contents, IonAt

KW = 14.0
CITRATE = (3.128, 4.761, 6.396)
AMOUNTS = st.floats(0, 2)
DAVIES = 0.509


def by_roots(ions: list[IonAt]) -> float:
    """
    The second route: the same balance as a polynomial in [H+], solved by the eigenvalues of its companion matrix.

    Each acid's term is a ratio of polynomials in h; multiplied through by all denominators and by h.
    """
    h = np.poly1d([1.0, 0.0])
    bottoms, tops = [], []
    for one in ions:
        bottom, top = np.poly1d([0.0]), np.poly1d([0.0])
        product = 1.0
        for count in range(len(one.pk) + 1):
            product *= 10 ** -one.pk[count - 1] if count else 1.0
            term = product * h ** (len(one.pk) - count)
            bottom, top = bottom + term, top + (one.charge - count) * term
        bottoms.append(bottom)
        tops.append(one.mol_per_l * top)
    whole = np.poly1d([1.0])
    for bottom in bottoms:
        whole = whole * bottom
    balance = (h * h - 10**-KW) * whole
    for place, top in enumerate(tops):
        rest = np.poly1d([1.0])
        for other, bottom in enumerate(bottoms):
            rest = rest * bottom if other != place else rest
        balance = balance + h * top * rest
    real = [root.real for root in balance.roots if abs(root.imag) < 1e-9 * abs(root) and root.real > 0]
    return float(-log10(max(real)))


@given(AMOUNTS.filter(lambda one: one > 1e-4), st.floats(0, 0.3), st.floats(0, 0.5))
def test_two_routes_to_citric_acid_with_carbonate(citric: float, carbonate: float, acetate: float) -> None:
    ions = [
        IonAt("citrate", 0, citric, CITRATE),
        IonAt("sodium", 1, min(2 * carbonate, citric)),
        IonAt("carbonate", 0, min(carbonate, citric / 2), (6.35, 10.33)),
        IonAt("acetate", 0, acetate, (4.756,)),
    ]
    assert ph_of(ions, KW) == pytest.approx(by_roots(ions), abs=2e-6)


@pytest.mark.parametrize("citric", [0.052, 0.104, 0.156, 0.260, 0.364, 0.520])
def test_citric_acid_by_its_first_constant(citric: float) -> None:
    """The third route: h^2 / (c - h) = K1 is off by no more than its second proton."""
    first = 10 ** -CITRATE[0]
    h = (-first + sqrt(first**2 + 4 * first * citric)) / 2
    assert ph_of([IonAt("citrate", 0, citric, CITRATE)], KW) == pytest.approx(-log10(h), abs=0.003)


def test_textbook_solutions() -> None:
    """Strong acid and alkali, of a weak acid, of a buffer at its half-way point, of a salt between two constants."""
    assert ph_of([IonAt("chloride", -1, 0.01)], KW) == pytest.approx(2, abs=1e-9)
    assert ph_of([IonAt("sodium", 1, 0.01)], KW) == pytest.approx(12, abs=1e-9)
    assert ph_of([], KW) == pytest.approx(7, abs=1e-9)
    assert ph_of([IonAt("acetate", 0, 0.1, (4.756,))], KW) == pytest.approx(2.88, abs=0.005)
    assert ph_of([IonAt("acetate", 0, 0.2, (4.756,)), IonAt("sodium", 1, 0.1)], KW) == pytest.approx(4.756, abs=1e-3)
    assert ph_of([IonAt("carbonate", 0, 0.1, (6.35, 10.33)), IonAt("sodium", 1, 0.1)], KW) == pytest.approx((6.35 + 10.33) / 2, abs=0.01)


@given(st.floats(-5, 20), st.lists(st.floats(-3, 15), max_size=4).map(sorted))
def test_protons_are_lost_one_after_the_other(ph: float, pk: list[float]) -> None:
    lost = lost_protons(ph, pk)
    assert 0 <= lost <= len(pk) + 1e-12
    assert lost_protons(ph + 0.1, pk) >= lost - 1e-12
    assert 0 <= bare_share(ph, pk) <= 1 + 1e-12
    slope = (lost_protons(ph + 1e-4, pk) - lost_protons(ph - 1e-4, pk)) / 2e-4
    assert slope >= -1e-9
    if len(pk) == 1:
        assert lost == pytest.approx(bare_share(ph, pk))
        assert lost == pytest.approx(1 / (1 + 10 ** (pk[0] - ph)))


@given(AMOUNTS, AMOUNTS, st.floats(0, 14))
def test_the_reserve_is_what_takes_it_there(citric: float, sodium: float, to_ph: float) -> None:
    ions = [IonAt("citrate", 0, citric, CITRATE), IonAt("sodium", 1, sodium)]
    base = base_to_ph_mol_per_l(to_ph, ions, KW)
    assert ph_of(with_base(ions, base), KW) == pytest.approx(to_ph, abs=1e-6)


@given(AMOUNTS.filter(lambda one: one > 1e-5), st.floats(0, 1), st.floats(1e-4, 1))
def test_alkali_raises_and_acid_lowers(citric: float, sodium: float, more: float) -> None:
    ions = [IonAt("citrate", 0, citric, CITRATE), IonAt("sodium", 1, sodium)]
    assert ph_of(with_base(ions, more), KW) > ph_of(ions, KW) > ph_of(with_base(ions, -more), KW)


@given(AMOUNTS.filter(lambda one: one > 1e-4), st.floats(0, 1))
def test_charges_balance_at_the_ph(citric: float, sodium: float) -> None:
    ions = [IonAt("citrate", 0, citric, CITRATE), IonAt("sodium", 1, sodium)]
    assert charge_mol_per_l(ph_of(ions, KW), ions, KW) == pytest.approx(0, abs=1e-9)


def test_davies_rule_moves_plain_citric_acid_by_less_than_a_hundredth_and_a_half() -> None:
    for citric in (0.052, 0.26, 0.52):
        ions = [IonAt("citrate", 0, citric, CITRATE)]
        assert ph_sd(ph_of(ions, KW), ions, KW, DAVIES) < 0.015


def test_davies_rule_by_its_known_figures() -> None:
    """At 0.1 mol/L an ion of one charge has 0.78 of its activity, and 0.9 at 0.01."""
    assert 10 ** -davies_log10(0.1, DAVIES) == pytest.approx(0.78, abs=0.01)
    assert 10 ** -davies_log10(0.01, DAVIES) == pytest.approx(0.90, abs=0.01)
    assert davies_log10(5, DAVIES) == davies_log10(0.5, DAVIES)
    with pytest.raises(OutOfRange):
        davies_log10(-0.1, DAVIES)


def test_ionic_strength_of_salts() -> None:
    """1:1 counts once, 2:1 three times."""
    assert ionic_strength_mol_per_l(7, [IonAt("potassium", 1, 0.1), IonAt("bromide", -1, 0.1)], KW) == pytest.approx(0.1, rel=1e-5)
    sulphate = [IonAt("sodium", 1, 0.2), IonAt("sulphate", -1, 0.1, (1.99,))]
    assert ionic_strength_mol_per_l(9, sulphate, KW) == pytest.approx(0.3, rel=1e-3)


def test_constants_move_with_the_charge() -> None:
    moved = among_ions([IonAt("citrate", 0, 1.0, CITRATE), IonAt("ammonium", 1, 1.0, (9.25,))], 0.1)
    assert [one - other for one, other in zip(CITRATE, moved[0].pk, strict=True)] == pytest.approx([0.1, 0.3, 0.5])
    assert moved[1].pk[0] - 9.25 == pytest.approx(0.1)


def test_the_doubt_is_what_moved_constants_make_of_it() -> None:
    """Constants moved by their doubt, the balance solved again: the second route to the propagated doubt, without Davies' part."""
    ions = [IonAt("citrate", 0, 0.26, CITRATE, (0.1, 0.1, 0.1)), IonAt("sodium", 1, 0.1)]
    told = ph_sd(ph_of(ions, KW), ions, KW, 0.0)
    parts = [
        ph_of([IonAt("citrate", 0, 0.26, tuple(pk + 0.1 * (place == step) for place, pk in enumerate(CITRATE))), ions[1]], KW) - ph_of(ions, KW)
        for step in range(3)
    ]
    assert told == pytest.approx(sqrt(sum(part**2 for part in parts)), rel=0.02)


def test_water_is_neutral_below_seven_when_warm() -> None:
    """The ion product of water as tables have it from memory: 14.94 at 0 °C, 14.17 at 20, 13.53 at 40."""
    heat = facts("acid")["water_heat"].value
    for celsius, told in ((0, 14.94), (20, 14.17), (40, 13.53)):
        assert pk_at(celsius, KW, heat) == pytest.approx(told, abs=0.05)
    with pytest.raises(OutOfRange):
        pk_at(-280, KW, heat)


# --- what substances fall apart into ---
ATOM = re.compile(r"([A-Z][a-z]?)(\d*)")


def atoms(formula: str) -> dict[str, float]:
    """Atoms of `Na2CO3.10H2O`, `(NH4)2S2O3`."""
    found: dict[str, float] = {}
    for part in formula.split("."):
        count, body = re.fullmatch(r"(\d*)(.*)", part).groups()  # type: ignore[union-attr]
        flat = re.sub(r"\(([^()]*)\)(\d*)", lambda match: match[1] * int(match[2] or 1), body)
        for element, many in ATOM.findall(flat):
            found[element] = found.get(element, 0) + int(count or 1) * int(many or 1)
    return found


@pytest.mark.parametrize("key", [row["substance"] for row in table("dissolved")])
def test_what_a_substance_falls_into_holds_its_atoms(key: str) -> None:
    """Every atom but hydrogen and oxygen is found again, and as many protons as the formula has or water gives."""
    parts = parts_of(key)
    assert parts is not None
    kinds = {row["ion"]: row for row in table("ions")}
    held: dict[str, float] = {}
    for ion, count in parts:
        for element, many in atoms(kinds[ion]["formula"]).items():
            held[element] = held.get(element, 0) + count * many
    formula = atoms(substances()[key].formula)
    if parts:
        assert {one: many for one, many in held.items() if one not in "HO"} == {one: many for one, many in formula.items() if one not in "HO"}
        protons = sum(count * int(kinds[ion]["charge"]) for ion, count in parts)
        water = formula.get("O", 0) - held.get("O", 0)
        assert held.get("H", 0) - protons == formula.get("H", 0) - 2 * water


def test_a_hydrate_is_its_salt() -> None:
    crystals, dry = substances()["sodium_carbonate_decahydrate"], substances()["sodium_carbonate"]
    wet = acidity_of(Contents(1000, {crystals.key: crystals.molar_g_per_mol / 10}))
    plain = acidity_of(Contents(1000, {dry.key: dry.molar_g_per_mol / 10}))
    assert wet is not None
    assert plain is not None
    assert wet.ph == pytest.approx(plain.ph)


def test_nothing_is_told_of_what_is_not_known() -> None:
    assert acidity_of(Contents(1000, {"sawdust": 1})) is None
    assert unknown_in(Contents(1000, {"sawdust": 1, "citric_acid": 1})) == ("sawdust",)
    assert acidity_of(Contents(0, {"citric_acid": 1})) is None
    assert ions_of(Contents(1000, {})) == ()


def test_the_silver_of_a_used_bath_hides_no_acidity() -> None:
    """A ledger counts dissolved silver as metal and takes the acid that it cost by itself: here it is passed over."""
    fresh, used = acidity_of(Contents(1000, {"citric_acid": 50})), acidity_of(Contents(1000, {"citric_acid": 50, "silver": 0.4}))
    assert fresh == used


def test_plain_peroxide_is_a_guess_and_an_acid_bath_is_not() -> None:
    plain, bath = acidity_of(Contents(1000, {"hydrogen_peroxide": 61})), acidity_of(Contents(1000, {"hydrogen_peroxide": 93, "citric_acid": 50}))
    assert plain is not None
    assert bath is not None
    assert plain.ph > 4
    assert plain.ph_sd > 0.8
    assert bath.ph == pytest.approx(1.87, abs=0.03)
    assert bath.ph_sd < 0.05


def test_a_glass_electrode_would_take_more_alkali() -> None:
    """At pH 4 citric acid is half salt: by Davies' rule its constants lie 0.1 to 0.4 lower, and 19 % more alkali goes in."""
    ions = [IonAt("citrate", 0, 0.26, CITRATE)]
    assert reserve_sd_mol_per_l(4, ions, KW, DAVIES, 0.0) / base_to_ph_mol_per_l(4, ions, KW) == pytest.approx(0.19, abs=0.03)


@given(st.floats(0.01, 200), st.floats(0, 100), st.floats(-4, 59), st.floats(1, 100000))
def test_every_answer_has_limits_that_hold_it(citric: float, soda: float, celsius: float, volume_ml: float) -> None:
    rows = [{"substance": "citric acid", "amount": citric, "unit": "g/L"}, {"substance": "sodium carbonate", "amount": soda, "unit": "g/L"}]
    told = PH_OF.ask({"ingredients": rows, "temperature_celsius": celsius, "volume_ml": volume_ml})
    for one in (told.ph, told.acid_reserve_mmol_per_l, told.alkali_reserve_mmol_per_l):
        assert one.value is not None
        assert one.low is None or one.low <= one.value
        assert one.high is None or one.value <= one.high
    assert all(later >= before for before, later in pairwise(told.then_ph))


def test_what_cannot_be_answered_is_said() -> None:
    with pytest.raises(BadQuestion, match="Nothing is in it yet"):
        PH_OF.ask({})
    with pytest.raises(BadQuestion, match=r"Of “sawdust” it is not known"):
        PH_OF.ask({"ingredients": "sawdust; 5; g"})


def test_where_one_stops_reading_is_doubt_too() -> None:
    """Without Davies' part: the slope of the reserve at its end times the doubt of that end, by differences."""
    ions = [IonAt("citrate", 0, 0.26, CITRATE)]
    told = reserve_sd_mol_per_l(4, ions, KW, 0.0, 0.03)
    assert told == pytest.approx(base_to_ph_mol_per_l(4.03, ions, KW) - base_to_ph_mol_per_l(4, ions, KW), rel=1e-9)
    assert told > 0


def test_constants_follow_the_temperature() -> None:
    """Ammonia by its heat of 52 kJ/mol: 9.244 at 25 °C, 9.40 at 20, by van 't Hoff's rule worked out apart."""
    warm, room = (ions_of(Contents(1000, {"ammonium_chloride": 1}), celsius) for celsius in (25, 20))
    assert warm is not None
    assert room is not None
    assert warm[0].pk[0] == pytest.approx(9.244)
    assert room[0].pk[0] == pytest.approx(9.244 + 52000 / 8.314 / 2.3026 * (1 / 293.15 - 1 / 298.15), abs=1e-3)


def test_strong_solutions_are_told_rougher() -> None:
    """Above half a mole of ions the doubt grows by 0.3 with each tenfold, beside Davies' own part, which grows no further."""
    strong, stronger = (acidity_of(Contents(1000, {"potassium_bromide": 119.0018 * mol, "acetic_acid": 6})) for mol in (5, 50))
    assert strong is not None
    assert stronger is not None
    assert strong.rough
    assert stronger.rough
    assert sqrt(stronger.ph_sd**2 - 0.6**2) == pytest.approx(sqrt(strong.ph_sd**2 - 0.3**2), abs=0.01)


def notes_of(**given: object) -> set[str]:
    return {str(one.note) for one in PH_OF.ask(given).notes}


def test_what_can_hurt_is_said_and_nothing_else() -> None:
    assert "ph-extreme" in notes_of(ingredients="citric acid; 5; % w/v")
    assert "ph-extreme" in notes_of(ingredients="sodium hydroxide; 5; g/L")
    assert "ph-extreme" not in notes_of(ingredients="borax; 5; g/L")
    assert "gas-in-acid" in notes_of(ingredients="citric acid; 5; % w/v\nsodium sulphite; 5; g/L")
    assert "gas-in-acid" not in notes_of(ingredients="sodium carbonate; 30; g/L\nsodium sulphite; 20; g/L")
    assert "reacts-uncounted" in notes_of(ingredients="hydrogen peroxide; 3; % w/w\nsodium sulphite; 5; g/L")


def test_a_reading_is_held_against_the_balance() -> None:
    bleach = "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/v"
    assert {"ph-disagrees", "ph-strip-peroxide"} <= notes_of(ingredients=bleach, measured_ph=3)
    assert "ph-disagrees" not in notes_of(ingredients=bleach, measured_ph=2)
    assert "ph-disagrees" in notes_of(ingredients=bleach, measured_ph=2.2, measured_with="meter")
    assert "ph-strip-peroxide" not in notes_of(ingredients=bleach, measured_ph=2.2, measured_with="meter")
    assert "ph-strip-peroxide" not in notes_of(ingredients="citric acid; 5; % w/v", measured_ph=2)


def test_plain_peroxide_says_that_it_is_a_guess() -> None:
    assert "ph-stabiliser" in notes_of(ingredients="hydrogen peroxide; 6; % w/w")
    assert "ph-stabiliser" not in notes_of(ingredients="hydrogen peroxide; 6; % w/w\ncitric acid; 5; % w/v")


@pytest.mark.slow
@pytest.mark.parametrize("citric", [0.052, 0.104, 0.260, 0.520])
@pytest.mark.parametrize("carbonate", [0.0, 0.01, 0.05])
def test_a_published_solver_where_it_is_installed(citric: float, carbonate: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """The fourth route, left out where the package is not there; it asks for a name that numpy has dropped, which is given back to it here."""
    solver = pytest.importorskip("pHcalc.pHcalc")
    monkeypatch.setattr(np, "cumproduct", np.cumprod, raising=False)
    parts = [
        solver.Acid(pKa=list(CITRATE), charge=0, conc=citric),
        solver.Acid(pKa=[6.352, 10.329], charge=0, conc=carbonate),
        solver.Inert(charge=1, conc=2 * carbonate),
    ]
    system = solver.System(*parts)
    system.pHsolve(guess_est=True)
    ions = [IonAt("citrate", 0, citric, CITRATE), IonAt("carbonate", 0, carbonate, (6.352, 10.329)), IonAt("sodium", 1, 2 * carbonate)]
    assert ph_of(ions, KW) == pytest.approx(float(system.pH), abs=0.005)
