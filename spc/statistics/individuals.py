"""The chart for individuals: single pieces judged by the steps between neighbours."""

from collections.abc import Sequence
from dataclasses import replace
from math import fsum
from statistics import median

from spc.statistics.shewhart import ShewhartLimits, limits_from_sigma
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.within_sigma import moving_ranges, sigma_from_moving_range

__all__ = ["individuals_limits"]


def individuals_limits(readings: Sequence[float], spread: str = "mean") -> ShewhartLimits:
    """Limits of the chart for individuals and its moving ranges, where a check is one piece.

    Parameters
    ----------
    readings : sequence of float
        Single pieces in the order made, one unit, 2 or more.
    spread : {"mean", "median"}
        Sigma from the mean moving range, or from the median one, which a few jumps cannot widen.

    Returns
    -------
    ShewhartLimits
        Mean -/+ 3 sigma; moving range up to D4 times its mean. `spread_points` is one fewer than `points`.

    Raises
    ------
    Refused
        Fewer than 2 readings, a missing one, or readings that do not differ.

    Notes
    -----
    3/d2 = 2.6587 is used unrounded; printed examples use 2.660 = 3/1.128. With the median the centre of the
    moving ranges is the median one. Where neighbours resemble each other these limits are too narrow.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 6.3.2.2.

    Examples
    --------
    >>> flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    >>> limits = individuals_limits(flow)
    >>> round(limits.centre, 2), round(limits.lower, 1), round(limits.upper, 1)
    (50.81, 45.8, 55.8)
    """
    summaries = summarise_subgroups([[value] for value in readings], chart="a chart for individuals")
    points = summaries.all_readings
    ranges = moving_ranges(points)
    sigma = sigma_from_moving_range(points, spread)
    limits = limits_from_sigma(summaries.mean, sigma.sigma, 1, "individuals", sigma.method)
    return replace(
        limits,
        subgroups=len(points),
        spread_centre=median(ranges) if spread == "median" else fsum(ranges) / len(ranges),
        points=points,
        spread_points=ranges,
    )
