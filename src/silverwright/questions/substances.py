"""Substances by the names that stand on bottles."""

from difflib import get_close_matches
from functools import cache
from typing import Annotated, Final, cast

from pydantic import AfterValidator

from silverwright.asking.fields import Words
from silverwright.asking.operation import refuse
from silverwright.facts.load import facts, table
from silverwright.records_chemistry import DensityModel, State, Substance

_COEFFICIENTS: Final = 5  # arithmetic: c0 to c4
_LEVEL_CELSIUS: Final = -20.0  # arithmetic: the form's own warmth is 1 at 20 °C

SUBSTANCE: Final = Words(help="The substance, as it stands on the bottle.", example="hydrogen peroxide", longest=80)


@cache
def substances() -> dict[str, Substance]:
    """Every substance that is known here, by its key."""
    return {row["key"]: _substance(row) for row in table("substances")}


def substance(name: str) -> Substance | None:
    """The substance of that name, key or other name; nothing where it is not known here."""
    key = _keys().get(" ".join(name.lower().split()))
    return substances()[key] if key else None


def named(name: str) -> str:
    """How a substance is called, whether known here or not."""
    known = substance(name)
    return known.name if known else name


def called(key: str) -> str:
    """How people call what is dissolved: without its crystal water, and without the word for that; what is not known here by its own name."""
    known = substances().get(key)
    return substances()[known.anhydrous or key].name.partition(" (")[0] if known else key


def _known(name: str) -> str:
    if substance(name) is None:
        near = get_close_matches(name.lower(), _keys(), n=3)
        raise refuse(f"“{name}” is not among the substances that are known here." + (f" Is it {' or '.join(near)}?" if near else ""))
    return name


KNOWN: Final = AfterValidator(_known)
KnownSubstance = Annotated[str, SUBSTANCE, KNOWN]


@cache
def _keys() -> dict[str, str]:
    """Each name in small letters, and whose it is; a plain name means what is sold under it."""
    names: dict[str, str] = {}
    for row in table("substances"):
        names |= dict.fromkeys((row["key"], row["key"].replace("_", " "), row["name"], *row["also"].split("|")), row["key"])
    return {name.lower(): key for name, key in names.items() if name}


def _substance(row: dict[str, str]) -> Substance:
    key, molar = row["key"], facts("molar")
    soluble = facts("solubility").get(key)
    return Substance(
        key=key,
        name=row["name"],
        formula=row["formula"],
        molar_g_per_mol=molar[key].value,
        state=cast("State", row["state"]),
        anhydrous=row["anhydrous"],
        solubility_g_per_l=soluble.value if soluble else None,
        density=_density(row["anhydrous"] or key),
        crystal_water_share=1 - molar[row["anhydrous"]].value / molar[key].value if row["anhydrous"] else 0.0,
    )


def _density(key: str) -> DensityModel | None:
    rows = facts("density")
    if f"{key}_apparent" in rows:  # one density for every strength: the same form with coefficients that leave it alone
        apparent = rows[f"{key}_apparent"]
        return DensityModel(1000 * apparent.value, 1000 * apparent.value, 1.0, 0.0, _LEVEL_CELSIUS)
    if f"{key}_c0" not in rows:
        return None
    c0, c1, c2, c3, c4 = (rows[f"{key}_c{place}"].value for place in range(_COEFFICIENTS))
    temperature = rows[f"{key}_celsius"]
    pure = rows.get(f"{key}_pure")
    limits = (rows[f"{key}_fraction"].value, temperature.low or 0.0, temperature.high or 100.0)
    return DensityModel(c0, c1, c2, c3, c4, *limits, pure.value if pure else None)
