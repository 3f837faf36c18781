"""Unbiasing constants of the normal range, standard deviation and median, for any subgroup size."""

from functools import cache
from math import inf, pi, sqrt

import numpy as np
import numpy.typing as npt
from scipy.special import log_ndtr, ndtr, poch, roots_legendre

from spc.errors import Refused

__all__ = ["c4", "d2", "d3", "d4", "median_sd", "range_probability"]

Floats = npt.NDArray[np.float64]
_FARTHEST = 10.0  # standard deviations; the normal tail beyond is 8e-24
_NODES, _WEIGHTS = roots_legendre(240)


@cache
def d2(n: int) -> float:
    """Mean of the range of n pieces, in standard deviations, for whoever turns a range into a sigma.

    Parameters
    ----------
    n : int
        Pieces in the subgroup, 2 or more.

    Returns
    -------
    float
        d2, dimensionless.

    Raises
    ------
    Refused
        Fewer than 2 pieces have no range.

    Notes
    -----
    Integral of 1 - (1-Phi)^n - Phi^n over the line (Tippett 1925, from memory); no table is read.

    Examples
    --------
    >>> round(d2(5), 4)
    2.3259
    """
    _want_pieces(n)
    x, weights = _interval(0.0, _FARTHEST)
    inner = -np.expm1(n * log_ndtr(x)) - ndtr(-x) ** n
    return float(2.0 * weights @ inner)


@cache
def d3(n: int) -> float:
    """Standard deviation of the range of n pieces, in standard deviations.

    Parameters
    ----------
    n : int
        Pieces in the subgroup, 2 or more.

    Returns
    -------
    float
        d3, dimensionless.

    Raises
    ------
    Refused
        Fewer than 2 pieces have no range.

    References
    ----------
    ASTM MNL 7, table of factors (from memory); Tippett, Biometrika 17 (1925) 364-387, for the law (from memory).

    Examples
    --------
    >>> round(d3(5), 4)
    0.8641
    """
    _want_pieces(n)
    widths, weights = _interval(0.0, 2.0 * _FARTHEST)
    mean_square = float(2.0 * weights @ (widths * (1.0 - range_probability(widths, n))))
    return sqrt(mean_square - d2(n) ** 2)


@cache
def d4(n: int) -> float:
    """Median of the range of n pieces, in standard deviations: the divisor of a median moving range.

    Parameters
    ----------
    n : int
        Pieces in the subgroup, 2 or more.

    Returns
    -------
    float
        d4, dimensionless; not to be taken for D4, the factor of the upper limit of a range.

    Raises
    ------
    Refused
        Fewer than 2 pieces have no range.

    References
    ----------
    Median of the same law as `d2`; printed divisor 0.954 of a median moving range (from memory).

    Examples
    --------
    >>> round(d4(2), 4)
    0.9539
    """
    from scipy.optimize import brentq

    _want_pieces(n)
    return float(
        brentq(lambda width: _range_probability_at(width, n) - 0.5, 1e-3, 2.0 * _FARTHEST, xtol=1e-13)
    )


@cache
def c4(n: float) -> float:
    """Mean of the standard deviation (n-1 in the divisor) of n pieces, in standard deviations.

    Parameters
    ----------
    n : int or float
        Pieces in the subgroup, more than 1; a fraction is meant for "degrees of freedom plus one".

    Returns
    -------
    float
        c4, dimensionless.

    Raises
    ------
    Refused
        One piece has no standard deviation.

    References
    ----------
    ISO 7870-2:2013 and ASTM MNL 7, table of factors (from memory); sqrt(2/(n-1)) G(n/2)/G((n-1)/2).

    Examples
    --------
    >>> round(c4(5), 4)
    0.94
    """
    if not n > 1:
        raise Refused.one("a standard deviation wants at least 2 pieces", value=str(n), allowed="2 or more")
    return sqrt(2.0 / (n - 1)) * float(poch((n - 1) / 2.0, 0.5))


@cache
def median_sd(n: int) -> float:
    """Standard deviation of the median of n pieces, in standard deviations of one piece.

    Parameters
    ----------
    n : int
        Pieces in the subgroup, 1 or more; for an even n the median is the mean of the middle two.

    Returns
    -------
    float
        Dimensionless; for large n near 1.2533/sqrt(n).

    Raises
    ------
    Refused
        No pieces.

    Examples
    --------
    >>> round(3 * median_sd(5) / d2(5), 3)
    0.691
    """
    if n < 1:
        raise Refused.one("a median wants at least one piece", value=str(n), allowed="1 or more")
    return _median_sd_odd(n) if n % 2 else _median_sd_even(n)


def range_probability(width: Floats, n: int) -> Floats:
    """Chance that the range of n standard normal pieces is at most `width`.

    Parameters
    ----------
    width : array of float, shape (m,)
        Ranges in standard deviations, 0 or more.
    n : int
        Pieces, 2 or more.

    Returns
    -------
    array of float, shape (m,)
        Probabilities.

    Notes
    -----
    (2 Phi(w/2) - 1)^n + 2n times the integral from w/2 of phi(x) (Phi(x) - Phi(x-w))^(n-1)
    (Hartley 1942, from memory).
    """
    half = np.asarray(width, dtype=float) / 2.0
    start, weights = _interval(0.0, _FARTHEST)
    x = half[:, None] + start[None, :]
    density = np.exp(-0.5 * x * x) / sqrt(2.0 * pi)
    inner = density * (ndtr(x) - ndtr(x - 2.0 * half[:, None])) ** (n - 1)
    both_sides: Floats = (2.0 * ndtr(half) - 1.0) ** n + 2.0 * n * (inner @ weights)
    return both_sides


def _range_probability_at(width: float, n: int) -> float:
    return float(range_probability(np.array([width]), n)[0])


def _median_sd_odd(n: int) -> float:
    """Variance of the middle order statistic: density n C(n-1, k) (Phi (1-Phi))^k phi."""
    middle = (n - 1) // 2
    reach = min(_FARTHEST, 15.0 / sqrt(n))
    x, weights = _interval(-reach, reach)
    shape = middle * (log_ndtr(x) + log_ndtr(-x)) - 0.5 * x * x
    density = np.exp(shape - shape.max())
    return sqrt(float(weights @ (x * x * density)) / float(weights @ density))


def _median_sd_even(n: int) -> float:
    """Variance of the mean of the two middle order statistics, over centre u and half distance v."""
    below = n // 2 - 1
    reach = min(_FARTHEST, 15.0 / sqrt(n))
    u, u_weights = _interval(-reach, reach)
    v, v_weights = _interval(0.0, min(_FARTHEST, 60.0 / n))
    low, high = u[:, None] - v[None, :], u[:, None] + v[None, :]
    shape = below * (log_ndtr(low) + log_ndtr(-high)) - 0.5 * (low * low + high * high)
    density = np.exp(shape - shape.max()) @ v_weights
    return sqrt(float(u_weights @ (u * u * density)) / float(u_weights @ density))


def _want_pieces(n: int) -> None:
    if not 2 <= n < inf or n != int(n):
        raise Refused.one("a range wants at least 2 pieces", value=str(n), allowed="a whole number from 2")


def _interval(start: float, end: float) -> tuple[Floats, Floats]:
    """Gauss-Legendre points and weights between two ends."""
    half = (end - start) / 2.0
    return start + half * (_NODES + 1.0), half * _WEIGHTS
