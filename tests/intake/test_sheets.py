"""XLSX sheets: dates, numbers and texts as people keep them."""

import io
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

import openpyxl
import pytest
from intake_samples import read, values

from spc.errors import Refused
from spc.intake import read_columns, read_subgroups

HEAD = ["Time", "Machine", "Part", "Characteristic", "Piece", "Value", "Counter"]
AT = datetime(2026, 3, 2, 9)  # noqa: DTZ001  # a sheet's dates carry no zone


def sheet(*pages: list[list[Any]]) -> bytes:
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for number, rows in enumerate(pages):
        page = book.create_sheet(f"page {number}")
        for cells in rows:
            page.append(cells)
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def test_numbers_dates_and_texts_of_a_sheet() -> None:
    found = read(
        sheet(
            [["Made by", "Ida"]],
            [
                HEAD,
                [AT, "R1", "P-31", "over_pin", 1, 31.251, 310],
                ["2026-03-02T09:00", "R1", "P-31", "over_pin", "2", "31.252", "310"],
                [AT, "R1", "P-31", "over_pin", 3.0, 31, 310.0],
                [AT, "R1", "P-31", "look", 1, "ok", None],
                [None] * 7,
                [AT, "R1", "P-31", "lead_error", 1, 1e-05, 310],
            ],
        )
    )
    assert found.refusals == ()
    assert values(found) == [
        ("over_pin", 1, "31.251"), ("over_pin", 2, "31.252"), ("over_pin", 3, "31"), ("look", 1, "ok"),
        ("lead_error", 1, "0.00001"),
    ]  # fmt: skip
    assert found.checks[0].readings[-1].row == 7


def test_a_number_cell_is_never_read_with_a_decimal_comma() -> None:
    rows = [[AT, "R1", "P-31", "over_pin", 1, "31,25", 1], [AT, "R1", "P-31", "over_pin", 2, 31.125, 1]]
    assert values(read(sheet([HEAD, *rows]))) == [("over_pin", 1, "31.25"), ("over_pin", 2, "31.125")]


@pytest.mark.parametrize(
    ("cell", "reason"), [(time(9), "without a date"), (None, "missing"), (46083, "not a date"), (date, "")]
)
def test_a_cell_that_is_no_moment_is_refused(cell: object, reason: str) -> None:
    given = date(2026, 3, 2) if cell is date else cell
    found = read(sheet([HEAD, [given, "R1", "P-31", "over_pin", 1, 31.25, 1]]))
    if cell is date:  # a sheet keeps a date as midnight
        assert found.checks[0].time.hour == 23
    else:
        assert [(each.row, each.column) for each in found.refusals] == [(2, "time")]
        assert reason in found.refusals[0].reason


def test_bare_numbers_of_a_sheet() -> None:
    assert read_subgroups(("f.xlsx", sheet([[1.5, 1.25], [1.75, None]]))).subgroups == ((1.5, 1.25), (1.75,))
    with pytest.raises(Refused, match="sheet is empty"):
        read_subgroups(("f.xlsx", sheet([[None]])))


def test_named_columns_of_a_study() -> None:
    text = "appraiser;part;trial;value\nA;1;1;0,29\nB;;1;0,08\nB;2;x;0,1\n"
    found = read_columns(("study.csv", text.encode()), ("appraiser", "part"), ("trial", "value"))
    assert (found.text("appraiser"), found.number("value"), found.rows) == (("A",), (Decimal("0.29"),), (2,))
    assert [(each.row, each.column) for each in found.refusals] == [(3, "part"), (4, "trial")]
    with pytest.raises(Refused, match="lacks trial"):
        read_columns(("study.csv", b"appraiser,part,value\n"), ("appraiser", "part"), ("trial", "value"))
