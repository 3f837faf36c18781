"""A straight line through points by least squares, with how far its slope is known."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import copysign, fsum, inf, sqrt

from spc.errors import Refused
from spc.statistics.chance_laws import f_tail, t_above
from spc.statistics.index_intervals import tail_share
from spc.statistics.readings import sound_readings

__all__ = ["TrendLine", "trend_line"]


@dataclass(frozen=True, slots=True)
class TrendLine:
    """Least-squares line y = intercept + slope x.

    Attributes
    ----------
    intercept, slope : float
        In the unit of y, and of y per unit of x.
    intercept_error, slope_error : float
        Their standard deviations.
    slope_low, slope_high : float
        Interval of the slope at the level.
    residual_sd : float
        Spread of the points about the line, n-2 in the divisor.
    r_squared : float
        Share of the squares that the line explains.
    regression_squares, residual_squares : float
        Sums of squares.
    f, t, p : float
        F and t of the slope against 0, and the two-sided chance of a t as large; infinite without residual.
    intercept_t : float
        The intercept in its standard deviations.
    x_mean, x_squares : float
        Mean of x, and its squares about the mean.
    n, freedom : int
        Points, and n-2.
    level : float
        Confidence of the interval.
    method : str
        Least squares.
    """

    intercept: float
    slope: float
    intercept_error: float
    slope_error: float
    slope_low: float
    slope_high: float
    residual_sd: float
    r_squared: float
    regression_squares: float
    residual_squares: float
    f: float
    t: float
    p: float
    intercept_t: float
    x_mean: float
    x_squares: float
    n: int
    freedom: int
    level: float
    method: str

    def at(self, x: float) -> float:
        """Height of the line at x."""
        return self.intercept + self.slope * x

    def interval_at(self, x: float, level: float = 0.95) -> tuple[float, float]:
        """Ends between which the true line lies at x."""
        reach = t_above(tail_share(level, self.n), self.freedom) * self.residual_sd
        reach *= sqrt(1.0 / self.n + (x - self.x_mean) ** 2 / self.x_squares)
        return self.at(x) - reach, self.at(x) + reach


def trend_line(x: Sequence[float], y: Sequence[float], confidence: float = 0.95) -> TrendLine:
    """Fit a line, for wear over pieces, the trended chart, and linearity and stability of a gauge.

    Parameters
    ----------
    x : sequence of float, shape (n,)
        Pieces made, hours, or the number of the check; 3 or more, not all equal.
    y : sequence of float, shape (n,)
        Readings or check means.
    confidence : float
        Of the interval of the slope, between 0 and 1.

    Returns
    -------
    TrendLine
        Sums are taken about the means and exactly rounded.

    Raises
    ------
    Refused
        Unequal lengths, too few points, equal x, a missing number.

    References
    ----------
    Checked against Norris of the NIST Statistical Reference Datasets (certified to 15 digits).

    Examples
    --------
    >>> line = trend_line([1, 2, 3, 4], [2.1, 3.9, 6.1, 7.9])
    >>> round(line.slope, 3), round(line.intercept, 3)
    (1.96, 0.1)
    """
    xs, ys = _sound_points(x, y)
    n, tail = len(xs), tail_share(confidence, len(xs))
    x_mean, y_mean = fsum(xs) / n, fsum(ys) / n
    dx, dy = [each - x_mean for each in xs], [each - y_mean for each in ys]
    sxx = fsum(each**2 for each in dx)
    slope = fsum(a * b for a, b in zip(dx, dy, strict=True)) / sxx
    left = fsum((b - slope * a) ** 2 for a, b in zip(dx, dy, strict=True))
    total, explained, freedom = fsum(each**2 for each in dy), slope**2 * sxx, n - 2
    residual_sd = sqrt(left / freedom)
    error = residual_sd / sqrt(sxx)
    t = _in_errors(slope, error)
    intercept, intercept_error = y_mean - slope * x_mean, residual_sd * sqrt(1.0 / n + x_mean**2 / sxx)
    reach = t_above(tail, freedom) * error
    return TrendLine(
        intercept=intercept,
        slope=slope,
        intercept_error=intercept_error,
        slope_error=error,
        slope_low=slope - reach,
        slope_high=slope + reach,
        residual_sd=residual_sd,
        r_squared=1.0 - left / total if total > 0.0 else 0.0,
        regression_squares=explained,
        residual_squares=left,
        f=t * t,
        t=t,
        p=f_tail(t * t, 1, freedom),
        intercept_t=_in_errors(intercept, intercept_error),
        x_mean=x_mean,
        x_squares=sxx,
        n=n,
        freedom=freedom,
        level=confidence,
        method="least squares, sums about the means",
    )


def _sound_points(x: Sequence[float], y: Sequence[float]) -> tuple[list[float], list[float]]:
    if len(x) != len(y):
        raise Refused.one(
            "a line wants as many x as y", value=f"{len(x)} and {len(y)}", allowed="one y for each x"
        )
    xs = sound_readings(x, asks="the x of a straight line", least=3).tolist()
    ys = sound_readings(y, asks="a straight line", least=3, differ=False).tolist()
    return xs, ys


def _in_errors(value: float, error: float) -> float:
    """Value over its error, with its sign; infinite where points lie on the line to the last digit."""
    if error > 0.0:
        return value / error
    return copysign(inf, value) if value else 0.0
