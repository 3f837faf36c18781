"""The limits that judge one mean now: following the die, signed, provisional, or none."""

import math
from dataclasses import dataclass

from spc.shop import Characteristic, ControlLimits
from spc.shop.layouts import MAGNITUDES
from spc.station.context import CheckContext
from spc.station.priors import tolerance_um
from spc.station.provisional import in_force
from spc.station.state import ChartState
from spc.statistics import control_factors
from scipy.special import ndtr, stdtrit
from spc.wear import Forecast, WearBelief
from spc.wear.watch import MEAN_LIMIT

__all__ = ["Limits", "limits_now", "lower_limit"]


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits for one mean, plan's unit, and where they come from: signed, provisional or the forecast."""

    centre: float
    lower: float
    upper: float
    spread_upper: float | None
    standing: str


def limits_now(
    context: CheckContext,
    characteristic: Characteristic,
    chart: ChartState,
    belief: WearBelief | None,
    forecast: Forecast | None,
    n: int,
    sigma: float,
) -> Limits | None:
    """Return the limits that judge this mean.

    They follow the die where the plan says so and a check of this set came before; else they are the
    chart's own; None where none stand yet. A forecast less sure than the tolerance is wide (after a
    re-mounting, at first) is no limit: the tolerance judges alone until the model knows more. The lower
    limit of a magnitude, which is never below 0, ends at 0.
    """
    unit_um = characteristic.um_per_unit
    follows = characteristic.judged_by == "with_die_wear" and belief is not None and belief.checks > 0
    if follows and forecast is not None:
        centre = float(characteristic.aim) + forecast.mean_um / unit_um
        width = MEAN_LIMIT * forecast.sd_um / unit_um
        if 2.0 * width * unit_um > tolerance_um(characteristic):
            return None
        spread = control_factors(n).D2 * sigma / unit_um if n > 1 and chart.spread.df >= 8 else None
        return Limits(centre, lower_limit(characteristic, centre - width), centre + width, spread, "forecast")
    stands: ControlLimits | None = in_force(characteristic, chart)
    if stands is None or (
        characteristic.judged_by == "with_die_wear" and context.age is not None and not follows
    ):
        return None
    width = 3.0 * stands.sigma_within / math.sqrt(n)
    if stands.standing == "provisional":
        wander = context.prior(characteristic) if context.age is not None else None
        extra = 0.0 if wander is None else (wander.check_sd_um**2 + wander.wander_sd_um**2) / unit_um**2
        m = max(stands.subgroups, 2)
        width = float(stdtrit(m * max(stands.n - 1, 1), ndtr(MEAN_LIMIT))) * math.sqrt(
            (1.0 + 1.0 / m) * (stands.sigma_within**2 / n + extra)
        )
    spread = control_factors(n).D2 * stands.sigma_within if n > 1 else None
    lower = lower_limit(characteristic, stands.centre - width)
    return Limits(stands.centre, lower, stands.centre + width, spread, stands.standing)


def lower_limit(characteristic: Characteristic, limit: float) -> float:
    """Return a lower control limit that the size can reach: 0 where a magnitude's would lie below."""
    return max(limit, 0.0) if characteristic.kind in MAGNITUDES else limit
