"""How far a capability index can be trusted: confidence intervals that carry their number of pieces."""

from dataclasses import dataclass, replace
from math import sqrt

from scipy.special import ndtr, ndtri, roots_legendre

from spc.errors import Refused
from spc.statistics.chance_laws import chi_density, chi_square_above, chi_square_below

__all__ = [
    "Estimate",
    "location_interval",
    "no_narrower",
    "one_sided_interval",
    "spread_interval",
    "tail_share",
    "target_interval",
]


_NODES, _WEIGHTS = roots_legendre(400)


@dataclass(frozen=True, slots=True)
class Estimate:
    """An index with its interval.

    Attributes
    ----------
    estimate, low, high : float
        The index and the two ends of its interval.
    n : int
        Pieces it was computed from.
    level : float
        Confidence of the two-sided interval.
    method : str
        Whose interval.
    """

    estimate: float
    low: float
    high: float
    n: int
    level: float
    method: str


def spread_interval(index: float, n: int, freedom: float | None = None, confidence: float = 0.95) -> Estimate:
    """Interval of Cp or Pp by the chi-square distribution of sigma.

    Parameters
    ----------
    index : float
        Cp or Pp, above 0.
    n : int
        Pieces.
    freedom : float, optional
        Degrees of freedom of sigma; n-1 without it.
    confidence : float
        Between 0 and 1.

    Returns
    -------
    Estimate
        Exact for normal pieces where sigma is a standard deviation; very close for ranges.

    Raises
    ------
    Refused
        Confidence out of range, fewer than 2 pieces.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 6.1.6; Montgomery, Introduction to SQC, Example 8.5 (from memory).

    Examples
    --------
    >>> interval = spread_interval((62 - 38) / (6 * 1.75), n=20)
    >>> round(interval.low, 2), round(interval.high, 2)
    (1.56, 3.01)
    """
    tail = tail_share(confidence, n)
    nu = n - 1.0 if freedom is None else freedom
    low, high = (
        index * sqrt(float(quantile) / nu)
        for quantile in (chi_square_below(tail, nu), chi_square_above(tail, nu))
    )
    return Estimate(index, low, high, n, confidence, f"chi-square, {nu:.4g} degrees of freedom")


def location_interval(
    index: float, n: int, freedom: float | None = None, confidence: float = 0.95
) -> Estimate:
    """Interval of Cpk or Ppk with both limits, after Bissell.

    Parameters
    ----------
    index : float
        Cpk or Ppk.
    n : int
        Pieces, which make the mean uncertain.
    freedom : float, optional
        Degrees of freedom of sigma; n-1 without it.
    confidence : float
        Between 0 and 1.

    Returns
    -------
    Estimate
        index -/+ z sqrt(1/(9 n) + index^2/(2 freedom)).

    Raises
    ------
    Refused
        Confidence out of range, fewer than 2 pieces.

    References
    ----------
    Bissell, Applied Statistics 39 (1990) 331-340, as quoted by Rodriguez, J. Quality Technology 24 (1992).

    Examples
    --------
    >>> interval = location_interval(1.15, n=45)
    >>> round(interval.low, 2), round(interval.high, 2)
    (0.89, 1.41)
    """
    tail = tail_share(confidence, n)
    nu = n - 1.0 if freedom is None else freedom
    half = -float(ndtri(tail)) * sqrt(1.0 / (9.0 * n) + index**2 / (2.0 * nu))
    return Estimate(index, index - half, index + half, n, confidence, f"Bissell, {nu:.4g} degrees of freedom")


def target_interval(index: float, n: int, offset: float, confidence: float = 0.95) -> Estimate:
    """Interval of Cpm, after Boyles.

    Parameters
    ----------
    index : float
        Cpm, above 0.
    n : int
        Pieces.
    offset : float
        Mean minus target, in standard deviations of all pieces (n in the divisor).
    confidence : float
        Between 0 and 1.

    Returns
    -------
    Estimate
        Chi-square with n (1 + offset^2)^2 / (1 + 2 offset^2) degrees of freedom.

    Raises
    ------
    Refused
        Confidence out of range, fewer than 2 pieces.

    References
    ----------
    Boyles, J. Quality Technology 23 (1991).

    Examples
    --------
    >>> interval = target_interval(0.707107, n=50, offset=1.0)
    >>> round(interval.low, 3), round(interval.high, 3)
    (0.587, 0.827)
    """
    tail_share(confidence, n)
    freedom = n * (1.0 + offset**2) ** 2 / (1.0 + 2.0 * offset**2)
    by_spread = spread_interval(index, n, freedom, confidence)
    return Estimate(
        index, by_spread.low, by_spread.high, n, confidence, f"Boyles, {freedom:.4g} degrees of freedom"
    )


def one_sided_interval(
    index: float, n: int, freedom: float | None = None, confidence: float = 0.95
) -> Estimate:
    """Interval of an index with one limit only, by the noncentral t distribution.

    Parameters
    ----------
    index : float
        Distance from the mean to the only limit over three sigma.
    n : int
        Pieces, which make the mean uncertain.
    freedom : float, optional
        Degrees of freedom of sigma; n-1 without it.
    confidence : float
        Between 0 and 1, of the two-sided interval: 0.90 gives the one-sided 95 % bounds.

    Returns
    -------
    Estimate
        Exact for normal pieces where sigma is a standard deviation.

    Raises
    ------
    Refused
        Confidence out of range, fewer than 2 pieces.

    Notes
    -----
    3 sqrt(n) times the estimate follows the noncentral t distribution around 3 sqrt(n) times the index.

    Examples
    --------
    >>> round(one_sided_interval(1.33, n=50, confidence=0.90).low, 4)
    1.0931
    """
    tail = tail_share(confidence, n)
    nu = n - 1.0 if freedom is None else freedom
    scale = 3.0 * sqrt(n)
    low, high = (_noncentrality(scale * index, nu, share) / scale for share in (1.0 - tail, tail))
    return Estimate(index, low, high, n, confidence, f"noncentral t, {nu:.4g} degrees of freedom")


def _noncentrality(t: float, freedom: float, share: float) -> float:
    """Noncentrality at which a value of at most t has the given chance.

    That chance is the mean of Phi(t S - noncentrality) over S = sqrt(chi-square / freedom), by Gauss-Legendre;
    library routines for it give up in the far tails that the search passes through.
    """
    from scipy.optimize import brentq

    least, most = sqrt(chi_square_below(1e-15, freedom)), sqrt(chi_square_above(1e-15, freedom))
    spread = least + (most - least) * (_NODES + 1.0) / 2.0
    weights = chi_density(spread, freedom) * _WEIGHTS
    reached = t * spread / sqrt(freedom)

    def miss(noncentrality: float) -> float:
        return float(weights @ ndtr(reached - noncentrality) / weights.sum()) - share

    return float(brentq(miss, reached.min() - 9.0, reached.max() + 9.0, xtol=1e-10))


def no_narrower(honest: Estimate, textbook: Estimate) -> Estimate:
    """Move the ends of an honest interval out to those of the textbook's, where they lie inside them.

    Parameters
    ----------
    honest, textbook : Estimate
        The same index at the same confidence, by checks and by independent pieces.

    Returns
    -------
    Estimate
        The honest one, holding the textbook's.

    Notes
    -----
    Checks can only take from what n pieces tell: related pieces know less than independent ones. Where an interval
    by checks comes out shorter, that is chance (they happen to differ less than their pieces explain) or its method
    (few checks redrawn are short), and no knowledge.

    Examples
    --------
    >>> by_checks, by_pieces = Estimate(1.5, 1.4, 1.7, 50, 0.95, "checks"), Estimate(1.5, 1.3, 1.6, 50, 0.95, "pieces")
    >>> found = no_narrower(by_checks, by_pieces)
    >>> found.low, found.high, found.method
    (1.3, 1.7, 'checks')
    """
    return replace(honest, low=min(honest.low, textbook.low), high=max(honest.high, textbook.high))


def tail_share(confidence: float, n: int) -> float:
    """Share beyond each end of a two-sided interval; refuses a confidence or a count that has none."""
    if not 0.0 < confidence < 1.0:
        raise Refused.one(
            "the confidence is out of range",
            value=str(confidence),
            column="confidence",
            allowed="between 0 and 1, for instance 0.95",
        )
    if n < 2:
        raise Refused.one("an interval wants at least 2 pieces", value=str(n), allowed="2 or more")
    return (1.0 - confidence) / 2.0
