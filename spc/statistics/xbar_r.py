"""The X-bar and R chart: subgroup means judged by the ranges inside the subgroups."""

from collections.abc import Sequence
from dataclasses import replace

from spc.statistics.shewhart import ShewhartLimits, limits_from_sigma
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.within_sigma import sigma_from_mean_range

__all__ = ["xbar_r_limits"]


def xbar_r_limits(subgroups: Sequence[Sequence[float]]) -> ShewhartLimits:
    """Limits of the mean and range chart, for whoever signs limits after the first good checks.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in one unit, oldest subgroup first; 2 or more subgroups of 2 or more pieces.

    Returns
    -------
    ShewhartLimits
        Grand mean -/+ A2 R-bar, and D3, D4 times R-bar; one limit per subgroup where sizes differ.

    Raises
    ------
    Refused
        Too few subgroups or pieces, a missing reading, or readings that are all equal.

    Notes
    -----
    From about 10 pieces on the s chart uses the readings better. With unequal sizes the centre is the mean of
    all pieces and sigma a weighted mean of R/d2 (see `sigma_from_mean_range`).

    References
    ----------
    ISO 7870-2; Montgomery, Introduction to Statistical Quality Control, chapter 6 (from memory).

    Examples
    --------
    >>> limits = xbar_r_limits([[31.251, 31.253], [31.250, 31.252], [31.252, 31.253]])
    >>> round(limits.centre, 4), round(limits.upper, 4)
    (31.2518, 31.255)
    """
    summaries = summarise_subgroups(subgroups, least_pieces=2, chart="an X-bar and R chart")
    sigma = sigma_from_mean_range(summaries)
    limits = limits_from_sigma(summaries.mean, sigma.sigma, summaries.sizes, "xbar_r", sigma.method)
    return replace(
        limits,
        subgroups=len(summaries.sizes),
        points=summaries.means,
        spread_points=summaries.ranges,
    )
