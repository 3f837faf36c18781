"""Which control limits stand for a characteristic: signed ones, else provisional ones from the first checks."""

import math
from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise

from spc.shop import Characteristic, ControlLimits
from spc.shop.changed import changed
from spc.station.state import ChartState, Trial
from spc.statistics import d2

__all__ = ["TRIAL_SUBGROUPS", "in_force", "with_trial"]

TRIAL_SUBGROUPS = 20
"""Good subgroups of a part and machine before limits are set from them."""


def in_force(characteristic: Characteristic, chart: ChartState) -> ControlLimits | None:
    """Return the limits that judge now: signed at the station, signed in the plan, provisional, or none."""
    if chart.limits is not None and chart.limits.standing == "signed":
        return chart.limits
    return characteristic.signed or chart.limits


def with_trial(characteristic: Characteristic, chart: ChartState, values: Sequence[Decimal]) -> ChartState:
    """Keep a good hourly subgroup for provisional limits; the twentieth sets them.

    Notes
    -----
    Centre: mean of the means. Spread of a piece: mean of R/d2(n), or for single pieces the mean moving range
    over d2(2), as on an X-bar/R and an individuals chart (ISO 7870-2, from memory). While all readings are
    equal there is no spread and no limits: the oldest subgroup then makes room.
    """
    if chart.limits is not None or characteristic.signed is not None:
        return chart
    mean = float(sum(values, Decimal(0)) / len(values))
    trial = Trial(mean, float(max(values) - min(values)), len(values))
    trials = (*chart.trials, trial)[-TRIAL_SUBGROUPS:]
    if len(trials) < TRIAL_SUBGROUPS:
        return changed(chart, trials=trials)
    sigma = _sigma(trials)
    if sigma <= 0.0:
        return changed(chart, trials=trials)
    centre = math.fsum(each.mean for each in trials) / len(trials)
    limits = ControlLimits(centre, sigma, round(_usual_n(trials)), len(trials), "provisional")
    return changed(chart, trials=(), limits=limits)


def _usual_n(trials: Sequence[Trial]) -> float:
    return sum(each.n for each in trials) / len(trials)


def _sigma(trials: Sequence[Trial]) -> float:
    several = [each.range / d2(each.n) for each in trials if each.n > 1]
    if several:
        return math.fsum(several) / len(several)
    moves = [abs(b.mean - a.mean) for a, b in pairwise(trials)]
    return math.fsum(moves) / len(moves) / d2(2)
