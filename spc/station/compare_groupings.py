"""Which shift, die set, setting, gauge … a check belongs to, told by what was logged before it."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal, InvalidOperation
from typing import Final

from spc.shop import EventLogged, Plan, Verdict
from spc.shop.moment import to_local
from spc.station.review_floor import machine_events
from spc.store import Shelf

__all__ = ["BY_LIFE", "GROUPINGS", "SETTING", "FloorLog", "Mounted", "Turn", "shift_worked"]

GROUPINGS: Final = (
    "shift", "machine", "die_set", "regrind", "die_design", "batch", "gauge", "person",
)  # fmt: skip
SETTING: Final = "setting:"
"""Stands before the name of a setting."""

BY_LIFE: Final = ("regrind", "die_design")
"""Groupings in which one whole die life counts once: its checks all share what the grinding shop did."""

Turn = tuple[str, date, str]
"""One shift worked: machine, the day it began, its start as the plan writes it."""

_DESIGN = re.compile(r"\bdesign[\s:=]+(\S+)", re.IGNORECASE)


def shift_worked(plan: Plan, machine: str, moment: datetime) -> Turn:
    """Return the shift worked; the hours before the day's first start belong to the evening before."""
    local = to_local(moment, plan.zone)
    starts = sorted(plan.shifts, key=time.fromisoformat)
    begun = [start for start in starts if time.fromisoformat(start) <= local.time()]
    if begun:
        return machine, local.date(), begun[-1]
    return machine, local.date() - timedelta(days=1), starts[-1]


@dataclass(frozen=True, slots=True)
class Mounted:
    """What was on the machine at a check.

    Attributes
    ----------
    life : tuple
        Die set and how often it was reground before; of a set without a name, its machine.
    mounting : tuple
        Machine and when it was mounted there.
    """

    life: tuple[str, int]
    mounting: tuple[str, str]


class FloorLog:
    """The events behind one part's checks, read once for all of them."""

    def __init__(self, shelf: Shelf, plan: Plan, machines: Sequence[str]) -> None:
        self._plan = plan
        self._kept: dict[tuple[str, str], list[EventLogged]] = {}
        self._sets: dict[str, list[EventLogged]] = {}
        for machine in dict.fromkeys(machines):
            for event in sorted(machine_events(shelf, machine), key=lambda each: each.time):
                kind = f"setting {event.note.strip()}" if event.event == "setting" else event.event
                self._kept.setdefault((machine, kind), []).append(event)
                if event.event in ("die_set_mounted", "die_set_reground"):
                    self._sets.setdefault(event.value, []).append(event)

    def settings(self) -> tuple[str, ...]:
        """Return the names of the settings that were ever logged for this part, in the order of the alphabet."""
        ours = {
            kind.removeprefix("setting ")
            for (_, kind), events in self._kept.items()
            if kind.startswith("setting ") and any(event.part in ("", self._plan.part) for event in events)
        }
        return tuple(sorted(ours - {""}))

    def mounted(self, check: Verdict) -> Mounted:
        """Return die life and mounting of a check."""
        on = self._last(check, "die_set_mounted")
        return Mounted(
            (check.die_set or f"~{check.machine}", self._regrinds(check)),
            (check.machine, "" if on is None else on.time.isoformat()),
        )

    def batch(self, check: Verdict) -> str:
        """Return the bar batch that was on; "" where none was logged before."""
        event = self._last(check, "blank_batch", ours=True)
        return "" if event is None else event.value

    def regrind(self, check: Verdict) -> str:
        """Return how often the set was reground before: "0", "1" …; "" where the record names no set."""
        return str(self._regrinds(check)) if check.die_set else ""

    def die_design(self, check: Verdict) -> str:
        """Return the design that a mounting of this set names in its note ("design B"); "" where none does."""
        named = [
            found[1].strip(".,;")
            for event in self._sets.get(check.die_set or "", [])
            if event.time <= check.time and (found := _DESIGN.search(event.note))
        ]
        return named[-1] if named else ""

    def setting(self, check: Verdict, name: str) -> str:
        """Return the value of a setting; "" before it was logged, and after another part changed it."""
        event = self._last(check, f"setting {name}", after=True)
        if event is None or event.part not in ("", self._plan.part):
            return ""
        try:
            return f"{Decimal(event.value).normalize():f}"
        except InvalidOperation:
            return event.value.strip()

    def gauge(self, check: Verdict, characteristic: str) -> str:
        """Return the gauge that was last set on its master for this; "" where notes name no gauge."""
        ours = [
            event
            for event in self._kept.get((check.machine, "gauge_mastered"), [])
            if event.time <= check.time and self.mastered(event)[0] == characteristic
        ]
        return self.mastered(ours[-1])[1] if ours else ""

    def mastered(self, event: EventLogged) -> tuple[str, str]:
        """Return the characteristic and the gauge that the note of a setting on the master names, "" for none."""
        note = event.note.strip()
        names = sorted((each.name for each in self._plan.gauged), key=len, reverse=True)
        for name in names:
            if note == name:
                return name, ""
            if note.startswith(name) and not note[len(name)].isalnum() and note[len(name)] != "_":
                return name, note[len(name) :].strip(" ,;:/-()")
        return (names[0], note) if len(names) == 1 else ("", note)

    def on_master(self, machine: str, characteristic: str) -> list[EventLogged]:
        """Return every time the gauge of a characteristic was set on its master on a machine."""
        return [
            event
            for event in self._kept.get((machine, "gauge_mastered"), [])
            if event.part in ("", self._plan.part) and self.mastered(event)[0] == characteristic
        ]

    def _regrinds(self, check: Verdict) -> int:
        return sum(
            event.event == "die_set_reground" and event.time <= check.time
            for event in self._sets.get(check.die_set or "", [])
        )

    def _last(
        self, check: Verdict, kind: str, *, ours: bool = False, after: bool = False
    ) -> EventLogged | None:
        """Return the event that stood at a check; of the same moment, one of a kind that comes `after` does not."""
        events = self._kept.get((check.machine, kind), [])
        times = [event.time for event in events]
        upto = bisect_left(times, check.time) if after else bisect_right(times, check.time)
        for event in reversed(events[:upto]):
            if not ours or event.part in ("", self._plan.part):
                return event
        return None
