"""What a logged event does to the state: die sets, slide, bar batches, masters, stops."""

from collections.abc import Callable
from decimal import Decimal

from spc.shop import EventLogged
from spc.shop.changed import changed
from spc.shop.names import setting_words
from spc.station.finished_life import remember_life
from spc.station.priors import prior_of
from spc.station.state import DieSetState, MachineState, News, StreamState
from spc.wear import RecentLevels, Watch, WearBelief, change_batch, open_shift, remount
from spc.wear.belief import OFFSET

__all__ = ["apply_event"]

_COLD_MINUTES = 20.0
"""Stops from which a machine starts from cold (common practice, no source)."""
_LARGEST_JUMP_MM = 0.25
"""A slide moves hundredths of a millimetre within a mounting: more is a slip of the fingers (common practice)."""


def apply_event(state: StreamState, event: EventLogged) -> StreamState:
    """Return the state after the event; events that only tell a story leave it as it is."""
    change = _CHANGES.get(event.event)
    return state if change is None else change(state, event)


def _with_machine(state: StreamState, machine_id: str, machine: MachineState) -> StreamState:
    return changed(state, machines={**state.machines, machine_id: machine})


def _with_set(state: StreamState, die_set: DieSetState) -> StreamState:
    return changed(state, die_sets={**state.die_sets, die_set.id: die_set})


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
        memories = {
            name: changed(each, levels=(), recent=RecentLevels(), batch_step=None, stepped_um=0.0)
            for name, each in known.memories.items()
        }
        die_set = changed(known, beliefs=beliefs, memories=memories, zero_mm=None)
    machine = changed(
        state.machine(event.machine),
        die_set=event.value,
        sets_are_logged=True,
        age_before=die_set.age_pieces,
        counter=None,
        counter_time=None,
        earlier_counter=None,
        last_counter=None,
        good=(),
        news=(),
        running_since=event.time,
        doubted_setting="",
        stopped_minutes=0.0,
        started_at=0,
        standing={},
        holding=False,
    )
    return _forget_runs(_with_machine(_with_set(state, die_set), event.machine, machine), event.machine)


def _remount(state: StreamState, machine_id: str, name: str, belief: WearBelief) -> WearBelief:
    prior = prior_of(state, name, machine_id)
    return belief if prior is None else remount(belief, prior)


def _reground(state: StreamState, event: EventLogged) -> StreamState:
    """Wear and age start anew; a mounted set also starts its counting anew."""
    state = _with_set(state, DieSetState(event.value))
    machine = state.machine(event.machine)
    if machine.die_set != event.value:
        return _with_machine(state, event.machine, changed(machine, sets_are_logged=True))
    counter = event.counter if event.counter is not None else machine.counter
    fresh = changed(machine, age_before=-(counter or 0), good=(), standing={}, sets_are_logged=True)
    return _forget_runs(_with_machine(state, event.machine, fresh), event.machine)


def _removed(state: StreamState, event: EventLogged) -> StreamState:
    """A set comes off; `worn` and `chipped` end its life, other reasons cut it short or interrupt it."""
    machine = state.machine(event.machine)
    if machine.die_set is None or not machine.die_set:
        return _with_machine(state, event.machine, changed(machine, die_set=None, sets_are_logged=True))
    die_set = state.die_sets.get(machine.die_set, DieSetState(machine.die_set))
    counter = event.counter if event.counter is not None else machine.counter
    if event.value != "part_change":
        state = remember_life(state, die_set, machine.age_before + (counter or 0), event)
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
        age_pieces=machine.age_before + (counter or 0),
        carried_mm=die_set.carried_mm + moved,
        zero_mm=None,
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
    )
    return _with_machine(_with_set(state, closed), machine_id, off)


def _penetration(state: StreamState, event: EventLogged) -> StreamState:
    """The slide stands at a new setting, deeper is larger; one that no slide makes is kept out of the model."""
    machine, setting = state.machine(event.machine), Decimal(event.value)
    doubt = _setting_doubt(state, event, machine, setting)
    machine = changed(machine, doubted_setting=doubt, setting_mm=machine.setting_mm if doubt else setting)
    return _with_machine(state, event.machine, machine)


def _setting_doubt(state: StreamState, event: EventLogged, machine: MachineState, setting: Decimal) -> str:
    """Say why a logged setting is hard to believe; "" before the first check of a mounting.

    The same setting logged a second time is taken: somebody looked at the panel again and stands for it.
    """
    die_set = state.mounted(event.machine)
    if die_set is None or die_set.zero_mm is None or machine.setting_mm is None:
        return ""
    travel = 0.0 if state.plan is None else state.plan.correction_travel_mm or 0.0
    jump = abs(setting - machine.setting_mm)
    logged_again = machine.doubted_setting.startswith(f"the slide was logged at {setting},")
    if logged_again or float(jump) <= max(_LARGEST_JUMP_MM, 5.0 * travel):
        return ""
    return f"the slide was logged at {setting}, {jump} mm away from {machine.setting_mm}"


def _batch(state: StreamState, event: EventLogged) -> StreamState:
    """A new bar batch: the passing shift of every size on the mounted set is unknown again."""
    machine = changed(state.machine(event.machine), batch=event.value)
    state = _with_machine(state, event.machine, machine)
    state = _tell(state, event, News("batch", f"new bar batch {event.value}", event.time))
    return _change_beliefs(
        state, event.machine, "", lambda of, name, belief: _fresh_batch(of, event.machine, name, belief)
    )


def _fresh_batch(state: StreamState, machine_id: str, name: str, belief: WearBelief) -> WearBelief:
    prior = prior_of(state, name, machine_id)
    return belief if prior is None else change_batch(belief, prior)


def _mastered(state: StreamState, event: EventLogged) -> StreamState:
    """A gauge was set on its master: readings change by what it was off, the other way."""
    off_um = float(event.value)
    plan = state.plan
    named = event.note if plan and any(each.name == event.note for each in plan.gauged) else ""
    news = News(
        "gauge_zero", f"the gauge set on its master, {off_um:+.1f} µm off", event.time, named, -off_um
    )
    state = _tell(state, event, news)
    set_anew = _gauge_set_anew if named else _gauge_of_somewhat_set_anew
    return _change_beliefs(state, event.machine, named, lambda _, __, belief: set_anew(belief, off_um))


def _gauge_set_anew(belief: WearBelief, off_um: float) -> WearBelief:
    """Readings go the other way by what the gauge was off, give or take a quarter of it."""
    mean = (belief.mean[OFFSET] - off_um, *belief.mean[OFFSET + 1 :])
    return open_shift(changed(belief, mean=mean), (off_um / 4.0) ** 2)


def _gauge_of_somewhat_set_anew(belief: WearBelief, off_um: float) -> WearBelief:
    """Nobody said which characteristic the gauge reads: any of them may move by so much."""
    return open_shift(belief, off_um**2)


def _setting(state: StreamState, event: EventLogged) -> StreamState:
    """Another setting than the slide was changed."""
    return _tell(state, event, News("setting", setting_words(event.note, event.value), event.time))


def _stopped(state: StreamState, event: EventLogged) -> StreamState:
    """A stop suspends the check clock; after a long one the machine starts from cold."""
    minutes = float(event.value)
    machine = state.machine(event.machine)
    stopped = changed(machine, stopped_minutes=machine.stopped_minutes + minutes)
    if minutes >= _COLD_MINUTES:
        stopped = changed(stopped, started_at=_counter_at(machine, event))
    state = _with_machine(state, event.machine, stopped)
    return _tell(state, event, News("stop", f"a stop of {minutes:.0f} min", event.time))


def _counter_at(machine: MachineState, event: EventLogged) -> int | None:
    """Counter at an event: as logged, else carried on from the last check at the pace known then."""
    if event.counter is not None or machine.counter is None or machine.counter_time is None:
        return event.counter
    hours = max((event.time - machine.counter_time).total_seconds() / 3600.0, 0.0)
    return machine.counter + round(hours * (machine.pieces_per_hour or 0.0))


def _tell(state: StreamState, event: EventLogged, news: News) -> StreamState:
    machine = state.machine(event.machine)
    return _with_machine(state, event.machine, changed(machine, news=(*machine.news, news)[-12:]))


def _change_beliefs(
    state: StreamState,
    machine_id: str,
    characteristic: str,
    change: Callable[[StreamState, str, WearBelief], WearBelief],
) -> StreamState:
    """Change the beliefs of the mounted set, of one characteristic or of all."""
    die_set = state.mounted(machine_id)
    if die_set is None:
        return state
    beliefs = {
        name: change(state, name, belief) if characteristic in ("", name) else belief
        for name, belief in die_set.beliefs.items()
    }
    return _with_set(state, changed(die_set, beliefs=beliefs))


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
    "penetration": _penetration,
    "blank_batch": _batch,
    "gauge_mastered": _mastered,
    "setting": _setting,
    "machine_stopped": _stopped,
}
