"""One person's gauge study on a mean and range chart: parts gauged twice or more by one appraiser."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from spc.errors import Refused
from spc.statistics.constants import d2
from spc.statistics.subgroups import summarise_subgroups
from spc.statistics.xbar_r import xbar_r_limits

__all__ = ["SingleAppraiserStudy", "single_appraiser_study"]


@dataclass(frozen=True, slots=True)
class SingleAppraiserStudy:
    """What one appraiser's repeats show.

    Attributes
    ----------
    parts, trials : int
        Size of the study.
    mean, mean_range : float
        Grand mean and R-bar, in the unit of the readings.
    sigma_gauge, sigma_total, sigma_part : float
        R-bar/d2; s of all readings; the rest, 0 where the gauge explains all.
    percent_of_total, percent_of_tolerance : float, float or None
        100 sigma_gauge/sigma_total; 100 · 6 sigma_gauge/tolerance.
    lower, upper, range_upper : float
        Limits of means and ranges. A good gauge leaves most part means outside, all ranges inside.
    parts_told_apart : int
        Part means outside the limits.
    unsteady_parts : tuple of int
        Parts (from 1) whose range is beyond its limit: the appraiser had trouble there.
    """

    parts: int
    trials: int
    mean: float
    mean_range: float
    sigma_gauge: float
    sigma_total: float
    sigma_part: float
    percent_of_total: float
    percent_of_tolerance: float | None
    lower: float
    upper: float
    range_upper: float
    parts_told_apart: int
    unsteady_parts: tuple[int, ...]


def single_appraiser_study(
    parts: Sequence[Sequence[float]], tolerance: float | None = None
) -> SingleAppraiserStudy:
    """Gauge spread from repeats by one person, for whoever has nobody else at hand.

    Parameters
    ----------
    parts : sequence of sequences of float
        Repeats of each part, equally many, two or more, in one unit.
    tolerance : float, optional
        Upper minus lower limit, above 0.

    Returns
    -------
    SingleAppraiserStudy
        Says nothing about differences between people.

    Raises
    ------
    Refused
        Fewer than two parts or repeats, uneven repeats, repeats that all agree, a tolerance not above 0.

    Notes
    -----
    `gauge_study` on the same readings takes the standard deviation from the analysis of variance instead.

    References
    ----------
    Montgomery, Introduction to SQC, section 8.7, Table 8.6 (from memory).
    """
    if tolerance is not None and not (isfinite(tolerance) and tolerance > 0.0):
        raise Refused.one(
            "the tolerance must be above 0", value=str(tolerance), allowed="upper minus lower limit"
        )
    summaries = summarise_subgroups(parts, least_pieces=2, chart="a gauge study")
    if not isinstance(summaries.n, int):
        raise Refused.one(
            "the parts were not gauged equally often",
            value=f"{min(summaries.sizes)} to {max(summaries.sizes)} times",
            do="Gauge the missing ones, or leave those parts out",
        )
    limits = xbar_r_limits(parts)
    mean_range = sum(summaries.ranges) / len(summaries.ranges)
    gauge, total = mean_range / d2(summaries.n), summaries.overall_sd
    lower, upper, range_upper = (_one(level) for level in (limits.lower, limits.upper, limits.spread_upper))
    return SingleAppraiserStudy(
        parts=len(summaries.sizes),
        trials=summaries.n,
        mean=summaries.mean,
        mean_range=mean_range,
        sigma_gauge=gauge,
        sigma_total=total,
        sigma_part=sqrt(max(0.0, total**2 - gauge**2)),
        percent_of_total=100.0 * gauge / total,
        percent_of_tolerance=None if tolerance is None else 600.0 * gauge / tolerance,
        lower=lower,
        upper=upper,
        range_upper=range_upper,
        parts_told_apart=sum(not lower <= value <= upper for value in summaries.means),
        unsteady_parts=tuple(
            number for number, value in enumerate(summaries.ranges, start=1) if value > range_upper
        ),
    )


def _one(level: float | tuple[float, ...]) -> float:
    return level[0] if isinstance(level, tuple) else level
