"""Readings and events read together, with the one rule that needs both."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from spc.errors import Refusal
from spc.intake.events_file import EventsRead, read_events
from spc.intake.readings_file import ReadingsRead, read_readings
from spc.intake.source import Source
from spc.shop.facts import CheckGauged, EventLogged
from spc.shop.moment import local_text
from spc.shop.plan import Plan

__all__ = ["HistoryRead", "read_history"]


@dataclass(frozen=True, slots=True)
class HistoryRead:
    """What the files of one history gave.

    Attributes
    ----------
    readings : ReadingsRead
        Without the checks that stand before the first die set of their machine.
    logged : EventsRead or None
        None where no file of events was given.
    """

    readings: ReadingsRead
    logged: EventsRead | None = None

    @property
    def checks(self) -> tuple[CheckGauged, ...]:
        """In file order."""
        return self.readings.checks

    @property
    def events(self) -> tuple[EventLogged, ...]:
        """In file order."""
        return self.logged.events if self.logged else ()

    @property
    def refusals(self) -> tuple[Refusal, ...]:
        """Of both files, the readings first."""
        return self.readings.refusals + (self.logged.refusals if self.logged else ())

    @property
    def rows(self) -> int:
        """Rows of both files."""
        return self.readings.rows + (self.logged.rows if self.logged else 0)

    @property
    def accepted_rows(self) -> int:
        """Rows taken of both files."""
        return self.readings.accepted_rows + (self.logged.accepted_rows if self.logged else 0)


def read_history(
    plans: Sequence[Plan],
    readings: Source,
    events: Source | None = None,
    mounted: Mapping[str, datetime] | None = None,
) -> HistoryRead:
    """Read a history for whoever takes it in or replays it.

    Parameters
    ----------
    plans : sequence of Plan
        One a part.
    readings, events : path, or (name, bytes)
    mounted : mapping of machine to datetime
        First mounting of a die set that the record already knows.

    Raises
    ------
    Refused
        One of the files cannot be opened, is no table, or lacks a needed column.

    Notes
    -----
    A check before the first mounting of its machine is refused only where there is one later: a machine
    without any die-set event has one unnamed set. A mounting at the check's own time comes before the check.
    """
    checked = read_readings(readings, plans)
    logged = None if events is None else read_events(events, plans)
    first = dict(mounted or {})
    for event in logged.events if logged else ():
        if event.event == "die_set_mounted":
            first[event.machine] = min(event.time, first.get(event.machine, event.time))
    zones = {plan.part: plan.zone for plan in plans}
    return HistoryRead(_after_mounting(checked, first, zones), logged)


def _after_mounting(
    checked: ReadingsRead, first: Mapping[str, datetime], zones: Mapping[str, str]
) -> ReadingsRead:
    """Refuse the rows of checks that stand before the first die set of their machine."""
    early = [check for check in checked.checks if check.time < first.get(check.machine, check.time)]
    if not early:
        return checked
    refusals: list[Refusal] = []
    for check in early:
        zone = zones[check.part]
        mounting = local_text(first[check.machine], zone)
        reason = f"{check.machine} gets its first die set only at {mounting}"
        do = "Put in when the die set that made these pieces was mounted, or mend the time"
        for row in dict.fromkeys(reading.row for reading in check.readings):
            time = local_text(check.time, zone)
            allowed = f"{mounting} or later"
            refusals.append(Refusal(reason, time, checked.file, row, "time", allowed, do))
    too_early = {id(check) for check in early}
    return replace(
        checked,
        checks=tuple(check for check in checked.checks if id(check) not in too_early),
        accepted_rows=checked.accepted_rows - len(refusals),
        refusals=tuple(sorted(checked.refusals + tuple(refusals), key=lambda refusal: refusal.row or 0)),
    )
