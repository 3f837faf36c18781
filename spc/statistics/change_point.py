"""When the level changed: the best single split of a series, and a rank test of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp

import numpy as np

from spc.errors import Refused
from spc.statistics.readings import Floats, sound_readings

__all__ = ["LevelChange", "RankChange", "level_change", "rank_change"]


@dataclass(frozen=True, slots=True)
class LevelChange:
    """The single change of mean that explains a series best.

    Attributes
    ----------
    after : int
        The new level begins after this point, counted from 1.
    before_mean, after_mean : float
        Mean of the points up to it and beyond it, in their unit.
    residual_squares, total_squares : float
        Sum of squares about the two means, and about one mean.
    peak_sum, peak_at : float, int
        Largest distance of the cumulative sum of deviations from 0, and after which point.
    p : float
        Chance of a split as good in the same points shuffled.
    n : int
        Points.
    method : str
        How it was found.
    """

    after: int
    before_mean: float
    after_mean: float
    residual_squares: float
    total_squares: float
    peak_sum: float
    peak_at: int
    p: float
    n: int
    method: str


@dataclass(frozen=True, slots=True)
class RankChange:
    """Pettitt's test of one change of level.

    Attributes
    ----------
    after : int
        The new level begins after this point, counted from 1.
    statistic : float
        K, the largest distance of the rank sum from its expectation, doubled.
    p : float
        Chance of one as large without a change, approximate.
    n : int
        Points.
    method : str
        Whose test.
    """

    after: int
    statistic: float
    p: float
    n: int
    method: str


def level_change(points: Sequence[float], *, seed: int, draws: int = 999) -> LevelChange:
    """Find the single change of level by least squares, for dating what happened to a process.

    Parameters
    ----------
    points : sequence of float, shape (n,)
        Check means or single pieces in the order made, 4 or more that differ.
    seed, draws : int
        Of the shuffles behind p, 99 or more.

    Returns
    -------
    LevelChange
        Every series has a best split: only p tells whether it means anything.

    Raises
    ------
    Refused
        Too few, missing or equal points, too few shuffles.

    Notes
    -----
    A trend or related neighbours also make p small.

    References
    ----------
    Worsley, J. American Statistical Association 74 (1979) 365-367, for the largest of all splits (from memory); p by
    shuffling.

    Examples
    --------
    >>> found = level_change([5.0, 5.1, 4.9, 5.0, 5.9, 6.1, 6.0, 6.0], seed=1)
    >>> found.after, round(found.after_mean - found.before_mean, 2)
    (4, 1.0)
    """
    values = sound_readings(points, asks="a change of level", least=4)
    if draws < 99:
        raise Refused.one("too few shuffles for a p", value=str(draws), allowed="99 or more")
    n, off = values.size, values - values.mean()
    total = float(off @ off)
    gains = _gains(off[None, :])[0]
    after = int(np.argmax(gains)) + 1
    random = np.random.default_rng(seed)
    shuffled = [
        _gains(random.permuted(np.tile(off, (rows, 1)), axis=1)).max(axis=1) for rows in _blocks(draws, n)
    ]
    as_good = int(np.sum(np.concatenate(shuffled) >= gains.max() * (1.0 - 1e-12)))
    sums = np.cumsum(off)[:-1]
    peak = int(np.argmax(np.abs(sums)))
    return LevelChange(
        after=after,
        before_mean=float(values[:after].mean()),
        after_mean=float(values[after:].mean()),
        residual_squares=total - float(gains.max()),
        total_squares=total,
        peak_sum=float(sums[peak]),
        peak_at=peak + 1,
        p=(1.0 + as_good) / (1.0 + draws),
        n=n,
        method=f"least squares, p from {draws} shuffles, seed {seed}",
    )


def rank_change(points: Sequence[float]) -> RankChange:
    """Pettitt's rank test of one change of level, which single wild points cannot fool.

    Parameters
    ----------
    points : sequence of float, shape (n,)
        In the order made, 4 or more that differ; equal ones share their rank.

    Returns
    -------
    RankChange
        With p = 2 exp(-6 K^2 / (n^3 + n^2)), at most 1.

    Raises
    ------
    Refused
        Too few, missing or equal points.

    References
    ----------
    Pettitt, Applied Statistics 28 (1979) (from memory).

    Examples
    --------
    >>> rank_change([5.0, 5.1, 4.9, 5.0, 5.9, 6.1, 6.0, 6.0]).after
    4
    """
    values = sound_readings(points, asks="a change of level", least=4)
    n = values.size
    order = np.arange(1, n)
    distance = np.abs(2.0 * np.cumsum(_ranks(values))[:-1] - order * (n + 1.0))
    after = int(np.argmax(distance)) + 1
    statistic = float(distance.max())
    p = min(1.0, 2.0 * exp(-6.0 * statistic**2 / (n**3 + n**2)))
    return RankChange(after, statistic, p, n, "Pettitt, approximate p")


def _ranks(values: Floats) -> Floats:
    """Rank of each value from 1; equal ones share the mean of theirs."""
    _, where, counts = np.unique(values, return_inverse=True, return_counts=True)
    return np.asarray((np.cumsum(counts) - (counts - 1) / 2.0)[where])


def _gains(off: Floats) -> Floats:
    """Squares that a split after each point but the last explains; rows are series about their mean."""
    n = off.shape[-1]
    order = np.arange(1, n)
    return np.asarray(np.cumsum(off, axis=-1)[:, :-1] ** 2 * (n / (order * (n - order))))


def _blocks(draws: int, n: int) -> list[int]:
    rows = max(1, 200_000 // n)
    return [rows] * (draws // rows) + ([draws % rows] if draws % rows else [])
