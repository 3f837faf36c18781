"""What groups read on one and the same master: whether a difference of theirs is the gauge's."""

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import fsum, sqrt

from spc.errors import Refused
from spc.statistics.one_way_anova import checked_groups
from spc.statistics.two_means import MeanDifference, difference_from_summary

__all__ = ["on_the_master"]


def on_the_master(
    names: Sequence[str],
    readings: Mapping[str, Sequence[float]],
    *,
    step: float = 0.0,
    level: float = 0.95,
) -> tuple[tuple[int, int, MeanDifference], ...]:
    """Compare what groups read on the same master, for whoever must look at the gauge first.

    Parameters
    ----------
    names : sequence of str
        All groups that are compared.
    readings : mapping of str to readings
        Two or more of each group that gauged the master.
    step : float
        Smallest step of the readings; equal readings are taken as no surer than that allows. 0: not known.
    level : float
        Confidence of each interval.

    Returns
    -------
    tuple of (int, int, MeanDifference)
        Places of both groups; second minus first, by Welch's test.

    Raises
    ------
    Refused
        A group that is not compared, too few readings, readings without any spread and no step.

    Notes
    -----
    A step q rounds with a standard deviation of q/√12; no group's is taken as smaller.

    Examples
    --------
    >>> (first, second, found), = on_the_master(["day", "night"], {"day": [0.1, -0.1], "night": [1.6, 1.8]})
    >>> first, second, round(found.difference, 2), found.low > 0.0
    (0, 1, 1.7, True)
    """
    strangers = [name for name in readings if name not in names]
    if strangers:
        raise Refused.one(
            "the master was gauged by a group that is not compared",
            value=", ".join(strangers),
            allowed=", ".join(names),
        )
    least = step / sqrt(12.0)
    summed = {name: _summary(values, least) for name, values in readings.items()}
    return tuple(
        (i, j, difference_from_summary(summed[names[j]], summed[names[i]], level=level))
        for i, j in combinations(range(len(names)), 2)
        if names[i] in summed and names[j] in summed
    )


def _summary(values: Sequence[float], least: float) -> tuple[int, float, float]:
    """Return n, mean and standard deviation, the latter no smaller than the step allows."""
    (group,) = checked_groups([values], 1, 2)
    n, mean = len(group), fsum(group) / len(group)
    sd = sqrt(fsum((value - mean) ** 2 for value in group) / (n - 1))
    return n, mean, max(sd, least)
