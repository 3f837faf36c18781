"""Hourly checks gathered by shift, machine, die set, bar batch or person, each with the shift it was made in."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Literal

from spc.shop import Characteristic, CheckGauged, Plan, Verdict
from spc.shop.moment import to_local
from spc.station.kept import verdict_of
from spc.station.pieces import piece_values
from spc.station.refold import in_sequence
from spc.station.review_floor import machine_events
from spc.store import Shelf, time_text

__all__ = ["ComparedBy", "ComparedCheck", "Turn", "compared_checks"]

ComparedBy = Literal["shift", "machine", "die_set", "batch", "person"]
Turn = tuple[str, date, str]
"""One shift worked: machine, the day it began, its start as the plan writes it."""


@dataclass(frozen=True, slots=True)
class ComparedCheck:
    """One hourly check that stands and is believed.

    Attributes
    ----------
    group : str
        What it is gathered by, as written in the record; "" where the record doesn't say.
    turn : Turn
        The shift worked in which it was made.
    mean_um : float
        Mean of its pieces minus the aim, slide moves included (angles: thousandths of a degree).
    pieces : int
    """

    group: str
    turn: Turn
    mean_um: float
    pieces: int


def compared_checks(
    shelf: Shelf,
    plan: Plan,
    machine: str | None,
    characteristic: Characteristic,
    by: ComparedBy,
    from_time: datetime | None,
    to_time: datetime | None,
) -> tuple[ComparedCheck, ...]:
    """Gather the checks for a comparison, for the verb that compares.

    Parameters
    ----------
    machine : str or None
        None for all machines of the part.
    from_time, to_time : datetime or None
        Aware; from and before.
    """
    low, high = (None if each is None else time_text(each) for each in (from_time, to_time))
    standing = [verdict_of(each) for each in shelf.verdicts(plan.part, machine, low, high)]
    gauged = {
        each.check_id: each.fact
        for each in in_sequence(shelf, shelf.checks_between(plan.part, machine, low, high))
        if isinstance(each.fact, CheckGauged)
    }
    batches = _Batches(shelf, plan.part)
    found = []
    for verdict in standing:
        check, subgroup = gauged.get(verdict.check_id or 0), verdict.subgroup(characteristic.name)
        if check is None or subgroup is None or subgroup.suspect or verdict.purpose != "hourly":
            continue
        values = [float(value - characteristic.aim) for value in piece_values(check, characteristic)]
        if not values:
            continue
        turn = _turn(plan, verdict.machine, verdict.time)
        group = (
            batches.at(verdict.machine, verdict.time) if by == "batch" else _group(by, verdict, check, turn)
        )
        mean_um = sum(values) / len(values) * characteristic.um_per_unit
        found.append(ComparedCheck(group, turn, mean_um, len(values)))
    return tuple(found)


def _group(by: ComparedBy, verdict: Verdict, check: CheckGauged, turn: Turn) -> str:
    if by == "shift":
        return turn[2]
    if by == "machine":
        return verdict.machine
    return (verdict.die_set or "") if by == "die_set" else check.operator.strip()


def _turn(plan: Plan, machine: str, moment: datetime) -> Turn:
    """Return the shift worked; the hours before the day's first start belong to the evening before."""
    local = to_local(moment, plan.zone)
    starts = sorted(plan.shifts, key=time.fromisoformat)
    begun = [start for start in starts if time.fromisoformat(start) <= local.time()]
    if begun:
        return machine, local.date(), begun[-1]
    return machine, local.date() - timedelta(days=1), starts[-1]


class _Batches:
    """Which bar batch ran when; each machine's events are read once."""

    def __init__(self, shelf: Shelf, part: str) -> None:
        self._shelf = shelf
        self._part = part
        self._known: dict[str, Sequence[tuple[datetime, str]]] = {}

    def at(self, machine: str, moment: datetime) -> str:
        """Return the batch that was on; "" where none was logged before."""
        if machine not in self._known:
            self._known[machine] = [
                (event.time, event.value)
                for event in machine_events(self._shelf, machine)
                if event.event == "blank_batch" and event.part in ("", self._part)
            ]
        return next((batch for since, batch in reversed(self._known[machine]) if since <= moment), "")
