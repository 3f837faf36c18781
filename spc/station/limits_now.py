"""The limits that judge one mean now: following the die, signed, provisional, or none."""

import math
from dataclasses import dataclass

from scipy.special import ndtr, stdtrit

from spc.shop import Characteristic, ControlLimits
from spc.shop.layouts import MAGNITUDES
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.priors import tolerance_um
from spc.station.provisional import in_force
from spc.statistics import control_factors
from spc.wear import MEAN_LIMIT, Forecast, WearBelief

__all__ = ["Limits", "judges", "limits_now", "lower_limit"]


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits for one mean, plan's unit, and where they come from: signed, provisional or the forecast."""

    centre: float
    lower: float
    upper: float
    spread_upper: float | None
    standing: str


def judges(characteristic: Characteristic, belief: WearBelief | None, forecast: Forecast | None) -> bool:
    """Whether a forecast is sure enough to judge a mean: after a first check, and narrower than the tolerance.

    After a re-mounting, and at first, the tolerance judges alone until the model knows more.
    """
    if belief is None or forecast is None or belief.checks == 0:
        return False
    return 2.0 * MEAN_LIMIT * forecast.sd_um <= tolerance_um(characteristic)


def limits_now(
    context: CheckContext,
    characteristic: Characteristic,
    belief: WearBelief | None,
    forecast: Forecast | None,
    gauged: Gauged,
) -> Limits | None:
    """Return the limits that judge this mean.

    They follow the die where the plan says so and the forecast is sure enough; else they are the chart's own;
    None where none stand yet. The lower limit of a magnitude, which is never below 0, ends at 0.
    """
    unit_um = characteristic.um_per_unit
    chart = context.chart(characteristic)
    follows = characteristic.judged_by == "with_die_wear" and belief is not None and belief.checks > 0
    if follows and forecast is not None:
        if not judges(characteristic, belief, forecast):
            return None
        centre = float(characteristic.aim) + forecast.mean_um / unit_um
        width = MEAN_LIMIT * forecast.sd_um / unit_um
        known = gauged.n > 1 and chart.spread.df >= 8
        spread = control_factors(gauged.n).D2 * gauged.sigma_um / unit_um if known else None
        return Limits(centre, lower_limit(characteristic, centre - width), centre + width, spread, "forecast")
    stands = in_force(characteristic, chart)
    if stands is None or (
        characteristic.judged_by == "with_die_wear" and context.age is not None and not follows
    ):
        return None
    width = _width(context, characteristic, stands, gauged.n)
    spread = control_factors(gauged.n).D2 * stands.sigma_within if gauged.n > 1 else None
    lower = lower_limit(characteristic, stands.centre - width)
    return Limits(stands.centre, lower, stands.centre + width, spread, stands.standing)


def _width(context: CheckContext, characteristic: Characteristic, stands: ControlLimits, n: int) -> float:
    """Half the width of limits that stand still, plan's unit.

    Signed ones: three standard errors. Provisional ones carry the doubt of the few checks that drew them, and
    what moves the level besides the pieces' scatter: Student's t for a mean yet to come, at the chance of
    the forecast's limits.
    """
    if stands.standing != "provisional":
        return 3.0 * stands.sigma_within / math.sqrt(n)
    slow_um2 = 0.0
    if context.age is not None:
        prior = context.prior(characteristic)
        slow_um2 = prior.check_sd_um**2 + prior.wander_sd_um**2
    checks = max(stands.subgroups, 2)
    variance = stands.sigma_within**2 / n + slow_um2 / characteristic.um_per_unit**2
    quantile = float(stdtrit(checks * max(stands.n - 1, 1), ndtr(MEAN_LIMIT)))
    return quantile * math.sqrt((1.0 + 1.0 / checks) * variance)


def lower_limit(characteristic: Characteristic, limit: float) -> float:
    """Return a lower control limit that the size can reach: 0 where a magnitude's would lie below."""
    return max(limit, 0.0) if characteristic.kind in MAGNITUDES else limit
