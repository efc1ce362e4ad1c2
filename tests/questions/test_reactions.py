"""Every reaction of the table is balanced in atoms and charge, and no element goes one way out of two states: so 2:5:6 is right and 2:1:6 wrong."""

import re
from collections import Counter
from itertools import product

import pytest

from silverwright.facts.load import table
from silverwright.questions.reactions import printed, reactions

TERM = re.compile(r"(?:(\d+) )?(.+)")
CHARGE = re.compile(r"\((\d*)([+-])\)$")
ATOM = re.compile(r"([A-Z][a-z]?)(\d*)")
USUAL = {"H": 1, "O": -2, "Na": 1, "K": 1, "Cl": -1, "Br": -1, "I": -1}
WRONG = "2 MnO4(-) + H2O2 + 6 H(+) -> 2 Mn(2+) + 3 O2 + 4 H2O"


def side(text: str) -> list[tuple[int, str, int]]:
    """How many of each formula, and its charge."""
    found = []
    for term in text.split(" + "):
        many, formula = TERM.fullmatch(term.strip()).groups()  # type: ignore[union-attr]
        match = CHARGE.search(formula)
        charge = int(match[1] or 1) * (1 if match[2] == "+" else -1) if match else 0
        found.append((int(many or 1), CHARGE.sub("", formula), charge))
    return found


def sides(equation: str) -> tuple[list[tuple[int, str, int]], list[tuple[int, str, int]]]:
    left, right = equation.split(" -> ")
    return side(left), side(right)


def atoms(formula: str) -> Counter[str]:
    """Atoms of one formula; brackets multiplied out."""
    while match := re.search(r"\(([^()]*)\)(\d*)", formula):
        formula = formula.replace(match[0], match[1] * int(match[2] or 1), 1)
    found: Counter[str] = Counter()
    for element, many in ATOM.findall(formula):
        found[element] += int(many or 1)
    return found


def total(terms: list[tuple[int, str, int]]) -> tuple[Counter[str], int]:
    count: Counter[str] = Counter()
    for many, formula, _ in terms:
        for element, each in atoms(formula).items():
            count[element] += many * each
    return count, sum(many * charge for many, _, charge in terms)


def states(formula: str, charge: int) -> dict[str, float]:
    """Oxidation numbers of a formula, one for each element (on average), by the usual rules."""
    inside = atoms(formula)
    if len(inside) == 1:
        element, many = next(iter(inside.items()))
        return {element: charge / many}
    known: dict[str, float] = dict(USUAL)
    if formula == "H2O2":
        known["O"] = -1
    if formula.startswith("ClO"):
        del known["Cl"]
    if "CN" in formula:
        known |= {"C": 2, "N": -3}
    if "Ag" in inside:
        known["Ag"] = 1
    left = [element for element in inside if element not in known]
    if len(left) == 1:
        rest = charge - sum(known[element] * many for element, many in inside.items() if element != left[0])
        known[left[0]] = rest / inside[left[0]]
    assert sum(known[element] * many for element, many in inside.items()) == pytest.approx(charge), formula
    return {element: known[element] for element in inside}


def states_of(terms: list[tuple[int, str, int]]) -> dict[str, Counter[float]]:
    """How many atoms of each element are in which state."""
    found: dict[str, Counter[float]] = {}
    for many, formula, charge in terms:
        for element, state in states(formula, charge).items():
            found.setdefault(element, Counter())[state] += many * atoms(formula)[element]
    return found


def mixed_up(equation: str) -> list[str]:
    """Elements that go the same way out of two states: such an equation mixes up two reactions. Two states that meet in the middle are one."""
    left, right = (states_of(terms) for terms in sides(equation))
    found = []
    for element in left:
        out, came = left[element] - right[element], right[element] - left[element]
        upwards = {state for state in out if came and state < min(came)}
        downwards = {state for state in out if came and state > max(came)}
        found += [element] * (len(upwards) > 1 or len(downwards) > 1)
    return found


@pytest.mark.parametrize("row", table("reactions"), ids=lambda row: str(row["key"]))
def test_atoms_and_charges_balance(row: dict[str, str]) -> None:
    left, right = sides(row["equation"])
    assert total(left) == total(right)


@pytest.mark.parametrize("row", table("reactions"), ids=lambda row: str(row["key"]))
def test_each_element_changes_out_of_one_state(row: dict[str, str]) -> None:
    assert mixed_up(row["equation"]) == []


@pytest.mark.parametrize("row", table("reactions"), ids=lambda row: str(row["key"]))
def test_as_many_electrons_go_as_come(row: dict[str, str]) -> None:
    left, right = (states_of(terms) for terms in sides(row["equation"]))
    gained = 0.0
    for element in left:
        before, after = left[element], right[element]
        gained += sum(state * many for state, many in before.items()) - sum(state * many for state, many in after.items())
    assert gained == pytest.approx(0)


def test_permanganate_takes_five_peroxides_for_two() -> None:
    row = next(one for one in table("reactions") if one["key"] == "assay_permanganate")
    left, _ = sides(row["equation"])
    assert {formula: many for many, formula, _ in left} == {"MnO4": 2, "H2O2": 5, "H": 6}


def test_two_one_six_is_balanced_and_wrong() -> None:
    """Its oxygen comes half from peroxide and half from water: two reactions in one line."""
    left, right = sides(WRONG)
    assert total(left) == total(right)
    assert mixed_up(WRONG) == ["O"]


def test_the_balance_of_permanganate_and_peroxide_has_many_answers() -> None:
    """Atoms and charges leave one figure free; only the oxygen's origin fixes it."""
    found = []
    for manganese, peroxide in product([2], range(1, 6)):
        protons, water = 6, 3 + peroxide
        oxygen = (4 * manganese + 2 * peroxide - water) / 2
        equation = f"{manganese} MnO4(-) + {peroxide} H2O2 + {protons} H(+) -> {oxygen:g} O2 + {manganese} Mn(2+) + {water} H2O"
        if oxygen == int(oxygen) and total(sides(equation)[0]) == total(sides(equation)[1]):
            found.append((peroxide, mixed_up(equation) == []))
    assert len(found) > 1
    assert [peroxide for peroxide, right in found if right] == [5]


def test_an_equation_is_printed_as_people_write_it() -> None:
    assert printed("2 Ag + H2O2 + 2 H(+) -> 2 Ag(+) + 2 H2O") == "2 Ag + H₂O₂ + 2 H⁺ → 2 Ag⁺ + 2 H₂O"
    assert printed("AgBr + 2 S2O3(2-) -> Ag(S2O3)2(3-) + Br(-)") == "AgBr + 2 S₂O₃²⁻ → Ag(S₂O₃)₂³⁻ + Br⁻"
    assert reactions()["fixing"].source == "from memory, unverified"
