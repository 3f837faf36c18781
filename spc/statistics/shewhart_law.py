"""Run length of plain control limits, exactly, for a step and for a steady drift of the mean."""

from collections.abc import Iterator
from itertools import count
from math import isfinite

from scipy.special import ndtr

from spc.errors import Refused
from spc.statistics.run_length_law import RunLengthLaw, check_change, law_of_survival

__all__ = ["shewhart_law"]


def shewhart_law(shift_sigma: float = 0.0, drift_sigma: float = 0.0, width: float = 3.0) -> RunLengthLaw:
    """Distribution of the checks until a plain chart signals, for whoever promises when a change is found.

    Parameters
    ----------
    shift_sigma : float
        Shift of the mean from the first point on, in standard deviations of the plotted point.
    drift_sigma : float
        Move of the mean from point to point; point t lies shift + t · drift off centre.
    width : float
        Half width of the limits in standard deviations of the plotted point, above 0.

    Returns
    -------
    RunLengthLaw
        Independent normal points with known centre and sigma; exact (geometric for a step).

    Raises
    ------
    Refused
        Limits of no width, or a change that is not finite.

    References
    ----------
    Montgomery & Runger (2003), p. 617: 43.9 at a shift of 1 sigma; for a drift the product of the chances
    of staying inside (own derivation).

    Examples
    --------
    >>> law = shewhart_law()
    >>> round(law.mean_points, 1), round(law.sd_points, 1), law.within(0.5)
    (370.4, 369.9, 257)
    >>> round(shewhart_law(drift_sigma=0.1).mean_points, 2)
    18.43
    """
    check_change(shift_sigma, drift_sigma)
    if not (isfinite(width) and width > 0.0):
        raise Refused.one("limits need some width", value=str(width), allowed="above 0, usually 3")
    return law_of_survival(
        _survival(shift_sigma, drift_sigma, width),
        shift_sigma=shift_sigma,
        drift_sigma=drift_sigma,
        method=f"limits at {width:g} σ, exact",
    )


def _survival(shift: float, drift: float, width: float) -> Iterator[float]:
    still = 1.0
    for point in count(1):
        mean = shift + point * drift
        still *= 1.0 - float(ndtr(mean - width) + ndtr(-width - mean))
        yield still
