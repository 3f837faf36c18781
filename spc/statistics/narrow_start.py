"""Control limits that are narrowed at the first points, so that a chart started wrong signals soon."""

from math import log10

from spc.errors import Refused

__all__ = ["narrow_start_factor"]

_RECOVERED = 20
"""Point by which the limits have their full width back but for 1 %."""


def narrow_start_factor(point: int, share: float) -> float:
    """Factor on the width of the limits at a point, for the memory charts.

    Parameters
    ----------
    point : int
        1 for the first.
    share : float
        Width of the limits at the first point as a share of their full one, above 0.1 up to 1; 0.5 is customary,
        1 narrows nothing.

    Returns
    -------
    float
        1 - (1 - share)^(1 + a (point - 1)), where a brings it to 0.99 at point 20.

    Raises
    ------
    Refused
        A share out of range.

    References
    ----------
    Steiner, J. Quality Technology 31 (1999) 75-86 (from memory).

    Examples
    --------
    >>> [round(narrow_start_factor(point, 0.5), 3) for point in (1, 2, 5, 20)]
    [0.5, 0.593, 0.781, 0.99]
    """
    if not 0.1 < share <= 1.0:
        raise Refused.one(
            "the share of the limits at the first point is out of range",
            value=str(share),
            allowed="above 0.1 up to 1; 0.5 is customary, 1 narrows nothing",
        )
    if 1.0 - share <= 0.01:  # so little is left to recover that there is no time for it
        return 1.0
    slower = (-2.0 / log10(1.0 - share) - 1.0) / (_RECOVERED - 1)
    return float(1.0 - (1.0 - share) ** (1.0 + slower * (point - 1)))
