"""Whether points show their order in time: a slope, neighbours that resemble each other, steps mostly one way."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.statistics.autocorrelation import Lag1, lag1_autocorrelation
from spc.statistics.index_intervals import tail_share
from spc.statistics.rises_and_falls import RisesAndFalls, rises_and_falls
from spc.statistics.trend_line import TrendLine, trend_line

__all__ = ["OrderSeen", "order_seen"]


@dataclass(frozen=True, slots=True)
class OrderSeen:
    """Three tests of order, and what follows for intervals.

    Attributes
    ----------
    present : bool
        At least one of them speaks: textbook intervals are then too short.
    trend : TrendLine
        Points over their number.
    lag1 : Lag1
        Correlation of neighbours about the mean.
    rises : RisesAndFalls
        Steps up against steps down.
    n : int
        Points.
    level : float
        1 minus the chance below which each test speaks.
    says : str
        For a person; empty where no order is seen.
    """

    present: bool
    trend: TrendLine
    lag1: Lag1
    rises: RisesAndFalls
    n: int
    level: float
    says: str


def order_seen(points: Sequence[float], confidence: float = 0.95) -> OrderSeen:
    """Look for order in check means or single pieces, to know which interval stands first.

    Parameters
    ----------
    points : sequence of float, shape (n,)
        In the order made, 3 or more that differ.
    confidence : float
        Of each single test, between 0 and 1.

    Returns
    -------
    OrderSeen
        In points without order one of the three speaks in about 12 of 100 series at 0.95.

    Raises
    ------
    Refused
        Too few, missing or equal points, confidence out of range.

    Notes
    -----
    Slope, lag-1 correlation and rises; each has its source in its own file. That one of three speaks is enough.

    Examples
    --------
    >>> order_seen([5.0, 5.1, 5.3, 5.2, 5.4, 5.6, 5.5, 5.7]).present
    True
    """
    alpha = 2.0 * tail_share(confidence, 3)
    lag1, rises = lag1_autocorrelation(points, confidence), rises_and_falls(points)
    trend = trend_line(range(1, len(points) + 1), points, confidence)
    saw = []
    if trend.p < alpha:
        saw.append(f"a slope of {trend.slope:.3g} a check")
    if lag1.related:
        saw.append(f"neighbours that {'resemble' if lag1.r > 0.0 else 'oppose'} each other ({lag1.r:.2f})")
    if rises.p < alpha:
        saw.append(f"{rises.rises} steps up against {rises.falls} down")
    says = f"The order of checks shows {' and '.join(saw)}: intervals for independent pieces are too short."
    return OrderSeen(bool(saw), trend, lag1, rises, len(points), confidence, says if saw else "")
