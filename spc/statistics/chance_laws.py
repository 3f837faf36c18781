"""Tails and points of chi-square, Student's t, F and the binomial law, from the special functions behind them.

The general library of laws gives the same numbers, but loading it takes longer than most answers.
"""

import numpy as np
import numpy.typing as npt
from scipy.special import (
    bdtr,
    bdtrc,
    betainccinv,
    betaincinv,
    chdtrc,
    fdtrc,
    fdtri,
    gammainccinv,
    gammaincinv,
    gammaln,
    stdtr,
    stdtrit,
)

__all__ = [
    "beta_above", "beta_below", "binomial_above", "binomial_upto", "chi_density", "chi_square_above",
    "chi_square_below", "chi_square_density", "chi_square_tail", "f_above", "f_below", "f_tail", "t_above", "t_tail",
]  # fmt: skip

Numbers = float | npt.NDArray[np.float64]


def chi_square_tail(value: Numbers, freedom: float) -> npt.NDArray[np.float64]:
    """Chance that chi-square exceeds a value of 0 or more."""
    return np.asarray(chdtrc(freedom, value))


def chi_square_below(share: Numbers, freedom: float) -> npt.NDArray[np.float64]:
    """Value below which a share (0 to 1) of chi-square lies.

    Examples
    --------
    >>> round(float(chi_square_below(0.025, 10)), 3), round(float(chi_square_above(0.025, 10)), 3)
    (3.247, 20.483)
    """
    return np.asarray(2.0 * gammaincinv(freedom / 2.0, share))


def chi_square_above(share: Numbers, freedom: float) -> npt.NDArray[np.float64]:
    """Value above which a share (0 to 1) of chi-square lies."""
    return np.asarray(2.0 * gammainccinv(freedom / 2.0, share))


def chi_square_density(value: npt.NDArray[np.float64], freedom: float) -> npt.NDArray[np.float64]:
    """Density of chi-square at values above 0."""
    half = freedom / 2.0
    return np.asarray(np.exp((half - 1.0) * np.log(value) - value / 2.0 - half * np.log(2.0) - gammaln(half)))


def chi_density(value: npt.NDArray[np.float64], freedom: float) -> npt.NDArray[np.float64]:
    """Density of the root of chi-square at values above 0."""
    return 2.0 * value * chi_square_density(value**2, freedom)


def t_tail(value: float, freedom: float) -> float:
    """Chance that Student's t exceeds a value.

    Examples
    --------
    >>> round(t_tail(2.228, 10), 4), round(t_above(0.025, 10), 3)
    (0.025, 2.228)
    """
    return float(stdtr(freedom, -value))


def t_above(share: float, freedom: float) -> float:
    """Value above which a share (0 to 1) of Student's t lies."""
    return -float(stdtrit(freedom, share))


def f_tail(value: float, above: float, below: float) -> float:
    """Chance that F exceeds a value of 0 or more, infinity included; degrees of freedom above and below the line.

    Examples
    --------
    >>> round(f_tail(3.326, 5, 10), 3), round(f_above(0.05, 5, 10), 3), f_tail(float("inf"), 5, 10)
    (0.05, 3.326, 0.0)
    """
    return float(fdtrc(above, below, value)) if np.isfinite(value) else 0.0 if value > 0.0 else float("nan")


def f_below(share: float, above: float, below: float) -> float:
    """Value below which a share (0 to 1) of F lies."""
    return float(fdtri(above, below, share))


def f_above(share: float, above: float, below: float) -> float:
    """Value above which a share (0 to 1) of F lies."""
    return 1.0 / float(fdtri(below, above, share))


def binomial_upto(count: npt.NDArray[np.int_], n: int, share: float) -> npt.NDArray[np.float64]:
    """Chance of a count (0 to n) or fewer among n."""
    return np.asarray(bdtr(count, n, share))


def binomial_above(count: Numbers | npt.NDArray[np.int_], n: int, share: float) -> npt.NDArray[np.float64]:
    """Chance of more than a count (-1 to n) among n.

    Examples
    --------
    >>> float(binomial_above(-1, 5, 0.5)), float(binomial_above(4, 5, 0.5)), float(binomial_above(5, 5, 0.5))
    (1.0, 0.03125, 0.0)
    """
    return np.asarray(bdtrc(count, n, share))


def beta_below(share: float, first: float, second: float) -> float:
    """Value below which a share (0 to 1) of the beta law lies."""
    return float(betaincinv(first, second, share))


def beta_above(share: float, first: float, second: float) -> float:
    """Value above which a share (0 to 1) of the beta law lies."""
    return float(betainccinv(first, second, share))
