"""The parts of a reading row, each combination of texts worked out once a file."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from spc.intake.check_building import CheckBuilding, RowHead
from spc.intake.gauge_cell import GaugeCell, gauge_cell
from spc.intake.moments import AS_TIME, FileMoments, Placed
from spc.intake.named import Named
from spc.intake.number import AS_ALLOWED, NumberStyle, read_between, read_whole
from spc.intake.problem import Problem
from spc.shop.plan import Plan

__all__ = ["Head", "RowParts", "Tail"]

Key = tuple[str, ...]


@dataclass(slots=True)
class Head:
    """A row's head with what is wrong in it, and its check where the time has one meaning."""

    row: RowHead
    placed: Placed | None
    problems: list[Problem]
    check: CheckBuilding | None = None


@dataclass(slots=True)
class Tail:
    """Where on the piece, and how warm; `temperatures` of piece and master, °C."""

    position: str = ""
    temperatures: tuple[Decimal | None, Decimal | None] = (None, None)
    problems: list[Problem] = field(default_factory=list)


class RowParts:
    """Reads heads, gauges and tails of rows.

    Parameters
    ----------
    plans : sequence of Plan
    moments : FileMoments
        Of the file.

    Attributes
    ----------
    style : {"point", "comma"} or None
        How the file writes its decimals; set before the first head or tail is read.
    """

    def __init__(self, plans: Sequence[Plan], moments: FileMoments) -> None:
        self.style: NumberStyle | None = "point"
        self._named = Named(plans)
        self._moments = moments
        self._heads: dict[Key, Head] = {}
        self._gauges: dict[Key, GaugeCell | Problem | None] = {}
        self._tails: dict[Key, Tail] = {}
        self._pieces: dict[str, int | Problem] = {}

    def head(self, key: Key) -> Head:
        """Read time, machine, part, counter, operator and purpose."""
        head = self._heads.get(key)
        if head is None:
            head = self._heads[key] = self._read_head(key)
        return head

    def gauge(self, key: Key) -> GaugeCell | Problem | None:
        """Read part, characteristic and unit; None where the part is unknown, which the head says."""
        if key not in self._gauges:
            self._gauges[key] = self._read_gauge(key)
        return self._gauges[key]

    def tail(self, key: Key, positions: tuple[str, ...]) -> Tail:
        """Read position, temperature_c and master_temperature_c; `positions` are those of the plan."""
        whole_key = key + positions
        tail = self._tails.get(whole_key)
        if tail is None:
            tail = self._tails[whole_key] = self._read_tail(key, positions)
        return tail

    def piece(self, text: str) -> int | Problem:
        """Read a piece number."""
        piece = self._pieces.get(text)
        if piece is None:
            number = read_whole(text, self.style, least=1)
            piece = number or Problem("piece", text, "this is no piece of a check", "1 … n")
            self._pieces[text] = piece
        return piece

    def _read_head(self, key: Key) -> Head:
        time, machine, part, counter_text, operator, purpose_text = key
        plan = self._named.part(part)
        zone = self._named.zone(machine, None if isinstance(plan, Problem) else plan)
        placed = self._moments.read(time, zone)
        counter = read_whole(counter_text, self.style) if counter_text else None
        purpose = self._named.purpose(purpose_text)
        found = [plan, self._named.machine(machine), purpose]
        problems = [each for each in found if isinstance(each, Problem)]
        if isinstance(placed, str):
            problems.append(Problem("time", time, placed, AS_TIME))
        if counter_text and counter is None:
            reason = "this is no count of pieces"
            problems.append(Problem("counter", counter_text, reason, "a whole number from 0"))
        row = RowHead(machine, part, counter, operator, purpose if isinstance(purpose, str) else "")
        return Head(row, None if isinstance(placed, str) else placed, problems)

    def _read_gauge(self, key: Key) -> GaugeCell | Problem | None:
        part, name, unit = key
        plan = self._named.part(part)
        if isinstance(plan, Problem):
            return None
        characteristic = self._named.characteristic(plan, name)
        return characteristic if isinstance(characteristic, Problem) else gauge_cell(characteristic, unit)

    def _read_tail(self, key: Key, positions: tuple[str, ...]) -> Tail:
        position, *temperatures = key
        problems: list[Problem] = []
        if positions and position and position not in positions:
            reason = "the plan has no such position"
            problems.append(Problem("position", position, reason, ", ".join(positions)))
        read: list[Decimal | None] = []
        for column, text in zip(("temperature_c", "master_temperature_c"), temperatures, strict=True):
            value = read_between(text, self.style) if text else None
            if isinstance(value, str):
                problems.append(Problem(column, text, value, AS_ALLOWED))
            else:
                read.append(value)
        return Tail(position, (None, None) if len(read) < 2 else (read[0], read[1]), problems)
