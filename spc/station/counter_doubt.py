"""A piece counter that is hard to believe, and one that was set while the dies stayed on: their age goes on."""

import math
from dataclasses import replace
from datetime import datetime

from spc.shop import CheckGauged, EventLogged
from spc.station.state import MachineState

__all__ = ["ENOUGH_PACES", "counted_on", "counter_doubt", "event_count", "is_counted"]

_FASTER = 5.0
"""Times its fastest pace so far at which no machine suddenly runs (common practice, no source)."""
_MOST_PER_HOUR = 50_000.0
"""No rolling machine makes more: some ten thousand screws an hour on flat dies (common practice, no source)."""
ENOUGH_PACES = 5
"""Intervals after which a pace is known."""


def counter_doubt(machine: MachineState, check: CheckGauged, interval_minutes: float | None) -> str:
    """Say why the counter of a check is hard to believe; "" where it is believed, or there is none.

    Parameters
    ----------
    machine : MachineState
        As the check meets it, from `counted_on`.
    interval_minutes : float or None
        Between checks, as the plan has it: times are typed too, so that no less is taken to have passed.

    Notes
    -----
    It falls without a mounting, or it goes up by more than the machine can have made by the clock, stops and all,
    at five times its fastest pace so far.
    """
    before, now = machine.last_counter, check.counter
    if before is None or now is None:
        return ""
    if now < before:
        return f"the counter went back from {before} to {now} without a die set being mounted"
    believed, most = machine.counter, _can_make(machine, check.time, interval_minutes)
    if believed is None or now - believed <= most:
        return ""
    known = machine.paces >= ENOUGH_PACES
    pace = (
        f"at its fastest the machine makes {machine.fastest_per_hour:.0f} an hour"
        if known
        else "no machine makes so many"
    )
    return f"the counter went up from {believed} to {now}, but {pace}"


def is_counted(machine: MachineState, check: CheckGauged, doubt: str) -> bool:
    """Whether pieces are counted by this check: its counter is believed, or it is back where a leap began.

    Parameters
    ----------
    doubt : str
        From `counter_doubt`. A check whose counter falls back from a slip is in doubt by the contract (section 1),
        but its count is the right one.
    """
    now, believed, before = check.counter, machine.counter, machine.last_counter
    if now is None:
        return False
    if not doubt or believed is None or before is None:
        return not doubt
    return believed < now < before and now - believed <= _can_make(machine, check.time, None)


def event_count(machine: MachineState, event: EventLogged) -> int | None:
    """Counter of an event; None where it has none, or one that no machine can have reached by then."""
    believed, counter = machine.counter, event.counter
    if counter is None or (
        believed is not None and counter - believed > _can_make(machine, event.time, None)
    ):
        return None
    return counter


def _can_make(machine: MachineState, until: datetime | None, interval_minutes: float | None) -> float:
    """Pieces that the machine can have made since the last believed count; any machine, before its pace is known."""
    since, fastest = machine.counter_time, machine.fastest_per_hour
    if since is None or until is None:
        return math.inf
    hours = max((until - since).total_seconds() / 60.0, interval_minutes or 60.0) / 60.0
    if fastest is None or machine.paces < ENOUGH_PACES:
        return _MOST_PER_HOUR * hours
    return _FASTER * fastest * hours


def counted_on(machine: MachineState, counter: int | None) -> MachineState:
    """Return the machine as the next check meets it.

    Parameters
    ----------
    counter : int or None
        Of the check that comes now.

    Notes
    -----
    A check whose counter is hard to believe teaches nothing. The next one shows what it was. After a fall: back
    beyond the last believed count, and the fall was a slip of one entry; counting on from the fall, and the counter
    was set back, unless the count it fell from was itself the slip: then the fall ends above the count before that
    one. What it shows was made since, unless no machine makes so much. After a leap: counting on from it, and the
    counter was set forward; else the leap was a slip. What was made between the last believed check and the setting
    is not known and not counted.
    """
    doubted, believed, earlier = machine.last_counter, machine.counter, machine.earlier_counter
    if counter is None or doubted is None or believed is None:
        return machine
    if doubted > believed:
        return _set_to(machine, doubted, believed - doubted) if counter > doubted else machine
    if earlier is not None and doubted < earlier and doubted < counter < believed:
        from_zero = doubted <= _can_make(machine, machine.last_check, None)
        return _set_to(machine, doubted, believed if from_zero else believed - doubted)
    return machine


def _set_to(machine: MachineState, doubted: int, older: int) -> MachineState:
    """Count on from the check that showed it; the age before this mounting takes up what the counter lost."""
    return replace(
        machine,
        age_before=machine.age_before + older,
        counter=doubted,
        earlier_counter=None,
        counter_time=machine.last_check,
        started_at=None,
        start_minutes=None,
        move_minutes=None,
        moved_at=None,
        good=tuple(each for each in machine.good if each.time == machine.last_check),
    )
