"""Which checks were due, late and missed: from the plan, the running time and the stops, not from readings alone."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from spc.station.state import MachineState

__all__ = [
    "CheckClock",
    "DueCheck",
    "RunningSpan",
    "due_checks",
    "minutes_late",
    "minutes_running",
    "next_due",
    "planned_due",
]

LATE_SHARE = 0.15
"""A check is late after 15 % more than its interval (contract section 3)."""


@dataclass(frozen=True, slots=True)
class RunningSpan:
    """A time in which the machine ran this part: from a mounting to a removal, without the stops."""

    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class DueCheck:
    """One check that the plan asked for.

    Attributes
    ----------
    due : datetime
    made : datetime or None
        The check that answered it; None where it was missed.
    minutes_late : float
        Running minutes after it was due; 0 where it was missed.
    standing : {"in time", "late", "missed"}
    """

    due: datetime
    made: datetime | None
    minutes_late: float
    standing: str


@dataclass(frozen=True, slots=True)
class CheckClock:
    """All due checks of a period, counted."""

    due: tuple[DueCheck, ...]

    def count(self, standing: str) -> int:
        """How many are in time, late or missed."""
        return sum(1 for each in self.due if each.standing == standing)


def due_checks(
    spans: Sequence[RunningSpan], made: Sequence[datetime], interval_minutes: float, end: datetime
) -> CheckClock:
    """Walk the running time and tell every check that was due until `end`.

    Parameters
    ----------
    spans : sequence of RunningSpan
        In order, not overlapping: when the machine ran this part.
    made : sequence of datetime
        Times of the checks that were made, in order.
    interval_minutes : float
        Running minutes from one check to the next; above 0.
    end : datetime
        Nothing after it counts; a check not yet late then is not counted.

    Notes
    -----
    The clock starts with the first span and starts anew at every check. One is late when it comes after 1.15
    intervals; it is missed, once for every whole further interval, when the next one was due before it came.
    """
    found: list[DueCheck] = []
    start = spans[0].start if spans else end
    for moment in [*(each for each in made if each <= end), None]:
        until = end if moment is None else moment
        minutes = minutes_running(spans, start, until)
        whole = 1
        while minutes >= (whole + 1) * interval_minutes:
            found.append(DueCheck(moment_after(spans, start, whole * interval_minutes), None, 0.0, "missed"))
            whole += 1
        late_by = minutes - whole * interval_minutes
        if moment is not None:
            due = moment_after(spans, start, whole * interval_minutes)
            late = late_by > LATE_SHARE * interval_minutes
            found.append(DueCheck(due, moment, max(0.0, late_by), "late" if late else "in time"))
            start = moment
    return CheckClock(tuple(found))


def planned_due(machine: MachineState, interval_minutes: float | None) -> datetime | None:
    """Return when the plan has the next check due: the only time that late and missed are counted by."""
    if machine.running_since is None or interval_minutes is None:
        return None
    return machine.running_since + timedelta(minutes=interval_minutes + machine.stopped_minutes)


def minutes_late(due: datetime | None, planned: datetime | None, at: datetime) -> float:
    """Minutes after the plan's time, or before the time asked for as a negative number; 0 between the two."""
    if due is None or at < due:
        return 0.0 if due is None else (at - due).total_seconds() / 60.0
    return 0.0 if planned is None else max((at - planned).total_seconds() / 60.0, 0.0)


def next_due(machine: MachineState, interval_minutes: float | None) -> datetime | None:
    """Return when the next check is due on a machine, stops logged since the last one added.

    Parameters
    ----------
    machine : MachineState
        With what the last verdict asked for, which may be sooner than the plan.
    interval_minutes : float or None
        The plan's.

    Returns
    -------
    datetime or None
        After a slide move, or another setting, the first pieces are due at once. None where the clock has not
        begun or there is no interval.
    """
    if machine.running_since is None:
        return None
    minutes = [each for each in (interval_minutes, machine.next_minutes) if each is not None]
    if not minutes:
        return machine.first_pieces_since
    due = machine.running_since + timedelta(minutes=min(minutes) + machine.stopped_minutes)
    return due if machine.first_pieces_since is None else min(due, machine.first_pieces_since)


def minutes_running(spans: Sequence[RunningSpan], start: datetime, end: datetime) -> float:
    """Minutes of running time between two moments."""
    total = 0.0
    for span in spans:
        low, high = max(span.start, start), min(span.end, end)
        if high > low:
            total += (high - low).total_seconds() / 60.0
    return total


def moment_after(spans: Sequence[RunningSpan], start: datetime, minutes: float) -> datetime:
    """Return the moment when so many running minutes have passed since `start`."""
    left = minutes
    for span in spans:
        low = max(span.start, start)
        length = (span.end - low).total_seconds() / 60.0
        if length <= 0:
            continue
        if left <= length:
            return low + timedelta(minutes=left)
        left -= length
    return start + timedelta(minutes=minutes)


__all__ += ["moment_after"]
