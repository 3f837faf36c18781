"""The interval of the share outside the tolerance by the normal model, and how such a share is said."""

from collections.abc import Sequence
from functools import lru_cache
from math import floor, inf, log10

import numpy as np
from scipy.special import gammaincinv, ndtr, ndtri

from spc.errors import Refused
from spc.statistics.index_intervals import Estimate, tail_share
from spc.statistics.normal_model import fallout_ppm
from spc.statistics.readings import Floats, frozen
from spc.statistics.sound_arguments import want_finite

__all__ = ["fallout_interval", "fallout_says"]

_POWER = 14
_POINTS = 2**_POWER


def fallout_interval(
    mean: float,
    sigma: float,
    lower: float | None,
    upper: float | None,
    *,
    n: int,
    parts: Sequence[tuple[float, float]] | None = None,
    error: float = 0.0,
    confidence: float = 0.95,
) -> Estimate:
    """Interval of the parts per million outside the tolerance, for whoever must not promise too few.

    Parameters
    ----------
    mean, sigma : float
        Of all pieces, in the unit of the limits; sigma above 0.
    lower, upper : float or None
        Tolerance limits, at least one.
    n : int
        Pieces.
    parts : sequence of (float, float), optional
        One or two shares of sigma squared, together 1, each with its degrees of freedom; the part between checks
        first. Without it one part of n-1.
    error : float
        Standard error of the mean, as uncertain as the first part; never taken below that of n independent pieces.
    confidence : float
        Of the two-sided interval.

    Returns
    -------
    Estimate
        In parts per million.

    Raises
    ------
    Refused
        Fewer than 2 pieces, confidence out of range, a sigma that is not above 0.

    Notes
    -----
    16,384 evenly spread (Sobol) pairs of the mean and the sigma that could stand behind these numbers are put into the
    normal model, and the ends are read off its shares (a generalised interval). With one limit and n independent
    pieces this is the noncentral t interval, to 3 % of its ends.

    References
    ----------
    Weerahandi, J. American Statistical Association 88 (1993) 899-905 (from memory).

    Examples
    --------
    >>> found = fallout_interval(10.0, 1.0, None, 13.0, n=50)
    >>> round(found.estimate), round(found.low), round(found.high, -2)
    (1350, 131, 9600.0)
    """
    tail = tail_share(confidence, n)
    want_finite(error=error)
    _want_parts(parts or ())
    estimate = fallout_ppm(mean, sigma, lower, upper)
    shares, freedoms = zip(*(parts or [(1.0, n - 1.0)]), strict=True)
    pull, widened = _worlds(tuple(map(float, freedoms)))
    variances = sigma**2 * sum(share * each for share, each in zip(shares, widened, strict=True))
    middles = mean + pull * np.sqrt(np.maximum(error**2 * widened[0], variances / n))
    sigmas = np.sqrt(variances)
    lost = np.zeros(_POINTS)
    if lower is not None:
        lost = lost + ndtr((lower - middles) / sigmas)
    if upper is not None:
        lost = lost + ndtr((middles - upper) / sigmas)
    low, high = (1e6 * float(each) for each in np.quantile(lost, [tail, 1.0 - tail]))
    method = f"normal model, {_POINTS:,} evenly spread pairs of mean and sigma"
    return Estimate(estimate, min(low, estimate), max(high, estimate), n, confidence, method)


def _want_parts(parts: Sequence[tuple[float, float]]) -> None:
    if any(not (0.0 <= share <= 1.0 and 0.0 < freedom < inf) for share, freedom in parts):
        raise Refused.one(
            "the parts of the variance are out of range",
            value=str(list(parts)),
            allowed="shares of 0 to 1 that add up to 1, each with degrees of freedom above 0",
        )


def fallout_says(fallout: Estimate) -> str:
    """Say a share outside the tolerance with its interval, never finer than the pieces carry.

    Parameters
    ----------
    fallout : Estimate
        In pieces per million, with its interval and the pieces behind it.

    Returns
    -------
    str
        Words in ppm, two digits at most; no share under 1 ppm is named.

    Notes
    -----
    The wording is the house's own; it judges nothing and refuses nothing.

    Examples
    --------
    >>> fallout_says(Estimate(0.02, 0.0001, 3.14, 40, 0.95, ""))
    'under 1 ppm, cannot be told from 40 pieces (95 % interval up to 3.1 ppm)'
    >>> fallout_says(Estimate(1349.9, 117.2, 10004.0, 50, 0.95, ""))
    'about 1,300 ppm (95 % interval 120 to 10,000 ppm, 50 pieces)'
    """
    level = f"{100.0 * fallout.level:g} % interval"
    if fallout.estimate < 1.0:
        more = f" ({level} up to {_two_digits(fallout.high)} ppm)" if fallout.high >= 1.0 else ""
        return f"under 1 ppm, cannot be told from {fallout.n:,} pieces{more}"
    low = "under 1" if fallout.low < 1.0 else _two_digits(fallout.low)
    high, estimate = _two_digits(fallout.high), _two_digits(fallout.estimate)
    return f"about {estimate} ppm ({level} {low} to {high} ppm, {fallout.n:,} pieces)"


def _two_digits(ppm: float) -> str:
    digits = 1 - floor(log10(ppm))
    return f"{round(ppm, digits):,.{max(digits, 0)}f}"


@lru_cache(maxsize=64)
def _worlds(freedoms: tuple[float, ...]) -> tuple[Floats, tuple[Floats, ...]]:
    """Evenly spread normal numbers, and one row of freedom/chi-square for each part."""
    from scipy.stats import qmc  # here, as it takes a second to load

    sobol = qmc.Sobol(len(freedoms) + 1, scramble=False).random_base2(_POWER)
    even = sobol.T + 0.5 / _POINTS  # the first point is 0, where no quantile is
    pull = frozen(np.asarray(ndtri(even[0])))
    factors = (
        freedom / (2.0 * gammaincinv(freedom / 2.0, each))
        for freedom, each in zip(freedoms, even[1:], strict=True)
    )
    return pull, tuple(frozen(np.asarray(each)) for each in factors)
