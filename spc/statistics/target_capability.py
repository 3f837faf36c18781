"""Cpmk: capability that is judged from the target and from the nearer limit at once."""

from math import hypot, sqrt

import numpy as np

from spc.errors import Refused
from spc.statistics.bootstrap import reverse_interval
from spc.statistics.chance_laws import chi_square_below
from spc.statistics.index_intervals import Estimate
from spc.statistics.indices import check_tolerance, location_index
from spc.statistics.readings import Floats
from spc.statistics.sound_arguments import want_above_zero, want_finite

__all__ = ["target_location_index", "target_location_interval"]


def target_location_index(
    mean: float, lower: float | None, upper: float | None, target: float, sigma: float
) -> float:
    """Cpmk: distance to the nearer limit over three times the spread about the target.

    Parameters
    ----------
    mean : float
        Mean of all pieces.
    lower, upper : float or None
        Tolerance limits, at least one.
    target : float
        Where the pieces should lie.
    sigma : float
        Standard deviation of all pieces, n-1 in the divisor.

    Returns
    -------
    float
        Dimensionless, negative where the mean lies outside; at most Cpk and at most Cpm.

    Raises
    ------
    Refused
        No limit, crossed limits, a target outside.

    References
    ----------
    Pearn, Kotz & Johnson, J. Quality Technology 24 (1992) (from memory).

    Examples
    --------
    >>> round(target_location_index(16.0, 8.0, 20.0, 14.0, 2.0), 6)
    0.471405
    """
    check_tolerance(lower, upper, target)
    want_finite(mean=mean)
    want_above_zero(sigma=sigma)
    return location_index(mean, lower, upper, hypot(sigma, mean - target))


def target_location_interval(
    mean: float,
    sigma: float,
    n: int,
    lower: float | None,
    upper: float | None,
    target: float,
    *,
    seed: int,
    confidence: float = 0.95,
    draws: int = 4000,
) -> Estimate:
    """Cpmk with an interval from make-believe means and spreads of n normal pieces.

    Parameters
    ----------
    mean, sigma, lower, upper, target
        As for `target_location_index`.
    n : int
        Pieces, 2 or more.
    seed, draws : int
        Same seed, same interval; 200 draws or more.
    confidence : float
        Between 0 and 1.

    Returns
    -------
    Estimate
        Reverse percentiles on the asinh scale.

    Raises
    ------
    Refused
        As for the index, and fewer than 2 pieces or too few draws.

    Notes
    -----
    Means are drawn from the normal and spreads from the chi-square law; no closed form is in use (own derivation).

    Examples
    --------
    >>> found = target_location_interval(16.0, 2.0, 50, 8.0, 20.0, 14.0, seed=1)
    >>> found.low < 0.4714 < found.high
    True
    """
    estimate = target_location_index(mean, lower, upper, target, sigma)
    if n < 2 or draws < 200:
        raise Refused.one(
            "too few pieces or draws for an interval", value=f"{n} and {draws}", allowed="2 and 200"
        )
    random = np.random.default_rng(seed)
    means = mean + sigma / sqrt(n) * random.standard_normal(draws)
    sigmas = sigma * np.sqrt(chi_square_below(random.random(draws), n - 1) / (n - 1))
    drawn = _indices(means, sigmas, lower, upper, target)
    low, high = reverse_interval(estimate, drawn, confidence)
    method = f"{draws} make-believe means and spreads of {n} normal pieces, seed {seed}"
    return Estimate(estimate, low, high, n, confidence, method)


def _indices(
    means: Floats, sigmas: Floats, lower: float | None, upper: float | None, target: float
) -> Floats:
    """Cpmk of many means and spreads at once."""
    ends = [upper - means] if upper is not None else []
    if lower is not None:
        ends.append(means - lower)
    return np.asarray(np.min(np.stack(ends), axis=0) / (3.0 * np.hypot(sigmas, means - target)))
