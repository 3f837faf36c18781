"""How plausible a life is after those of earlier die sets: lognormal, with lives cut short counted as such."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr

from spc.wear.prior import FinishedSet

__all__ = ["life_weights", "lognormal_life"]

Array = NDArray[np.float64]

_SHORT_PIECES, _LONG_PIECES, _UNKNOWN_SD = 2_000.0, 200_000.0, 1.5
"""Where no set has worn out: the middle of these two, so wide that it says almost nothing."""
_OWN_SD = 0.5
"""Spread of ln(life) that counts as one life more: a few alike lives never look certain."""
_ROUNDS, _ENOUGH = 500, 1e-9


def life_weights(finished: Sequence[FinishedSet], lives: Array, possible: NDArray[np.bool_]) -> Array:
    """Weigh lives by those of earlier sets, for the forecast of pieces left.

    Parameters
    ----------
    finished : sequence of FinishedSet
        Sets that came off before; only `worn` ones ended by wear, all others were cut short.
    lives : array of float
        Lives in pieces, above 0.
    possible : array of bool
        Where a weight will be used; the largest weight there is 1, however unlikely all of them are.

    Returns
    -------
    array of float
        Density over ln(life), up to a factor.
    """
    worn = [math.log(each.age_pieces) for each in finished if each.reason == "worn" and each.age_pieces > 0]
    cut = [math.log(each.age_pieces) for each in finished if each.reason != "worn" and each.age_pieces > 0]
    if worn:
        centre, spread = lognormal_life(worn, cut)
        spread *= math.sqrt(1.0 + 1.0 / len(worn))
    else:
        lowest = max([math.log(_SHORT_PIECES), *cut])
        centre, spread = max((math.log(_LONG_PIECES) + lowest) / 2.0, lowest), _UNKNOWN_SD
    logs = -0.5 * ((np.log(lives) - centre) / spread) ** 2
    weights: Array = np.exp(np.minimum(logs - logs[possible].max(), 0.0))
    return weights


def lognormal_life(worn: Sequence[float], cut: Sequence[float]) -> tuple[float, float]:
    """Estimate centre and spread of ln(life) from lives that ended and lives cut short.

    Parameters
    ----------
    worn : sequence of float
        ln(pieces) of sets that wore out, at least one.
    cut : sequence of float
        ln(pieces) of sets that came off before that: their lives are longer.

    Returns
    -------
    tuple of float
        Centre and spread of ln(life).

    Notes
    -----
    Maximum likelihood with one life's worth of a spread of 0.5 mixed in, by expectation and maximisation: a
    cut life stands for its expected value and variance given that it is longer. A life cut short lengthens.

    References
    ----------
    A. P. Dempster, N. M. Laird & D. B. Rubin (1977), J. R. Stat. Soc. B 39, 1–38 (from memory).

    Examples
    --------
    >>> lognormal_life([10.5], [])
    (10.5, 0.5)
    >>> centre, _ = lognormal_life([10.5], [11.0])
    >>> centre > 10.5
    True
    """
    ended, short = np.array(worn), np.array(cut)
    total = len(worn) + len(cut)
    centre = float(ended.mean())
    spread = math.sqrt((float(np.sum((ended - centre) ** 2)) + _OWN_SD**2) / len(worn))
    for _ in range(_ROUNDS if cut else 0):
        before = (centre, spread)
        z = (short - centre) / spread
        hazard = np.exp(-0.5 * z * z - 0.5 * math.log(2.0 * math.pi) - log_ndtr(-z))
        expected = centre + spread * hazard
        variance = spread**2 * np.maximum(1.0 + z * hazard - hazard**2, 0.0)
        centre = float((ended.sum() + expected.sum()) / total)
        squares = np.sum((ended - centre) ** 2) + np.sum((expected - centre) ** 2 + variance)
        spread = math.sqrt((float(squares) + _OWN_SD**2) / total)
        if abs(centre - before[0]) + abs(spread - before[1]) < _ENOUGH:
            break
    return centre, spread
