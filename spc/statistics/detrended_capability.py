"""The capability a wearing process would have if its trend were taken out."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from spc.errors import Refused
from spc.statistics.capability import Capability, capability
from spc.statistics.indices import check_tolerance
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.trend_line import TrendLine, trend_line

__all__ = ["DetrendedCapability", "detrended_capability"]


@dataclass(frozen=True, slots=True)
class DetrendedCapability:
    """Capability without the trend, and the trend.

    Attributes
    ----------
    trend : TrendLine
        Check means over `at`.
    trend_share : float
        Share of the variance of all pieces that the trend explains, 0 to 1.
    capability : Capability
        Of the readings with the slope taken out and their mean kept.
    n, subgroups : int
        Pieces and checks.
    level : float
        Confidence of the intervals.
    method : str
        What was taken out.
    """

    trend: TrendLine
    trend_share: float
    capability: Capability
    n: int
    subgroups: int
    level: float
    method: str


def detrended_capability(
    subgroups: Sequence[Sequence[float]],
    lower: float | None = None,
    upper: float | None = None,
    target: float | None = None,
    *,
    at: Sequence[float] | None = None,
    confidence: float = 0.95,
    sigma_from: str = "r_bar",
) -> DetrendedCapability:
    """Capability with the trend taken out, beside the performance of a process that wears.

    Parameters
    ----------
    subgroups, lower, upper, target, confidence, sigma_from
        As for `capability`; 3 or more subgroups.
    at : sequence of float, optional
        Pieces made or hours at each check; the number of the check without it.

    Returns
    -------
    DetrendedCapability
        What would be held if the slide followed the wear perfectly; it promises nothing until it does.

    Raises
    ------
    Refused
        As for `capability` and `trend_line`.

    Notes
    -----
    Intervals do not count the degree of freedom that the slope takes: one of n.

    Examples
    --------
    >>> checks = [[10.00, 10.02], [10.11, 10.09], [10.20, 10.21], [10.29, 10.31]]
    >>> found = detrended_capability(checks, lower=9.5, upper=10.8)
    >>> round(found.trend.slope, 3), found.trend_share > 0.98
    (0.098, True)
    """
    check_tolerance(lower, upper, target)
    summaries = summarise_subgroups(subgroups, least_subgroups=3, chart="a trend")
    x = list(range(1, len(summaries.sizes) + 1)) if at is None else [float(each) for each in at]
    if len(x) != len(summaries.sizes):
        raise Refused.one(
            "every check wants its place in time", value=f"{len(x)} for {len(summaries.sizes)} checks"
        )
    trend = trend_line(x, summaries.means, confidence)
    middle = fsum(a * size for a, size in zip(x, summaries.sizes, strict=True)) / summaries.pieces
    flat = [
        [value - trend.slope * (a - middle) for value in check]
        for a, check in zip(x, summaries.readings, strict=True)
    ]
    without = capability(flat, lower, upper, target, confidence, sigma_from)
    left = (without.sigma_overall / summaries.overall_sd) ** 2
    return DetrendedCapability(
        trend=trend,
        trend_share=max(0.0, 1.0 - left),
        capability=without,
        n=summaries.pieces,
        subgroups=len(summaries.sizes),
        level=confidence,
        method="slope of the check means taken out, mean of all pieces kept",
    )
