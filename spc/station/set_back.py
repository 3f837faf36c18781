"""A piece counter that was set back while the dies stayed on: their age goes on where it stood."""

from dataclasses import replace

from spc.station.state import MachineState

__all__ = ["counted_on"]


def counted_on(machine: MachineState, counter: int | None) -> MachineState:
    """Return the machine as the next check meets it.

    Parameters
    ----------
    counter : int or None
        Of the check that comes now.

    Notes
    -----
    The first check after a fall is in doubt and teaches nothing. The next one shows what it was: back beyond
    the last believed count, and the fall was a slip of one entry; counting on from the fall, and the counter was
    set back, unless the count it fell from was itself the slip: then the fall ends above the count before that
    one. What was made between the last believed check and the setting back is not known and not counted.
    """
    fallen, believed, earlier = machine.last_counter, machine.counter, machine.earlier_counter
    if counter is None or fallen is None or believed is None or earlier is None:
        return machine
    if not (fallen < earlier and fallen < counter < believed):
        return machine
    return replace(
        machine,
        age_before=machine.age_before + believed,
        counter=fallen,
        earlier_counter=None,
        counter_time=machine.last_check,
        started_at=None,
        start_minutes=None,
        move_minutes=None,
        moved_at=None,
        good=tuple(each for each in machine.good if each.time == machine.last_check),
    )
