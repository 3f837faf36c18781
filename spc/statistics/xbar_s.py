"""The X-bar and s chart: subgroup means judged by the standard deviations inside the subgroups."""

from collections.abc import Sequence
from dataclasses import replace

from spc.statistics.shewhart import ShewhartLimits, limits_from_sigma
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.within_sigma import sigma_from_mean_sd

__all__ = ["xbar_s_limits"]


def xbar_s_limits(subgroups: Sequence[Sequence[float]]) -> ShewhartLimits:
    """Limits of the mean and standard deviation chart, for subgroups of about 10 pieces and more.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in one unit, oldest subgroup first; 2 or more subgroups of 2 or more pieces.

    Returns
    -------
    ShewhartLimits
        Grand mean -/+ A3 s-bar, and B3, B4 times s-bar; one limit per subgroup where sizes differ.

    Raises
    ------
    Refused
        Too few subgroups or pieces, a missing reading, or readings that are all equal.

    References
    ----------
    ISO 7870-2; Montgomery, Introduction to Statistical Quality Control, chapter 6 (from memory).

    Examples
    --------
    >>> limits = xbar_s_limits([[31.251, 31.253], [31.250, 31.252], [31.252, 31.253]])
    >>> round(limits.lower, 4), limits.method
    (31.2487, 's-bar/c4')
    """
    summaries = summarise_subgroups(subgroups, least_pieces=2, chart="an X-bar and s chart")
    sigma = sigma_from_mean_sd(summaries)
    limits = limits_from_sigma(summaries.mean, sigma.sigma, summaries.sizes, "xbar_s", sigma.method)
    return replace(
        limits,
        subgroups=len(summaries.sizes),
        points=summaries.means,
        spread_points=summaries.sds,
    )
