"""A check that surprised, and then the gauge was found off by as much: the check was misread, and is forgotten."""

from spc.shop.changed import changed
from spc.station.state import StreamState
from spc.station.state_with import with_set

__all__ = ["without_misread"]

_ROOM = 0.5
"""Share of what a gauge was off by which the surprise may differ from it."""
_CHANGES_THE_SIZE = ("batch", "setting")


def without_misread(
    state: StreamState, machine_id: str, characteristic: str, off_um: float
) -> StreamState | None:
    """Return the state as it was before the last check misread a size; None where that check was none such.

    Parameters
    ----------
    characteristic : str
        The one whose gauge was set on its master; "" where nobody said.
    off_um : float
        What the gauge was found off by.

    Notes
    -----
    A step that nobody logged opens the level for good, half of it as one that stays: how long the dies last would be
    in doubt by as much, although nothing has happened to them. Bars or a setting changed in between stand
    against it.
    """
    die_set = state.mounted(machine_id)
    memory = None if die_set is None else die_set.memories.get(characteristic)
    if die_set is None or memory is None or memory.before_step is None:
        return None
    if any(each.kind in _CHANGES_THE_SIZE for each in state.machine(machine_id).news):
        return None
    if abs(memory.surprise_um - off_um) > _ROOM * abs(off_um):
        return None
    beliefs = {**die_set.beliefs, characteristic: memory.before_step}
    memory = changed(memory, levels=memory.levels[:-1], before_step=None, stepped_um=0.0)
    memories = {**die_set.memories, characteristic: memory}
    return with_set(state, changed(die_set, beliefs=beliefs, memories=memories))
