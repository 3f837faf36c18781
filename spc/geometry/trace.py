"""A measured trace of a lead: positions along the part and how far the travel is off there."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from spc.errors import Refused

__all__ = ["checked_trace", "largest_gap"]

Floats = NDArray[np.float64]


def checked_trace(
    position_mm: ArrayLike, deviation_um: ArrayLike, what: str = "trace", measured: str = "value"
) -> tuple[Floats, Floats]:
    """Take a trace as it was measured, or say what is geometrically wrong with it.

    Parameters
    ----------
    position_mm : array of shape (n,)
        Positions along the part, strictly increasing, at least two.
    deviation_um : array of shape (n,)
        What was measured there.
    what, measured : str
        What the whole and one of its values are called in a refusal.

    Returns
    -------
    tuple of two arrays of shape (n,)

    Raises
    ------
    Refused
        Fewer than two points, not as many values as positions, no number, or positions that repeat or go
        back.

    Examples
    --------
    >>> checked_trace([0, 10, 10], [0.0, 1.0, 2.0])
    Traceback (most recent call last):
    ...
    spc.errors.Refused: the position repeats after point 2 of the trace (got '10 mm, then 10 mm'). Allowed: ...
    """
    x, y = np.array(position_mm, dtype=np.float64), np.array(deviation_um, dtype=np.float64)
    if x.ndim != 1 or x.shape != y.shape:
        raise Refused.one(
            f"a {what} has one {measured} for each position", value=f"{x.size} and {y.size} numbers"
        )
    if len(x) < 2:
        raise Refused.one(f"a {what} needs two points or more", value=f"{len(x)} point(s)")
    bad = np.flatnonzero(~(np.isfinite(x) & np.isfinite(y)))
    if bad.size:
        raise Refused.one(
            f"point {bad[0] + 1} of the {what} is no number", value=f"{x[bad[0]]:g}, {y[bad[0]]:g}"
        )
    back = np.flatnonzero(np.diff(x) <= 0)
    if back.size:
        before, after = x[back[0]], x[back[0] + 1]
        how = "repeats" if before == after else "goes back"
        raise Refused.one(
            f"the position {how} after point {back[0] + 1} of the {what}",
            value=f"{before:g} mm, then {after:g} mm",
            allowed="positions that increase along the part",
        )
    x.flags.writeable = y.flags.writeable = False
    return x, y


def largest_gap(x: Floats) -> tuple[float, float, float]:
    """Return the widest distance of two neighbouring positions, and the two."""
    place = int(np.argmax(np.diff(x)))
    return float(x[place + 1] - x[place]), float(x[place]), float(x[place + 1])
