"""Mean, standard deviation, skewness and kurtosis that lose no digits on readings like 31.2514."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt

from spc.statistics.readings import sound_readings

__all__ = ["Moments", "sample_moments"]


@dataclass(frozen=True, slots=True)
class Moments:
    """What the first four powers of the readings say.

    Attributes
    ----------
    n : int
        Pieces.
    mean, sd : float
        In the unit of the readings; n-1 in the divisor of the variance.
    skewness, excess_kurtosis : float
        g1 = m3 / m2^1.5 and g2 = m4 / m2^2 - 3, with n in the divisor of each moment.
    method : str
        How the sums were taken.
    """

    n: int
    mean: float
    sd: float
    skewness: float
    excess_kurtosis: float
    method: str


def sample_moments(readings: Sequence[float]) -> Moments:
    """Moments of single readings, for whoever wants to know the shape before choosing a model.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        2 or more that differ, one unit, any order.

    Returns
    -------
    Moments
        Sums are exact before their last rounding, deviations are taken from the mean (two passes).

    Raises
    ------
    Refused
        Too few, missing or equal readings.

    Notes
    -----
    The unbiased forms of other books are G1 = g1 sqrt(n(n-1))/(n-2) and G2 = ((n+1) g2 + 6)(n-1)/((n-2)(n-3)).

    References
    ----------
    NIST Statistical Reference Datasets, univariate: Mavro, NumAcc1, NumAcc3, NumAcc4 (from memory).

    Examples
    --------
    >>> result = sample_moments([10000001, 10000003, 10000002])
    >>> result.mean, result.sd
    (10000002.0, 1.0)
    """
    values = sound_readings(readings, asks="a standard deviation").tolist()
    n = len(values)
    mean = fsum(values) / n
    off = [value - mean for value in values]
    m2, m3, m4 = (fsum(each**power for each in off) / n for power in (2, 3, 4))
    return Moments(
        n=n,
        mean=mean,
        sd=sqrt(m2 * n / (n - 1)),
        skewness=m3 / m2**1.5,
        excess_kurtosis=m4 / m2**2 - 3.0,
        method="two passes, exactly rounded sums; s with n-1, g1 and g2 with n",
    )
