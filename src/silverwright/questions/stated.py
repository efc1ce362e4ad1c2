"""The stated prior of a curve and the figures that define its points: fact rows, as kernels take them."""

from math import log
from typing import TYPE_CHECKING

from silverwright.densitometry.density import density_of_reflectance
from silverwright.exposure.meter import paper_exposure_lx_s
from silverwright.facts.load import fact

if TYPE_CHECKING:
    from silverwright.sensitometry.fit import Patches
    from silverwright.sensitometry.prior import CurvePrior
    from silverwright.sensitometry.speed import Rules


def curve_prior(patches: "Patches", *, known: bool) -> "CurvePrior":
    """The stated prior: fact rows, its middle laid on the middle of the patches, its noise on the doubt of a reading."""
    from silverwright.sensitometry.prior import CurvePrior, Normal

    def belief(name: str) -> Normal:
        row = fact("curve", f"prior_{name}")
        return Normal(row.value, row.sd)

    middle = belief("middle_log10")
    centre = 0.5 * float(patches.exposure_log10[0] + patches.exposure_log10[-1])
    spread = fact("curve", "noise_known_log_sd" if known else "noise_log_sd").value
    return CurvePrior(
        dmin=belief("dmin"),
        log_net=belief("log_net"),
        middle_log10=Normal(centre + middle.value, middle.sd),
        log_slope=belief("log_slope"),
        log_power=belief("log_power"),
        log_slope_ratio=belief("log_slope_ratio"),
        log_apart=belief("log_apart"),
        logit_share=belief("logit_share"),
        log_noise=Normal(log(patches.density_sd), spread),
    )


def point_rules() -> "Rules":
    """The figures that define points and indices: fact rows."""
    from silverwright.sensitometry.speed import Rules

    return Rules(
        near_dmin=fact("curve", "near_dmin").value,
        part_of_net_factor=fact("curve", "part_of_net").value,
        grey_density=density_of_reflectance(fact("curve", "grey_reflectance_percent").value / 100),
        speed_over_dmin=fact("curve", "speed_over_dmin").value,
        camera_lx_s=paper_exposure_lx_s(1.0, fact("meter", "meter_k").value, fact("meter", "paper_plane").value),
        reversal_lx_s=fact("curve", "reversal_lx_s").value,
        paper_lx_s=fact("curve", "paper_lx_s").value,
    )
