"""How long a chart runs before it signals, as a distribution: mean, spread and percentiles."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, isfinite, log, sqrt

from spc.errors import Refused

__all__ = ["PERCENTILES", "RunLengthLaw", "check_change", "law_of_survival"]

PERCENTILES = (0.05, 0.25, 0.50, 0.75, 0.95)
"""Shares of charts that have signalled, for which every law says the number of points."""

_SETTLED = 4e-15
_LONGEST = 2_000_000
_NOTHING_LEFT = 1e-12


@dataclass(frozen=True, slots=True)
class RunLengthLaw:
    """The number of points up to and with the first signal, from a fresh start.

    Attributes
    ----------
    mean_points, sd_points : float
        Average run length and its standard deviation.
    percentiles : tuple of (float, int)
        Share of charts that have signalled, and the first point by which they have.
    shift_sigma : float
        Shift of the mean from the first point on, in standard deviations of the plotted point.
    drift_sigma : float
        Further move of the mean from point to point; the first point already carries one drift.
    method : str
        How it was computed.
    relative_error : float
        Bound on the relative error of the mean.
    """

    mean_points: float
    sd_points: float
    percentiles: tuple[tuple[float, int], ...]
    shift_sigma: float
    drift_sigma: float
    method: str
    relative_error: float

    def within(self, share: float) -> int:
        """Points within which this share of charts has signalled; one of `PERCENTILES`."""
        for known, points in self.percentiles:
            if known == share:
                return points
        raise Refused.one(
            "no percentile of the run length is kept for this share",
            value=str(share),
            allowed=", ".join(str(known) for known, _ in self.percentiles),
        )


def law_of_survival(
    survival: Iterable[float],
    *,
    shift_sigma: float,
    drift_sigma: float,
    method: str,
    relative_error: float = 1e-9,
    memory_points: int = 0,
) -> RunLengthLaw:
    """Add up the chances of no signal yet, for every chart that can say them point by point.

    Parameters
    ----------
    survival : iterable of float
        Chance of no signal up to and with point 1, 2, 3, …; read only as far as needed.
    shift_sigma, drift_sigma : float
        What the mean does, in standard deviations of the plotted point; without drift the tail is
        closed as a geometric one once the ratio of successive chances has settled to 4e-15.
    method : str
        Said in the result.
    relative_error : float
        Said in the result.
    memory_points : int
        Points the chart can look back; a ratio counts as settled only when it stood still for longer.

    Returns
    -------
    RunLengthLaw
        Mean = sum of S(t), second moment = sum of (2t + 1) S(t), t from 0 with S(0) = 1.

    Raises
    ------
    Refused
        Two million points do not settle it: these rules practically never signal.

    Examples
    --------
    >>> from itertools import count
    >>> fair = law_of_survival((0.5**t for t in count(1)), shift_sigma=0, drift_sigma=0, method="coin")
    >>> round(fair.mean_points, 9), round(fair.sd_points**2, 9), fair.within(0.95)
    (2.0, 2.0, 5)
    """
    chances, ratio = _read(survival, memory_points, steady=drift_sigma == 0.0)
    tail = chances[-1]
    last = len(chances) - 1
    first = sum(chances[:-1])
    second = sum((2 * t + 1) * chance for t, chance in enumerate(chances[:-1]))
    first += tail / (1.0 - ratio)
    second += tail * ((2 * last + 1) / (1.0 - ratio) + 2.0 * ratio / (1.0 - ratio) ** 2)
    return RunLengthLaw(
        mean_points=first,
        sd_points=sqrt(max(0.0, second - first**2)),
        percentiles=tuple((share, _first_point(chances, ratio, 1.0 - share)) for share in PERCENTILES),
        shift_sigma=shift_sigma,
        drift_sigma=drift_sigma,
        method=method,
        relative_error=relative_error,
    )


def check_change(shift_sigma: float, drift_sigma: float) -> None:
    """Refuse a shift or a drift that is missing or not finite."""
    for name, value in (("shift", shift_sigma), ("drift", drift_sigma)):
        if not isfinite(value):
            raise Refused.one(
                f"the {name} is missing or not finite", value=str(value), allowed="a finite number"
            )


def _read(survival: Iterable[float], memory: int, *, steady: bool) -> tuple[list[float], float]:
    """Read chances until nothing is left or, where nothing changes with time, the ratio has settled."""
    chances = [1.0]
    before, quiet = 2.0, 0
    for chance in survival:
        ratio = chance / chances[-1]
        chances.append(chance)
        if chance < _NOTHING_LEFT:
            return chances, 0.0
        quiet = quiet + 1 if abs(ratio - before) < _SETTLED else 0
        if steady and quiet >= memory + 3 and ratio < 1.0:
            return chances, ratio
        before = ratio
        if len(chances) > _LONGEST:
            break
    raise Refused.one(
        "these rules hardly ever signal: their run length does not settle",
        value=f"{len(chances) - 1} points",
        do="Take shorter runs or closer limits",
    )


def _first_point(chances: Sequence[float], ratio: float, left: float) -> int:
    """First point at which no more than `left` of the charts run on; past the list by the geometric tail."""
    if chances[-1] > left:
        return len(chances) - 1 + ceil(log(left / chances[-1]) / log(ratio) - 1e-12)
    for point, (before, now) in enumerate(pairwise(chances), start=1):
        if now <= left + 1e-15 < before + 1e-15:
            return point
    return len(chances) - 1
