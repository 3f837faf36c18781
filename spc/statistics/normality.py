"""The Anderson-Darling test of whether readings can be normal."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp

import numpy as np
from scipy.special import log_ndtr

from spc.errors import Refused
from spc.statistics.readings import Floats

__all__ = ["NormalityTest", "adjusted_statistics", "anderson_darling", "chance_of"]


@dataclass(frozen=True, slots=True)
class NormalityTest:
    """Result of the Anderson-Darling test with mean and standard deviation both estimated.

    Attributes
    ----------
    statistic : float
        A squared.
    adjusted : float
        A squared times (1 + 0.75/n + 2.25/n^2), which the p-value reads.
    p : float or None
        Chance of a statistic this large from normal pieces; None below 8 pieces.
    n : int
        Pieces.
    method : str
        Whose p-value.
    """

    statistic: float
    adjusted: float
    p: float | None
    n: int
    method: str


def anderson_darling(readings: Sequence[float]) -> NormalityTest:
    """Test readings for normality, for whoever is about to quote a normal capability index.

    Parameters
    ----------
    readings : sequence of float
        3 or more, one unit, any order.

    Returns
    -------
    NormalityTest
        A small p speaks against a normal distribution; a large one proves nothing.

    Raises
    ------
    Refused
        Too few readings, a missing one, or readings that are all equal.

    Notes
    -----
    Coarse gauge steps (many equal readings) make p small by themselves.

    References
    ----------
    D'Agostino & Stephens, Goodness-of-Fit Techniques (1986), Tables 4.7 and 4.9 (from memory).

    Examples
    --------
    >>> weights = [148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236]
    >>> test = anderson_darling(weights)
    >>> round(test.statistic, 4), round(test.p, 4)
    (0.9468, 0.0105)
    """
    values = np.sort(np.asarray(readings, dtype=float))
    n = values.size
    _check(values)
    adjusted = float(adjusted_statistics(values[None, :])[0])
    return NormalityTest(
        statistic=adjusted / _adjustment(n),
        adjusted=adjusted,
        p=chance_of(adjusted) if n >= 8 else None,
        n=n,
        method="Anderson-Darling, mean and s estimated, p after D'Agostino and Stephens",
    )


def adjusted_statistics(samples: Floats) -> Floats:
    """Adjusted statistic of each row, its own mean and standard deviation taken."""
    rows = np.sort(samples, axis=-1)
    n = rows.shape[-1]
    z = (rows - rows.mean(axis=-1, keepdims=True)) / rows.std(axis=-1, ddof=1, keepdims=True)
    odd = 2.0 * np.arange(1, n + 1) - 1.0
    squared = -n - np.mean(odd * (log_ndtr(z) + log_ndtr(-z[:, ::-1])), axis=-1)
    return np.asarray(squared * _adjustment(n))


def _adjustment(n: int) -> float:
    return 1.0 + 0.75 / n + 2.25 / n**2


def _check(values: Floats) -> None:
    if values.size < 3:
        raise Refused.one(
            "too few readings to test for normality", value=str(values.size), allowed="3, better 20"
        )
    if not np.isfinite(values).all():
        raise Refused.one("a reading is missing or not finite", allowed="finite numbers", do="Leave it out")
    if values[0] == values[-1]:
        raise Refused.one(
            "the readings are all equal", value=f"{values[0]:g}", do="Read the gauge to a finer step"
        )


def chance_of(adjusted: float) -> float:
    """Chance of an adjusted statistic this large from normal pieces.

    Four pieces of Table 4.9; the first turns upwards far out, where p is 0 to every printed digit.
    """
    a = min(adjusted, 150.0)
    if a >= 0.6:
        return exp(1.2937 - 5.709 * a + 0.0186 * a * a)
    if a >= 0.34:
        return exp(0.9177 - 4.279 * a - 1.38 * a * a)
    if a >= 0.2:
        return 1.0 - exp(-8.318 + 42.796 * a - 59.938 * a * a)
    return 1.0 - exp(-13.436 + 101.14 * a - 223.73 * a * a)
