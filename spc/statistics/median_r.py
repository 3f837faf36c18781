"""The median and R chart: the middle piece of each check, which one odd piece cannot pull away."""

from collections.abc import Sequence
from dataclasses import replace
from math import fsum

from spc.statistics.shewhart import ShewhartLimits, limits_from_sigma
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.within_sigma import sigma_from_mean_range

__all__ = ["median_r_limits"]


def median_r_limits(subgroups: Sequence[Sequence[float]]) -> ShewhartLimits:
    """Limits of the median and range chart, for a shop that plots the middle piece.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in one unit, oldest subgroup first; 2 or more subgroups of 2 or more pieces.

    Returns
    -------
    ShewhartLimits
        Mean of the medians -/+ A4 R-bar, and D3, D4 times R-bar.

    Raises
    ------
    Refused
        Too few subgroups or pieces, a missing reading, or readings that are all equal.

    Notes
    -----
    The centre is the mean of the medians; some texts take their median. The width is three exact standard
    deviations of the median of n normal pieces (A4 = 0.691 at n = 5).

    References
    ----------
    ISO 7870-2, factor A4 of the median chart (from memory).

    Examples
    --------
    >>> limits = median_r_limits([[31.251, 31.253, 31.252], [31.250, 31.252, 31.251]])
    >>> round(limits.centre, 4), round(limits.upper, 4)
    (31.2515, 31.2539)
    """
    summaries = summarise_subgroups(subgroups, least_pieces=2, chart="a median and R chart")
    sigma = sigma_from_mean_range(summaries)
    centre = fsum(summaries.medians) / len(summaries.medians)
    limits = limits_from_sigma(centre, sigma.sigma, summaries.sizes, "median_r", sigma.method)
    return replace(
        limits,
        subgroups=len(summaries.sizes),
        points=summaries.medians,
        spread_points=summaries.ranges,
    )
