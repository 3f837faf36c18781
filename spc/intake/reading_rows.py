"""Rows of a readings file, one after the other, each worked out once where texts repeat."""

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from spc.errors import Refusal
from spc.intake.check_building import CheckBuilding, RowHead
from spc.intake.gauge_cell import GaugeCell, gauge_cell
from spc.intake.moments import AS_TIME, FileMoments, Placed
from spc.intake.named import Named
from spc.intake.number import AS_ALLOWED, Fits, read_between, read_whole
from spc.intake.number_style import settle_style
from spc.intake.problem import Problem
from spc.intake.reading_columns import ReadingColumns
from spc.intake.table_file import TableRead
from spc.shop.facts import Reading
from spc.shop.plan import Plan

__all__ = ["ReadingRows"]

Key = tuple[str, ...]


@dataclass(slots=True)
class _Head:
    """A row's head with what is wrong in it, and its check where the time has one meaning."""

    row: RowHead
    placed: Placed | None
    problems: list[Problem]
    check: CheckBuilding | None = None


@dataclass(slots=True)
class _Tail:
    position: str = ""
    temperatures: tuple[Decimal | None, Decimal | None] = (None, None)
    problems: list[Problem] = field(default_factory=list)


class ReadingRows:
    """Turns rows into checks.

    Attributes
    ----------
    checks : dict
        In file order; one without readings had every row refused.
    accepted_rows : int
    refusals : list of Refusal
    """

    def __init__(self, table: TableRead, columns: ReadingColumns, plans: Sequence[Plan]) -> None:
        self._file = table.file
        self._columns = columns
        self._named = Named(plans)
        self._moments = FileMoments()
        self._heads: dict[Key, _Head] = {}
        self._cells: dict[Key, GaugeCell | list[Problem]] = {}
        self._tails: dict[Key, _Tail] = {}
        self._pieces: dict[str, int | None] = {}
        self.checks: dict[tuple[datetime, str, str], CheckBuilding] = {}
        self.accepted_rows = 0
        self.refusals: list[Refusal] = []
        self._style = (
            settle_style(self._numbers(table), table.separator) if table.may_hold_commas else "point"
        )

    def take(self, row: int, given: Sequence[str]) -> None:
        """Take one row, or collect everything that is wrong with it."""
        columns = self._columns
        cells, problems = self._fitted(given)
        key = columns.head(cells)
        head = self._heads.get(key) or self._read_head(key)
        place = columns.place(cells)
        gauge = self._cells.get(place) or self._read_place(place)
        tail = self._read_tail(columns.tail(cells), gauge) if columns.has_tail else _NO_TAIL
        if problems or head.problems or tail.problems or not isinstance(gauge, GaugeCell):
            problems = problems + head.problems + (gauge if isinstance(gauge, list) else []) + tail.problems
            self._refuse(row, problems + self._value_problems(cells, gauge))
            return
        self._take_values(row, cells, head, gauge, tail)

    def _take_values(
        self, row: int, cells: Sequence[str], head: _Head, gauge: GaugeCell, tail: _Tail
    ) -> None:
        """Take the value, or the values of a wide row, whose place is known."""
        taken = refused = 0
        for piece, text in self._pieces_of(cells):
            problem = self._take_value(row, piece, text, head, gauge, tail)
            if problem is None:
                taken += 1
            else:
                refused += 1
                self.refusals.append(problem.at(self._file, row))
        self.accepted_rows += bool(taken or not refused)

    def _take_value(
        self, row: int, piece: int | Problem, text: str, head: _Head, gauge: GaugeCell, tail: _Tail
    ) -> Problem | None:
        value = gauge.read(text, self._style)
        if isinstance(piece, Problem):
            return piece
        if isinstance(value, Problem):
            return value if self._columns.piece is not None else value._replace(column=f"x{piece}")
        characteristic = gauge.characteristic.name
        check = head.check or self._check(head, (head.row.part, characteristic, piece, tail.position))
        reading = Reading(
            characteristic,
            piece,
            text,
            value[0],
            value[1],
            gauge.unit,
            tail.position,
            *tail.temperatures,
            row,
        )
        return check.conflict(head.row) or check.take(head.row, reading)

    def _fitted(self, given: Sequence[str]) -> tuple[list[str], list[Problem]]:
        """Give a row exactly the header's cells, stripped, and the "" that stands for absent columns."""
        width = self._columns.width
        cells = [cell.strip() if cell[:1] <= " " or cell[-1:] <= " " else cell for cell in given]
        problems: list[Problem] = []
        if len(cells) > width:
            extra = next((cell for cell in cells[width:] if cell), "")
            if extra:
                reason = f"the row has {len(cells)} cells, the header {width}"
                do = "A number with a decimal comma stands in quotation marks where commas separate the cells"
                problems.append(Problem("the whole row", extra, reason, f"{width} cells", do))
            del cells[width:]
        cells.extend([""] * (width + 1 - len(cells)))
        return cells, problems

    def _read_head(self, key: Key) -> _Head:
        time, machine, part, counter_text, operator, purpose_text = key
        problems: list[Problem] = []
        plan = self._named.part(part)
        if isinstance(plan, Problem):
            problems.append(plan)
        if unknown := self._named.machine(machine):
            problems.append(unknown)
        zone = self._named.zone(machine, None if isinstance(plan, Problem) else plan)
        placed = self._moments.read(time, zone)
        if isinstance(placed, str):
            problems.append(Problem("time", time, placed, AS_TIME))
        counter = read_whole(counter_text, self._style) if counter_text else None
        if counter_text and counter is None:
            problems.append(
                Problem("counter", counter_text, "this is no count of pieces", "a whole number from 0")
            )
        purpose = self._named.purpose(purpose_text)
        if isinstance(purpose, Problem):
            problems.append(purpose)
            purpose = ""
        row = RowHead(machine, part, counter, operator, purpose)
        head = _Head(row, None if isinstance(placed, str) else placed, problems)
        self._heads[key] = head
        return head

    def _check(self, head: _Head, key: Hashable) -> CheckBuilding:
        """Find the check of a row; file order says which, in the hour that autumn repeats."""
        assert head.placed is not None  # a row without a time was refused
        moment = self._moments.choose(head.placed, head.row.machine, key)
        place = (moment, head.row.machine, head.row.part)
        check = self.checks.get(place)
        if check is None:
            check = self.checks[place] = CheckBuilding(*place)
        if head.placed[1] is None and not self._moments.inside_repeated_hour:
            head.check = check
        return check

    def _read_place(self, place: Key) -> GaugeCell | list[Problem]:
        part, name, unit = place
        plan = self._named.part(part)
        found: GaugeCell | list[Problem] = []
        if not isinstance(plan, Problem):
            characteristic = self._named.characteristic(plan, name)
            gauge = (
                characteristic if isinstance(characteristic, Problem) else gauge_cell(characteristic, unit)
            )
            found = [gauge] if isinstance(gauge, Problem) else gauge
        self._cells[place] = found
        return found

    def _read_tail(self, key: Key, gauge: GaugeCell | list[Problem]) -> _Tail:
        positions = gauge.characteristic.positions if isinstance(gauge, GaugeCell) else ()
        known = self._tails.get((*key, *positions))
        if known is not None:
            return known
        tail = _Tail(position=key[0])
        if positions and tail.position and tail.position not in positions:
            reason = "the plan has no such position"
            tail.problems.append(Problem("position", tail.position, reason, ", ".join(positions)))
        temperatures: list[Decimal | None] = []
        for column, text in zip(("temperature_c", "master_temperature_c"), key[1:], strict=True):
            value = read_between(text, self._style) if text else None
            if isinstance(value, str):
                tail.problems.append(Problem(column, text, value, AS_ALLOWED))
            else:
                temperatures.append(value)
        if not tail.problems:
            tail.temperatures = (temperatures[0], temperatures[1])
        self._tails[(*key, *positions)] = tail
        return tail

    def _pieces_of(self, cells: Sequence[str]) -> Iterator[tuple[int | Problem, str]]:
        """Yield piece and text of each value of a row."""
        columns = self._columns
        if columns.piece is None:
            for piece, cell in columns.values:
                if cells[cell]:
                    yield piece, cells[cell]
            return
        text = cells[columns.piece]
        if text not in self._pieces:
            self._pieces[text] = read_whole(text, self._style, least=1)
        number = self._pieces[text]
        yield (
            number or Problem("piece", text, "this is no piece of a check", "1 … n"),
            cells[columns.values[0][1]],
        )

    def _value_problems(self, cells: Sequence[str], gauge: GaugeCell | list[Problem]) -> list[Problem]:
        """Say what else is wrong in a row that is refused anyway."""
        problems: list[Problem] = []
        for piece, text in self._pieces_of(cells):
            value = gauge.read(text, self._style) if isinstance(gauge, GaugeCell) else None
            problems += [each for each in (piece, value) if isinstance(each, Problem)]
        return problems

    def _refuse(self, row: int, problems: list[Problem]) -> None:
        self.refusals += [problem.at(self._file, row) for problem in problems]

    def _numbers(self, table: TableRead) -> Iterator[tuple[str, Fits | None]]:
        """Yield every text of the file that should be a number, with the plan's test for it."""
        for _, given in table.rows:
            cells, _ = self._fitted(given)
            place = self._columns.place(cells)
            gauge = self._cells.get(place) or self._read_place(place)
            fits = gauge.fits if isinstance(gauge, GaugeCell) else None
            for _, cell in self._columns.values:
                if "," in cells[cell]:
                    yield cells[cell], fits
            for text in self._columns.tail(cells)[1:]:
                if "," in text:
                    yield text, None


_NO_TAIL = _Tail()
