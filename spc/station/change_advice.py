"""When to change the die set that is on: by its own wear, beside the planned age of the part's sets."""

from spc.shop import ChangeAdvice, ChangeRule, Costs, PiecesLeft
from spc.shop.two_digits import two_digits
from spc.station.priors import planned_age_of, sudden_ends_of
from spc.station.state import StreamState
from spc.wear import DieCosts, PlannedAge, SetAhead, cheapest_change, cost_at, least_cost_rate, waiting_cost

__all__ = ["change_advice", "is_guess", "set_ahead", "usual_rate"]

_NEARLY_THE_SAME = 0.01
"""Of two rules whose costs differ by less than this share of a planned change the earlier one is advised."""
_TO_THE_END = 1e9
_GUESSED_FROM = 1000
"""Likely pieces below which a set is near its end: a wide forecast is then no guess any more."""
_A_GUESS = 20.0
"""Likely over early pieces from which the forecast of a set tells too little to weigh costs by (common practice)."""


def change_advice(state: StreamState, age: int, left: PiecesLeft) -> ChangeAdvice | None:
    """Say after how many more pieces a change is cheapest.

    Parameters
    ----------
    state : StreamState
        With plan and finished sets.
    age : int
        Of the set that is on.
    left : PiecesLeft
        Its forecast.

    Returns
    -------
    ChangeAdvice or None
        None where the plan names no costs, or before a set of the part has come to its end: the forecast is then a
        guess, and so would the advice be.

    Notes
    -----
    Both rules are weighed by the forecast of this set, its pieces by what they cost in the long run at the planned
    age. The planned age itself knows only how long earlier sets lasted.
    """
    plan = state.plan
    costs = None if plan is None else plan.costs
    planned = None if costs is None else planned_age_of(state, costs)
    ahead = set_ahead(state, age, left)
    if costs is None or planned is None or ahead is None:
        return None
    die_costs = DieCosts(costs.planned_die_change, costs.unplanned)
    rate = usual_rate(state, planned, ahead, die_costs)
    own = cheapest_change(ahead, die_costs, rate)
    rules = [_rule("measured_wear", own, age, cost_at(ahead, die_costs, _far(own)))]
    if planned.best.age is not None:
        more = max(planned.best.age - age, 0.0)
        cost = cost_at(ahead, die_costs, more)
        beyond = waiting_cost(ahead, die_costs, rate, _far(own), more)
        rules.append(_rule("planned_age", more, age, cost, max(beyond, 0.0), planned))
    advised = _advised(rules, costs)
    return ChangeAdvice(advised.rule, advised.pieces, advised.age, tuple(rules), _says(advised, costs))


def usual_rate(state: StreamState, planned: PlannedAge, ahead: SetAhead, costs: DieCosts) -> float:
    """Return what a piece costs in dies in the long run, in the currency of the costs.

    Notes
    -----
    That of the planned age, but no less than sudden ends alone cost: where sets chip at a rate λ, none lasts longer
    than 1/λ on average, and each costs an unplanned change in the end or a planned one sooner, λ·cf a piece at
    least. And no less than a piece of this very set costs at its best, counted from its beginning: a young set has
    everything before it, and a new one would promise no more. Below either every set would be changed as soon as it
    is mounted, for a risk that the next one shares; as none came to its end, nothing would be learned any more.
    """
    sudden = sudden_ends_of(state)
    chips = 0.0 if sudden is None else 0.001 * sudden.per_1000 * costs.unplanned
    return max(planned.best.cost_rate, chips, least_cost_rate(ahead, costs))


def set_ahead(state: StreamState, age: int, left: PiecesLeft) -> SetAhead | None:
    """Lay out what lies ahead of the set that is on; None where no end can be seen."""
    if left.p05 is None or left.p50 is None or left.p95 is None or is_guess(left.p05, left.p50):
        return None
    sudden = sudden_ends_of(state)
    return SetAhead(age, left.p05, left.p50, left.p95, 0.0 if sudden is None else sudden.per_1000)


def is_guess(early: int, likely: int) -> bool:
    """Whether a young set's forecast, in pieces left, is still so wide that it would have every set changed at once."""
    return likely > _GUESSED_FROM and likely > _A_GUESS * early


def _rule(
    rule: str,
    more: float | None,
    age: int,
    cost: float,
    beyond: float = 0.0,
    planned: PlannedAge | None = None,
) -> ChangeRule:
    pieces = None if more is None else round(more)
    best = None if planned is None or planned.best.age is None else round(planned.best.age)
    at = best if best is not None else None if pieces is None else max(age, 0) + pieces
    low, high = (None, None) if planned is None else (planned.low90, planned.high90)
    return ChangeRule(
        rule,
        pieces,
        at,
        cost,
        beyond,
        None if low is None else round(low),
        None if high is None else round(high),
    )


def _far(more: float | None) -> float:
    return _TO_THE_END if more is None else more


def _advised(rules: list[ChangeRule], costs: Costs) -> ChangeRule:
    """The cheaper; of two that cost nearly the same, the earlier."""
    near = [each for each in rules if each.costs_more <= _NEARLY_THE_SAME * costs.planned_die_change]
    return min(near, key=lambda each: float("inf") if each.pieces is None else each.pieces)


def _says(advised: ChangeRule, costs: Costs) -> str:
    by = "what this set's own wear says" if advised.rule == "measured_wear" else "the planned age"
    money = f"{f'{advised.cost_per_piece:#.2g}'.rstrip('.')} {costs.currency}".strip()
    if advised.pieces is None:
        return f"run to the end: no earlier change costs less than {money} a piece, by {by}"
    if advised.pieces == 0:
        return f"change now: waiting costs more than {money} a piece, by {by}"
    return f"change within {two_digits(advised.pieces)} pieces: {money} a piece, by {by}"
