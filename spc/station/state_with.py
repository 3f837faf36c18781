"""A stream's state with one of its parts changed: a machine, a die set, what was told, what is believed."""

from collections.abc import Callable

from spc.shop import EventLogged
from spc.shop.changed import changed
from spc.station.state import DieSetState, MachineState, News, StreamState
from spc.wear import WearBelief

__all__ = ["with_beliefs", "with_machine", "with_news", "with_set"]


def with_machine(state: StreamState, machine_id: str, machine: MachineState) -> StreamState:
    """Put a machine in."""
    return changed(state, machines={**state.machines, machine_id: machine})


def with_set(state: StreamState, die_set: DieSetState) -> StreamState:
    """Put a die set in."""
    return changed(state, die_sets={**state.die_sets, die_set.id: die_set})


def with_news(state: StreamState, event: EventLogged, news: News) -> StreamState:
    """Keep what may explain the next check; the last dozen."""
    machine = state.machine(event.machine)
    return with_machine(state, event.machine, changed(machine, news=(*machine.news, news)[-12:]))


def with_beliefs(
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
    return with_set(state, changed(die_set, beliefs=beliefs))
