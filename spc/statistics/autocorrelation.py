"""Whether neighbours resemble each other, and what that does to limits from moving ranges."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt

from scipy.special import ndtr, ndtri

from spc.statistics.index_intervals import tail_share
from spc.statistics.readings import sound_readings

__all__ = ["Lag1", "lag1_autocorrelation"]


@dataclass(frozen=True, slots=True)
class Lag1:
    """Correlation of each point with the one before it, and its consequence.

    Attributes
    ----------
    r : float
        Lag-1 autocorrelation, -1 to 1.
    bound : float
        Unrelated points stay within -/+ this at the level.
    related : bool
        Whether r lies outside that bound.
    reach : float
        Distance of limits from moving ranges, as a share of three true sigma: the root of 1 - r.
    false_alarms : float
        Share of points beyond such limits while nothing happens.
    n : int
        Points.
    level : float
        Confidence of the bound.
    method : str
        The definition used.
    says : str
        The consequence for the limits, for a person.
    """

    r: float
    bound: float
    related: bool
    reach: float
    false_alarms: float
    n: int
    level: float
    method: str
    says: str


def lag1_autocorrelation(points: Sequence[float], confidence: float = 0.95) -> Lag1:
    """Lag-1 autocorrelation of plotted points, for whoever is about to sign limits.

    Parameters
    ----------
    points : sequence of float, shape (n,)
        Single pieces or check means in the order made, 3 or more that differ.
    confidence : float
        Of the bound for unrelated points, between 0 and 1.

    Returns
    -------
    Lag1
        r is the sum of products of neighbours about the mean over the sum of squares about the mean.

    Raises
    ------
    Refused
        Too few, missing or equal points, confidence out of range.

    Notes
    -----
    The mean moving range of a normal series that keeps its level is d2 sigma sqrt(1 - r), so its limits stand
    at 3 sqrt(1 - r) sigma. The bound is z / sqrt(n), for long series.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 1.3.5.12, and its data set Mavro (from memory); ISO 7870-9 treats charts
    for stationary processes (from memory).

    Examples
    --------
    >>> lag1_autocorrelation([10000001, 10000003, 10000002]).r
    -0.5
    """
    values = sound_readings(points, asks="a correlation of neighbours", least=3).tolist()
    n = len(values)
    bound = float(ndtri(1.0 - tail_share(confidence, n))) / sqrt(n)
    mean = fsum(values) / n
    off = [value - mean for value in values]
    r = fsum(a * b for a, b in zip(off[1:], off, strict=False)) / fsum(each**2 for each in off)
    reach = sqrt(max(0.0, 1.0 - r))
    alarms = 2.0 * float(ndtr(-3.0 * reach))
    return Lag1(
        r=r,
        bound=bound,
        related=abs(r) > bound,
        reach=reach,
        false_alarms=alarms,
        n=n,
        level=confidence,
        method="lag-1 autocorrelation about the mean of all points",
        says=_says(r, bound, n, reach, alarms),
    )


def _says(r: float, bound: float, n: int, reach: float, alarms: float) -> str:
    if abs(r) <= bound:
        return f"Neighbours are not visibly related (correlation {r:.2f} of {n} points): usual limits hold."
    if r < 0.0:
        return (
            f"Neighbours swing against each other (correlation {r:.2f} of {n} points): limits from moving ranges "
            f"stand at {3.0 * reach:.1f} sigma and see little. Look for over-adjustment, or for two streams "
            "mixed in turn."
        )
    return (
        f"Neighbours resemble each other (correlation {r:.2f} of {n} points): limits from moving ranges stand "
        f"at {3.0 * reach:.1f} sigma instead of 3, and about {100.0 * alarms:.2g} % of points lie beyond them "
        "while nothing happens. Chart what a trend or the last point does not explain, check less often, or "
        "take the spread from all points."
    )
