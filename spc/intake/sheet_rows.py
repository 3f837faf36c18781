"""XLSX sheets as rows of text: a number becomes its shortest exact text, a date ISO 8601."""

import io
import warnings
from collections.abc import Callable, Sequence
from datetime import date, datetime, time
from typing import Any

from spc.errors import Refused
from spc.intake.number import exact_text

__all__ = ["sheet_rows"]


Rows = list[tuple[int, Sequence[str]]]


def sheet_rows(name: str, content: bytes, needed: str, is_header: Callable[[Sequence[str]], bool]) -> Rows:
    """Return the rows of the first sheet with a header, else of the first that holds anything.

    Numbers of rows are those of the sheet.

    Raises
    ------
    Refused
        The file is no sheet, is damaged, or is empty.
    """
    from openpyxl import load_workbook  # here, since it takes longer to load than most CSV files to read

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # on styles and extensions of a sheet, which no row depends on
            book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
            filled = [rows for rows in map(_rows, book.worksheets) if rows]
    except Exception as error:  # a damaged sheet may fail in any way; all of them are one refusal
        reason = f"this is not a readable XLSX sheet ({type(error).__name__})"
        raise Refused.one(reason, file=name, allowed=f"CSV or XLSX with the columns {needed}") from error
    if filled:
        return next((rows for rows in filled if is_header(rows[0][1])), filled[0])
    raise Refused.one("the sheet is empty", file=name, allowed=f"CSV or XLSX with the columns {needed}")


def _rows(sheet: Any) -> Rows:
    rows: Rows = []
    for number, cells in enumerate(sheet.iter_rows(values_only=True), start=1):
        texts = [_text(cell) for cell in cells]
        if any(texts):
            rows.append((number, texts))
    return rows


def _text(cell: object) -> str:
    """Say a cell as text."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return str(cell).lower()
    if isinstance(cell, int | float):
        return exact_text(cell)
    if isinstance(cell, datetime):
        return _rounded(cell).isoformat()
    if isinstance(cell, date | time):
        return cell.isoformat()
    return str(cell).strip()


def _rounded(moment: datetime) -> datetime:
    """Drop the fraction of a second that a sheet's day count leaves behind."""
    if moment.microsecond < 1000:
        return moment.replace(microsecond=0)
    return moment
