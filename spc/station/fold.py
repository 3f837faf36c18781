"""The one pure judgement: a state and a fact give the next state and, for a check, its verdict.

The live page, the command line, the replay of a year and the tests all run `step`. It reads no clock, no
environment and no record; everything it knows arrived as a fact.
"""

from dataclasses import replace

from spc.errors import Refused
from spc.intake import read_plan
from spc.shop import (
    AlarmAnswered,
    CheckGauged,
    ControlLimits,
    EventLogged,
    Fact,
    LimitsSigned,
    Plan,
    PlanTaken,
    Verdict,
)
from spc.station.check import judge_check
from spc.station.context import chart_key
from spc.station.die_events import apply_event
from spc.station.priors import tolerance_um
from spc.station.state import ChartState, StreamState
from spc.wear import PieceSpread

__all__ = ["step"]


def step(state: StreamState, fact: Fact) -> tuple[StreamState, Verdict | None]:
    """Take one fact of a stream, in order, and judge it where it is a check.

    Parameters
    ----------
    state : StreamState
        After all facts before this one.
    fact : Fact
        The next one by time; at equal time in the order of `shop.layouts`.

    Returns
    -------
    tuple
        The next state, and the verdict of a check or None.

    Raises
    ------
    Refused
        A check before any plan of its part.
    """
    match fact:
        case CheckGauged():
            if state.plan is None:
                raise Refused.one(
                    "no plan of this part is in force", value=fact.part, do="take its plan in first"
                )
            return judge_check(state, state.plan, fact)
        case EventLogged():
            return apply_event(state, fact), None
        case PlanTaken():
            return _plan_in_force(state, read_plan(fact.text)), None
        case LimitsSigned():
            return _limits_signed(state, fact), None
        case AlarmAnswered():
            return state, None


def _plan_in_force(state: StreamState, plan: Plan) -> StreamState:
    """A new plan judges from here on; what was learned of sizes that keep their meaning stays.

    Limits keep theirs with kind, unit and aim; what is believed of wear, also with what sets the size.
    """
    if state.plan is None:
        return replace(state, plan=plan)
    before, now = _meanings(state.plan), _meanings(plan)
    anew = {name for name, meaning in now.items() if name in before and before[name][:3] != meaning[:3]}
    unlearned = {name for name, meaning in now.items() if name in before and before[name] != meaning}
    die_sets = {
        key: replace(
            each,
            beliefs={name: b for name, b in each.beliefs.items() if name not in unlearned},
            memories={name: m for name, m in each.memories.items() if name not in unlearned},
        )
        for key, each in state.die_sets.items()
    }
    charts = {key: each for key, each in state.charts.items() if key.rpartition("|")[2] not in anew}
    return replace(state, plan=plan, die_sets=die_sets, charts=charts)


def _meanings(plan: Plan) -> dict[str, tuple[object, ...]]:
    return {each.name: (each.kind, each.unit, each.aim, each.set_by) for each in plan.gauged}


def _limits_signed(state: StreamState, signed: LimitsSigned) -> StreamState:
    key = chart_key(signed.machine, signed.characteristic)
    limits = ControlLimits(
        signed.centre, signed.sigma_within, signed.n, signed.subgroups, "signed", signed.by, signed.time
    )
    chart = state.charts.get(key)
    if chart is None:
        gauged = () if state.plan is None else state.plan.gauged
        named = next((each for each in gauged if each.name == signed.characteristic), None)
        if named is None:
            return state
        chart = ChartState(PieceSpread(tolerance_um(named) / 12.0))
    return replace(state, charts={**state.charts, key: replace(chart, limits=limits, trials=(), z=())})
