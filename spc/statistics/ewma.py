"""The EWMA chart: a smoothed mean with exact, widening limits that catches small lasting shifts."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from spc.errors import Refused
from spc.statistics.narrow_start import narrow_start_factor
from spc.statistics.plotted_points import plotted_points

__all__ = ["EwmaChart", "ewma_limits"]


@dataclass(frozen=True, slots=True)
class EwmaChart:
    """An exponentially weighted moving average with its limits, in the unit of the readings.

    Attributes
    ----------
    n : int or tuple of int
        Pieces in a subgroup.
    subgroups : int
        Points on the chart.
    centre : float
        Start and centre line.
    points, lower, upper : tuple of float
        Smoothed values and their limits, oldest first; a point on the limit is inside.
    sigma_within : float
        Standard deviation of one piece.
    weight, width : float
        Weight of the newest point and width of the limits in standard deviations of the smoothed value.
    method : str
        Where centre and sigma come from.
    """

    n: int | tuple[int, ...]
    subgroups: int
    centre: float
    points: tuple[float, ...]
    lower: tuple[float, ...]
    upper: tuple[float, ...]
    sigma_within: float
    weight: float
    width: float
    method: str


def ewma_limits(
    subgroups: Sequence[Sequence[float]],
    target: float | None = None,
    sigma: float | None = None,
    weight: float = 0.2,
    width: float = 3.0,
    narrow_start: float = 1.0,
) -> EwmaChart:
    """Smoothed subgroup means with exact limits, for small shifts that last.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in one unit, oldest first; single pieces as subgroups of one; sizes may differ.
    target : float, optional
        Start and centre; without it the mean of all pieces.
    sigma : float, optional
        Standard deviation of one piece; without it R-bar/d2, or MR-bar/d2 for single pieces.
    weight : float
        Weight of the newest point, above 0 up to 1.
    width : float
        Half width of the limits in standard deviations, above 0.
    narrow_start : float
        Width at the first point as a share of its own, above 0.1 up to 1: with 0.5 a chart that starts off centre
        signals sooner; see `narrow_start_factor`.

    Returns
    -------
    EwmaChart
        Limits as they widen: variance V_i = weight^2 sd_i^2 + (1 - weight)^2 V_(i-1), V_0 = 0.

    Raises
    ------
    Refused
        A weight or width out of range, a missing reading, or no spread to estimate sigma from.

    References
    ----------
    NIST/SEMATECH e-Handbook, section 6.3.2.4; Montgomery, Introduction to SQC, Table 9.10 (from memory).

    Examples
    --------
    >>> chart = ewma_limits([[9.45], [7.99]], target=10.0, sigma=1.0, weight=0.1, width=2.7)
    >>> [round(point, 4) for point in chart.points], round(chart.upper[1], 4)
    ([9.945, 9.7495], 10.3632)
    """
    if not 0.0 < weight <= 1.0:
        raise Refused.one(
            "the weight of the newest point is out of range", value=str(weight), allowed="above 0 up to 1"
        )
    if not 0.0 < width < float("inf"):
        raise Refused.one(
            "the width of the limits is out of range", value=str(width), allowed="above 0, usually 3"
        )
    plotted = plotted_points(subgroups, target, sigma, "an EWMA chart")
    points, half_widths = [], []
    value, variance = plotted.target, 0.0
    for point, (mean, sd) in enumerate(zip(plotted.means, plotted.point_sds, strict=True), start=1):
        value += weight * (mean - value)
        variance = (weight * sd) ** 2 + (1.0 - weight) ** 2 * variance
        points.append(value)
        half_widths.append(width * sqrt(variance) * narrow_start_factor(point, narrow_start))
    return EwmaChart(
        n=plotted.n,
        subgroups=len(points),
        centre=plotted.target,
        points=tuple(points),
        lower=tuple(plotted.target - half for half in half_widths),
        upper=tuple(plotted.target + half for half in half_widths),
        sigma_within=plotted.sigma_within,
        weight=weight,
        width=width,
        method=plotted.method,
    )
