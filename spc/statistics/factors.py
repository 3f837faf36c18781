"""The factors of the three-sigma charts under their textbook letters, computed for any subgroup size."""

from dataclasses import dataclass
from functools import cache
from math import sqrt

from spc.statistics.constants import c4, d2, d3, median_sd

__all__ = ["ControlFactors", "control_factors"]


@dataclass(frozen=True, slots=True)
class ControlFactors:
    """Factors of the three-sigma charts for one subgroup size, under their textbook letters.

    Attributes
    ----------
    n : int
        Pieces in the subgroup.
    A, A2, A3, A4 : float
        Half width of the location limits in sigma, in R-bar, in s-bar; A4 that of the median chart in R-bar.
    B3, B4, B5, B6 : float
        Lower and upper limit of s: in s-bar (B3, B4), in sigma (B5, B6).
    D1, D2, D3, D4 : float
        Lower and upper limit of R: in sigma (D1, D2), in R-bar (D3, D4).
    E2 : float
        3/d2: half width of the limits of single pieces in R-bar.
    """

    n: int
    A: float
    A2: float
    A3: float
    A4: float
    B3: float
    B4: float
    B5: float
    B6: float
    D1: float
    D2: float
    D3: float
    D4: float
    E2: float


@cache
def control_factors(n: int) -> ControlFactors:
    """All chart factors for subgroups of n pieces, for whoever checks limits against a printed table.

    Parameters
    ----------
    n : int
        Pieces in the subgroup, 2 or more.

    Returns
    -------
    ControlFactors
        Negative lower factors are 0.

    Raises
    ------
    Refused
        Fewer than 2 pieces.

    Notes
    -----
    Printed tables carry a few last-digit slips (D4 at n = 18 is 1.6087, printed 1.608).

    References
    ----------
    ISO 7870-2, table of factors (from memory).

    Examples
    --------
    >>> factors = control_factors(5)
    >>> round(factors.A2, 3), round(factors.D4, 3)
    (0.577, 2.114)
    """
    mean_range, sd_range, mean_sd, root = d2(n), d3(n), c4(n), sqrt(n)
    sd_sd = sqrt(1.0 - mean_sd**2)
    low_s, high_s = max(0.0, mean_sd - 3 * sd_sd), mean_sd + 3 * sd_sd
    low_r, high_r = max(0.0, mean_range - 3 * sd_range), mean_range + 3 * sd_range
    return ControlFactors(
        n=n,
        A=3 / root,
        A2=3 / (mean_range * root),
        A3=3 / (mean_sd * root),
        A4=3 * median_sd(n) / mean_range,
        B3=low_s / mean_sd,
        B4=high_s / mean_sd,
        B5=low_s,
        B6=high_s,
        D1=low_r,
        D2=high_r,
        D3=low_r / mean_range,
        D4=high_r / mean_range,
        E2=3 / mean_range,
    )
