"""A straight line by least squares with what is known about it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt

import numpy as np
from scipy.stats import t as t_law

from spc.errors import Refused

__all__ = ["StraightLine", "straight_line"]


@dataclass(frozen=True, slots=True)
class StraightLine:
    """y = intercept + slope x.

    Attributes
    ----------
    n : int
        Points.
    intercept, slope : float
        Of the line.
    intercept_sd, slope_sd, residual_sd : float
        Standard deviations of the two and of one point around the line (n-2).
    r_squared : float
        Share of the sum of squares the line explains.
    x_mean, x_ss : float
        Mean of x and its sum of squares around the mean.
    """

    n: int
    intercept: float
    slope: float
    intercept_sd: float
    slope_sd: float
    residual_sd: float
    r_squared: float
    x_mean: float
    x_ss: float

    @property
    def slope_t(self) -> float:
        """Slope in its standard deviations."""
        return self.slope / self.slope_sd if self.slope_sd > 0.0 else inf

    @property
    def intercept_t(self) -> float:
        """Intercept in its standard deviations."""
        return self.intercept / self.intercept_sd if self.intercept_sd > 0.0 else inf

    @property
    def slope_p(self) -> float:
        """Chance of a slope as steep without any."""
        return float(2.0 * t_law.sf(abs(self.slope_t), self.n - 2))

    def at(self, x: float, level: float = 0.95) -> tuple[float, float, float]:
        """Return the line at x with the two ends of its interval."""
        y = self.intercept + self.slope * x
        reach = self.residual_sd * sqrt(1.0 / self.n + (x - self.x_mean) ** 2 / self.x_ss)
        reach *= float(t_law.isf((1.0 - level) / 2.0, self.n - 2))
        return y, y - reach, y + reach


def straight_line(x: Sequence[float], y: Sequence[float]) -> StraightLine:
    """Fit a line to points, for linearity and stability of a gauge.

    Parameters
    ----------
    x, y : sequence of float
        Equally many, 3 or more, x not all equal.

    Returns
    -------
    StraightLine
        Computed around the means, so that large values cost no digits.

    Raises
    ------
    Refused
        Too few points, missing values, or x that do not differ.

    Examples
    --------
    >>> line = straight_line([1.0, 2.0, 3.0, 4.0], [1.1, 2.0, 2.9, 4.0])
    >>> round(line.slope, 3), round(line.intercept, 3)
    (0.96, 0.1)
    """
    xs, ys = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    if len(xs) != len(ys) or len(xs) < 3:
        raise Refused.one(
            "a line wants points in pairs", value=f"{len(xs)} and {len(ys)}", allowed="3 or more of each"
        )
    if not (np.isfinite(xs).all() and np.isfinite(ys).all()):
        raise Refused.one("a value of the line is missing or not finite", do="Leave that point out")
    x_mean, y_mean = float(xs.mean()), float(ys.mean())
    dx, dy = xs - x_mean, ys - y_mean
    x_ss = float(dx @ dx)
    if not x_ss > 0.0:
        raise Refused.one("a line wants places that differ", value=f"all at {x_mean:g}")
    slope = float(dx @ dy) / x_ss
    residuals = dy - slope * dx
    ss, n = float(residuals @ residuals), len(xs)
    sd = sqrt(ss / (n - 2))
    total = float(dy @ dy)
    return StraightLine(
        n=n,
        intercept=y_mean - slope * x_mean,
        slope=slope,
        intercept_sd=sd * sqrt(1.0 / n + x_mean**2 / x_ss),
        slope_sd=sd / sqrt(x_ss),
        residual_sd=sd,
        r_squared=1.0 - ss / total if total > 0.0 else 0.0,
        x_mean=x_mean,
        x_ss=x_ss,
    )
