"""CSV and XLSX files as rows of text, with what cannot be a row collected."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from spc.errors import Refusal, Refused
from spc.intake.csv_rows import csv_rows, decoded
from spc.intake.nearest import nearest
from spc.intake.sheet_rows import sheet_rows
from spc.intake.source import Source, bytes_of

__all__ = ["TableRead", "read_table", "refuse_unknown_columns"]

Rows = list[tuple[int, Sequence[str]]]
_SEPARATORS = (";", "\t", ",")
_OTHER_FILES = {b"%PDF": "a PDF", b"\xd0\xcf\x11\xe0": "an old binary sheet (.xls)", b"\x89PNG": "a picture"}


@dataclass(slots=True)
class TableRead:
    """A file split into cells.

    Attributes
    ----------
    columns : list of str
        Names of the header, lower case, blanks as underscores; [] where the first line is data.
    header_row : int
        Line of the header.
    header : sequence of str
        Its cells as they came.
    rows : list of (line, cells)
        Every line below that holds anything.
    separator : str
        Between the cells; "" for a sheet.
    may_hold_commas : bool
        Whether any cell can hold a comma.
    """

    file: str
    separator: str
    columns: list[str]
    header_row: int
    rows: Rows
    may_hold_commas: bool
    refusals: list[Refusal] = field(default_factory=list)
    header: Sequence[str] = ()


def read_table(
    source: Source, is_known: Callable[[str], bool], needed: str, *, header_needed: bool = True
) -> TableRead:
    """Split a file into rows of cells below a header.

    Parameters
    ----------
    source : path or (name, bytes)
    is_known : callable
        Whether a column name is one of those looked for; the separator that finds most of them is taken.
    needed : str
        The columns that must be there, for the refusal of a file without a header.
    header_needed : bool
        Whether a first row without a known column is refused.

    Raises
    ------
    Refused
        The file cannot be opened, is empty, is no table, or has no header with a known column.
    """
    name, content = bytes_of(source)
    if content[:4] == b"PK\x03\x04":
        sheet = sheet_rows(name, content, needed, lambda cells: any(is_known(_name(cell)) for cell in cells))
        return _with_header(name, "", sheet, is_known, header_needed and needed)
    lines, refusals = _lines(name, content, needed)
    first = next((place for place, line in enumerate(lines) if _says_something(line)), len(lines))
    if first < len(lines) and lines[first].lower().startswith("sep="):
        first += 1
    header = lines[first] if first < len(lines) else ""
    separator = max(_SEPARATORS, key=lambda each: _known(header, each, is_known))
    rows, broken = csv_rows(lines, first, separator, name)
    table = _with_header(name, separator, rows, is_known, header_needed and needed)
    table.may_hold_commas = _may_hold_commas(lines, separator)
    table.refusals += refusals + broken
    return table


def _lines(name: str, content: bytes, needed: str) -> tuple[list[str], list[Refusal]]:
    """Return the lines of a text file; undecodable ones are refused and left empty."""
    what = next((what for mark, what in _OTHER_FILES.items() if content.startswith(mark)), "")
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        what = "UTF-16 text"
    if not what and b"\0" in content:
        what = "a binary file"
    if what:
        reason = f"this is {what}, not a CSV"
        raise Refused.one(reason, file=name, allowed=f"CSV (UTF-8) or XLSX with the columns {needed}")
    if not content.strip():
        raise Refused.one("the file is empty", file=name, allowed=f"CSV or XLSX with the columns {needed}")
    return decoded(name, content)


def _says_something(line: str) -> bool:
    return bool(line.strip(" ;,\t")) and not line.startswith("#")


def _known(header: str, separator: str, is_known: Callable[[str], bool]) -> tuple[int, bool, int]:
    """Rank a separator; beside ";" or a tab, the commas of a first line are decimal ones."""
    names = [_name(cell) for cell in header.split(separator)]
    return sum(map(is_known, names)), separator != "," and separator in header, len(names)


def _name(cell: str) -> str:
    return cell.strip().strip('"').strip().lower().replace(" ", "_")


def _may_hold_commas(lines: list[str], separator: str) -> bool:
    mark = '"' if separator == "," else ","
    return any(mark in line for line in lines)


def _with_header(
    name: str, separator: str, rows: Rows, is_known: Callable[[str], bool], needed: str | Literal[False]
) -> TableRead:
    """Take the first row as header and, where one is needed, check that it is one."""
    columns = [_name(cell) for cell in rows[0][1]] if rows else []
    if not rows or (needed and not any(is_known(column) for column in columns)):
        shown = (separator or ", ").join(rows[0][1] if rows else ())[:60]
        line = rows[0][0] if rows else None
        reason = "the first line names none of the columns needed"
        raise Refused.one(reason, value=shown, file=name, row=line, column="header", allowed=needed or "rows")
    while columns and not columns[-1]:
        columns.pop()
    twice = next((column for column in columns if is_known(column) and columns.count(column) > 1), "")
    if twice:
        raise Refused.one(
            "a column stands here twice", value=twice, file=name, row=rows[0][0], column=twice,
            allowed="each column once",
        )  # fmt: skip
    return TableRead(name, separator, columns, rows[0][0], rows[1:], separator != ",", header=rows[0][1])


def refuse_unknown_columns(table: TableRead, is_known: Callable[[str], bool], allowed: Sequence[str]) -> None:
    """Report, once each, the columns nobody knows; their cells are left out."""
    for column in dict.fromkeys(table.columns):
        if column and not is_known(column):
            table.refusals.append(
                Refusal(
                    "a column nobody knows, left out", column, table.file, table.header_row, column,
                    ", ".join(allowed), nearest(column, allowed),
                )
            )  # fmt: skip
