"""Counters of events that were logged without one: in running time between the checks around them."""

from datetime import datetime

from spc.shop import CheckGauged
from spc.shop.changed import changed
from spc.station.state import MachineState

__all__ = ["counter_so_far", "minutes_so_far", "with_event_counters"]


def minutes_so_far(machine: MachineState, time: datetime) -> float | None:
    """Running minutes from the last check, or the mounting, to an event; None where nothing was counted then."""
    if machine.running_since is None or _counter_then(machine) is None:
        return None
    minutes = (time - machine.running_since).total_seconds() / 60.0 - machine.stopped_minutes
    if machine.stop_ends is not None and time < machine.stop_ends:  # the rest of that stop is still to come
        minutes += (machine.stop_ends - time).total_seconds() / 60.0
    return max(minutes, 0.0)


def counter_so_far(machine: MachineState, time: datetime) -> int | None:
    """Counter at an event as far as known before the next check: carried on at the pace of the last ones."""
    minutes, counter = minutes_so_far(machine, time), _counter_then(machine)
    if minutes is None or counter is None:
        if machine.counter is None or machine.counter_time is None:
            return None
        minutes, counter = max((time - machine.counter_time).total_seconds() / 60.0, 0.0), machine.counter
    return counter + round(minutes * (machine.pieces_per_hour or 0.0) / 60.0)


def with_event_counters(machine: MachineState, check: CheckGauged) -> MachineState:
    """Put events since the last check between its counter and this one's, by running time (contract section 2)."""
    if machine.start_minutes is None and machine.move_minutes is None:
        return machine
    counted = changed(machine, start_minutes=None, move_minutes=None)
    before, now, whole = _counter_then(machine), check.counter, minutes_so_far(machine, check.time)
    if before is None or now is None or whole is None or now < before:
        return counted  # what the pace said stands
    started, moved = (
        None
        if minutes is None
        else before + round((now - before) * min(minutes / whole, 1.0) if whole else 0)
        for minutes in (machine.start_minutes, machine.move_minutes)
    )
    return changed(
        counted,
        started_at=machine.started_at if started is None else started,
        moved_at=machine.moved_at if moved is None else moved,
    )


def _counter_then(machine: MachineState) -> int | None:
    """Counter at `running_since`: that of the last check, or 0 at a mounting; None where the check had none."""
    if machine.counter_time is not None:
        return machine.counter if machine.counter_time == machine.running_since else None
    return 0 if machine.sets_are_logged and machine.running_since != machine.last_check else None
