"""Do groups scatter alike? Bartlett's test, and Levene's with mean or median."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from statistics import fmean, median
from typing import Literal

from spc.errors import Refused
from spc.statistics.chance_laws import chi_square_tail
from spc.statistics.one_way_anova import checked_groups, one_way_anova

__all__ = ["SpreadTest", "bartlett_test", "levene_test"]


@dataclass(frozen=True, slots=True)
class SpreadTest:
    """Test of equal spreads.

    Attributes
    ----------
    n : tuple of int
        Values in each group.
    statistic, p : float
        And the chance of one at least as large where all spreads are equal.
    method : str
        Which test.
    """

    n: tuple[int, ...]
    statistic: float
    p: float
    method: str


def levene_test(
    groups: Sequence[Sequence[float]], centre: Literal["median", "mean"] = "median"
) -> SpreadTest:
    """Compare spreads of groups that need not be normal, for whoever compares machines.

    Parameters
    ----------
    groups : sequence of sequences of float
        Two groups or more, two values or more in each.
    centre : {"median", "mean"}
        Brown & Forsythe's robust form, or Levene's own.

    Returns
    -------
    SpreadTest
        F of the absolute deviations from each group's centre.

    Raises
    ------
    Refused
        Too few groups or values, missing values, no spread.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 1.3.5.10; Brown & Forsythe, JASA 69 (1974) 364-367 (from memory).

    Examples
    --------
    >>> round(levene_test([[1.0, 2.0, 3.0, 4.0], [1.0, 5.0, 9.0, 14.0]]).statistic, 3)
    5.828
    """
    values = checked_groups(groups, least_values=2)
    middle = median if centre == "median" else fmean
    found = one_way_anova([[abs(value - middle(group)) for value in group] for group in values])
    name = "Brown-Forsythe (Levene with medians)" if centre == "median" else "Levene with means"
    return SpreadTest(found.n, found.f, found.p, name)


def bartlett_test(groups: Sequence[Sequence[float]]) -> SpreadTest:
    """Compare spreads of normal groups, for whoever compares machines; sharp, but fooled by long tails.

    Parameters
    ----------
    groups : sequence of sequences of float
        Two groups or more, two values or more in each.

    Returns
    -------
    SpreadTest
        Chi-square on groups - 1 degrees of freedom.

    Raises
    ------
    Refused
        Too few groups or values, missing values, a group without spread.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 1.3.5.7.
    """
    plain = one_way_anova(checked_groups(groups, least_values=2))
    if min(plain.sds) <= 0.0:
        raise Refused.one("a group has no spread, which this test cannot take", do="Use Levene's test")
    freedoms = [size - 1 for size in plain.n]
    total, count = sum(freedoms), len(freedoms)
    pooled = sum(df * sd**2 for df, sd in zip(freedoms, plain.sds, strict=True)) / total
    top = total * log(pooled) - sum(df * log(sd**2) for df, sd in zip(freedoms, plain.sds, strict=True))
    bottom = 1.0 + (sum(1.0 / df for df in freedoms) - 1.0 / total) / (3.0 * (count - 1))
    statistic = top / bottom
    return SpreadTest(plain.n, statistic, float(chi_square_tail(statistic, count - 1)), "Bartlett")
