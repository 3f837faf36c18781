"""The life of one die set as a trended chart: a line through its checks, limits that slope with it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import pairwise

from spc.errors import Refused
from spc.shop import Characteristic, Plan
from spc.station.history import characteristic_histories
from spc.station.views import CharacteristicHistory, CheckPoint
from spc.statistics import SlopingLimits, sloping_limits
from spc.store import Shelf

__all__ = ["FEWEST_CHECKS", "DieLifeSlope", "die_life_slopes"]

FEWEST_CHECKS = 8
"""Checks of one die set before a line is laid through them (common practice, no source)."""
_THOUSAND = 1000.0


@dataclass(frozen=True, slots=True)
class DieLifeSlope:
    """One mounting of a die set with sloping limits.

    Attributes
    ----------
    die_set : str
    first, last : datetime
        Its first and last check in the period.
    chart : SlopingLimits
        Over thousands of pieces on the dies, with the slide moves taken out where they are known.
    moves_taken_out : bool
        Whether they are.
    history : CharacteristicHistory
        The same checks with these limits, ready to draw.
    """

    die_set: str
    first: datetime
    last: datetime
    chart: SlopingLimits
    moves_taken_out: bool
    history: CharacteristicHistory


def die_life_slopes(
    shelf: Shelf, plan: Plan, machine: str, characteristic: str, from_time: datetime, to_time: datetime
) -> tuple[DieLifeSlope, ...]:
    """Return the trended chart of every die set on a machine in a period, newest first.

    Parameters
    ----------
    characteristic : str
        A gauged one of the plan.
    from_time, to_time : datetime
        Aware; from and before.

    Returns
    -------
    tuple of DieLifeSlope
        Without mountings of fewer than eight usable hourly checks of several pieces.

    Notes
    -----
    For reading a life afterwards: the station judges by the forecast of the die, which also knows the sets before.
    """
    found = characteristic_histories(shelf, plan, machine, from_time=from_time, to_time=to_time, newest=None)
    history = next((each for each in found if each.characteristic.name == characteristic), None)
    if history is None:
        return ()
    lives = [_slope(history, points) for points in _mountings(history.points)]
    return tuple(life for life in reversed(lives) if life is not None)


def _mountings(points: Sequence[CheckPoint]) -> list[list[CheckPoint]]:
    """Part the usable checks where another set came on, or the age fell."""
    usable = [
        point
        for point in points
        if point.purpose == "hourly" and point.n > 1 and point.age is not None and point.die_set
        if not point.struck_out and not point.suspect
    ]
    parted: list[list[CheckPoint]] = [usable[:1]]
    for before, point in pairwise(usable):
        if before.die_set != point.die_set or (point.age or 0) < (before.age or 0):
            parted.append([])
        parted[-1].append(point)
    return parted


def _slope(history: CharacteristicHistory, points: list[CheckPoint]) -> DieLifeSlope | None:
    sizes = [point.n for point in points]
    usual = max(set(sizes), key=sizes.count, default=0)
    taken = [point for point in points if point.n == usual]
    if len(taken) < FEWEST_CHECKS:
        return None
    known = all(point.mean_at_reference_setting is not None for point in taken)
    levels = [_level(point, known=known) for point in taken]
    try:
        chart = _chart(history.characteristic, taken, levels)
    except Refused:  # all ranges 0, or one age: no line to lay
        return None
    return DieLifeSlope(
        die_set=taken[0].die_set or "",
        first=taken[0].time,
        last=taken[-1].time,
        chart=chart,
        moves_taken_out=known,
        history=replace(history, points=_drawn(taken, levels, chart), events=(), settings=()),
    )


def _level(point: CheckPoint, *, known: bool) -> float:
    reference = point.mean_at_reference_setting
    return reference if known and reference is not None else point.mean


def _chart(characteristic: Characteristic, taken: list[CheckPoint], levels: list[float]) -> SlopingLimits:
    at = [(point.age or 0) / _THOUSAND for point in taken]
    spreads, n = [point.range for point in taken], taken[0].n
    lower, upper = (
        None if edge is None else float(edge)
        for edge in (characteristic.tolerance.lower, characteristic.tolerance.upper)
    )
    try:
        return sloping_limits(at, levels, spreads, n, lower, upper)
    except Refused:  # the tolerance leaves no room between start and stop
        return sloping_limits(at, levels, spreads, n)


def _drawn(taken: list[CheckPoint], levels: list[float], chart: SlopingLimits) -> tuple[CheckPoint, ...]:
    beyond = set(chart.beyond)
    return tuple(
        replace(
            point,
            axis_pieces=float((point.age or 0) - (taken[0].age or 0)),
            values=(),
            mean=level,
            centre=chart.line.at((point.age or 0) / _THOUSAND),
            lower=lower,
            upper=upper,
            spread_upper=None,
            standing="sloping",
            verdict="watch" if number in beyond else "run",
            says=("mean beyond the sloping limits",) if number in beyond else (),
        )
        for number, (point, level, lower, upper) in enumerate(
            zip(taken, levels, chart.lower, chart.upper, strict=True), start=1
        )
    )
