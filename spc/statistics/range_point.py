"""The range that so many pieces stay within with a given chance: limits of a range by probability."""

from functools import lru_cache

import numpy as np

from spc.errors import Refused
from spc.statistics.constants import range_probability

__all__ = ["range_point"]

_WIDEST = 20.0
"""Standard deviations that no range reaches at any chance a double can tell from 1."""
_HALVINGS = 50
"""To within 2e-14; a solver would take longer to load than a replay of a thousand checks."""


@lru_cache(maxsize=256)
def range_point(chance: float, n: int) -> float:
    """Say which range, in standard deviations of one piece, is exceeded by chance so seldom.

    Parameters
    ----------
    chance : float
        That a range is at most this, above 0 and below 1.
    n : int
        Pieces, 2 or more.

    Returns
    -------
    float
        Range over σ.

    Raises
    ------
    Refused
        Where the chance is not between 0 and 1, or there are fewer than 2 pieces.

    Notes
    -----
    The law of the range of normal pieces, inverted by halving (see `range_probability`).

    References
    ----------
    H. O. Hartley (1942), Biometrika 32, 334–348 (from memory).

    Examples
    --------
    >>> round(range_point(0.99, 5), 2)
    4.6
    """
    if not 0.0 < chance < 1.0:
        raise Refused.one("a chance is not between 0 and 1", value=str(chance), allowed="above 0 and below 1")
    if n < 2:
        raise Refused.one("a range wants at least two pieces", value=str(n), allowed="2 or more")
    low, high = 0.0, _WIDEST
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if range_probability(np.array([middle]), n)[0] < chance else (low, middle)
    return high
