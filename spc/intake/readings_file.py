"""readings.csv and its XLSX twin: rows to checks, whatever cannot be read or placed collected."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.errors import Refusal
from spc.intake.collector import collector_paused
from spc.intake.reading_columns import NEEDED, is_reading_column, reading_columns
from spc.intake.reading_rows import ReadingRows
from spc.intake.source import Source
from spc.intake.table_file import read_table
from spc.shop.facts import CheckGauged
from spc.shop.plan import Plan

__all__ = ["ReadingsRead", "read_readings"]


@dataclass(frozen=True, slots=True)
class ReadingsRead:
    """What a readings file gave.

    Attributes
    ----------
    checks : tuple of CheckGauged
        In file order of their first row.
    rows, accepted_rows : int
        Rows with anything in them, and those of which at least one value was taken; a row that repeats an
        earlier one counts as taken, so does a wide row that measures nothing.
    refusals : tuple of Refusal
        In file order.
    """

    file: str
    checks: tuple[CheckGauged, ...]
    rows: int
    accepted_rows: int
    refusals: tuple[Refusal, ...]


def read_readings(source: Source, plans: Sequence[Plan]) -> ReadingsRead:
    """Read a file of gauge values for whoever takes it in, replays it or dropped it on a page.

    Parameters
    ----------
    source : path, or (name, bytes)
        CSV with ",", ";" or tab, UTF-8 with or without BOM, or XLSX; one value a row, or one subgroup a row.
    plans : sequence of Plan
        One a part.

    Returns
    -------
    ReadingsRead
        Values in the plan's unit, times in UTC; refused rows cost nothing but themselves.

    Raises
    ------
    Refused
        The file cannot be opened, is no table, or lacks a needed column.

    Notes
    -----
    Implausible values are taken as written here; `plausible.doubt` speaks about them later. In the wide
    layout a refused cell costs itself, as its row would in the long layout.
    """
    with collector_paused():
        return _read(source, plans)


def _read(source: Source, plans: Sequence[Plan]) -> ReadingsRead:
    table = read_table(source, is_reading_column, NEEDED)
    reader = ReadingRows(table, reading_columns(table), plans)
    reader.take_all()
    return ReadingsRead(
        file=table.file,
        checks=tuple(check.finished(table.file) for check in reader.checks.values() if check.readings),
        rows=len(table.rows),
        accepted_rows=reader.accepted_rows,
        refusals=tuple(sorted(table.refusals + reader.refusals, key=lambda refusal: refusal.row or 0)),
    )
