"""Tables for one-off answers: with the station's columns, with x1 … xn alone, or numbers without a header."""

from dataclasses import dataclass, field
from typing import Final

from spc.errors import Refusal, Refused
from spc.intake.number import both_readings
from spc.intake.reading_columns import is_reading_column, piece_of_column
from spc.intake.source import Source
from spc.intake.table_file import TableRead, read_table, refuse_unknown_columns
from spc.shop.layouts import READING_COLUMNS

__all__ = ["NEEDED", "BareTable", "read_bare_table"]

NEEDED: Final = "x1 … xn, or one column of numbers, or the columns of readings.csv"
_FAILED_SUMS: Final = ("#N/A", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!")


@dataclass(frozen=True, slots=True)
class BareTable:
    """Rows of numbers and where their values stand.

    Attributes
    ----------
    piece : int or None
        Cell of the piece number; None where a row is a subgroup.
    values : tuple of (piece, cell)
    """

    file: str
    separator: str
    columns: list[str]
    rows: list[tuple[int, list[str]]]
    piece: int | None
    values: tuple[tuple[int, int], ...]
    refusals: list[Refusal] = field(default_factory=list)

    def cell(self, cells: list[str], place: int) -> str:
        """Return a cell, "" beyond the end of the row."""
        return cells[place] if place < len(cells) else ""

    def named(self, cells: list[str], column: str) -> str:
        """Return a cell by its column, "" where there is none."""
        return self.cell(cells, self.columns.index(column)) if column in self.columns else ""


def read_bare_table(source: Source) -> BareTable:
    """Read a table with or without a header.

    Raises
    ------
    Refused
        No table, or a header that says nothing known above more than one column.

    Notes
    -----
    Lines that begin with "#" are remarks. Without a header, numbers with a decimal comma need ";" or tab; one
    column of them is still told where a cell such as "05" can only be decimals. A column named x alone holds
    single pieces.
    """
    table = read_table(source, is_reading_column, NEEDED, header_needed=False)
    rows = [(row, list(cells)) for row, cells in table.rows if not _is_remark(cells[0])]
    columns = table.columns
    if all(_is_number(column) for column in columns if column):
        columns = [f"x{piece}" for piece in range(1, len(columns) + 1)]
        rows.insert(0, (table.header_row, [cell.strip() for cell in table.header]))
        if table.separator == "," and _split_decimals(rows):
            columns, rows = ["x1"], [(row, [",".join(cells)]) for row, cells in rows]
    elif len(columns) == 1:
        columns = ["x1"]
    elif "x" in columns and not any(map(is_reading_column, columns)):
        columns[columns.index("x")] = "x1"
    piece = columns.index("piece") if {"piece", "value"} <= set(columns) else None
    wide = sorted((number, cell) for cell, name in enumerate(columns) if (number := piece_of_column(name)))
    if piece is not None:
        wide = [(0, columns.index("value"))]
    elif not wide and "value" in columns:
        wide = [(1, columns.index("value"))]
    if not wide:
        shown = ", ".join(columns)[:60]
        reason = "nothing here names the values"
        raise Refused.one(
            reason, value=shown, file=table.file, row=table.header_row, column="header", allowed=NEEDED
        )
    shaped = TableRead(table.file, table.separator, columns, table.header_row, [], False, table.refusals)
    refuse_unknown_columns(shaped, is_reading_column, READING_COLUMNS)
    return BareTable(table.file, table.separator, columns, rows, piece, tuple(wide), shaped.refusals)


def _is_remark(cell: str) -> bool:
    """Say whether a line is a remark; what a sheet writes for a failed sum is an unreadable cell instead."""
    return cell.startswith("#") and cell.upper() not in _FAILED_SUMS


def _split_decimals(rows: list[tuple[int, list[str]]]) -> bool:
    """Say whether two columns of digits are one of numbers with decimal commas: no piece reads 05."""
    if not all(len(cells) == 2 and cells[1].isdecimal() for _, cells in rows):
        return False
    return any(len(cells[1]) > 1 and cells[1].startswith("0") for _, cells in rows)


def _is_number(text: str) -> bool:
    return both_readings(text) != (None, None)
