"""A check growing row by row, until its file is read."""

from dataclasses import dataclass, field
from datetime import datetime

from spc.intake.problem import Problem
from spc.shop.facts import CheckGauged, Reading

__all__ = ["CheckBuilding", "RowHead"]


@dataclass(slots=True)
class RowHead:
    """What the rows of one check have in common, as one row says it."""

    machine: str
    part: str
    counter: int | None
    operator: str
    purpose: str


@dataclass(slots=True)
class CheckBuilding:
    """Readings of one (time, machine, part), each row key once."""

    time: datetime
    machine: str
    part: str
    counter: int | None = None
    operator: str = ""
    purpose: str = ""
    readings: dict[tuple[str, int, str], Reading] = field(default_factory=dict)
    head: RowHead | None = None
    """The last head that a reading was taken with."""

    def take(self, head: RowHead, reading: Reading) -> Problem | None:
        """Take a reading; the same key and value again counts as taken, another value is a conflict."""
        if head is not self.head and (problem := self._contradiction(head)):
            return problem
        twin = self.readings.setdefault((reading.characteristic, reading.piece, reading.position), reading)
        if twin is not reading and (twin.value != reading.value or twin.answer != reading.answer):
            reason = f"row {twin.row} already gives this piece the value {twin.text}"
            do = "If the first is wrong, strike the check out and enter it anew"
            return Problem("value", reading.text, reason, "one value a piece and position", do)
        if head is not self.head:
            self._adopt(head)
        return None

    def _contradiction(self, head: RowHead) -> Problem | None:
        """Say where a row contradicts the rows of this check already taken."""
        if head.counter is not None and self.counter is not None and head.counter != self.counter:
            reason = f"an earlier row of this check has the counter {self.counter}"
            return Problem("counter", str(head.counter), reason, str(self.counter))
        if head.purpose and self.purpose and head.purpose != self.purpose:
            reason = f"an earlier row of this check has the purpose {self.purpose}"
            return Problem("purpose", head.purpose, reason, self.purpose)
        return None

    def _adopt(self, head: RowHead) -> None:
        """Let a row say what the rows before it left open."""
        self.head = head
        if self.counter is None:
            self.counter = head.counter
        self.operator = self.operator or head.operator
        self.purpose = self.purpose or head.purpose

    def finished(self, source: str) -> CheckGauged:
        """Return the fact."""
        return CheckGauged(
            time=self.time,
            machine=self.machine,
            part=self.part,
            readings=tuple(self.readings.values()),
            counter=self.counter,
            operator=self.operator,
            purpose=self.purpose or "hourly",
            source=source,
        )
