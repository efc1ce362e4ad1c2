"""How strong a peroxide is, by a titration: what the reagent took up, counted back to the bottle, and how sure that is."""

from collections.abc import Sequence
from math import hypot
from typing import Final

from silverwright.errors import OutOfRange

PEROXIDE_PER_PERMANGANATE_FACTOR: Final = 5 / 2  # arithmetic: 5 H2O2 + 2 MnO4- + 6 H+ -> 5 O2 + 2 Mn2+ + 8 H2O
PEROXIDE_PER_THIOSULPHATE_FACTOR: Final = 1 / 2  # arithmetic: H2O2 + 2 I- + 2 H+ -> I2 + 2 H2O, then I2 + 2 S2O3(2-) -> 2 I- + S4O6(2-)


def titrated_mol_per_l(taken_ml: float, reagent_mol_per_l: float, peroxide_factor: float, sample_ml: float, dilution_factor: float = 1.0) -> float:
    """
    How much peroxide is in a litre of the bottle, by what its sample took of a reagent.

    c = (V - V0) c_r n / V_s F, n = 5/2 for permanganate and 1/2 for thiosulphate, F = made up / taken of it

    Args:
        taken_ml: Reagent that was used up, less the blank. [mL] >= 0
        reagent_mol_per_l: Strength of the reagent. [mol/L] >= 0
        peroxide_factor: Moles of peroxide for a mole of the reagent. [1] > 0
        sample_ml: What was taken of the bottle. [mL] > 0
        dilution_factor: To how many times its volume the sample was made up, over which part of that was titrated. [1] >= 1

    Returns:
        Peroxide in a litre. [mol/L]. Uncertainty: `titrated_sd_mol_per_l`.

    Raises:
        OutOfRange: a volume, a strength or a factor for which the rule says nothing.

    Source:
        usp31, assay; bp2010, assay, and arithmetic.
    """
    if not (taken_ml >= 0 and reagent_mol_per_l >= 0):
        raise OutOfRange("reagent", min(taken_ml, reagent_mol_per_l), "0 or more")
    if not (sample_ml > 0 and peroxide_factor > 0 and dilution_factor > 0):
        raise OutOfRange("sample", min(sample_ml, peroxide_factor, dilution_factor), "above 0")
    return taken_ml * reagent_mol_per_l * peroxide_factor / sample_ml * dilution_factor


def titrated_sd_mol_per_l(taken_sd_ml: float, one_ml_mol_per_l: float, strength_mol_per_l: float, shares: Sequence[float]) -> float:
    """
    How unsure a titration is.

    sd = hypot(c_1 u(V - V0), c u1, c u2, ...), c_1 what one mL of the reagent means

    Args:
        taken_sd_ml: Doubt of the reagent that was used up - readings, end point and blank together -, one standard deviation. [mL] >= 0
        one_ml_mol_per_l: What `titrated_mol_per_l` gives for 1 mL. [mol/L] >= 0
        strength_mol_per_l: What the titration gave. [mol/L] >= 0
        shares: Doubts of what is multiplied - sample, dilution, reagent -, each one standard deviation as a share. [1] >= 0

    Returns:
        One standard deviation. [mol/L]

    Source:
        our judgement (independent errors, first order).
    """
    return hypot(one_ml_mol_per_l * taken_sd_ml, *(strength_mol_per_l * share for share in shares))


def taken_for_ml(
    strength_mol_per_l: float, reagent_mol_per_l: float, peroxide_factor: float, sample_ml: float, dilution_factor: float = 1.0
) -> float:
    """
    How much reagent a bottle of known strength would take.

    V = c V_s / (c_r n F)

    Args:
        strength_mol_per_l: Peroxide in a litre of the bottle. [mol/L] >= 0
        reagent_mol_per_l: Strength of the reagent. [mol/L] > 0
        peroxide_factor: Moles of peroxide for a mole of the reagent. [1] > 0
        sample_ml: What is taken of the bottle. [mL] > 0
        dilution_factor: As in `titrated_mol_per_l`. [1] >= 1

    Returns:
        Reagent, without the blank. [mL]. Uncertainty: that of the bottle's label.

    Raises:
        OutOfRange: no reagent, or a factor that is not above 0.

    Source:
        usp31, assay, and arithmetic.
    """
    one_ml = titrated_mol_per_l(1.0, reagent_mol_per_l, peroxide_factor, sample_ml, dilution_factor)
    if not one_ml > 0:
        raise OutOfRange("reagent_mol_per_l", reagent_mol_per_l, "above 0")
    return strength_mol_per_l / one_ml
