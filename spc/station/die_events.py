"""What a logged event does to the state; here that of die sets, in `machine_events` the rest."""

from collections.abc import Callable
from decimal import Decimal

from spc.shop import EventLogged
from spc.shop.changed import changed
from spc.station.counter_doubt import event_count
from spc.station.finished_life import remember_life
from spc.station.machine_events import batch, mastered, noted, penetration, setting, stopped
from spc.station.priors import prior_of
from spc.station.size_memory import SizeMemory
from spc.station.state import DieSetState, MachineState, StreamState
from spc.station.state_with import with_machine, with_set
from spc.wear import RecentLevels, Watch, WearBelief, remount

__all__ = ["apply_event"]


def apply_event(state: StreamState, event: EventLogged) -> StreamState:
    """Return the state after the event; events that only tell a story leave it as it is."""
    change = _CHANGES.get(event.event)
    return state if change is None else change(state, event)


def _mounted(state: StreamState, event: EventLogged) -> StreamState:
    """A set goes on: a known one keeps age and wear, its slide zero is unknown again.

    What was on the machine comes off with it, and the set itself comes off wherever it still was.
    """
    for machine_id, other in state.machines.items():
        if other.die_set and (machine_id == event.machine or other.die_set == event.value):
            state = _taken_off(state, machine_id, None)
    known = state.die_sets.get(event.value)
    die_set = known or DieSetState(event.value)
    if known is not None and known.beliefs:
        beliefs = {
            name: _remount(state, event.machine, name, belief) for name, belief in known.beliefs.items()
        }
        die_set = changed(known, beliefs=beliefs, zero_mm=None)
    before = state.machine(event.machine)
    machine = MachineState(  # all else begins anew
        die_set=event.value,
        sets_are_logged=True,
        age_before=die_set.age_pieces,
        setting_mm=before.setting_mm,
        batch=before.batch,
        last_check=before.last_check,
        running_since=event.time,
        started_at=0,
        mastered=before.mastered,
        previous=before.previous,
        pieces_per_hour=before.pieces_per_hour,
        fastest_per_hour=before.fastest_per_hour,
        paces=before.paces,
        last_verdict=before.last_verdict,
    )
    return _forget_runs(with_machine(with_set(state, die_set), event.machine, machine), event.machine)


def _remount(state: StreamState, machine_id: str, name: str, belief: WearBelief) -> WearBelief:
    prior = prior_of(state, name, machine_id)
    return belief if prior is None else remount(belief, prior)


def _reground(state: StreamState, event: EventLogged) -> StreamState:
    """Wear and age start anew; a mounted set also starts its counting anew."""
    state = with_set(state, DieSetState(event.value))
    machine = state.machine(event.machine)
    if machine.die_set != event.value:
        return with_machine(state, event.machine, changed(machine, sets_are_logged=True))
    counter = event_count(machine, event)
    counter = machine.counter if counter is None else counter
    fresh = changed(
        machine, age_before=-(counter or 0), good=(), standing={}, causes={}, sets_are_logged=True
    )
    return _forget_runs(with_machine(state, event.machine, fresh), event.machine)


def _removed(state: StreamState, event: EventLogged) -> StreamState:
    """A set comes off; `worn` and `chipped` end its life, other reasons cut it short or interrupt it."""
    machine = state.machine(event.machine)
    if machine.die_set is None or not machine.die_set:
        return with_machine(state, event.machine, changed(machine, die_set=None, sets_are_logged=True))
    die_set = state.die_sets.get(machine.die_set, DieSetState(machine.die_set))
    counter = event_count(machine, event)
    counter = machine.counter if counter is None else counter
    if event.value != "part_change":
        state = remember_life(state, die_set, machine.age_at(counter or 0), event)
    return _taken_off(state, event.machine, counter)


def _taken_off(state: StreamState, machine_id: str, counter: int | None) -> StreamState:
    """Close the mounting: the set keeps its age, by the last counter unless told, and the slide moves so far."""
    machine = state.machine(machine_id)
    die_set = state.die_sets.get(machine.die_set or "", DieSetState(machine.die_set or ""))
    counter = counter if counter is not None else machine.counter
    moved = Decimal(0)
    if machine.setting_mm is not None and die_set.zero_mm is not None:
        moved = machine.setting_mm - die_set.zero_mm
    closed = changed(
        die_set,
        age_pieces=machine.age_at(counter or 0),
        carried_mm=die_set.carried_mm + moved,
        zero_mm=None,
        memories={name: _laid_by(memory) for name, memory in die_set.memories.items()},
    )
    off = changed(
        machine,
        die_set=None,
        sets_are_logged=True,
        age_before=0,
        counter=None,
        counter_time=None,
        earlier_counter=None,
        last_counter=None,
        good=(),
        running_since=None,
        standing={},
        causes={},
    )
    return with_machine(with_set(state, closed), machine_id, off)


def _laid_by(memory: SizeMemory) -> SizeMemory:
    """What a set remembers when it comes off: nothing of where this mounting stood, for its state is kept for good."""
    return changed(
        memory, levels=(), recent=RecentLevels(), batch_step=None, stepped_um=0.0, before_step=None
    )


def _forget_runs(state: StreamState, machine_id: str) -> StreamState:
    """Runs along the forecast end with the die set that made them."""
    charts = {
        key: changed(
            chart, z=(), last_mean_um=None, watch=Watch(), spread=changed(chart.spread, last_single_um=None)
        )
        if key.startswith(f"{machine_id}|")
        else chart
        for key, chart in state.charts.items()
    }
    return changed(state, charts=charts)


_CHANGES: dict[str, Callable[[StreamState, EventLogged], StreamState]] = {
    "die_set_mounted": _mounted,
    "die_set_reground": _reground,
    "die_set_removed": _removed,
    "penetration": penetration,
    "blank_batch": batch,
    "gauge_mastered": mastered,
    "setting": setting,
    "machine_stopped": stopped,
    "note": noted,
}
