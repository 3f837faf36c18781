"""The Shapiro-Wilk test of whether readings can be normal."""

from collections.abc import Sequence

import numpy as np

from spc.errors import Refused
from spc.statistics.normality import NormalityTest
from spc.statistics.readings import sound_readings

__all__ = ["shapiro_wilk"]

_MOST = 5000
"""Royston's approximation was fitted up to here."""


def shapiro_wilk(readings: Sequence[float]) -> NormalityTest:
    """Test readings for normality by how straight their probability plot is.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        3 to 5000 that differ, one unit, any order.

    Returns
    -------
    NormalityTest
        `statistic` is W, at most 1; a small p speaks against a normal distribution, a large one proves nothing.

    Raises
    ------
    Refused
        Too few, too many, missing or equal readings.

    Notes
    -----
    Weights and p after Royston (1995); `adjusted` repeats W. Centred and scaled first, so that readings with a
    large common part lose nothing.

    References
    ----------
    Shapiro & Wilk, Biometrika 52 (1965); Royston, Applied Statistics 44 (1995), algorithm AS R94 (from memory).

    Examples
    --------
    >>> round(shapiro_wilk([148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236]).statistic, 2)
    0.79
    """
    values = sound_readings(readings, asks="the Shapiro-Wilk test", least=3)
    if values.size > _MOST:
        raise Refused.one(
            "too many readings for the Shapiro-Wilk test",
            value=str(values.size),
            allowed=f"3 to {_MOST}",
            do="Use the Anderson-Darling test",
        )
    from scipy.stats import shapiro  # here, as it takes a second to load

    w, p = shapiro((values - np.mean(values)) / np.ptp(values))
    return NormalityTest(float(w), float(w), float(p), int(values.size), "Shapiro-Wilk, p after Royston")
