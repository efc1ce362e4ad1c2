"""How acid is it, and how much alkali does it take? The balance of charges with the facts that it needs; what is asked stands in ph.py."""

from functools import cache
from math import hypot, log10
from typing import Final

from silverwright.chemistry.acidity import (
    base_to_ph_mol_per_l,
    citric_pk1,
    ionic_strength_mol_per_l,
    ph_of,
    ph_sd,
    pk_at,
    reserve_sd_mol_per_l,
)
from silverwright.facts.load import fact, facts, table
from silverwright.questions.substances import substance
from silverwright.records_chemistry import Acidity, Contents, IonAt

ROOM_CELSIUS: Final = 20.0  # our judgement: a darkroom, where nobody says how warm it is
STABILISER_MOL_PER_L: Final = 1e-3  # our judgement: as much acid as makes peroxide of a bottle pH 3


def acidity_of(contents: Contents, celsius: float = ROOM_CELSIUS) -> Acidity | None:
    """How acid a solution is; nothing where a substance in it is not known well enough, or where there is no solution."""
    ions = ions_of(contents, celsius)
    return None if ions is None else acidity_of_ions(ions, celsius, stabilised=contents.mass_g.get("hydrogen_peroxide", 0.0) > 0)


def acidity_of_ions(ions: tuple[IonAt, ...], celsius: float = ROOM_CELSIUS, *, stabilised: bool = False) -> Acidity:
    """How acid a solution of these ions is; peroxide out of a bottle has brought some acid of its own."""
    water = water_pk(celsius)
    ph = ph_of(ions, water)
    strong = ionic_strength_mol_per_l(ph, ions, water)
    beyond = log10(max(1.0, strong / fact("acid", "rough_from").value))
    doubt = hypot(ph_sd(ph, ions, water, fact("acid", "davies_slope").value), fact("acid", "floor").sd, fact("acid", "rough").sd * beyond)
    if stabilised:
        doubt = hypot(doubt, _stabiliser_sd(ions, water))
    slope = fact("acid", "davies_slope").value
    reserve_ph, alkali_ph = fact("acid", "reserve_ph").value, fact("acid", "alkali_reserve_ph").value
    acid, alkali = base_to_ph_mol_per_l(reserve_ph, ions, water), -base_to_ph_mol_per_l(alkali_ph, ions, water)
    sd = reserve_sd_mol_per_l(alkali_ph if alkali > 0 else reserve_ph, ions, water, slope, fact("acid", "floor").sd)
    return Acidity(ph, doubt, acid, alkali, sd, rough=beyond > 0)


def ions_of(contents: Contents, celsius: float = ROOM_CELSIUS) -> tuple[IonAt, ...] | None:
    """What is in a litre of it, each substance in the parts into which water takes it; nothing where one is not known well enough."""
    if contents.volume_ml <= 0:
        return None
    found: dict[str, float] = {}
    for key, mass_g in contents.mass_g.items():
        known = substance(key)
        parts = None if known is None else parts_of(key, known.anhydrous)
        if known is None or parts is None:
            return None
        for ion, count in parts:
            found[ion] = found.get(ion, 0.0) + count * 1000 * mass_g / known.molar_g_per_mol / contents.volume_ml
    return tuple(ion_of(name, mol_per_l, celsius) for name, mol_per_l in found.items())


def ion_of(name: str, mol_per_l: float, celsius: float = ROOM_CELSIUS) -> IonAt:
    """So much of an ion by its name, with its charge and constants."""
    charge, pk, pk_sd = _kind_of_ion(name, celsius)
    return IonAt(name, charge, mol_per_l, pk, pk_sd)


def unknown_in(contents: Contents) -> tuple[str, ...]:
    """The substances whose acid or alkali is not known here."""
    return tuple(key for key in contents.mass_g if (known := substance(key)) is None or parts_of(key, known.anhydrous) is None)


def parts_of(key: str, anhydrous: str = "") -> tuple[tuple[str, int], ...] | None:
    """Into what a substance falls apart in water, a mole of it at a time; a hydrate as it does without its water."""
    return _parts().get(key, _parts().get(anhydrous))


@cache
def water_pk(celsius: float) -> float:
    """The ion product of water at a temperature."""
    return pk_at(celsius, fact("acid", "water_pk1").value, fact("acid", "water_heat").value)


@cache
def _parts() -> dict[str, tuple[tuple[str, int], ...]]:
    """`2 sodium|carbonate`, by the substance's key."""

    def counted(part: str) -> tuple[str, int]:
        count, _, ion = part.rpartition(" ")
        return ion, int(count or 1)

    return {row["substance"]: tuple(counted(part) for part in row["ions"].split("|") if part) for row in table("dissolved")}


@cache
def _kind_of_ion(name: str, celsius: float) -> tuple[int, tuple[float, ...], tuple[float, ...]]:
    """Charge and constants of an ion at a temperature; a constant whose heat nobody gave stays as it is at 25 °C."""
    known = facts("acid")
    charge = next(int(row["charge"]) for row in table("ions") if row["ion"] == name)
    found = [row for key, row in known.items() if key.startswith(f"{name}_pk")]
    heats = [known.get(row.key.replace("_pk", "_heat")) for row in found]
    pk = [pk_at(celsius, row.value, heat.value) if heat else row.value for row, heat in zip(found, heats, strict=True)]
    if name == "citrate":
        pk[0] = citric_pk1(celsius, [fact("acid", f"citric_k1_{letter}").value for letter in "abcd"])
    return charge, tuple(pk), tuple(row.sd for row in found)


def _stabiliser_sd(ions: tuple[IonAt, ...], water: float) -> float:
    """How far the acid in bottled peroxide may move the pH: far in plain peroxide, hardly in an acid bath."""
    guess = fact("acid", "peroxide_stabiliser").sd
    reserve = abs(base_to_ph_mol_per_l(fact("acid", "reserve_ph").value, ions, water))
    return guess / (1 + reserve / STABILISER_MOL_PER_L)
