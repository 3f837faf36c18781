"""Short-time sigma from ranges, standard deviations or moving ranges, with the freedom it carries."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import asin, exp, fsum, log, pi, sqrt
from statistics import median

from spc.errors import Refused
from spc.statistics.constants import c4, d2, d3, d4
from spc.statistics.subgroups import SubgroupSummaries

__all__ = [
    "WithinSigma",
    "effective_freedom",
    "moving_ranges",
    "sigma_from_mean_range",
    "sigma_from_mean_sd",
    "sigma_from_moving_range",
    "sigma_pooled",
]


@dataclass(frozen=True, slots=True)
class WithinSigma:
    """Standard deviation of one piece at one moment, in the unit of the readings.

    Attributes
    ----------
    sigma : float
        The estimate, above 0.
    freedom : float
        Degrees of freedom of the chi distribution with the same relative spread as this estimate.
    n : int
        Pieces it was computed from.
    subgroups : int
        Subgroups it was computed from (moving ranges for individuals).
    method : str
        How, in textbook signs.
    """

    sigma: float
    freedom: float
    n: int
    subgroups: int
    method: str


def sigma_from_mean_range(summaries: SubgroupSummaries) -> WithinSigma:
    """R-bar/d2, the sigma of the X-bar and R chart.

    Parameters
    ----------
    summaries : SubgroupSummaries
        Subgroups of a single piece are passed over.

    Returns
    -------
    WithinSigma
        In the unit of the readings.

    Raises
    ------
    Refused
        No subgroup has two pieces, or every range is 0.

    Notes
    -----
    With unequal subgroups each R/d2 counts with the weight (d2/d3)^2, the unbiased combination of least
    variance (Burr 1969, from memory); with equal ones this is R-bar/d2. Freedom after Patnaik (1950).
    """
    return _weighted(summaries, summaries.ranges, d2, lambda n: (d2(n) / d3(n)) ** 2, "R-bar/d2")


def sigma_from_mean_sd(summaries: SubgroupSummaries) -> WithinSigma:
    """s-bar/c4, the sigma of the X-bar and s chart; parameters and refusals as for R-bar/d2."""
    return _weighted(summaries, summaries.sds, c4, lambda n: c4(n) ** 2 / (1.0 - c4(n) ** 2), "s-bar/c4")


def sigma_pooled(summaries: SubgroupSummaries) -> WithinSigma:
    """Pooled s: root of the within sum of squares over its freedom, pieces minus subgroups.

    Notes
    -----
    Not divided by c4 of its freedom, as in an analysis of variance: its square is unbiased.
    """
    used = _with_spread(summaries)
    freedom = sum(summaries.sizes[i] - 1 for i in used)
    squares = fsum((summaries.sizes[i] - 1) * summaries.sds[i] ** 2 for i in used)
    sigma = _want_spread(sqrt(squares / freedom))
    return WithinSigma(sigma, float(freedom), sum(summaries.sizes[i] for i in used), len(used), "pooled s")


def sigma_from_moving_range(readings: Sequence[float], spread: str = "mean") -> WithinSigma:
    """Sigma of individuals from the moving ranges of neighbours.

    Parameters
    ----------
    readings : sequence of float
        Single pieces in the order made, 2 or more.
    spread : {"mean", "median"}
        MR-bar/d2, or median MR/d4, which one or two jumps cannot widen.

    Returns
    -------
    WithinSigma
        In the unit of the readings.

    Raises
    ------
    Refused
        Every moving range (or the median one) is 0, or `spread` is another word.

    Notes
    -----
    Neighbouring moving ranges share a piece; the freedom of the mean takes their correlation exactly. That of
    the median is taken as half of it (0.50 to 0.53 from 30 readings on, by simulation of 40,000 series).
    """
    ranges = moving_ranges(readings)
    if spread not in ("mean", "median"):
        raise Refused.one("no such average of moving ranges", value=spread, allowed="mean or median")
    if spread == "median":
        sigma, method, share = median(ranges) / d4(2), "median MR/d4", 0.5
    else:
        sigma, method, share = fsum(ranges) / len(ranges) / d2(2), "MR-bar/d2", 1.0
    freedom = max(1.0, share * effective_freedom(_moving_range_variance(len(ranges))))
    return WithinSigma(_want_spread(sigma), freedom, len(readings), len(ranges), method)


def moving_ranges(readings: Sequence[float]) -> tuple[float, ...]:
    """Distance of each reading from the one before: one fewer than readings."""
    return tuple(abs(after - before) for before, after in pairwise(readings))


def effective_freedom(relative_variance: float) -> float:
    """Degrees of freedom of the chi distribution whose variance over squared mean is the given number.

    Parameters
    ----------
    relative_variance : float
        Variance of a sigma estimate divided by its squared mean, above 0.

    Returns
    -------
    float
        Degrees of freedom; about half the reciprocal where they are many.

    Examples
    --------
    >>> round(effective_freedom((d3(5) / d2(5)) ** 2), 1)
    3.8
    """
    from scipy.optimize import brentq

    if relative_variance < 1e-7:
        return 0.5 / relative_variance

    def miss(log_freedom: float) -> float:
        mean = c4(exp(log_freedom) + 1.0)
        return (1.0 - mean * mean) / (mean * mean) / relative_variance - 1.0

    return exp(float(brentq(miss, log(1e-2), log(1e8), xtol=1e-12)))


def _weighted(
    summaries: SubgroupSummaries,
    spreads: Sequence[float],
    divisor: Callable[[int], float],
    weight: Callable[[int], float],
    method: str,
) -> WithinSigma:
    used = _with_spread(summaries)
    sizes = [summaries.sizes[i] for i in used]
    weights = [weight(n) for n in sizes]
    total = fsum(weights)
    sigma = fsum(w * spreads[i] / divisor(n) for w, i, n in zip(weights, used, sizes, strict=True)) / total
    return WithinSigma(_want_spread(sigma), effective_freedom(1.0 / total), sum(sizes), len(used), method)


def _with_spread(summaries: SubgroupSummaries) -> list[int]:
    used = [i for i, size in enumerate(summaries.sizes) if size > 1]
    if not used:
        raise Refused.one(
            "every subgroup is a single piece, so there is no spread within a subgroup",
            allowed="2 or more pieces in a subgroup",
            do="Use moving ranges: the chart for individuals",
        )
    return used


def _want_spread(sigma: float) -> float:
    if sigma > 0.0:
        return sigma
    raise Refused.one(
        "the readings show no spread within a check (they are all equal), so sigma would be 0 and any later "
        "piece a false alarm",
        value="0",
        allowed="readings that differ",
        do="Read the gauge to a finer step, or check that it moves freely",
    )


def _moving_range_variance(count: int) -> float:
    """Relative variance of the mean moving range; neighbouring differences have correlation -1/2."""
    correlation = -0.5
    product = 2.0 / pi * (sqrt(1.0 - correlation**2) + correlation * asin(correlation))
    own, shared = 2.0 * (1.0 - 2.0 / pi), 2.0 * (product - 2.0 / pi)
    return (own / count + 2.0 * shared * (count - 1) / count**2) / d2(2) ** 2
