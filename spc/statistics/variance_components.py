"""How much of the spread is between batches, and how much within: one-way variance components."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt
from typing import Literal

from spc.errors import Refused
from spc.statistics.group_squares import group_squares
from spc.statistics.mean_square_intervals import MeanSquare, mean_square_interval
from spc.statistics.nested_reml import nested_reml
from spc.statistics.one_way_anova import OneWayAnova, checked_groups, one_way_anova

__all__ = ["VarianceComponents", "variance_components"]

Method = Literal["anova", "reml", "ml"]


@dataclass(frozen=True, slots=True)
class VarianceComponents:
    """Spread between and within random groups.

    Attributes
    ----------
    n : tuple of int
        Values in each group.
    mean : float
        Grand mean (generalised least squares for reml and ml).
    between, between_low, between_high : float
        Standard deviation between groups with its interval; 0 where the estimate is negative.
    within, within_low, within_high : float
        Standard deviation within groups with its interval.
    total : float
        sqrt(between² + within²).
    intraclass : float
        between²/total²: correlation of two pieces of one group.
    anova : OneWayAnova
        The table.
    level : float
        Confidence of the intervals.
    method : {"anova", "reml", "ml"}
        Of the estimates.
    """

    n: tuple[int, ...]
    mean: float
    between: float
    between_low: float
    between_high: float
    within: float
    within_low: float
    within_high: float
    total: float
    intraclass: float
    anova: OneWayAnova
    level: float
    method: Method


def variance_components(
    groups: Sequence[Sequence[float]], method: Method = "reml", *, level: float = 0.95
) -> VarianceComponents:
    """Split spread into between and within groups, for whoever asks what a bar batch or a check adds.

    Parameters
    ----------
    groups : sequence of sequences of float
        Two groups or more, one of them with two values or more; sizes may differ.
    method : {"anova", "reml", "ml"}
        Mean squares, restricted or plain likelihood; the first two agree where balanced and positive.
    level : float
        Confidence of the intervals.

    Returns
    -------
    VarianceComponents
        Intervals: chi-square within; modified large sample between, on the mean square of the group means
        times the harmonic mean size, which is exact in form where balanced.

    Raises
    ------
    Refused
        Too few groups or values, missing values, no spread within groups.

    References
    ----------
    Searle, Casella & McCulloch, Variance Components (1992); Thomas & Hultquist, Ann. Statist. 6 (1978) 582-587
    for unequal sizes; data sets Dyestuff and Rail (all from memory).

    Examples
    --------
    >>> found = variance_components([[55, 53, 54], [26, 37, 32], [78, 91, 85], [92, 100, 96], [49, 51, 50],
    ...     [80, 85, 83]])
    >>> round(found.between, 3), round(found.within, 4)
    (24.805, 4.0208)
    """
    values = checked_groups(groups)
    anova = one_way_anova(values)
    if method == "anova":
        mean, between, within = anova.mean, sqrt(group_squares(values).between_variance), anova.residual_sd
    elif method in ("reml", "ml"):
        fit = nested_reml([values], method)
        mean, between, within = fit.means[0], fit.sigma_between, fit.sigma_within
    else:
        raise Refused.one("no such method", value=str(method), allowed="anova, reml or ml")
    between_terms, within_terms = _terms(anova)
    low, high = _ends(between_terms, level)
    within_low, within_high = _ends(within_terms, level)
    total = sqrt(between**2 + within**2)
    return VarianceComponents(
        n=anova.n,
        mean=mean,
        between=between,
        between_low=min(between, low),
        between_high=max(between, high),
        within=within,
        within_low=within_low,
        within_high=within_high,
        total=total,
        intraclass=(between / total) ** 2,
        anova=anova,
        level=level,
        method=method,
    )


def _terms(anova: OneWayAnova) -> tuple[list[MeanSquare], list[MeanSquare]]:
    """Both components as mean squares; the one between from unweighted means."""
    count = len(anova.n)
    harmonic = count / fsum(1.0 / size for size in anova.n)
    centre = fsum(anova.means) / count
    ms = harmonic * fsum((mean - centre) ** 2 for mean in anova.means) / (count - 1)
    within = anova.lines[1]
    error = MeanSquare(1.0, within.ms or 0.0, within.df)
    return [MeanSquare(1 / harmonic, ms, count - 1), MeanSquare(-1 / harmonic, error.ms, error.df)], [error]


def _ends(terms: Sequence[MeanSquare], level: float) -> tuple[float, float]:
    found = mean_square_interval(terms, level)
    return sqrt(found.low), sqrt(found.high)
