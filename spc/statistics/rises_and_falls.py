"""Whether steps from check to check go up more often than down: wear with resets leaves no slope, but this."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from scipy.special import ndtr

from spc.statistics.readings import sound_readings

__all__ = ["RisesAndFalls", "rises_and_falls"]


@dataclass(frozen=True, slots=True)
class RisesAndFalls:
    """Counted steps between neighbours.

    Attributes
    ----------
    rises, falls : int
        Steps up and down; equal neighbours are neither.
    z, p : float
        Rises against chance in standard deviations, and the two-sided chance of as many one way.
    n : int
        Points.
    method : str
        Whose test.
    """

    rises: int
    falls: int
    z: float
    p: float
    n: int
    method: str


def rises_and_falls(points: Sequence[float]) -> RisesAndFalls:
    """Test a series for slow movement one way with quick resets, as wear and adjustment make it.

    Parameters
    ----------
    points : sequence of float, shape (n,)
        Check means or single pieces in the order made, 3 or more that differ.

    Returns
    -------
    RisesAndFalls
        Rises of a random series vary with (n + 1)/12 around (n - 1)/2.

    Raises
    ------
    Refused
        Too few, missing or equal points.

    Notes
    -----
    Half of the equal neighbours count as rises; the chance is that of a normal number, half a step off.

    References
    ----------
    Moore & Wallis, J. American Statistical Association 38 (1943), difference-sign test (from memory).

    Examples
    --------
    >>> found = rises_and_falls([1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4])
    >>> found.rises, found.falls, found.p < 0.01
    (12, 3, True)
    """
    values = sound_readings(points, asks="a count of rises and falls", least=3).tolist()
    steps = [after - before for before, after in pairwise(values)]
    up, down = sum(step > 0.0 for step in steps), sum(step < 0.0 for step in steps)
    away = (up - down) / 2.0
    z = max(0.0, abs(away) - 0.5) / sqrt((len(values) + 1) / 12.0)
    return RisesAndFalls(
        rises=up,
        falls=down,
        z=z if away >= 0.0 else -z,
        p=min(1.0, 2.0 * float(ndtr(-z))),
        n=len(values),
        method="difference-sign test of Moore and Wallis",
    )
