"""What a wearing process could do if the slide followed the wear: each die life gets its own line, taken out."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from spc.errors import Refused
from spc.shop import Characteristic
from spc.station.views import CheckPoint
from spc.statistics import Capability, capability, detrended_capability

__all__ = ["WithoutTrend", "without_trend"]


@dataclass(frozen=True, slots=True)
class WithoutTrend:
    """Performance of the same pieces with the trend of each die life taken out.

    Attributes
    ----------
    capability : Capability
        Of the pieces about the line of their die life, at the mean of all pieces as delivered.
    share : float
        Part of the variance of all pieces as delivered that went with it, 0 to 1.
    lives : int
        Die lives with a line of their own.
    short : int
        Die lives with too few checks for a line: only their level is taken out.
    moves : bool
        Whether the slide moves were taken out too.
    n, subgroups : int
        Pieces and checks.
    """

    capability: Capability
    share: float
    lives: int
    short: int
    moves: bool
    n: int
    subgroups: int


def without_trend(characteristic: Characteristic, points: Sequence[CheckPoint]) -> WithoutTrend | None:
    """Return what the pieces would hold about the line of their die life; None where no line can be drawn.

    Parameters
    ----------
    points : sequence of CheckPoint
        Hourly checks that stand and are believed, oldest first.

    Notes
    -----
    A line through all checks would find almost nothing: each new set and each slide move sends the size back. So the
    slide moves come out first, where every setting is known, and each life has its own slope and level. A check of an
    unnamed set counts for the life it stands in.
    """
    moves = all(point.mean_at_reference_setting is not None for point in points)
    delivered = [point.values for point in points]
    lower, upper = characteristic.tolerance.lower, characteristic.tolerance.upper
    limits = (None if lower is None else float(lower), None if upper is None else float(upper))
    try:
        before = capability(delivered, *limits)
        found = detrended_capability(
            _moves_taken_out(points) if moves else delivered, *limits, at=_ages(points), lives=_lives(points)
        )
    except Refused:  # too few checks, or nothing left about the lines
        return None
    lines = sum(life.trend is not None for life in found.lives)
    if not lines:
        return None
    left = found.capability
    share = max(0.0, 1.0 - (left.sigma_overall / before.sigma_overall) ** 2)
    return WithoutTrend(left, share, lines, len(found.lives) - lines, moves, found.n, found.subgroups)


def _moves_taken_out(points: Sequence[CheckPoint]) -> list[list[float]]:
    """Return the pieces as if the slide had stood still, at the mean that was delivered."""
    pieces = sum(len(point.values) for point in points)
    shifts = [(point.mean_at_reference_setting or point.mean) - point.mean for point in points]
    common = fsum(shift * len(point.values) for shift, point in zip(shifts, points, strict=True)) / pieces
    return [
        [value + shift - common for value in point.values]
        for shift, point in zip(shifts, points, strict=True)
    ]


def _lives(points: Sequence[CheckPoint]) -> list[str]:
    """Return a label a check: another set, or the same one back younger, is another life."""
    labels, number = [], 1
    for place, point in enumerate(points):
        before = points[place - 1] if place else point
        younger = before.age is not None and point.age is not None and point.age < before.age
        number += before.die_set != point.die_set or younger
        labels.append(f"{number}")
    return labels


def _ages(points: Sequence[CheckPoint]) -> list[float]:
    """Return the pieces each set had made; the number of the check where that is not known for all."""
    ages = [point.age for point in points if point.age is not None]
    return [float(each) for each in (ages if len(ages) == len(points) else range(len(points)))]
