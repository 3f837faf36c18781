"""The studentized range: how far apart the outermost of several means lie by chance, in estimated errors."""

from functools import cache
from math import sqrt

import numpy as np
import numpy.typing as npt
from scipy.special import roots_legendre

from spc.errors import Refused
from spc.statistics.chance_laws import chi_square_above, chi_square_below, chi_square_density, t_above, t_tail
from spc.statistics.constants import range_probability

__all__ = ["studentized_range_point", "studentized_range_tail"]

Floats = npt.NDArray[np.float64]
_NODES, _WEIGHTS = roots_legendre(64)
_FAR = 1e-13


def studentized_range_tail(q: float, means: int, df: float) -> float:
    """Chance of a studentized range above q, for the p of a pair among several groups.

    Parameters
    ----------
    q : float
        Range of the means in standard errors of one mean, 0 or more.
    means : int
        How many means, 2 or more.
    df : float
        Degrees of freedom of the standard error, 1 or more.

    Returns
    -------
    float
        Probability; absolute error below 1e-9.

    Raises
    ------
    Refused
        Fewer than two means, or less than one degree of freedom.

    Notes
    -----
    The range of normal means (Hartley's integral) averaged over the chi distribution of the standard error on 64
    Gauss-Legendre nodes. Two means are Student's t with q = sqrt(2) t. A general library's function takes up to a
    second for one point; a table of pairs wants many.

    References
    ----------
    Tukey 1953; Lund & Lund, Applied Statistics 32 (1983) 204-210, AS 190 (from memory).

    Examples
    --------
    >>> round(studentized_range_tail(3.506, 3, 27), 3)
    0.05
    """
    _check(means, df)
    if means == 2:
        return 2.0 * t_tail(q / sqrt(2.0), df)
    errors, weights = _errors(df)
    return max(0.0, 1.0 - float(weights @ range_probability(q * errors, means)))


@cache
def studentized_range_point(level: float, means: int, df: float) -> float:
    """Studentized range that chance stays below with this probability.

    Parameters
    ----------
    level : float
        Between 0 and 1.
    means, df
        As for `studentized_range_tail`.

    Returns
    -------
    float
        In standard errors of one mean.

    Examples
    --------
    >>> round(studentized_range_point(0.95, 3, 10), 3)
    3.877
    """
    from scipy.optimize import brentq

    _check(means, df)
    if not 0.0 < level < 1.0:
        raise Refused.one("the confidence is out of range", value=str(level), allowed="between 0 and 1")
    if means == 2:
        return sqrt(2.0) * t_above((1.0 - level) / 2.0, df)
    high = 2.0
    while studentized_range_tail(high, means, df) > 1.0 - level:
        high *= 2.0

    def miss(q: float) -> float:
        return studentized_range_tail(q, means, df) - (1.0 - level)

    return float(brentq(miss, 0.0, high, xtol=1e-10))


def _check(means: int, df: float) -> None:
    if means < 2:
        raise Refused.one("a range wants at least two means", value=str(means), allowed="2 or more")
    if not df >= 1.0:
        raise Refused.one(
            "the error rests on too few values", value=f"{df:g} degrees of freedom", allowed="1 or more"
        )


@cache
def _errors(df: float) -> tuple[Floats, Floats]:
    """Nodes and chances of the estimated standard error in true ones; smooth on the fourth root of chi-square."""
    low, high = float(chi_square_below(_FAR, df)) ** 0.25, float(chi_square_above(_FAR, df)) ** 0.25
    half = (high - low) / 2.0
    root = low + half * (_NODES + 1.0)
    weights = half * _WEIGHTS * chi_square_density(root**4, df) * 4.0 * root**3
    return root**2 / np.sqrt(df), weights / weights.sum()
