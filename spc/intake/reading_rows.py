"""Rows of a readings file, one after the other, into the checks they belong to."""

from collections.abc import Hashable, Iterator, Sequence
from datetime import datetime

from spc.errors import Refusal
from spc.intake.check_building import CheckBuilding
from spc.intake.gauge_cell import GaugeCell
from spc.intake.moments import FileMoments
from spc.intake.number import Fits
from spc.intake.number_style import settle_style
from spc.intake.problem import Problem
from spc.intake.reading_columns import ReadingColumns
from spc.intake.row_parts import Head, RowParts, Tail
from spc.intake.table_file import TableRead
from spc.shop.facts import Reading
from spc.shop.plan import Plan

__all__ = ["ReadingRows"]

_NO_TAIL = Tail()


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
        self._table = table
        self._columns = columns
        self._moments = FileMoments()
        self._parts = RowParts(plans, self._moments)
        self.checks: dict[tuple[datetime, str, str], CheckBuilding] = {}
        self.accepted_rows = 0
        self.refusals: list[Refusal] = []

    def take_all(self) -> None:
        """Take every row of the file, or collect everything that is wrong with it."""
        columns, parts = self._columns, self._parts
        if self._table.may_hold_commas:
            parts.style = settle_style(self._numbers(), self._table.separator)
        take = self._take_wide if columns.piece is None else self._take_long
        common, width, last = columns.common, columns.width, None
        for row, given in self._table.rows:
            if last is not None and len(given) == width and common(given) == last[0]:
                take(row, given, *last[1])
                continue
            last = None
            cells = self._fitted(row, given)
            if not cells:
                continue
            head = parts.head(columns.head(cells))
            gauge = parts.gauge(columns.place(cells))
            tail = _NO_TAIL
            if columns.has_tail:
                positions = gauge.characteristic.positions if isinstance(gauge, GaugeCell) else ()
                tail = parts.tail(columns.tail(cells), positions)
            if head.problems or tail.problems or not isinstance(gauge, GaugeCell):
                self._refuse_row(row, cells, head, gauge, tail)
            else:
                take(row, cells, head, gauge, tail)
                last = common(cells), (head, gauge, tail)

    def _fitted(self, row: int, given: Sequence[str]) -> Sequence[str] | None:
        """Give a row exactly the header's cells and the "" that stands for absent columns."""
        width = self._columns.width
        if len(given) == width:
            return [*given, ""]
        extra = next((cell for cell in given[width:] if cell), "")
        if not extra:
            return [*given[:width], *[""] * (width + 1 - len(given[:width]))]
        reason = f"the row has {len(given)} cells, the header {width}"
        do = "A number with a decimal comma stands in quotation marks where commas separate the cells"
        self._refuse(row, Problem("the whole row", extra, reason, f"{width} cells", do))
        return None

    def _take_long(self, row: int, cells: Sequence[str], head: Head, gauge: GaugeCell, tail: Tail) -> None:
        """Take the one value of a row whose place is known."""
        columns = self._columns
        piece = self._parts.piece(cells[columns.piece or 0])
        problem = self._take_value(row, piece, cells[columns.values[0][1]], head, gauge, tail)
        if problem is None:
            self.accepted_rows += 1
        else:
            self._refuse(row, problem)

    def _take_wide(self, row: int, cells: Sequence[str], head: Head, gauge: GaugeCell, tail: Tail) -> None:
        """Take the values of a subgroup; a row counts as taken unless every value in it is refused."""
        taken = refused = 0
        for piece, cell in self._columns.values:
            if not cells[cell]:
                continue
            problem = self._take_value(row, piece, cells[cell], head, gauge, tail)
            if problem is None:
                taken += 1
            else:
                refused += 1
                self._refuse(
                    row, problem._replace(column=f"x{piece}") if problem.column == "value" else problem
                )
        self.accepted_rows += bool(taken or not refused)

    def _take_value(
        self, row: int, piece: int | Problem, text: str, head: Head, gauge: GaugeCell, tail: Tail
    ) -> Problem | None:
        value = gauge.read(text, self._parts.style)
        if isinstance(piece, Problem):
            return piece
        if isinstance(value, Problem):
            return value
        name, position = gauge.name, tail.position
        check = head.check
        if check is None or self._moments.hours:
            check = self._check(head, (head.row.part, name, piece, position))
        part_c, master_c = tail.temperatures
        number, answer = value
        return check.take(
            head.row, Reading(name, piece, text, number, answer, gauge.unit, position, part_c, master_c, row)
        )

    def _check(self, head: Head, key: Hashable) -> CheckBuilding:
        """Find the check of a row; file order says which, in the hour that autumn repeats."""
        assert head.placed is not None  # a row without a time was refused
        moment = self._moments.choose(head.placed, head.row.machine, key)
        place = (moment, head.row.machine, head.row.part)
        check = self.checks.get(place)
        if check is None:
            check = self.checks[place] = CheckBuilding(*place)
        if head.placed[1] is None:
            head.check = check
        return check

    def _refuse_row(
        self, row: int, cells: Sequence[str], head: Head, gauge: GaugeCell | Problem | None, tail: Tail
    ) -> None:
        """Collect everything that is wrong in a row that cannot be taken, its values too."""
        problems = [*head.problems, *([gauge] if isinstance(gauge, Problem) else []), *tail.problems]
        if self._columns.piece is not None:
            piece = self._parts.piece(cells[self._columns.piece])
            problems += [piece] if isinstance(piece, Problem) else []
        for number, cell in self._columns.values:
            value = gauge.read(cells[cell], self._parts.style) if isinstance(gauge, GaugeCell) else None
            if isinstance(value, Problem) and (cells[cell] or not number):
                problems.append(value._replace(column=f"x{number}") if number else value)
        for problem in problems:
            self._refuse(row, problem)

    def _refuse(self, row: int, problem: Problem) -> None:
        self.refusals.append(problem.at(self._table.file, row))

    def _numbers(self) -> Iterator[tuple[str, Fits | None]]:
        """Yield the texts with a comma that should be numbers, with the plan's test for them."""
        columns = self._columns
        for _, given in self._table.rows:
            if len(given) > columns.width and any(given[columns.width :]):
                continue
            cells = [*given[: columns.width], *[""] * (columns.width + 1 - len(given[: columns.width]))]
            for _, cell in columns.values:
                if "," in cells[cell]:
                    gauge = self._parts.gauge(columns.place(cells))
                    yield cells[cell], gauge.fits if isinstance(gauge, GaugeCell) else None
            for text in columns.tail(cells)[1:]:
                if "," in text:
                    yield text, None
