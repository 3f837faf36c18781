"""What the stream remembers after a check: counter, good checks, signals that stand, pace."""

from collections.abc import Sequence
from datetime import datetime

from spc.shop import CheckGauged, Verdict
from spc.shop.changed import changed
from spc.station.context import CheckContext, chart_key
from spc.station.counter_doubt import ENOUGH_PACES
from spc.station.judged import Judged
from spc.station.next_check import troubled_after
from spc.station.size_memory import SizeMemory
from spc.station.standing import causes_after, standing_after
from spc.station.state import GoodCheck, MachineState, StreamState
from spc.wear import Way, WearBelief, note_stage

__all__ = ["state_after"]

_KEPT_GOOD = 100


def state_after(
    context: CheckContext,
    judged: Sequence[Judged],
    beliefs: dict[str, WearBelief],
    verdict: Verdict,
    ways: Sequence[Way],
) -> StreamState:
    """Return the state that the next fact meets.

    Parameters
    ----------
    beliefs : mapping
        Of the mounted set after this check.
    verdict : Verdict
        As it is shown.
    ways : sequence of Way
        How far each of its possible ends has come.
    """
    state, check, die_set = context.state, context.check, context.die_set
    charts = {chart_key(check.machine, each.characteristic.name): each.chart for each in judged}
    memories = {**die_set.memories, **{each.characteristic.name: each.memory for each in judged}}
    for way in ways:
        memory = memories.get(way.characteristic) or SizeMemory()
        stages = note_stage(memory.stages, way)
        memories[way.characteristic] = changed(memory, way=way, stages=stages)
    after = changed(
        die_set,
        beliefs=beliefs,
        memories=memories,
        seen_batch=context.machine.batch,
        batches=die_set.batches + int(context.is_new_batch),
    )
    machines = {**state.machines, check.machine: _machine_after(context, judged, verdict)}
    die_sets = {**state.die_sets, die_set.id: after}
    return changed(state, machines=machines, die_sets=die_sets, charts={**state.charts, **charts})


def _machine_after(context: CheckContext, judged: Sequence[Judged], verdict: Verdict) -> MachineState:
    machine, check = context.machine, context.check
    standing = standing_after(context, _seen(context, judged), verdict.signals)
    fastest, paces = _paces(context)
    counted = changed(
        machine, counter=check.counter, counter_time=check.time, earlier_counter=machine.counter
    )
    if not context.is_counted:
        counted = machine
    return changed(
        counted,
        last_counter=machine.last_counter if check.counter is None else check.counter,
        news=(),
        good=_good_after(context, judged, verdict, standing),
        last_check=check.time,
        running_since=check.time,
        stopped_minutes=0.0,
        stop_ends=None,
        first_pieces_since=None,
        next_minutes=None if verdict.next_check is None else verdict.next_check.minutes,
        troubled_checks=troubled_after(context, verdict),
        standing=standing,
        previous=_bare(check),
        pieces_per_hour=context.pieces_per_hour,
        fastest_per_hour=fastest,
        paces=paces,
        causes=causes_after(context, standing, verdict.signals),
        last_verdict=verdict.verdict,
        holding=verdict.verdict == "hold",
    )


def _paces(context: CheckContext) -> tuple[float | None, int]:
    """The fastest pace so far, and how many told it: from one hourly check to the next, not while a set is set up."""
    machine, pace = context.machine, context.pace_since
    since, usual = machine.counter_time, context.plan.check.interval_minutes or 60.0
    if pace is None or since is None or context.check.purpose != "hourly":
        return machine.fastest_per_hour, machine.paces
    if (context.check.time - since).total_seconds() < 30.0 * usual:
        return machine.fastest_per_hour, machine.paces
    return max(machine.fastest_per_hour or 0.0, pace), min(machine.paces + 1, ENOUGH_PACES)


def _seen(context: CheckContext, judged: Sequence[Judged]) -> set[str]:
    """Characteristics of which this check tells something: gauged or looked at, and believed."""
    names = {each.characteristic.name for each in judged if not each.subgroup.suspect}
    looked_at = {each.name for each in context.plan.looked_at}
    return names | {
        each.characteristic for each in context.check.readings if each.characteristic in looked_at
    }


def _good_after(
    context: CheckContext, judged: Sequence[Judged], verdict: Verdict, standing: dict[str, datetime]
) -> tuple[GoodCheck, ...]:
    """Good checks of this mounting: the newest hundred, and the last before anything that still stands.

    Good is a check with every piece in tolerance and nothing found by eye (contract section 0).
    """
    good = context.machine.good
    pieces_out = any(said.kind == "out_of_tolerance" for each in judged for said in each.signals)
    if not pieces_out and not any(each.kind == "visual" for each in verdict.signals):
        good = (*good, GoodCheck(context.check.time, context.check.counter))
    first = min(standing.values(), default=context.check.time)
    newest = good[-_KEPT_GOOD:]
    before = next((each for each in reversed(good) if each.time < first and each.counter is not None), None)
    return newest if before is None or before.time >= newest[0].time else (before, *newest)


def _bare(check: CheckGauged) -> CheckGauged:
    """The next check is compared with readings alone."""
    return changed(check, traces=()) if check.traces else check
