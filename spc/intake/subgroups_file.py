"""Subgroups for a one-off answer: the station's own layouts without a plan, or a bare CSV."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from spc.errors import Refusal, Refused
from spc.intake.bare_file import NEEDED, BareTable, read_bare_table
from spc.intake.nearest import listed
from spc.intake.number import AS_ALLOWED, NumberStyle, read_between, read_whole
from spc.intake.number_style import settle_style
from spc.intake.source import Source
from spc.intake.unit import converted, read_unit
from spc.shop.layouts import UNITS

__all__ = ["SubgroupsRead", "read_subgroups"]

_NAMES = ("machine", "part", "characteristic")


@dataclass(frozen=True, slots=True)
class SubgroupsRead:
    """Subgroups in file order.

    Attributes
    ----------
    subgroups : tuple of tuple of float
        Each with at least one piece, in the unit of the first row.
    unit : str or None
        None where the file names none.
    machine, part, characteristic : str or None
        What was picked; None where the file has no such column.
    left_out_rows : int
        Rows of checks that were not hourly; limits and capability use hourly checks only.
    refusals : tuple of Refusal
        Cells that could not be read.
    """

    subgroups: tuple[tuple[float, ...], ...]
    unit: str | None = None
    machine: str | None = None
    part: str | None = None
    characteristic: str | None = None
    left_out_rows: int = 0
    refusals: tuple[Refusal, ...] = ()


def read_subgroups(
    path: Source, machine: str | None = None, part: str | None = None, characteristic: str | None = None
) -> SubgroupsRead:
    """Read the pieces of one characteristic, subgroup by subgroup, for a command that needs no plan.

    Parameters
    ----------
    path : path, or (name, bytes)
        CSV or XLSX: the layouts of `readings.csv`; or a header x1 … xn and one subgroup a row, where empty
        cells at the end mean fewer pieces; or one column, individuals. A first line of numbers only is data.
    machine, part, characteristic : str or None
        Which of several to take.

    Raises
    ------
    Refused
        No table, nothing readable, more than one machine, part or characteristic left, or none of that name.
    """
    table = read_bare_table(path)
    style = settle_style(((text, None) for text in _value_texts(table)), table.separator)
    picked = _picked(table, {"machine": machine, "part": part, "characteristic": characteristic})
    reader = _Reader(table, style, picked)
    for row, cells in table.rows:
        reader.take(row, cells)
    subgroups = tuple(tuple(values.values()) for values in reader.subgroups.values() if values)
    refusals = (*table.refusals, *reader.refusals)
    if not subgroups:
        raise Refused(refusals or [Refusal("the file holds no values", file=table.file, allowed=NEEDED)])
    machine, part, characteristic = (picked.get(name) for name in _NAMES)
    return SubgroupsRead(
        subgroups, reader.unit, machine, part, characteristic, reader.left_out_rows, refusals
    )


def _value_texts(table: BareTable) -> Iterator[str]:
    for _, cells in table.rows:
        for _, cell in table.values:
            yield table.cell(cells, cell)


def _picked(table: BareTable, wanted: dict[str, str | None]) -> dict[str, str]:
    """Settle which machine, part and characteristic is read; refuse where more than one is left."""
    rows = [cells for _, cells in table.rows]
    wanted = {name: want for name, want in wanted.items() if name in table.columns}
    picked: dict[str, str] = {}
    refusals: list[Refusal] = []
    for name, want in wanted.items():
        if want is not None:
            found = _found(table, rows, name)
            rows = [cells for cells in rows if table.named(cells, name) == want]
            picked[name] = want
            if not rows:
                reason = f"no row is of this {name}"
                raise Refused([Refusal(reason, want, table.file, None, name, listed(found))])
    for name in wanted:
        found = _found(table, rows, name)
        if len(found) > 1:
            reason = f"the file holds more than one {name}"
            refusals.append(
                Refusal(reason, "", table.file, None, name, listed(found), f"Pick one with --{name}")
            )
        elif found:
            picked[name] = found[0]
    if refusals:
        raise Refused(refusals)
    return picked


def _found(table: BareTable, rows: list[list[str]], name: str) -> list[str]:
    return sorted({table.named(cells, name) for cells in rows} - {""})


@dataclass(slots=True)
class _Reader:
    """Sorts the values of the picked rows into subgroups."""

    table: BareTable
    style: NumberStyle | None
    picked: dict[str, str]
    unit: str | None = None
    subgroups: dict[object, dict[object, float]] = field(default_factory=dict)
    left_out_rows: int = 0
    refusals: list[Refusal] = field(default_factory=list)

    def take(self, row: int, cells: list[str]) -> None:
        """Take the values of one row."""
        table = self.table
        if any(table.named(cells, name) != want for name, want in self.picked.items()):
            return
        if table.named(cells, "purpose").lower() not in ("", "hourly"):
            self.left_out_rows += 1
            return
        unit = self._unit(row, table.named(cells, "unit"))
        if unit is None:
            return
        key: object = table.named(cells, "time") if table.piece is not None else row
        subgroup = self.subgroups.setdefault(key, {})
        for piece, cell in table.values:
            text = table.cell(cells, cell)
            if text or table.piece is not None:
                self._take_value(row, cells, piece, text, unit, subgroup)

    def _take_value(
        self, row: int, cells: list[str], piece: int, text: str, unit: str, subgroup: dict[object, float]
    ) -> None:
        table = self.table
        column = f"x{piece}" if table.piece is None else "value"
        value = read_between(text, self.style)
        if isinstance(value, str):
            self._refuse(row, column, text, value, AS_ALLOWED)
            return
        place: object = piece
        if table.piece is not None:
            number = table.cell(cells, table.piece)
            place = (read_whole(number, "point", least=1), table.named(cells, "position"))
            if place[0] is None:
                self._refuse(row, "piece", number, "this is no piece of a check", "1 … n")
                return
        in_unit = converted(value, unit, self.unit) if self.unit else value
        size = float(Decimal(0) if in_unit is None else in_unit)
        if subgroup.setdefault(place, size) != size:
            self._refuse(row, column, text, "this piece already has another value", "one value a piece")

    def _unit(self, row: int, text: str) -> str | None:
        """Return the unit of a row, "" where there is none; None where it cannot be used."""
        if not text:
            return self.unit or ""
        unit = read_unit(text)
        if unit is not None and self.unit is None:
            self.unit = unit
        if unit is None or converted(Decimal(1), unit, self.unit or unit) is None:
            self._refuse(row, "unit", text, "this unit cannot be used here", listed(UNITS))
            return None
        return unit

    def _refuse(self, row: int, column: str, value: str, reason: str, allowed: str) -> None:
        self.refusals.append(Refusal(reason, value, self.table.file, row, column, allowed))
