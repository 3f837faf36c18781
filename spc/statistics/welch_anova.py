"""Welch's analysis of variance: groups compared without taking their spreads as equal."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.statistics.chance_laws import f_tail
from spc.statistics.one_way_anova import one_way_anova

__all__ = ["WelchAnova", "welch_anova"]


@dataclass(frozen=True, slots=True)
class WelchAnova:
    """Test of equal means with spreads of their own.

    Attributes
    ----------
    n : tuple of int
        Values in each group.
    f, df_between, df_within, p : float
        Ratio, its degrees of freedom, and the chance of one at least as large.
    """

    n: tuple[int, ...]
    f: float
    df_between: int
    df_within: float
    p: float


def welch_anova(groups: Sequence[Sequence[float]]) -> WelchAnova:
    """Welch's test of equal means, for whoever compares groups that scatter differently.

    Parameters
    ----------
    groups : sequence of sequences of float
        Two groups or more, two values or more in each.

    Returns
    -------
    WelchAnova
        For two groups F = t² of Welch's t.

    Raises
    ------
    Refused
        Too few groups or values, missing values, a group without spread.

    References
    ----------
    Welch, Biometrika 38 (1951) 330-336 (from memory).

    Examples
    --------
    >>> round(welch_anova([[5.1, 4.9, 5.3], [4.8, 4.6, 4.7], [5.0, 5.6, 5.2]]).p, 3)
    0.064
    """
    plain = one_way_anova(groups)
    if min(plain.n) < 2 or min(plain.sds) <= 0.0:
        raise Refused.one(
            "every group must show a spread of its own",
            value=f"smallest group {min(plain.n)}, smallest s {min(plain.sds):g}",
            do="Collect more values, or leave out the group without spread",
        )
    count = len(plain.n)
    weights = [size / sd**2 for size, sd in zip(plain.n, plain.sds, strict=True)]
    total = sum(weights)
    mean = sum(weight * value for weight, value in zip(weights, plain.means, strict=True)) / total
    between = sum(weight * (value - mean) ** 2 for weight, value in zip(weights, plain.means, strict=True))
    lack = sum(
        (1.0 - weight / total) ** 2 / (size - 1) for weight, size in zip(weights, plain.n, strict=True)
    )
    f = between / (count - 1) / (1.0 + 2.0 * (count - 2) / (count**2 - 1) * lack)
    df = (count**2 - 1) / (3.0 * lack)
    return WelchAnova(plain.n, f, count - 1, df, f_tail(f, count - 1, df))
