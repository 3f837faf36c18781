"""Log what was done at a machine."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from spc.errors import Refused
from spc.intake import read_event
from spc.shop import Contain, EventLogged, Plan
from spc.station.checkpoint import stream_machines
from spc.station.kept import fact_of, new_fact
from spc.station.refold import refold
from spc.station.review_state import state_before
from spc.station.take_plan import plan_in_force
from spc.store import Position, Shelf, Store

__all__ = ["Logged", "event_key", "log_event", "streams_of"]


@dataclass(frozen=True, slots=True)
class Logged:
    """An event that is now in the record.

    Attributes
    ----------
    event : EventLogged
    new : bool
        False where the very same event was in already.
    held : Contain or None
        Pieces to hold back that were made after the last check of a set taken off while a hold stood.
    """

    event: EventLogged
    new: bool
    held: Contain | None = None


def log_event(store: Store, event: Mapping[str, Any], *, by: str | None, at: datetime) -> Logged:
    """Take an event in; the same event again changes nothing.

    Parameters
    ----------
    event : mapping
        Columns of `events.csv`; `time` defaults to now, `part` "" counts for every part on the machine.

    Raises
    ------
    Refused
        An unknown event, a value it cannot have, an unknown machine or part.
    """
    part = str(event.get("part") or "")
    with store.writing(part) as desk:
        plan = _plan_for(desk, part, str(event.get("machine") or ""))
        fact = read_event(event if event.get("time") else {**event, "time": at.isoformat()}, plan)
        streams = [part] if part else streams_of(desk, fact.machine)
        if _is_known(desk, fact):
            return Logged(fact, new=False)
        held = _held_at_removal(desk, fact, streams)
        stored = desk.append([new_fact(fact, by=by or fact.operator)])[0]
        for each in streams:
            refold(desk, each, Position(stored.time, stored.rank, 0))
    return Logged(fact, new=True, held=held)


def streams_of(shelf: Shelf, machine: str) -> list[str]:
    """Parts whose stream uses a machine: by their plan, or because they were made on it.

    Others meet the machine's events with their first check on it.
    """
    return [part for part in shelf.parts() if machine in stream_machines(shelf, part)]


def _plan_for(shelf: Shelf, part: str, machine: str) -> Plan:
    """Any plan that knows the machine will do for an event that names no part."""
    if part:
        plan = plan_in_force(shelf, part)
        if plan is not None:
            return plan
    else:
        plans = [found for each in shelf.parts() if (found := plan_in_force(shelf, each)) is not None]
        for plan in sorted(plans, key=lambda each: machine not in {known.id for known in each.machines}):
            return plan
    parts = ", ".join(shelf.parts()) or "none yet: take a plan in first"
    raise Refused.one("no plan of this part is in the record", value=part, column="part", allowed=parts)


def _is_known(shelf: Shelf, fact: EventLogged) -> bool:
    """Whether an event of the same time, machine, part, kind and value is in."""
    time = new_fact(fact).time
    before, after = Position(time, -9, 0), Position(time, 99, 0)
    kept = shelf.facts(fact.part, [] if fact.part else [fact.machine], before, after, kinds=("event",))
    return any(
        event_key(known) == event_key(fact)
        for each in kept
        if isinstance(known := fact_of(each), EventLogged)
    )


def event_key(event: EventLogged) -> tuple[object, ...]:
    """What makes it one event (contract section 2)."""
    return (event.time, event.machine, event.part, event.event, event.value)


def _held_at_removal(shelf: Shelf, fact: EventLogged, streams: list[str]) -> Contain | None:
    if fact.event != "die_set_removed":
        return None
    for part in streams:
        machine = state_before(shelf, part, fact.time).machine(fact.machine)
        if machine.holding and machine.die_set is not None:
            start, end = machine.counter, fact.counter
            pieces = None if start is None or end is None or end < start else end - start
            return Contain(start, end, pieces)
    return None
