"""The tabular CUSUM: how far the checks have added up above and below the target."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refused
from spc.statistics.plotted_points import plotted_points

__all__ = ["CusumChart", "cusum_limits"]


@dataclass(frozen=True, slots=True)
class CusumChart:
    """Cumulative sums in the unit of the readings.

    Attributes
    ----------
    n : int
        Pieces in a subgroup.
    subgroups : int
        Points on the chart.
    centre : float
        The target.
    points : tuple of float
        The subgroup means.
    high, low : tuple of float
        Sum above and below the target beyond the slack, each 0 or more.
    high_run, low_run : tuple of int
        Points since each sum left 0: how long ago the shift most likely began.
    upper : float
        Decision value; a sum above it is a signal, on it is not.
    sigma_within, sigma_point : float
        Standard deviation of one piece and of the plotted mean.
    slack, decision, head_start : float
        K and H in standard deviations of the plotted mean; start of the sums as a share of H.
    method : str
        Where target and sigma come from.
    """

    n: int
    subgroups: int
    centre: float
    points: tuple[float, ...]
    high: tuple[float, ...]
    low: tuple[float, ...]
    high_run: tuple[int, ...]
    low_run: tuple[int, ...]
    upper: float
    sigma_within: float
    sigma_point: float
    slack: float
    decision: float
    method: str
    head_start: float = 0.0

    def shift_after(self, index: int) -> int | None:
        """Last point before the shift seen at point `index` (both from 1; 0: before the first); None without one.

        The sum that stands higher left 0 right after that point (Page 1954; Montgomery, Introduction to SQC).
        """
        high, low = self.high[index - 1], self.low[index - 1]
        if max(high, low) <= 0.0:
            return None
        return index - (self.high_run if high >= low else self.low_run)[index - 1]

    def new_mean(self, index: int) -> float | None:
        """Estimate the mean since the shift at point `index` (from 1); None where neither sum is above 0."""
        high, low = self.high[index - 1], self.low[index - 1]
        if max(high, low) <= 0.0:
            return None
        total, run, side = (high, self.high_run, 1.0) if high >= low else (low, self.low_run, -1.0)
        points = run[index - 1]
        added = total - (self.head_start * self.upper if points == index else 0.0)
        return self.centre + side * (self.slack * self.sigma_point + added / points)


def cusum_limits(
    subgroups: Sequence[Sequence[float]],
    target: float | None = None,
    sigma: float | None = None,
    slack: float = 0.5,
    decision: float = 5.0,
    head_start: float = 0.0,
) -> CusumChart:
    """Two one-sided cumulative sums against the target, for small shifts and when they began.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in one unit, oldest first, equally many in each; single pieces as subgroups of one.
    target : float, optional
        Without it the mean of all pieces.
    sigma : float, optional
        Standard deviation of one piece; without it R-bar/d2, or MR-bar/d2 for single pieces.
    slack : float
        K in standard deviations of the plotted mean, 0 or more; half the shift worth catching.
    decision : float
        H in standard deviations of the plotted mean, above 0.
    head_start : float
        Where both sums start, as a share of H, 0 to 0.5; 0.5 is the fast initial response after a new setting
        (Lucas & Crosier, Technometrics 24 (1982) 199-205, from memory). `cusum_law` says what it costs.

    Returns
    -------
    CusumChart
        Sums in the unit of the readings; `upper` = H times the standard deviation of the plotted mean.

    Raises
    ------
    Refused
        K, H or the head start out of range, subgroups of different sizes, a missing reading, or no spread.

    References
    ----------
    Montgomery, Introduction to SQC, Tables 9.1 and 9.2.

    Examples
    --------
    >>> chart = cusum_limits([[9.45], [7.99], [9.29], [11.66]], target=10.0, sigma=1.0)
    >>> [round(sum_, 2) for sum_ in chart.low], [round(sum_, 2) for sum_ in chart.high]
    ([0.05, 1.56, 1.77, 0.0], [0.0, 0.0, 0.0, 1.16])
    """
    _want_scheme(slack, decision, head_start)
    plotted = plotted_points(subgroups, target, sigma, "a CUSUM chart")
    if not isinstance(plotted.n, int):
        raise Refused.one(
            "a CUSUM adds up checks of one size only",
            value=f"{min(plotted.n)} to {max(plotted.n)} pieces",
            allowed="the same number of pieces in every subgroup",
        )
    sd = plotted.point_sds[0]
    deviations = [mean - plotted.target for mean in plotted.means]
    high, high_run = _accumulate(deviations, slack * sd, head_start * decision * sd)
    low, low_run = _accumulate(
        [-deviation for deviation in deviations], slack * sd, head_start * decision * sd
    )
    return CusumChart(
        n=plotted.n,
        subgroups=len(deviations),
        centre=plotted.target,
        points=plotted.means,
        high=high,
        low=low,
        high_run=high_run,
        low_run=low_run,
        upper=decision * sd,
        sigma_within=plotted.sigma_within,
        sigma_point=sd,
        slack=slack,
        decision=decision,
        method=plotted.method,
        head_start=head_start,
    )


def _want_scheme(slack: float, decision: float, head_start: float) -> None:
    if not 0.0 <= slack < float("inf"):
        raise Refused.one("the slack K is out of range", value=str(slack), allowed="0 or more, usually 0.5")
    if not 0.0 < decision < float("inf"):
        raise Refused.one(
            "the decision value H is out of range", value=str(decision), allowed="above 0, usually 4 or 5"
        )
    if not 0.0 <= head_start <= 0.5:
        raise Refused.one("the head start is out of range", value=str(head_start), allowed="0 to 0.5 of H")


def _accumulate(
    deviations: Sequence[float], allowance: float, start: float
) -> tuple[tuple[float, ...], tuple[int, ...]]:
    """Sum what exceeds the allowance, never below 0, and count the points since it left 0."""
    sums, runs = [], []
    total, run = start, 0
    for deviation in deviations:
        total = max(0.0, total + deviation - allowance)
        run = run + 1 if total > 0.0 else 0
        sums.append(total)
        runs.append(run)
    return tuple(sums), tuple(runs)
