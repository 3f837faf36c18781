"""What stands out on a chart: points beyond limits and completed runs, each said with its number."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Literal

from spc.errors import Refused
from spc.statistics.rule_sets import BEYOND_LIMITS, RunRule
from spc.statistics.run_rules import find_runs
from spc.statistics.shewhart import Level, ShewhartLimits

__all__ = ["ChartSignal", "chart_signals", "points_beyond", "standardised"]

Of = Literal["location", "spread"]


@dataclass(frozen=True, slots=True)
class ChartSignal:
    """One point that chance seldom draws.

    Attributes
    ----------
    index : int
        The subgroup, from 1.
    kind : {"beyond_limits", "run_rule"}
        Beyond a control limit, or a completed run.
    of : {"location", "spread"}
        Which of the two charts.
    rule : str
        Key of the rule.
    says : str
        One sentence with a number.
    """

    index: int
    kind: Literal["beyond_limits", "run_rule"]
    of: Of
    rule: str
    says: str


def chart_signals(
    limits: ShewhartLimits, rules: Sequence[RunRule] = (BEYOND_LIMITS,)
) -> tuple[ChartSignal, ...]:
    """Every signal of a pair of charts, for a review of signed or computed limits.

    Parameters
    ----------
    limits : ShewhartLimits
        With its points.
    rules : sequence of RunRule
        Judge the location chart; the spread chart knows its limits only, as its points are not symmetric.

    Returns
    -------
    tuple of ChartSignal
        By subgroup; a point on a limit is inside.

    Raises
    ------
    Refused
        Points or limits that are missing or not finite.

    Notes
    -----
    Run rules as `find_runs` reads them; of ranges and s only the limits (Western Electric 1956, from memory).

    Examples
    --------
    >>> from spc.statistics.individuals import individuals_limits
    >>> limits = individuals_limits([5.0, 5.1, 4.9, 5.0, 5.1, 4.9, 5.0, 5.1, 4.9, 5.0, 6.0])
    >>> [(signal.index, signal.of) for signal in chart_signals(limits)]
    [(11, 'location'), (11, 'spread')]
    """
    beyond = [
        *points_beyond(limits.points, limits.lower, limits.upper),
        *points_beyond(
            limits.spread_points,
            limits.spread_lower,
            limits.spread_upper,
            of="spread",
            first=1 + len(limits.points) - len(limits.spread_points),
        ),
    ]
    others = [rule for rule in rules if rule.key != BEYOND_LIMITS.key]
    runs = [
        ChartSignal(finding.index, "run_rule", "location", finding.rule, finding.says)
        for finding in find_runs(standardised(limits.points, limits.centre, limits.upper), others)
    ]
    return tuple(sorted(beyond + runs, key=lambda signal: signal.index))


def points_beyond(
    points: Sequence[float], lower: Level, upper: Level, *, of: Of = "location", first: int = 1
) -> tuple[ChartSignal, ...]:
    """Points strictly beyond a limit, on any chart.

    Parameters
    ----------
    points : sequence of float
        Plotted values, oldest first.
    lower, upper : float or tuple of float
        One limit for all points or one per point.
    of : {"location", "spread"}
        Which chart the points belong to.
    first : int
        Number of the subgroup the first point belongs to; 2 for moving ranges.

    Returns
    -------
    tuple of ChartSignal
        In the order of the points.

    Raises
    ------
    Refused
        A point or limit that is missing or not finite.

    Notes
    -----
    A point on a limit is inside: the choice of this library, as the sources say nothing on it.

    Examples
    --------
    >>> [(signal.index, signal.says) for signal in points_beyond([5.0, 6.2], 4.0, 6.0)]
    [(2, '6.2 is above the upper control limit 6')]
    """
    for name, values in (("points", points), ("lower", _levels(lower)), ("upper", _levels(upper))):
        _want_numbers(name, values)
    signals = []
    lows, highs = _per_point(lower, len(points)), _per_point(upper, len(points))
    for index, (value, low, high) in enumerate(zip(points, lows, highs, strict=True), start=first):
        if low <= value <= high:
            continue
        side, limit = ("above the upper", high) if value > high else ("below the lower", low)
        says = f"{value:.7g} is {side} control limit {limit:.7g}"
        signals.append(ChartSignal(index, "beyond_limits", of, BEYOND_LIMITS.key, says))
    return tuple(signals)


def standardised(
    points: Sequence[float], centre: float, upper: Level, width: float = 3.0
) -> tuple[float, ...]:
    """Distances from the centre in standard deviations of the plotted point, as run rules read them.

    Parameters
    ----------
    points : sequence of float
        Plotted values.
    centre : float
        Centre line.
    upper : float or tuple of float
        Upper limit, one for all or one per point, `width` standard deviations above the centre.
    width : float
        Standard deviations from the centre to the limit.

    Returns
    -------
    tuple of float
        Dimensionless, positive above the centre.

    Raises
    ------
    Refused
        A number that is missing or not finite, or an upper limit not above the centre.

    Notes
    -----
    The lower limit is taken to lie as far below; zones of 1 and 2 σ are thirds of that distance (from memory).

    Examples
    --------
    >>> standardised([10.0, 12.0], 10.0, 13.0)
    (0.0, 2.0)
    """
    for name, values in (
        ("points", points),
        ("upper", _levels(upper)),
        ("centre", (centre,)),
        ("width", (width,)),
    ):
        _want_numbers(name, values)
    highs = _per_point(upper, len(points))
    if not all(high > centre for high in highs):
        raise Refused.one(
            "the upper limit is not above the centre",
            value=f"{upper} and {centre:g}",
            do="Give limits of a chart with spread",
        )
    return tuple(
        (value - centre) / (high - centre) * width for value, high in zip(points, highs, strict=True)
    )


def _levels(level: Level) -> tuple[float, ...]:
    return level if isinstance(level, tuple) else (level,)


def _want_numbers(name: str, values: Sequence[float]) -> None:
    for place, value in enumerate(values, start=1):
        if not isfinite(value):
            raise Refused.one(
                "the number is missing or not finite",
                value=str(value),
                column=f"{name} {place}",
                do="Leave it out",
            )


def _per_point(level: Level, count: int) -> tuple[float, ...]:
    return level if isinstance(level, tuple) else (level,) * count
