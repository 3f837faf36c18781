"""Three-sigma limits as a record, and the limits that follow from a known centre and sigma."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from spc.errors import Refused
from spc.statistics.constants import c4, d2, median_sd
from spc.statistics.factors import control_factors
from spc.statistics.subgroups import collapse

__all__ = ["Level", "ShewhartLimits", "limits_from_sigma"]

Level = float | tuple[float, ...]
"""One number for all subgroups, or one per subgroup where their sizes differ."""


@dataclass(frozen=True, slots=True)
class ShewhartLimits:
    """Control limits of a location chart and its spread chart, in the unit of the readings.

    Attributes
    ----------
    chart : str
        ``xbar_r``, ``xbar_s``, ``median_r`` or ``individuals``.
    n : int or tuple of int
        Pieces in a subgroup; one number per subgroup where they differ.
    subgroups : int
        Subgroups the limits were computed from; 0 where centre and sigma were known.
    centre : float
        Centre line of the location chart.
    lower, upper : float or tuple of float
        Limits of the location chart; a point on the limit is inside.
    spread_centre, spread_lower, spread_upper : float or tuple of float
        The same for the range, standard deviation or moving range.
    sigma_within : float
        Standard deviation of one piece behind the limits.
    method : str
        How sigma was estimated.
    points, spread_points : tuple of float
        What is plotted, oldest first; moving ranges are one fewer than points. Empty for known parameters.
    """

    chart: str
    n: int | tuple[int, ...]
    subgroups: int
    centre: float
    lower: Level
    upper: Level
    spread_centre: Level
    spread_lower: Level
    spread_upper: Level
    sigma_within: float
    method: str
    points: tuple[float, ...] = ()
    spread_points: tuple[float, ...] = ()


def limits_from_sigma(
    centre: float,
    sigma: float,
    n: int | Sequence[int],
    chart: str = "xbar_r",
    method: str = "known centre and sigma",
) -> ShewhartLimits:
    """Three-sigma limits for a known centre and sigma: signed limits, or a check of another size.

    Parameters
    ----------
    centre : float
        Centre line, in the unit of the readings.
    sigma : float
        Standard deviation of one piece, same unit, above 0.
    n : int or sequence of int
        Pieces in a subgroup; one number per subgroup where they differ.
    chart : {"xbar_r", "xbar_s", "median_r", "individuals"}
        Which pair of charts.
    method : str
        Where centre and sigma come from; kept with the limits.

    Returns
    -------
    ShewhartLimits
        Lower limits of the spread are never below 0.

    Raises
    ------
    Refused
        Sigma not above 0, a chart of another name, or a subgroup too small for its spread chart.

    References
    ----------
    ISO 8258:1991 clause 12, ISO 7870-2: tea packing, centre 100.6 g, sigma 1.4 g, n = 5 (from memory).

    Examples
    --------
    >>> limits = limits_from_sigma(100.6, 1.4, 5)
    >>> round(limits.lower, 1), round(limits.upper, 1), round(limits.spread_upper, 1)
    (98.7, 102.5, 6.9)
    """
    _check(centre, sigma, chart)
    sizes = (n,) if isinstance(n, int) else tuple(n)
    spread_sizes = (2,) if chart == "individuals" else sizes
    _check_sizes(sizes, spread_sizes, chart)
    spreads = [_spread_factors(chart, size) for size in spread_sizes]
    half_widths = [3.0 * sigma * _point_sd(chart, size) for size in sizes]
    return ShewhartLimits(
        chart=chart,
        n=sizes[0] if len(set(sizes)) == 1 else sizes,
        subgroups=0,
        centre=centre,
        lower=collapse([centre - half for half in half_widths]),
        upper=collapse([centre + half for half in half_widths]),
        spread_centre=collapse([centre_line * sigma for _, centre_line, _ in spreads]),
        spread_lower=collapse([low * sigma for low, _, _ in spreads]),
        spread_upper=collapse([high * sigma for _, _, high in spreads]),
        sigma_within=sigma,
        method=method,
    )


def _spread_factors(chart: str, n: int) -> tuple[float, float, float]:
    """Lower limit, centre and upper limit of the spread chart, in sigma."""
    factors = control_factors(n)
    if chart == "xbar_s":
        return factors.B5, c4(n), factors.B6
    return factors.D1, d2(n), factors.D2


def _point_sd(chart: str, n: int) -> float:
    """Standard deviation of the plotted point, in sigma of one piece."""
    return median_sd(n) if chart == "median_r" else 1.0 / sqrt(n)


def _check(centre: float, sigma: float, chart: str) -> None:
    if chart not in ("xbar_r", "xbar_s", "median_r", "individuals"):
        raise Refused.one("no such chart", value=chart, allowed="xbar_r, xbar_s, median_r, individuals")
    if not isfinite(centre):
        raise Refused.one(
            "the centre is missing or not finite",
            value=str(centre),
            column="centre",
            allowed="a finite number",
        )
    if not (isfinite(sigma) and sigma > 0.0):
        raise Refused.one("sigma must be above 0", value=str(sigma), column="sigma", allowed="above 0")


def _check_sizes(sizes: tuple[int, ...], spread_sizes: tuple[int, ...], chart: str) -> None:
    if chart == "individuals" and set(sizes) != {1}:
        raise Refused.one("a chart for individuals takes single pieces", value=str(max(sizes)), allowed="1")
    if min(spread_sizes, default=0) < 2:
        raise Refused.one(
            f"{chart} wants at least 2 pieces in each subgroup",
            value=str(min(spread_sizes, default=0)),
            allowed="2 or more",
            do="Use the chart for individuals where each check is one piece",
        )
