"""One characteristic in a review: hourly checks for limits and capability, everything else counted apart."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from spc.shop import Characteristic, CheckGauged
from spc.shop.layouts import PURPOSES
from spc.station.pieces import visual_finds
from spc.station.review_capability import capability_found
from spc.station.review_limits import beyond_own_limits, limits_at_end, period_chart
from spc.station.review_period import Stretch, includes
from spc.station.review_records import CharacteristicReview, LookReview
from spc.station.state import StreamState
from spc.station.views import CharacteristicHistory, CheckPoint

__all__ = ["characteristic_review", "look_review"]


def characteristic_review(
    state: StreamState, history: CharacteristicHistory, stretches: tuple[Stretch, ...]
) -> CharacteristicReview:
    """Return what a quality lead reads about one gauged characteristic.

    Parameters
    ----------
    state : StreamState
        At the end of the period, for the limits in force.
    history : CharacteristicHistory
        Of the whole period; cut to the shift here.
    """
    history = _cut(history, stretches)
    characteristic = history.characteristic
    believed = [point for point in history.points if not point.struck_out and not point.suspect]
    hourly = [point for point in believed if point.purpose == "hourly"]
    subgroups = [point.values for point in hourly if point.values]
    limits, why_none = limits_at_end(state, history.machine, characteristic, believed)
    beyond, judged = beyond_own_limits(hourly)
    found = capability_found(characteristic, hourly)
    return CharacteristicReview(
        characteristic=characteristic,
        history=history,
        subgroups=len(subgroups),
        pieces=sum(len(group) for group in subgroups),
        outside=_outside(hourly, characteristic),
        other_checks=_others(believed),
        struck_out=sum(1 for point in history.points if point.struck_out),
        suspect=sum(1 for point in history.points if point.suspect and not point.struck_out),
        limits=limits,
        limits_remark=why_none,
        period_chart=period_chart(subgroups),
        beyond=beyond,
        judged=judged,
        capability=found.model,
        without_trend=found.without_trend,
        capability_remark=found.remark,
        requirement=found.requirement,
    )


def look_review(
    characteristic: Characteristic, checks: Sequence[CheckGauged], stretches: tuple[Stretch, ...]
) -> LookReview:
    """Return how often was looked, at how many pieces, and what was found."""
    looked = pieces = 0
    finds: dict[str, int] = defaultdict(int)
    for check in checks:
        if not includes(stretches, check.time):
            continue
        answers = {each.piece for each in check.readings if each.characteristic == characteristic.name}
        looked += bool(answers)
        pieces += len(answers)
        for _, answer in visual_finds(check, characteristic):
            finds[answer] += 1
    return LookReview(characteristic.name, looked, pieces, tuple(sorted(finds.items())))


def _cut(history: CharacteristicHistory, stretches: tuple[Stretch, ...]) -> CharacteristicHistory:
    return replace(
        history,
        points=tuple(each for each in history.points if includes(stretches, each.time)),
        events=tuple(each for each in history.events if includes(stretches, each.time)),
    )


def _others(points: Sequence[CheckPoint]) -> tuple[tuple[str, int, int], ...]:
    checks: dict[str, int] = defaultdict(int)
    pieces: dict[str, int] = defaultdict(int)
    for point in points:
        if point.purpose != "hourly":
            checks[point.purpose] += 1
            pieces[point.purpose] += point.n
    return tuple((purpose, checks[purpose], pieces[purpose]) for purpose in PURPOSES if purpose in checks)


def _outside(points: Sequence[CheckPoint], characteristic: Characteristic) -> int:
    """Pieces outside the tolerance; equality is inside, so the limits are compared as the floats they became."""
    tolerance = characteristic.tolerance
    low = float("-inf") if tolerance.lower is None else float(tolerance.lower)
    high = float("inf") if tolerance.upper is None else float(tolerance.upper)
    return sum(1 for point in points for value in point.values if not low <= value <= high)
