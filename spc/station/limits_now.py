"""The limits that judge one mean now: following the die, signed, provisional, or none."""

import math
from dataclasses import dataclass
from functools import cache

from scipy.special import chdtr

from spc.shop import Characteristic, ControlLimits
from spc.shop.layouts import MAGNITUDES
from spc.shop.quickly_made import quickly_made
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.priors import tolerance_um
from spc.station.provisional import in_force
from spc.statistics import control_factors, range_point
from spc.wear import MEAN_LIMIT, Forecast, WearBelief, lone_spread

__all__ = ["Limits", "judges", "limits_now", "lower_limit", "range_limit", "standing_widths"]


@quickly_made
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
        spread = range_limit(gauged.n, gauged.sigma_um / unit_um) if known else None
        return Limits(centre, lower_limit(characteristic, centre - width), centre + width, spread, "forecast")
    stands = in_force(characteristic, chart)
    if stands is None or (
        characteristic.judged_by == "with_die_wear" and context.age is not None and not follows
    ):
        return None
    width, spread = standing_widths(stands, gauged.n)
    lower = lower_limit(characteristic, stands.centre - width)
    return Limits(stands.centre, lower, stands.centre + width, spread, stands.standing)


def standing_widths(stands: ControlLimits, n: int) -> tuple[float, float | None]:
    """Half the width of limits that stand still, and the limit of the range, in the unit of `stands`.

    Three standard errors for the mean (ISO 7870-2, from memory). For the range signed limits have the textbook's
    three spreads; provisional ones the range at which a single check makes the watch of the spread ring.
    """
    width = 3.0 * stands.sigma_within / math.sqrt(n)
    if n < 2:
        return width, None
    if stands.standing == "provisional":
        return width, range_limit(n, stands.sigma_within)
    return width, control_factors(n).D2 * stands.sigma_within


def range_limit(n: int, sigma: float) -> float:
    """Range that chance passes as seldom as a single check makes the watch of the spread ring."""
    return _unit_range_limit(n) * sigma


@cache
def _unit_range_limit(n: int) -> float:
    return range_point(float(chdtr(n - 1, lone_spread(n - 1))), n)


def lower_limit(characteristic: Characteristic, limit: float) -> float:
    """Return a lower control limit that the size can reach: 0 where a magnitude's would lie below."""
    return max(limit, 0.0) if characteristic.kind in MAGNITUDES else limit
