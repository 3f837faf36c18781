"""Charts for small mixed lots: several parts on one chart, as deviations or as standardised points."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import fsum, isfinite

from spc.errors import Refusal, Refused
from spc.statistics.factors import control_factors
from spc.statistics.shewhart import ShewhartLimits
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.xbar_r import xbar_r_limits

__all__ = ["ShortRunChart", "deviation_chart", "standardised_chart"]


@dataclass(frozen=True, slots=True)
class ShortRunChart:
    """Standardised points of several parts with limits that hold for all of them.

    Attributes
    ----------
    parts : tuple of str
        Part of each check, in the order taken.
    points, spread_points : tuple of float
        (mean - nominal) / R-bar of its part, and R / R-bar of its part; without unit.
    lower, centre, upper : float
        -A2, 0, A2.
    spread_lower, spread_centre, spread_upper : float
        D3, 1, D4.
    mean_ranges : tuple of (str, float)
        R-bar of each part, in the unit of the readings.
    beyond, spread_beyond : tuple of int
        Checks beyond the limits, counted from 1.
    n, subgroups : int
        Pieces a check, and checks.
    level : float
        Width of the limits in sigma.
    method : str
        What the points are.
    """

    parts: tuple[str, ...]
    points: tuple[float, ...]
    spread_points: tuple[float, ...]
    lower: float
    centre: float
    upper: float
    spread_lower: float
    spread_centre: float
    spread_upper: float
    mean_ranges: tuple[tuple[str, float], ...]
    beyond: tuple[int, ...]
    spread_beyond: tuple[int, ...]
    n: int
    subgroups: int
    level: float
    method: str


def deviation_chart(
    parts: Sequence[str], subgroups: Sequence[Sequence[float]], nominal: Mapping[str, float]
) -> ShewhartLimits:
    """Mean and range chart of deviations from nominal, for parts that spread alike.

    Parameters
    ----------
    parts : sequence of str, shape (checks,)
        Part of each check.
    subgroups : sequence of sequences of float
        Readings of each check, 2 or more pieces, in the order taken.
    nominal : mapping of str to float
        Nominal size of each part, in the unit of the readings.

    Returns
    -------
    ShewhartLimits
        As `xbar_r_limits`, of the deviations.

    Raises
    ------
    Refused
        A part without nominal, unequal lengths, and whatever the mean and range chart refuses.

    References
    ----------
    Montgomery, Introduction to SQC, section 10.1; ISO 7870-8:2017 is the standard for short runs (from memory).

    Examples
    --------
    >>> limits = deviation_chart(["A", "B"], [[9.9, 10.1], [20.2, 20.0]], {"A": 10.0, "B": 20.0})
    >>> round(limits.centre, 3)
    0.05
    """
    _check(parts, subgroups, nominal)
    off = [[value - nominal[part] for value in check] for part, check in zip(parts, subgroups, strict=True)]
    return xbar_r_limits(off)


def standardised_chart(
    parts: Sequence[str],
    subgroups: Sequence[Sequence[float]],
    nominal: Mapping[str, float],
    mean_range: Mapping[str, float] | None = None,
) -> ShortRunChart:
    """Chart of standardised means and ranges, for parts that spread differently.

    Parameters
    ----------
    parts, subgroups, nominal
        As for `deviation_chart`; every check with equally many pieces, 2 or more.
    mean_range : mapping of str to float, optional
        R-bar of each part from earlier lots, above 0; from these checks without it.

    Returns
    -------
    ShortRunChart
        Points beyond -/+ A2 and beyond D3, D4 are listed.

    Raises
    ------
    Refused
        As for `deviation_chart`, unequal checks, a part whose ranges are all 0 or unknown.

    References
    ----------
    Montgomery, Introduction to SQC, section 10.1.2 (course notes read); ISO 7870-8:2017 (from memory).

    Examples
    --------
    >>> chart = standardised_chart(["A", "B"], [[9.9, 10.1], [20.2, 20.0]], {"A": 10.0, "B": 20.0})
    >>> [round(point, 2) for point in chart.points], round(chart.upper, 2)
    ([0.0, 0.5], 1.88)
    """
    _check(parts, subgroups, nominal)
    summaries = summarise_subgroups(subgroups, least_pieces=2, chart="a short-run chart")
    pieces = _equal_size(summaries)
    by_part = _mean_ranges(parts, summaries, mean_range)
    factors = control_factors(pieces)
    points = tuple(
        (mean - nominal[part]) / by_part[part] for part, mean in zip(parts, summaries.means, strict=True)
    )
    spreads = tuple(each / by_part[part] for part, each in zip(parts, summaries.ranges, strict=True))
    return ShortRunChart(
        parts=tuple(parts),
        points=points,
        spread_points=spreads,
        lower=-factors.A2,
        centre=0.0,
        upper=factors.A2,
        spread_lower=factors.D3,
        spread_centre=1.0,
        spread_upper=factors.D4,
        mean_ranges=tuple(by_part.items()),
        beyond=_beyond(points, -factors.A2, factors.A2),
        spread_beyond=_beyond(spreads, factors.D3, factors.D4),
        n=pieces,
        subgroups=len(points),
        level=3.0,
        method="(mean - nominal) / R-bar of the part, and R / R-bar of the part",
    )


def _beyond(points: Sequence[float], lower: float, upper: float) -> tuple[int, ...]:
    return tuple(number for number, point in enumerate(points, start=1) if not lower <= point <= upper)


def _equal_size(summaries: SubgroupSummaries) -> int:
    if len(set(summaries.sizes)) > 1:
        raise Refused.one(
            "the checks have unequally many pieces",
            value=", ".join(str(size) for size in sorted(set(summaries.sizes))),
            allowed="equally many pieces in every check of one short-run chart",
        )
    return summaries.sizes[0]


def _mean_ranges(
    parts: Sequence[str], summaries: SubgroupSummaries, given: Mapping[str, float] | None
) -> dict[str, float]:
    found: dict[str, float] = {}
    for part in dict.fromkeys(parts):
        own = [each for name, each in zip(parts, summaries.ranges, strict=True) if name == part]
        found[part] = fsum(own) / len(own) if given is None else given.get(part, 0.0)
    refusals = [
        Refusal(
            "the mean range of the part is not above 0",
            value=f"{value:g}",
            column=part,
            do="Give it from earlier lots, or read the gauge to a finer step",
        )
        for part, value in found.items()
        if not (isfinite(value) and value > 0.0)
    ]
    if refusals:
        raise Refused(refusals)
    return found


def _check(parts: Sequence[str], subgroups: Sequence[Sequence[float]], nominal: Mapping[str, float]) -> None:
    if len(parts) != len(subgroups):
        raise Refused.one(
            "a short-run chart wants one part a check",
            value=f"{len(parts)} and {len(subgroups)}",
            allowed="one a check",
        )
    missing = [part for part in dict.fromkeys(parts) if not isfinite(nominal.get(part, float("nan")))]
    if missing:
        raise Refused(
            Refusal("the part has no nominal", value=part, column="nominal", do="Give its nominal size")
            for part in missing
        )
