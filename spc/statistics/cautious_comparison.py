"""A comparison of groups made less sure, where what was compared is no longer fully independent."""

from dataclasses import replace

from spc.errors import Refused
from spc.statistics.chance_laws import f_tail
from spc.statistics.compare_groups import GroupComparison
from spc.statistics.pairwise_differences import PairDifference, pair_of
from spc.statistics.studentized_range_law import studentized_range_point

__all__ = ["cautious_comparison"]


def cautious_comparison(
    comparison: GroupComparison, *, dearer: float = 1.0, df_lost: int = 0
) -> GroupComparison:
    """Widen a comparison, for neighbours that are alike and for lines that were taken out beforehand.

    Parameters
    ----------
    comparison : GroupComparison
        From `compare_groups`.
    dearer : float
        Factor on the variance of every mean, 1 or more; the degrees of freedom are divided by it.
    df_lost : int
        Degrees of freedom that were spent before (two a line); the spread is scaled up for them.

    Returns
    -------
    GroupComparison
        Same means; wider intervals, larger p.

    Raises
    ------
    Refused
        Nothing is left to tell chance by.

    Examples
    --------
    >>> from spc.statistics.compare_groups import compare_groups
    >>> found = compare_groups({"a": [[1.0], [2.0], [3.0], [2.0]], "b": [[3.0], [5.0], [4.0], [4.0]]})
    >>> wide = cautious_comparison(found, dearer=2.0)
    >>> found.pairs[0].shown, wide.pairs[0].shown
    (True, False)
    """
    if dearer <= 1.0 and df_lost <= 0:
        return comparison
    df = comparison.fit.df
    left = df - df_lost
    if left < dearer:
        raise Refused.one(
            "too little is left to tell a difference from chance",
            value=f"{df} degrees of freedom, {df_lost} spent on lines",
            do="Take a longer period",
        )
    spread = df / left
    factor = spread * dearer
    fit = replace(
        comparison.fit,
        mean_variances=tuple(each * factor for each in comparison.fit.mean_variances),
        sigma_between=comparison.fit.sigma_between * spread**0.5,
        sigma_within=comparison.fit.sigma_within * spread**0.5,
        df=max(1, int(left / dearer)),
    )
    f, groups = comparison.f / factor, len(comparison.names)
    return replace(
        comparison,
        fit=fit,
        f=f,
        p=f_tail(f, groups - 1, left / dearer),
        pairs=tuple(
            _wider(comparison, pair, factor, max(1.0, (pair.df - df_lost) / dearer))
            for pair in comparison.pairs
        ),
    )


def _wider(comparison: GroupComparison, pair: PairDifference, factor: float, df: float) -> PairDifference:
    """Take a pair's error back out of its interval, and make it larger."""
    groups = len(comparison.names)
    error = (pair.high - pair.difference) / studentized_range_point(pair.level, groups, pair.df)
    return pair_of(
        (pair.first, pair.second),
        [0.0] * pair.second + [pair.difference],
        2.0 * error**2 * factor,
        (groups, df),
        pair.level,
        pair.method,
    )
