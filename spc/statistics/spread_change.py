"""Whether the spread within checks changes over time, without assuming normal pieces."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from spc.errors import Refused
from spc.statistics.readings import Floats, sound_readings
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups

__all__ = ["SpreadChange", "spread_change", "within_residuals"]


@dataclass(frozen=True, slots=True)
class SpreadChange:
    """Two tests of a constant spread within checks.

    Attributes
    ----------
    statistic, p : float
        Variance of s among checks over the mean of s squared, and its chance in shuffled deviations.
    trend, trend_p : float
        Correlation of s with the order of checks, and its chance in the same shuffles.
    n, subgroups : int
        Pieces and checks used.
    method : str
        How p was found.
    """

    statistic: float
    p: float
    trend: float
    trend_p: float
    n: int
    subgroups: int
    method: str


def spread_change(subgroups: Sequence[Sequence[float]], *, seed: int, draws: int = 499) -> SpreadChange:
    """Test whether checks spread alike, for the choice of a time-dependent model.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings, oldest first, 3 or more subgroups of 2 or more pieces; single pieces are passed over.
    seed, draws : int
        Of the shuffles of deviations among checks, 99 or more.

    Returns
    -------
    SpreadChange
        A small p speaks against a constant spread.

    Raises
    ------
    Refused
        Too few checks or shuffles, missing readings, no spread at all.

    Notes
    -----
    Deviations from the check means change places among checks, and each shuffle is centred on its check means
    again. So wide tails alone raise few alarms, where Bartlett's test and the tables of Levene's would.

    References
    ----------
    Own derivation; Efron & Tibshirani, An Introduction to the Bootstrap (1993), chapter 15, for tests by shuffling
    (from memory).

    Examples
    --------
    >>> checks = [[0.0, 0.1, 0.2]] * 6 + [[0.0, 1.0, 3.0]] * 6
    >>> spread_change(checks, seed=1).trend_p < 0.01
    True
    """
    used = [check for check in subgroups if len(check) > 1]
    summaries = summarise_subgroups(used, least_subgroups=3, least_pieces=2, chart="a test of spread")
    if draws < 99:
        raise Refused.one("too few shuffles for a p", value=str(draws), allowed="99 or more")
    sizes = np.array(summaries.sizes)
    off = within_residuals(summaries)
    sound_readings(off, asks="a test of spread")
    random = np.random.default_rng(seed)
    own = _statistics(off, sizes)
    drawn = np.array([_statistics(random.permutation(off), sizes) for _ in range(draws)])
    f_as_large = int(np.sum(drawn[:, 0] >= own[0] * (1.0 - 1e-12)))
    trend_as_large = int(np.sum(np.abs(drawn[:, 1]) >= abs(own[1]) * (1.0 - 1e-12)))
    return SpreadChange(
        statistic=own[0],
        p=(1.0 + f_as_large) / (1.0 + draws),
        trend=own[1],
        trend_p=(1.0 + trend_as_large) / (1.0 + draws),
        n=summaries.pieces,
        subgroups=len(used),
        method=f"s of the checks and its order, p from {draws} shuffles of deviations, seed {seed}",
    )


def within_residuals(summaries: SubgroupSummaries) -> Floats:
    """Deviations from the check mean, widened by the root of n/(n-1) so that all have the sigma of a piece.

    Examples
    --------
    >>> within_residuals(summarise_subgroups([[0.0, 2.0], [5.0, 5.0]])).round(3).tolist()
    [-1.414, 1.414, 0.0, 0.0]
    """
    return np.array(
        [
            (value - mean) * sqrt(size / (size - 1))
            for check, mean, size in zip(summaries.readings, summaries.means, summaries.sizes, strict=True)
            if size > 1
            for value in check
        ]
    )


def _statistics(off: Floats, sizes: np.ndarray[tuple[int, ...], np.dtype[np.int_]]) -> tuple[float, float]:
    """Variance of the checks' s over their mean square, and the correlation of s with the order of checks."""
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
    centred = off - np.repeat(np.add.reduceat(off, starts) / sizes, sizes)
    variances = np.add.reduceat(centred**2, starts) / (sizes - 1)
    weights = (sizes - 1) / np.sum(sizes - 1)
    s = np.sqrt(variances)
    away = s - float(weights @ s)
    changing = float(weights @ away**2) / float(weights @ variances)
    order = np.arange(sizes.size) - float(weights @ np.arange(sizes.size))
    reach = float(np.sqrt((weights @ away**2) * (weights @ order**2)))
    return changing, float(weights @ (order * away)) / reach if reach > 0.0 else 0.0
