"""The chemistry: how long the balance of charges takes, by itself and with its doubt, and how long a bleach takes that wears."""

from collections.abc import Callable
from functools import partial
from typing import Final

from tools.bench_camera import mean_ms, verdict
from tools.measuring import Table

from silverwright.chemistry.acidity import ph_of
from silverwright.questions.acidity import acidity_of, ions_of, water_pk
from silverwright.questions.silver import SILVER, SilverQuestion
from silverwright.records_chemistry import Contents

PH_MS: Final = 1.0  # the target
BATHS: Final = {
    "5 % citric acid": {"citric_acid": 50.0},
    "peroxide bleach with carbonate carried in": {"hydrogen_peroxide": 92.8, "citric_acid": 50.0, "sodium_carbonate": 1.6},
    "developer of nine substances": {
        "metol": 1.5,
        "hydroquinone": 6.0,
        "sodium_sulphite": 22.0,
        "sodium_carbonate": 33.0,
        "potassium_bromide": 1.0,
        "sodium_hydroxide": 1.0,
        "borax": 2.0,
        "boric_acid": 1.0,
        "disodium_edta": 1.0,
    },
}


def ph_time() -> Table:
    """How long one pH takes."""
    rows, targets = [], []
    for name, mass_g in BATHS.items():
        contents = Contents(1000.0, mass_g)
        ions = ions_of(contents) or ()
        alone, whole = mean_ms(partial(ph_of, ions, water_pk(20.0))), mean_ms(partial(acidity_of, contents))
        rows.append([name, f"{alone:.3f} ms", f"{whole:.3f} ms"])
        targets.append(f"{name}, pH alone: {verdict(alone, PH_MS, 'ms')}")
    asked = SilverQuestion.model_validate(
        {"sheet_size": "8x10 in", "sheets": 20, "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/v"}
    )
    rows.append(["`chemistry.silver`, a bleach after 20 sheets", "", f"{mean_ms(partial(SILVER.compute, asked)):.1f} ms"])
    return Table(
        says="The balance of charges by halving, in this process; the whole holds reserve and doubt, too.",
        head=["bath", "pH alone", "whole answer"],
        rows=rows,
        targets=targets,
    )


PARTS: Final[dict[str, tuple[str, Callable[[], Table]]]] = {"ph": ("Time of a pH", ph_time)}
