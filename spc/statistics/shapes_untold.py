"""Which other shapes so few pieces could not tell from a normal one: a test that finds nothing proves nothing."""

from collections.abc import Sequence
from math import sqrt

import numpy as np

from spc.statistics.folded_normal_families import HALF_NORMAL
from spc.statistics.normality import adjusted_statistics, chance_of
from spc.statistics.readings import Floats
from spc.statistics.weibull_families import RAYLEIGH

__all__ = ["shapes_untold"]

_SHAPES = (HALF_NORMAL, RAYLEIGH)
"""Neither has a shape to choose, so each stands for itself: sizes of a deviation in one and in two directions."""
_HISTORIES = 200
_FOUND = 0.8
"""A test that finds a shape in fewer histories cannot tell it apart (common practice, no source)."""
_MOST_PIECES = 2_000


def shapes_untold(sizes: Sequence[int], alpha: float, *, seed: int) -> tuple[str, ...]:
    """Names of shapes that the test of deviations within checks would mostly miss, for the words of a model.

    Parameters
    ----------
    sizes : sequence of int
        Pieces in each check.
    alpha : float
        Chance below which the test counts.
    seed : int
        Of the make-believe histories.

    Returns
    -------
    tuple of str
        Words of `fit_model`; deviations within checks of 2 are symmetric, so they hide nearly every shape.

    Examples
    --------
    >>> shapes_untold([5] * 8, 0.01, seed=1), shapes_untold([5] * 200, 0.01, seed=1)
    (('half_normal', 'rayleigh'), ())
    """
    used: list[int] = []
    for size in (each for each in sizes if each > 1):
        if sum(used) + size > _MOST_PIECES:
            break
        used.append(size)
    random, one = np.random.default_rng(seed), np.float64(1.0)
    missed = []
    for family in _SHAPES:
        drawn = family.draw(random, (_HISTORIES, sum(used)), (one,))  # type: ignore[arg-type]  # a scalar broadcasts
        adjusted = adjusted_statistics(_deviations(drawn, used))
        found = np.mean([chance_of(each) < alpha for each in adjusted.tolist()])
        if sum(used) < 8 or found < _FOUND:
            missed.append(family.name)
    return tuple(missed)


def _deviations(histories: Floats, sizes: Sequence[int]) -> Floats:
    """Deviations from the check means, widened as `within_residuals` does, one history a row."""
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
    means = np.add.reduceat(histories, starts, axis=1) / np.array(sizes)
    widen = [sqrt(size / (size - 1)) for size in sizes]
    return np.asarray((histories - np.repeat(means, sizes, axis=1)) * np.repeat(widen, sizes))
