"""How an acid bleach wears: silver comes in, alkali comes in, acid goes out, and at some sheet the silver no longer stays dissolved."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from silverwright.chemistry.acidity import bare_share, ph_of
from silverwright.chemistry.carryover import brought_in_share, built_up, share_left
from silverwright.chemistry.silver import citrate_limit_mol_per_l
from silverwright.errors import OutOfRange
from silverwright.records_chemistry import IonAt, SheetBrings

MOST_SHEETS: Final = 2000.0  # our judgement: no bath is asked for more
_HALVINGS: Final = 40  # arithmetic: 2000 sheets halved so often leave a millionth of a sheet
_FIRST: Final = 0.5  # our judgement: the search goes in steps of half a sheet at first
_GROWTH: Final = 1.3  # our judgement: and then each step a third longer, so that no crossing is leapt over
CITRATE: Final = "citrate"


def worn(ions: Sequence[IonAt], carbonate: IonAt, bath_ml: float, brings: SheetBrings, sheets: float) -> tuple[IonAt, ...]:
    """
    What is in the bleach after so many sheets.

    c (V / (V + v))^n of what was in it, the carbonate that the sheets carried in with its sodium, and the silver, which takes the place of a proton

    Args:
        ions: What was in it at first. [mol/L]
        carbonate: The ion of carbonate with its constants; its amount is not read. [mol/L]
        bath_ml: Volume of the bath. [mL] > 0
        brings: What each sheet brings. [mol], [mL], [mol/L]
        sheets: How many. [1] >= 0

    Returns:
        What is in it then. [mol/L]. Uncertainty: that of what a sheet brings; carbon dioxide is taken to stay, which moves no pH below 5.

    Raises:
        OutOfRange: a bath not above 0, or anything else below 0.

    Source:
        our judgement (the sum of published and usual rules).
    """
    left = share_left(bath_ml, brings.carried_ml, sheets)
    soda = brings.carbonate_mol_per_l * brought_in_share(bath_ml, brings.carried_ml, sheets)
    silver = built_up(1000 * brings.silver_mol / bath_ml, bath_ml, brings.carried_ml, sheets)
    return (
        *(replace(one, mol_per_l=one.mol_per_l * left) for one in ions),
        replace(carbonate, mol_per_l=soda),
        IonAt("sodium", 1, 2 * soda),
        IonAt("silver", 1, silver),
    )


def silver_limit_mol_per_l(ions: Sequence[IonAt], ph: float, citrate_pk: float) -> float | None:
    """
    How much silver stays dissolved in a bath of this acidity.

    (Ksp / [citrate without protons])^(1/3)

    Args:
        ions: What is in it. [mol/L]
        ph: Its pH. [1]
        citrate_pk: Solubility product of silver citrate, as -log10. [1]

    Returns:
        The limit; nothing where no citrate is in it. [mol/L]. Uncertainty: a lower bound, see `silver.citrate_limit_mol_per_l`.

    Source:
        from memory, unverified (the product).
    """
    free = sum(one.mol_per_l * bare_share(ph, one.pk) for one in ions if one.name == CITRATE)
    return citrate_limit_mol_per_l(free, citrate_pk) if free > 0 else None


def sheets_to_limit(ions: Sequence[IonAt], carbonate: IonAt, bath_ml: float, brings: SheetBrings, pk: tuple[float, float]) -> float | None:
    """
    After how many sheets more silver is dissolved than plain citrate is sure to hold.

    The least n with [Ag](n) = (Ksp / [citrate](n))^(1/3), pH(n) by the balance of charges

    Args:
        ions: What was in the bath at first. [mol/L]
        carbonate: The ion of carbonate with its constants. [mol/L]
        bath_ml: Volume of the bath. [mL] > 0
        brings: What each sheet brings. [mol], [mL], [mol/L]
        pk: Ion product of water, and solubility product of silver citrate, both as -log10. [1]

    Returns:
        Sheets, not rounded; nothing where it is not reached, or no citrate is in it. [1]. Uncertainty: a lower bound, as the limit is one.

    Raises:
        OutOfRange: a bath not above 0.

    Source:
        our judgement (the sum of published and usual rules).
    """
    if bath_ml <= 0:
        raise OutOfRange("bath_ml", bath_ml, "above 0")

    def past(sheets: float) -> bool:
        then = worn(ions, carbonate, bath_ml, brings, sheets)
        limit = silver_limit_mol_per_l(then, ph_of(then, pk[0]), pk[1])
        return limit is not None and then[-1].mol_per_l > limit

    low, high = 0.0, _FIRST
    while not past(high):
        low, high = high, high * _GROWTH
        if low > MOST_SHEETS:
            return None
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if past(middle) else (middle, high)
    return (low + high) / 2
