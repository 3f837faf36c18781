"""What a point on a time-weighted chart is worth: target, points and their standard deviation."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from spc.errors import Refused
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.within_sigma import sigma_from_mean_range, sigma_from_moving_range

__all__ = ["PlottedPoints", "plotted_points"]


@dataclass(frozen=True, slots=True)
class PlottedPoints:
    """Subgroup means with the target and the sigma they are judged by.

    Attributes
    ----------
    n : int or tuple of int
        Pieces in a subgroup.
    means, point_sds : tuple of float
        Subgroup means and their standard deviations, oldest first.
    target : float
        Where the chart starts.
    sigma_within : float
        Standard deviation of one piece.
    method : str
        Where target and sigma come from.
    """

    n: int | tuple[int, ...]
    means: tuple[float, ...]
    point_sds: tuple[float, ...]
    target: float
    sigma_within: float
    method: str


def plotted_points(
    subgroups: Sequence[Sequence[float]], target: float | None, sigma: float | None, chart: str
) -> PlottedPoints:
    """Means, target and sigma for an EWMA or CUSUM chart.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings, oldest first; single pieces as subgroups of one.
    target : float or None
        Start of the chart; None for the mean of all pieces.
    sigma : float or None
        Standard deviation of one piece; None for R-bar/d2, or MR-bar/d2 where all are single pieces.
    chart : str
        Name of the asking chart, for a refusal.

    Returns
    -------
    PlottedPoints
        One entry per subgroup.

    Raises
    ------
    Refused
        A missing reading, a target that is not finite, a sigma not above 0, too few readings to estimate it.
    """
    summaries = summarise_subgroups(subgroups, least_subgroups=1 if sigma is not None else 2, chart=chart)
    if target is not None and not isfinite(target):
        raise Refused.one(
            "the target is missing or not finite",
            value=str(target),
            column="target",
            allowed="a finite number",
        )
    if sigma is not None and not (isfinite(sigma) and sigma > 0.0):
        raise Refused.one("sigma must be above 0", value=str(sigma), column="sigma", allowed="above 0")
    one_piece, source = (sigma, "known sigma") if sigma is not None else _estimate(summaries)
    return PlottedPoints(
        n=summaries.n,
        means=summaries.means,
        point_sds=tuple(one_piece / sqrt(size) for size in summaries.sizes),
        target=summaries.mean if target is None else target,
        sigma_within=one_piece,
        method=f"{source}, starts at {'the mean' if target is None else 'the target'}",
    )


def _estimate(summaries: SubgroupSummaries) -> tuple[float, str]:
    if max(summaries.sizes) == 1:
        single = sigma_from_moving_range(summaries.all_readings)
        return single.sigma, single.method
    within = sigma_from_mean_range(summaries)
    return within.sigma, within.method
