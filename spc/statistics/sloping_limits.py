"""The trended chart: limits that slope with the wear of the die, and how long a setting lasts."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, inf, isfinite, sqrt

from spc.errors import Refused
from spc.statistics.constants import d2
from spc.statistics.indices import check_tolerance
from spc.statistics.readings import sound_readings
from spc.statistics.trend_line import TrendLine, trend_line

__all__ = ["SlopingLimits", "sloping_limits"]


@dataclass(frozen=True, slots=True)
class SlopingLimits:
    """Centre line and limits that rise or fall with the checks.

    Attributes
    ----------
    line : TrendLine
        The centre line: check means over `at`.
    half_width : float
        Distance of the limits from it, 3 sigma / sqrt(pieces) = A2 R-bar, in the unit of the readings.
    sigma : float
        Standard deviation of one piece within a check, R-bar/d2.
    lower, upper : tuple of float
        Limits of each check mean.
    beyond : tuple of int
        Checks strictly beyond them, counted from 1.
    start_level, stop_level : float or None
        Where to set the process and where to adjust it again; None without that tolerance limit.
    life : float or None
        From start to stop, in the unit of `at`; infinite without slope, None without both limits.
    n : int
        Pieces a check.
    subgroups : int
        Checks.
    level : float
        Confidence of the slope's interval in `line`.
    method : str
        How the limits came to be.
    says : str
        Whether there is a trend at all, for a person.
    """

    line: TrendLine
    half_width: float
    sigma: float
    lower: tuple[float, ...]
    upper: tuple[float, ...]
    beyond: tuple[int, ...]
    start_level: float | None
    stop_level: float | None
    life: float | None
    n: int
    subgroups: int
    level: float
    method: str
    says: str


def sloping_limits(
    at: Sequence[float],
    means: Sequence[float],
    ranges: Sequence[float],
    n: int,
    lower: float | None = None,
    upper: float | None = None,
    reserve: float = 3.0,
    confidence: float = 0.95,
) -> SlopingLimits:
    """Chart of a wearing process with sloping limits, for setting and resetting on purpose.

    Parameters
    ----------
    at : sequence of float, shape (checks,)
        Pieces made, hours or check numbers; 3 or more, not all equal.
    means, ranges : sequence of float, shape (checks,)
        Of each check, in the unit of the limits.
    n : int
        Pieces a check, 2 or more.
    lower, upper : float, optional
        Tolerance limits.
    reserve : float
        Sigma kept between the levels and the tolerance limits.
    confidence : float
        Of the slope's interval, between 0 and 1.

    Returns
    -------
    SlopingLimits
        Limits parallel to the line at -/+ A2 R-bar.

    Raises
    ------
    Refused
        Unequal lengths, too few checks, ranges that are negative or all 0, a tolerance too narrow to wander in.

    Notes
    -----
    The limits use the spread within checks, not the scatter about the line: the line must not excuse itself.
    Start is the lower tolerance limit plus `reserve` sigma and stop the upper one minus it; falling lines start
    above.

    References
    ----------
    Named in ISO 7870-5:2014; Duncan; Grant & Leavenworth; Montgomery section 10.7; Mandel 1969 (from memory).

    Examples
    --------
    >>> chart = sloping_limits([1, 2, 3, 4], [20.00, 20.01, 20.02, 20.03], [0.01] * 4, n=5, lower=19.9, upper=20.1)
    >>> round(chart.line.slope, 3), round(chart.life, 1)
    (0.01, 17.4)
    """
    if len(ranges) != len(means):
        raise Refused.one(
            "a trended chart wants a range for each mean",
            value=f"{len(ranges)} and {len(means)}",
            allowed="one a check",
        )
    if lower is not None or upper is not None:
        check_tolerance(lower, upper, None)
    line = trend_line(at, means, confidence)
    sigma = _sigma_within(ranges, n)
    _want_reserve(reserve)
    half = 3.0 * sigma / sqrt(n)
    heights = [line.at(float(x)) for x in at]
    start, stop = _levels(line.slope, lower, upper, reserve * sigma)
    return SlopingLimits(
        line=line,
        half_width=half,
        sigma=sigma,
        lower=tuple(height - half for height in heights),
        upper=tuple(height + half for height in heights),
        beyond=_beyond(means, heights, half),
        start_level=start,
        stop_level=stop,
        life=_life(start, stop, line.slope),
        n=n,
        subgroups=len(means),
        level=confidence,
        method="least-squares line, limits parallel at A2 R-bar",
        says=_says(line),
    )


def _sigma_within(ranges: Sequence[float], n: int) -> float:
    """R-bar/d2 of checks of n pieces, above 0."""
    spans = sound_readings(ranges, asks="a trended chart", least=3, differ=False, at_least=0.0)
    sigma = fsum(spans.tolist()) / len(ranges) / d2(n)
    if sigma <= 0.0:
        raise Refused.one(
            "the checks show no spread within a check, so the limits would have no width",
            value="0",
            do="Read the gauge to a finer step, or check that it moves freely",
        )
    return sigma


def _want_reserve(reserve: float) -> None:
    if not (isfinite(reserve) and reserve >= 0.0):
        raise Refused.one("the reserve is not 0 or more", value=str(reserve), allowed="for instance 3")


def _beyond(means: Sequence[float], heights: Sequence[float], half: float) -> tuple[int, ...]:
    """Checks farther from the line than half the width, counted from 1."""
    return tuple(
        number
        for number, (mean, height) in enumerate(zip(means, heights, strict=True), start=1)
        if abs(mean - height) > half
    )


def _levels(
    slope: float, lower: float | None, upper: float | None, kept: float
) -> tuple[float | None, float | None]:
    low = None if lower is None else lower + kept
    high = None if upper is None else upper - kept
    if low is not None and high is not None and low >= high:
        raise Refused.one(
            "the tolerance is too narrow for a process that wanders",
            value=f"levels {low:g} and {high:g}",
            do="Reduce the spread within checks, or keep less in reserve",
        )
    return (low, high) if slope >= 0.0 else (high, low)


def _life(start: float | None, stop: float | None, slope: float) -> float | None:
    if start is None or stop is None:
        return None
    return (stop - start) / slope if slope else inf


def _says(line: TrendLine) -> str:
    interval = f"{100 * line.level:g} % interval {line.slope_low:.3g} to {line.slope_high:.3g}"
    if line.slope_low <= 0.0 <= line.slope_high:
        return f"No trend can be told from {line.n} checks ({interval} for each step): use the usual chart."
    return f"The mean {'rises' if line.slope > 0 else 'falls'} by {abs(line.slope):.3g} for each step ({interval})."
