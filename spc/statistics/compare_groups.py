"""Shifts, machines, people, settings, batches compared, with checks as what is independent."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from spc.errors import Refused
from spc.statistics.chance_laws import f_tail
from spc.statistics.equal_spreads import SpreadTest, levene_test
from spc.statistics.nested_reml import NestedFit, nested_reml
from spc.statistics.on_the_master import on_the_master
from spc.statistics.pairwise_differences import PairDifference, games_howell, pair_of
from spc.statistics.two_means import MeanDifference

__all__ = ["GroupComparison", "compare_groups"]

Spread = Literal["equal", "unequal"]


@dataclass(frozen=True, slots=True)
class GroupComparison:
    """What is known about the differences of groups.

    Attributes
    ----------
    names : tuple of str
        The groups.
    fit : NestedFit
        Means and the two components of spread.
    f, p : float
        Test that all groups are alike, on groups - 1 and checks - groups degrees of freedom.
    pairs : tuple of PairDifference
        Second minus first, intervals that hold together.
    spreads : SpreadTest or None
        Test of equal spreads of the check means; None where the check means never differ in a group.
    master : tuple of (int, int, MeanDifference)
        For pairs of groups that gauged the same master: their difference there, second minus first.
    unit : str
        Of the readings.
    level : float
        Confidence.
    """

    names: tuple[str, ...]
    fit: NestedFit
    f: float
    p: float
    pairs: tuple[PairDifference, ...]
    spreads: SpreadTest | None
    master: tuple[tuple[int, int, MeanDifference], ...]
    unit: str
    level: float


def compare_groups(
    groups: Mapping[str, Sequence[Sequence[float]]],
    *,
    spread: Spread = "equal",
    same_master: Mapping[str, Sequence[float]] | None = None,
    master_step: float = 0.0,
    unit: str = "µm",
    level: float = 0.95,
) -> GroupComparison:
    """Compare groups of checks, for whoever asks whether night differs from day.

    Parameters
    ----------
    groups : mapping of str to checks
        Each group with two checks or more, each check with its pieces; single pieces as checks of one.
    spread : {"equal", "unequal"}
        One spread for all, or Games-Howell on the check means with a spread for each group.
    same_master : mapping of str to readings, optional
        Repeats of the groups on one and the same master, two or more each.
    master_step : float
        Smallest step of these repeats, where it is known.
    unit : str
        Of all readings.
    level : float
        Confidence of all intervals together.

    Returns
    -------
    GroupComparison
        `comparison_in_words` says it.

    Raises
    ------
    Refused
        Fewer than two groups, too few checks, missing values, no spread, master readings of unknown groups.

    Notes
    -----
    The pieces of one check share its moment, its slide and its gauge setting: they are no independent
    witnesses. Checks are random within groups (REML); means rest on checks - groups degrees of freedom, which
    is exact where balanced and cautious elsewhere. Pairs by the studentized range (Tukey-Kramer).

    References
    ----------
    Patterson & Thompson, Biometrika 58 (1971) 545-554; Kramer, Biometrics 12 (1956) 307-310 (both from memory).

    Examples
    --------
    >>> day, night = [[1.0, 1.4], [0.6, 1.0], [1.2, 1.2]], [[2.8, 3.0], [2.6, 3.2], [3.0, 2.4]]
    >>> found = compare_groups({"day": day, "night": night})
    >>> round(found.pairs[0].difference, 2), found.pairs[0].shown
    (1.77, True)
    """
    names = tuple(groups)
    if len(names) < 2:
        raise Refused.one("too few groups to compare", value=str(len(names)), allowed="2 or more")
    fit = nested_reml([groups[name] for name in names])
    if fit.df < 1:
        raise Refused.one("too few checks to compare groups", value=str(sum(fit.checks)))
    check_means = [[sum(check) / len(check) for check in groups[name]] for name in names]
    pairs = games_howell(check_means, level=level) if spread == "unequal" else _tukey_kramer(fit, level)
    f = _ratio(fit)
    return GroupComparison(
        names=names,
        fit=fit,
        f=f,
        p=f_tail(f, len(names) - 1, fit.df),
        pairs=pairs,
        spreads=_spreads(check_means),
        master=on_the_master(names, same_master or {}, step=master_step, level=level),
        unit=unit,
        level=level,
    )


def _tukey_kramer(fit: NestedFit, level: float) -> tuple[PairDifference, ...]:
    """All pairs with one spread for all groups."""
    count = len(fit.means)
    return tuple(
        pair_of(
            (i, j),
            fit.means,
            fit.mean_variances[i] + fit.mean_variances[j],
            (count, float(fit.df)),
            level,
            "Tukey-Kramer, checks as random",
        )
        for i, j in combinations(range(count), 2)
    )


def _ratio(fit: NestedFit) -> float:
    """Weighted spread of the groups' means in units of their own variance."""
    weights = [1.0 / variance for variance in fit.mean_variances]
    centre = sum(w * mean for w, mean in zip(weights, fit.means, strict=True)) / sum(weights)
    spread = sum(w * (mean - centre) ** 2 for w, mean in zip(weights, fit.means, strict=True))
    return spread / (len(weights) - 1)


def _spreads(check_means: list[list[float]]) -> SpreadTest | None:
    """Test of equal spreads; two checks a group always lie equally far from their median and say nothing."""
    if min(map(len, check_means)) < 3:
        return None
    try:
        return levene_test(check_means)
    except (
        Refused
    ):  # no spread at all in the distances: nothing to test, and the comparison stands without it
        return None
