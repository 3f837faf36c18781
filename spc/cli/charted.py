"""One chart of a one-off answer, whichever of the six it is, in the shape that answer and table share."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from spc.errors import Refused
from spc.statistics import (
    RULE_SETS,
    ChartSignal,
    CusumChart,
    EwmaChart,
    ShewhartLimits,
    chart_signals,
    cusum_limits,
    ewma_limits,
    individuals_limits,
    limits_from_sigma,
    median_r_limits,
    points_beyond,
    summarise_subgroups,
    xbar_r_limits,
    xbar_s_limits,
)

__all__ = ["Asked", "charted", "with_signals"]

Chart = ShewhartLimits | EwmaChart | CusumChart
Subgroups = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class Asked:
    """What the command line asks of a chart; None where it says nothing.

    Attributes
    ----------
    chart, rules : str
    target, sigma : float or None
        In the unit of the readings; sigma of one piece.
    weight, width, slack, decision : float
        The first two for EWMA, the others for CUSUM, as `ewma_limits` and `cusum_limits` name them.
    """

    chart: str
    rules: str = "none"
    target: float | None = None
    sigma: float | None = None
    weight: float = 0.2
    width: float = 3.0
    slack: float = 0.5
    decision: float = 5.0


def charted(subgroups: Subgroups, asked: Asked) -> Chart:
    """Compute the chart that was asked for.

    Raises
    ------
    Refused
        As the chart itself; also checks of several pieces for a chart of individuals.
    """
    if asked.chart == "ewma":
        return ewma_limits(subgroups, asked.target, asked.sigma, asked.weight, asked.width)
    if asked.chart == "cusum":
        return cusum_limits(subgroups, asked.target, asked.sigma, asked.slack, asked.decision)
    if asked.chart == "individuals":
        _refuse_several_pieces(subgroups)
    elif asked.sigma is None:
        _refuse_single_pieces(subgroups)
    if asked.sigma is None:
        limits = _estimated(subgroups, asked.chart)
        if asked.target is None:
            return limits
        return _centred(limits, asked.target, f"target given; sigma {limits.method}")
    return _from_given_sigma(subgroups, asked, asked.sigma)


def with_signals(chart: Chart, rules: str = "none") -> tuple[ChartSignal, ...]:
    """Return what stands out on a chart; run rules read a Shewhart chart only."""
    if isinstance(chart, ShewhartLimits):
        return chart_signals(chart, RULE_SETS[rules])
    if isinstance(chart, EwmaChart):
        return points_beyond(chart.points, chart.lower, chart.upper)
    return _added_up(chart)


def _refuse_several_pieces(subgroups: Subgroups) -> None:
    widest = max((len(each) for each in subgroups), default=0)
    if widest > 1:
        raise Refused.one(
            "a chart for individuals takes single pieces",
            value=f"{widest} pieces in a subgroup",
            allowed="one piece a subgroup",
            do="Use xbar_r, xbar_s or median_r",
        )


def _refuse_single_pieces(subgroups: Subgroups) -> None:
    """Say once, not once a subgroup, that one piece has no spread."""
    single = [number for number, each in enumerate(subgroups, start=1) if len(each) == 1]
    if not single:
        return
    everywhere = len(single) == len(subgroups)
    named = ", ".join(map(str, single[:8])) + (", …" if len(single) > 8 else "")
    which = "every subgroup" if everywhere else f"subgroup{'s' if len(single) > 1 else ''} {named}"
    raise Refused.one(
        "too few pieces: the limits come from the spread inside a subgroup, and one piece alone has none",
        value=f"one piece in {which}",
        allowed="2 pieces or more in each subgroup",
        do="Use --chart individuals" if everywhere else "Leave these out, or give --sigma",
    )


def _estimated(subgroups: Subgroups, chart: str) -> ShewhartLimits:
    if chart == "individuals":
        return individuals_limits([value for subgroup in subgroups for value in subgroup])
    method = {"xbar_r": xbar_r_limits, "xbar_s": xbar_s_limits, "median_r": median_r_limits}[chart]
    return method(subgroups)


def _from_given_sigma(subgroups: Subgroups, asked: Asked, sigma: float) -> ShewhartLimits:
    """Put the points on limits of a given sigma, which needs no spread inside the subgroups."""
    summaries = summarise_subgroups(subgroups, least_subgroups=1, chart=asked.chart)
    points = summaries.medians if asked.chart == "median_r" else summaries.means
    spreads = summaries.sds if asked.chart == "xbar_s" else summaries.ranges
    if asked.chart == "individuals":
        spreads = tuple(abs(new - old) for old, new in pairwise(points))
    centre = sum(points) / len(points) if asked.chart == "median_r" else summaries.mean
    bare = limits_from_sigma(centre, sigma, summaries.sizes, asked.chart, "sigma given")
    bare = replace(bare, subgroups=len(points), points=points, spread_points=spreads)
    return bare if asked.target is None else _centred(bare, asked.target, "target and sigma given")


def _centred(limits: ShewhartLimits, centre: float, method: str) -> ShewhartLimits:
    """Centre a chart where somebody says it should be, and keep its points."""
    fresh = limits_from_sigma(centre, limits.sigma_within, limits.n, limits.chart, method)
    return replace(
        fresh, subgroups=limits.subgroups, points=limits.points, spread_points=limits.spread_points
    )


def _added_up(chart: CusumChart) -> tuple[ChartSignal, ...]:
    """Sums beyond the decision value, with where the shift most likely began."""
    found = []
    for index, (high, low) in enumerate(zip(chart.high, chart.low, strict=True), start=1):
        for total, run, side in (
            (high, chart.high_run[index - 1], "above"),
            (low, chart.low_run[index - 1], "below"),
        ):
            if total > chart.upper:
                says = (
                    f"the sum {side} the target is {total:.7g}, beyond {chart.upper:.7g}; "
                    f"it has grown since subgroup {index - run + 1}"
                )
                found.append(ChartSignal(index, "beyond_limits", "location", "beyond_limits", says))
    return tuple(found)
