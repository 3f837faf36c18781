"""What it costs to wait with a die change until the next break or the next shift."""

from datetime import datetime, timedelta

from spc.shop import ChangeAdvice, DieLife, Plan
from spc.station.change_advice import set_ahead, usual_rate
from spc.station.die_clock import next_start
from spc.station.priors import planned_age_of
from spc.station.state import StreamState
from spc.station.views import ChangePlan, Wait
from spc.wear import DieCosts, SetAhead, chance_of_end, waiting_cost

__all__ = ["change_plan"]

_KNOWN_FOR = timedelta(days=1)
"""So long after the last check it may be taken that the machine ran on (common practice, no source)."""


def change_plan(
    state: StreamState, plan: Plan, life: DieLife, age: int, pace: float, since: datetime, now: datetime
) -> ChangePlan | None:
    """Put the advice on the plant's clock, and say what waiting beyond it costs.

    Parameters
    ----------
    life : DieLife
        Of the last check, at which the set was `age` pieces old.
    pace : float
        Pieces an hour, above 0; the machine is taken to run round the clock.
    since, now : datetime
        The last check, and the moment at which somebody asks.

    Returns
    -------
    ChangePlan or None
        None without advice.
    """
    advice, costs = life.change, plan.costs
    ahead = set_ahead(state, age, life.pieces_left)
    if advice is None or costs is None or ahead is None:
        return None
    planned = planned_age_of(state, costs)
    if planned is None:
        return None
    at = None if advice.pieces is None else _moment(advice.pieces, pace, since)
    when = _when_of_rules(advice, pace, since)
    is_past = at is not None and advice.pieces != 0 and at < now
    if at is None or now - since > _KNOWN_FOR:
        return ChangePlan(advice, at, is_past, when, (), costs.currency)
    die_costs = DieCosts(costs.planned_die_change, costs.unplanned)
    money = (die_costs, usual_rate(state, planned, ahead, die_costs))
    first = max(at, now)
    waits = tuple(
        _wait(what, later, (ahead, *money), _pieces(first, pace, since), _pieces(later, pace, since))
        for what, later in _next_chances(plan, first)
    )
    return ChangePlan(advice, at, is_past, when, waits, costs.currency)


def _next_chances(plan: Plan, after: datetime) -> list[tuple[str, datetime]]:
    """The next break, where one comes before the next shift, and the next shift."""
    shift, pause = (next_start(starts, plan.zone, after) for starts in (plan.shifts, plan.breaks))
    chances = [("the break", pause), ("the shift", shift)]
    if pause is not None and shift is not None and pause >= shift:
        chances = chances[1:]
    return [(what, when) for what, when in chances if when is not None]


def _when_of_rules(advice: ChangeAdvice, pace: float, since: datetime) -> tuple[datetime | None, ...]:
    return tuple(None if each.pieces is None else _moment(each.pieces, pace, since) for each in advice.rules)


def _moment(pieces: float, pace: float, since: datetime) -> datetime:
    return since + timedelta(hours=min(pieces / pace, 87_600.0))


def _pieces(moment: datetime, pace: float, since: datetime) -> float:
    return max((moment - since).total_seconds() / 3600.0 * pace, 0.0)


def _wait(
    what: str, when: datetime, of: tuple[SetAhead, DieCosts, float], first: float, later: float
) -> Wait:
    ahead, money, rate = of
    alive = 1.0 - chance_of_end(ahead, first)
    ends = 1.0 - (1.0 - chance_of_end(ahead, later)) / alive if alive > 0.0 else 1.0
    return Wait(what, when, waiting_cost(ahead, money, rate, first, later), max(ends, 0.0))
