"""The same gauge study by averages and ranges, as it is done on paper."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from spc.statistics.constants import d2, d3
from spc.statistics.gauge_layout import GaugeReading, gauge_layout
from spc.statistics.gauge_study import distinct_sizes

__all__ = ["AverageRangeStudy", "average_range_study", "d2_star"]


@dataclass(frozen=True, slots=True)
class AverageRangeStudy:
    """A gauge study from ranges; it cannot see an interaction of people and parts.

    Attributes
    ----------
    parts, appraisers, trials : int
        Size of the study.
    appraiser_means, appraiser_ranges : tuple of (str, float)
        Mean and mean range of each appraiser.
    mean_range, appraiser_difference, part_range : float
        R-bar over all, largest minus smallest appraiser mean, range of the part means.
    range_limit : float
        Upper control limit of the ranges, D4 R-bar.
    k1, k2, k3 : float
        Factors from a range to a standard deviation: repeats, appraisers, parts.
    repeatability, reproducibility, grr, part, total : float
        Standard deviations; reproducibility is 0 where repeatability alone explains it.
    percent_of_total : dict of str to float
        By the same names.
    ndc_exact, ndc : float, int
        Sizes that can be told apart, sqrt(2) part / grr, and its whole number.
    """

    parts: int
    appraisers: int
    trials: int
    appraiser_means: tuple[tuple[str, float], ...]
    appraiser_ranges: tuple[tuple[str, float], ...]
    mean_range: float
    appraiser_difference: float
    part_range: float
    range_limit: float
    k1: float
    k2: float
    k3: float
    repeatability: float
    reproducibility: float
    grr: float
    part: float
    total: float
    percent_of_total: dict[str, float]
    ndc_exact: float
    ndc: int


def average_range_study(readings: Sequence[GaugeReading]) -> AverageRangeStudy:
    """Gauge study by averages and ranges, for whoever holds it against a form filled in by hand.

    Parameters
    ----------
    readings : sequence of GaugeReading
        Two or more appraisers gauge every part equally often, twice or more.

    Returns
    -------
    AverageRangeStudy
        K1 = 1/d2(trials), K2 = 1/d2*(appraisers, one range), K3 = 1/d2*(parts, one range).

    Raises
    ------
    Refused
        An incomplete or too small study.

    References
    ----------
    AIAG Measurement Systems Analysis, 4th ed. (2010), chapter III-B (from memory); it prints sqrt(2) as 1.41.
    """
    layout = gauge_layout(readings, least_appraisers=2)
    values = layout.values
    p, a, r = values.shape
    ranges, means = (values.max(2) - values.min(2)).mean(0), values.mean((0, 2))
    part_means = values.mean((1, 2))
    mean_range = float(ranges.mean())
    difference, part_range = float(means.max() - means.min()), float(part_means.max() - part_means.min())
    k1, k2, k3 = 1.0 / d2(r), 1.0 / d2_star(a), 1.0 / d2_star(p)
    repeatability = mean_range * k1
    people = sqrt(max(0.0, (difference * k2) ** 2 - repeatability**2 / (p * r)))
    part, grr = part_range * k3, sqrt(repeatability**2 + people**2)
    total = sqrt(grr**2 + part**2)
    exact, whole = distinct_sizes(part, grr)
    named = {"repeatability": repeatability, "reproducibility": people, "grr": grr, "part": part}
    return AverageRangeStudy(
        parts=p,
        appraisers=a,
        trials=r,
        appraiser_means=tuple(zip(layout.appraisers, map(float, means), strict=True)),
        appraiser_ranges=tuple(zip(layout.appraisers, map(float, ranges), strict=True)),
        mean_range=mean_range,
        appraiser_difference=difference,
        part_range=part_range,
        range_limit=(1.0 + 3.0 * d3(r) / d2(r)) * mean_range,
        k1=k1,
        k2=k2,
        k3=k3,
        repeatability=repeatability,
        reproducibility=people,
        grr=grr,
        part=part,
        total=total,
        percent_of_total={name: 100.0 * sigma / total for name, sigma in named.items()},
        ndc_exact=exact,
        ndc=whole,
    )


def d2_star(n: int, ranges: int = 1) -> float:
    """Root mean square of the mean of that many ranges of n pieces, in standard deviations.

    Parameters
    ----------
    n : int
        Pieces in a range, 2 or more.
    ranges : int
        How many ranges are averaged, 1 or more.

    Returns
    -------
    float
        sqrt(d2² + d3²/ranges).

    References
    ----------
    Duncan, Quality Control and Industrial Statistics, Table D3 (from memory).

    Examples
    --------
    >>> round(d2_star(2), 6), round(d2_star(3), 6), round(d2_star(10), 6)
    (1.414214, 1.91154, 3.179045)
    """
    return sqrt(d2(n) ** 2 + d3(n) ** 2 / ranges)
