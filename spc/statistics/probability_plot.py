"""Coordinates of a normal probability plot: what would lie on a line if the readings were normal."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from spc.statistics.readings import Floats, frozen, sound_readings

__all__ = ["ProbabilityPlot", "median_ranks", "probability_plot"]


@dataclass(frozen=True, slots=True, eq=False)
class ProbabilityPlot:
    """Points and line of a normal probability plot.

    Attributes
    ----------
    readings : ndarray of float, shape (n,)
        Sorted, smallest first.
    shares : ndarray of float, shape (n,)
        Median rank of each: the share of pieces expected below it.
    scores : ndarray of float, shape (n,)
        Normal quantile of each share, the other coordinate.
    mean, sd : float
        Height at score 0 and slope of the line through the points (mean and s of the readings).
    correlation : float
        Of readings and scores; 1 on a straight line.
    n : int
        Pieces.
    method : str
        Whose plotting positions.
    """

    readings: Floats
    shares: Floats
    scores: Floats
    mean: float
    sd: float
    correlation: float
    n: int
    method: str


def probability_plot(readings: Sequence[float]) -> ProbabilityPlot:
    """Coordinates of the normal probability plot, for the eye that judges beside a test.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        3 or more that differ, one unit, any order.

    Returns
    -------
    ProbabilityPlot
        One point a piece.

    Raises
    ------
    Refused
        Too few, missing or equal readings.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 1.3.3.21; Filliben, Technometrics 17 (1975) (from memory).

    Examples
    --------
    >>> plot = probability_plot([10.1, 9.9, 10.0])
    >>> [round(share, 4) for share in plot.shares.tolist()]
    [0.2063, 0.5, 0.7937]
    """
    values = np.sort(sound_readings(readings, asks="a probability plot", least=3))
    shares = median_ranks(values.size)
    scores = ndtri(shares)
    return ProbabilityPlot(
        readings=frozen(values),
        shares=frozen(shares),
        scores=frozen(scores),
        mean=float(values.mean()),
        sd=float(values.std(ddof=1)),
        correlation=float(np.corrcoef(values, scores)[0, 1]),
        n=int(values.size),
        method="median ranks after Filliben",
    )


def median_ranks(n: int) -> Floats:
    """Filliben's medians of the uniform order statistics of n pieces, the ends exact."""
    order = np.arange(1, n + 1, dtype=np.float64)
    shares = (order - 0.3175) / (n + 0.365)
    shares[-1] = 0.5 ** (1.0 / n)
    shares[0] = 1.0 - shares[-1]
    return shares
