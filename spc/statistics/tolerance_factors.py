"""Factors k of normal tolerance intervals: mean -/+ k s holds a wanted share of pieces with a wanted confidence."""

from math import exp, log, sqrt

import numpy as np
from scipy.special import ndtr, ndtri, roots_legendre

from spc.errors import Refusal, Refused
from spc.statistics.chance_laws import chi_square_below, chi_square_tail
from spc.statistics.noncentral import noncentral_t_quantile
from spc.statistics.readings import Floats

__all__ = ["one_sided_factor", "one_sided_factor_approximate", "two_sided_factor", "two_sided_factor_howe"]

_NODES, _WEIGHTS = roots_legendre(200)
_FARTHEST = 9.0  # standard deviations of the mean; the tail beyond is 2e-19


def two_sided_factor(n: int, share: float, confidence: float) -> float:
    """Exact factor k2 for both sides, by the two-dimensional integral over mean and s.

    Parameters
    ----------
    n : int
        Pieces behind mean and s, 2 or more.
    share : float
        Share of pieces to hold, between 0 and 1.
    confidence : float
        Chance that the interval holds it, between 0 and 1.

    Returns
    -------
    float
        k2, dimensionless.

    Raises
    ------
    Refused
        Fewer than 2 pieces, a share or confidence out of range.

    Notes
    -----
    For each mean z / sqrt(n) the half width r holds the share; s must reach r / k, a chi-square chance.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 7.2.6.3; ISO 16269-6 (from memory).

    Examples
    --------
    >>> round(two_sided_factor(43, 0.90, 0.99), 4)
    2.2228
    """
    from scipy.optimize import brentq

    _check(n, share, confidence)
    z = _FARTHEST * (_NODES + 1.0) / 2.0
    density = _FARTHEST * _WEIGHTS * np.exp(-0.5 * z**2) / sqrt(2.0 * np.pi)  # both signs of z
    reach = _half_widths(z / sqrt(n), share)
    freedom = n - 1

    def miss(log_k: float) -> float:
        wanted = freedom * (reach / exp(log_k)) ** 2
        return float(density @ chi_square_tail(wanted, freedom)) - confidence

    return exp(float(brentq(miss, log(1e-6), log(1e6), xtol=1e-13)))


def two_sided_factor_howe(n: int, share: float, confidence: float) -> float:
    """Factor k2 after Howe: z times the root of nu (1 + 1/n) / chi-square; arguments as for the exact one.

    Parameters
    ----------
    n : int
        Pieces behind mean and s, 2 or more.
    share : float
        Share of pieces to hold, between 0 and 1.
    confidence : float
        Chance that the interval holds it, between 0 and 1.

    Returns
    -------
    float
        k2, dimensionless; a little below the exact one.

    Raises
    ------
    Refused
        Fewer than 2 pieces, a share or confidence out of range.

    References
    ----------
    Howe, J. American Statistical Association 64 (1969); e-Handbook 7.2.6.3.

    Examples
    --------
    >>> round(two_sided_factor_howe(43, 0.90, 0.99), 3)
    2.217
    """
    _check(n, share, confidence)
    freedom = n - 1
    least = float(chi_square_below(1.0 - confidence, freedom))
    return float(ndtri((1.0 + share) / 2.0)) * sqrt(freedom * (1.0 + 1.0 / n) / least)


def one_sided_factor(n: int, share: float, confidence: float) -> float:
    """Exact factor k1 for one side, by the noncentral t distribution; arguments as for both sides.

    Parameters
    ----------
    n : int
        Pieces behind mean and s, 2 or more.
    share : float
        Share of pieces to hold, between 0 and 1.
    confidence : float
        Chance that the limit holds it, between 0 and 1.

    Returns
    -------
    float
        k1, dimensionless.

    Raises
    ------
    Refused
        Fewer than 2 pieces, a share or confidence out of range.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 7.2.6.3; ISO 16269-6 (from memory).

    Examples
    --------
    >>> round(one_sided_factor(43, 0.90, 0.99), 4)
    1.874
    """
    _check(n, share, confidence)
    return noncentral_t_quantile(confidence, n - 1.0, float(ndtri(share)) * sqrt(n)) / sqrt(n)


def one_sided_factor_approximate(n: int, share: float, confidence: float) -> float:
    """Factor k1 after Natrella, for checking older sheets; arguments as for both sides.

    Parameters
    ----------
    n : int
        Pieces behind mean and s, 2 or more.
    share : float
        Share of pieces to hold, between 0 and 1.
    confidence : float
        Chance that the limit holds it, between 0 and 1.

    Returns
    -------
    float
        k1, dimensionless; a little above the exact one.

    Raises
    ------
    Refused
        As the exact one, and where so few pieces leave the approximation without an answer.

    References
    ----------
    Natrella, Experimental Statistics, NBS Handbook 91 (1963); e-Handbook 7.2.6.3.

    Examples
    --------
    >>> round(one_sided_factor_approximate(43, 0.90, 0.99), 4)
    1.8752
    """
    _check(n, share, confidence)
    z_share, z_sure = float(ndtri(share)), float(ndtri(confidence))
    a = 1.0 - z_sure**2 / (2.0 * (n - 1))
    b = z_share**2 - z_sure**2 / n
    if a <= 0.0 or z_share**2 < a * b:
        raise Refused.one(
            "the approximate factor does not exist for so few pieces",
            value=f"{n} pieces at confidence {confidence:g}",
            do="Use the exact factor",
        )
    return (z_share + sqrt(z_share**2 - a * b)) / a


def _half_widths(offset: Floats, share: float) -> Floats:
    """Half width around an offset mean that holds the share of a standard normal piece: Newton from outside."""
    reach = np.asarray(offset + ndtri((1.0 + share) / 2.0))
    for _ in range(60):
        held = ndtr(offset + reach) - ndtr(offset - reach)
        rate = (np.exp(-0.5 * (offset + reach) ** 2) + np.exp(-0.5 * (offset - reach) ** 2)) / sqrt(
            2.0 * np.pi
        )
        reach = reach - (held - share) / rate
    return reach


def _check(n: int, share: float, confidence: float) -> None:
    refusals = [
        Refusal(f"the {name} is out of range", value=str(value), column=name, allowed="between 0 and 1")
        for name, value in (("share", share), ("confidence", confidence))
        if not 0.0 < value < 1.0
    ]
    if n < 2:
        refusals.append(
            Refusal("a tolerance interval wants at least 2 pieces", value=str(n), allowed="2 or more")
        )
    if refusals:
        raise Refused(refusals)
