"""Quantiles turned into indices, and the two ways to their intervals: refitting a model, or order statistics."""

from collections.abc import Mapping, Sequence
from itertools import product
from math import inf

import numpy as np
from scipy.special import ndtr, ndtri

from spc.errors import Refused
from spc.statistics.bootstrap import refitted, reverse_interval
from spc.statistics.chance_laws import beta_above, beta_below, binomial_above, binomial_upto
from spc.statistics.distribution_family import DistributionFamily
from spc.statistics.fitted_model import FittedModel
from spc.statistics.index_intervals import tail_share
from spc.statistics.readings import Floats

__all__ = [
    "SHARES",
    "by_order",
    "by_refitting",
    "count_interval",
    "fallout_ends",
    "has_distance",
    "quantile_indices",
]

SHARES = (0.00135, 0.5, 0.99865)
"""Shares of the three quantiles, taken literally."""

_Limits = tuple[float | None, float | None]
_Intervals = dict[str, tuple[float, float]]


def quantile_indices(ends: Floats, lower: float | None, upper: float | None) -> dict[str, Floats]:
    """Indices from the three quantiles, first axis; those that the tolerance lacks are left out.

    Raises
    ------
    Refused
        No limit, or half of the readings are one value at the end of them: no distance on that side.
    """
    least, middle, most = ends
    if not has_distance(ends, lower, upper):
        raise Refused.one(
            "half of the readings or more are equal and lie at the end of the rest, so no index can be told",
            allowed="readings that differ on both sides of the middle one",
            do="Read the gauge to a finer step, or take a model that suits the kind",
        )
    found: dict[str, Floats] = {}
    if upper is not None:
        found["ppk_upper"] = (upper - middle) / (most - middle)
    if lower is not None:
        found["ppk_lower"] = (middle - lower) / (middle - least)
    if not found:
        raise Refused.one("capability wants a tolerance limit", allowed="lower, upper or both")
    found["ppk"] = np.min(np.stack(list(found.values())), axis=0)
    if upper is not None and lower is not None:
        found["pp"] = (upper - lower) / (most - least)
    return found


def has_distance(ends: Floats, lower: float | None, upper: float | None) -> bool:
    """Whether the quantiles lie apart on each side that has a limit."""
    least, middle, most = ends
    return bool((lower is None or np.all(least < middle)) and (upper is None or np.all(middle < most)))


def by_refitting(
    model: FittedModel,
    limits: _Limits,
    points: Mapping[str, float],
    ppm: float,
    random: tuple[int, int],
    confidence: float,
) -> tuple[_Intervals, str]:
    """Intervals of the indices and of the fallout from refitted make-believe samples; `random` is seed and draws."""
    family = model.family
    if family is None:
        raise Refused.one("the empirical model cannot be refitted", value=model.name)
    parameters = refitted(model, seed=random[0], draws=random[1])
    drawn = quantile_indices(
        np.stack([family.quantile(np.float64(share), *parameters) for share in SHARES]), *limits
    )
    found = {key: reverse_interval(value, drawn[key], confidence) for key, value in points.items()}
    found["fallout_ppm"] = fallout_ends(family, parameters, limits, ppm / 1e6, confidence)
    return found, f"{parameters[0].size} make-believe samples refitted, seed {random[0]}"


def fallout_ends(
    family: DistributionFamily, parameters: Sequence[Floats], limits: _Limits, share: float, confidence: float
) -> tuple[float, float]:
    """Ends of the fallout in parts per million, from the parameters of refitted samples and the share itself."""
    lost = np.zeros(parameters[0].size)
    if limits[0] is not None:
        lost = lost + family.cdf(np.float64(limits[0]), *parameters)
    if limits[1] is not None:
        lost = lost + family.beyond(np.float64(limits[1]), *parameters)
    most, least = reverse_interval(float(_as_index(share)), _as_index(lost), confidence)
    return 1e6 * min(share, float(ndtr(-3.0 * least))), 1e6 * max(share, float(ndtr(-3.0 * most)))


def by_order(
    model: FittedModel, limits: _Limits, points: Mapping[str, float], confidence: float
) -> _Intervals:
    """Intervals that hold for any distribution: each quantile lies between two of the readings.

    The level is shared among the quantiles (Bonferroni), so the intervals are on the safe, wide side.
    """
    ends = [_between(model.readings, share, tail_share(confidence, model.n) / 3.0) for share in SHARES]
    worlds = [quantiles for quantiles in product(*ends) if quantiles[0] < quantiles[1] < quantiles[2]]
    found: _Intervals = {}
    for key in points:
        values = [float(quantile_indices(np.array(each), *limits)[key]) for each in worlds]
        found[key] = (min(values, default=-inf), max(values, default=inf))
    out = sum(
        int(np.sum(beyond))
        for limit, beyond in (
            (limits[0], model.readings < (limits[0] or 0.0)),
            (limits[1], model.readings > (limits[1] or 0.0)),
        )
        if limit is not None
    )
    found["fallout_ppm"] = count_interval(out, model.n, tail_share(confidence, model.n))
    return found


def _between(readings: Floats, share: float, tail: float) -> tuple[float, float]:
    """Readings below and above which the quantile lies with chance `tail` at most; infinite past the last one."""
    n = readings.size
    counts = np.arange(n + 1)
    below = int(np.sum(binomial_upto(counts[:-1], n, share) <= tail))
    above = int(np.searchsorted(-binomial_above(counts - 1, n, share), -tail)) if n else 0
    low = float(readings[below - 1]) if below > 0 else -inf
    high = float(readings[above - 1]) if above <= n else inf
    return low, high


def count_interval(out: float, n: int, tail: float) -> tuple[float, float]:
    """Clopper and Pearson, in parts per million."""
    low = beta_below(tail, out, n - out + 1) if out else 0.0
    high = beta_above(tail, out + 1, n - out) if out < n else 1.0
    return 1e6 * low, 1e6 * high


def _as_index(share: float | Floats) -> Floats:
    """Distance to one limit over three sigma that loses this share of a normal model."""
    return np.asarray(-ndtri(np.clip(share, 1e-300, 1.0 - 1e-16)) / 3.0)
