"""readings.csv: what is taken, in which layouts, and what is refused with its place."""

from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

import pytest
from intake_samples import HEADER, plan, read, row, values

from spc.errors import Refused
from spc.intake import read_plan, read_readings


def one_refusal(text: str):
    found = read(text).refusals
    assert len(found) == 1, found
    return found[0]


def test_rows_of_one_time_machine_and_part_make_one_check() -> None:
    found = read(
        f"{HEADER},counter,operator,purpose,unit\n"
        "2026-03-02T09:00,R1,P-31,over_pin,1,31.251,310,Ida,first_off,mm\n"
        "2026-03-02T09:00,R1,P-31,over_pin,2,1.2303,310,Ida,first_off,in\n"
        "2026-03-02T09:00,R1,P-31,look,1,torn flank,310,,,\n"
        "2026-03-02T10:00,R2,P-31,runout,1,0.012,,,,mm\n"
    )
    assert found.refusals == ()
    assert (found.rows, found.accepted_rows) == (4, 4)
    first, second = found.checks
    assert (first.time, first.machine, first.part) == (datetime(2026, 3, 2, 8, tzinfo=UTC), "R1", "P-31")
    assert (first.counter, first.operator, first.purpose) == (310, "Ida", "first_off")
    assert [reading.value for reading in first.readings] == [Decimal("31.251"), Decimal("31.24962"), None]
    assert first.readings[1].text == "1.2303"
    assert (first.readings[2].answer, first.readings[2].row) == ("torn flank", 4)
    assert (second.counter, second.purpose, second.readings[0].value) == (None, "hourly", Decimal(12))
    assert first.source == "readings.csv"


PLAIN = f"{HEADER}\n{row('31.251')}\n{row('31.252', piece=2)}\n{row('ok', 'look')}\n"
SAME = [("over_pin", 1, "31.251"), ("over_pin", 2, "31.252"), ("look", 1, "ok")]


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        "\ufeff" + PLAIN,
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace(",", ";").replace(".", ","),
        PLAIN.replace(",", " , "),
        PLAIN.upper().replace("OVER_PIN", "over_pin").replace("LOOK", "look"),
        "sep=;\n" + PLAIN.replace(",", ";"),
        "# a remark\n\n" + PLAIN.replace("\n", "\n\n"),
        PLAIN.replace("31.251", '"31,251"').replace("31.252", '"31,252"'),
        "time,machine,part,characteristic,x1,x2\n"
        "2026-03-02 09:00:00,R1,P-31,over_pin,31.251,31.252\n2026-03-02T09:00+01:00,R1,P-31,look,OK\n",
    ],
)
def test_every_layout_gives_the_same_check(text: str) -> None:
    found = read(text)
    assert found.refusals == ()
    assert values(found) == SAME
    assert len(found.checks) == 1


@pytest.mark.parametrize(
    ("line", "column", "value", "allowed"),
    [
        (row("31.2x"), "value", "31.2x", "31.250"),
        (row("NaN"), "value", "NaN", "31.250"),
        (row("3.1."), "value", "3.1.", "31.250"),
        (row(""), "value", "", "31.250"),
        (row('"99,000"'), "value", "99,000", "31.250"),
        (row("31.25", "over_pn"), "characteristic", "over_pn", "over_pin, lead_error"),
        (row("fine", "look"), "value", "fine", "ok, flakes, torn flank"),
        (row("31.25", time="09:00"), "time", "09:00", "2026-03-02T09:00"),
        (row("31.25", time="2026-03-02"), "time", "2026-03-02", "2026-03-02T09:00"),
        (row("31.25", time="02.03.2026 09:00"), "time", "02.03.2026 09:00", "2026-03-02T09:00"),
        (row("31.25", time="2026-02-30T09:00"), "time", "2026-02-30T09:00", "2026-03-02T09:00"),
        (row("31.25", time="2026-03-29T02:30"), "time", "2026-03-29T02:30", "2026-03-02T09:00"),
        (row("31.25").replace("P-31", "P-32"), "part", "P-32", "P-31"),
        (row("31.25").replace("R1", "R9"), "machine", "R9", "R1, R2"),
        (row("31.25").replace("R1", ""), "machine", "", "R1, R2"),
        (row("31.25", piece=0), "piece", "0", "1 … n"),
        (row("31.25").replace("pin,1", "pin,one"), "piece", "one", "1 … n"),
        (row("31,25"), "the whole row", "25", "6 cells"),
        (row('"31.25'), "the whole line", "", "in pairs"),
    ],
)
def test_a_bad_row_is_refused_with_its_place_and_costs_no_other(line, column, value, allowed) -> None:
    found = read(f"{HEADER}\n{line}\n{row('31.260', piece=7)}\n")
    assert values(found) == [("over_pin", 7, "31.260")]
    (refusal,) = found.refusals
    assert (refusal.file, refusal.row, refusal.column) == ("readings.csv", 2, column)
    assert allowed in refusal.allowed
    assert refusal.value == value or not value
    assert refusal.reason


@pytest.mark.parametrize(
    ("column", "value", "allowed"),
    [
        ("unit", "cm", "mm, um, in"),
        ("unit", "deg", "mm, um, in"),
        ("counter", "-3", "whole number"),
        ("counter", "3.5", "whole number"),
        ("purpose", "hourli", "hourly, setup"),
        ("temperature_c", "warm", "31.250"),
    ],
)
def test_bad_extra_cells_refuse_the_row(column: str, value: str, allowed: str) -> None:
    refusal = one_refusal(f"{HEADER},{column}\n{row('31.25')},{value}\n")
    assert (refusal.row, refusal.column, refusal.value) == (2, column, value)
    assert allowed in refusal.allowed


def test_all_that_is_wrong_in_a_row_is_told_together() -> None:
    found = read(f"{HEADER},counter\n9:00,R9,P-31,over_pin,0,x,y\n")
    assert {refusal.column for refusal in found.refusals} == {"time", "machine", "piece", "value", "counter"}
    assert (found.rows, found.accepted_rows, found.checks) == (1, 0, ())


def test_a_column_nobody_knows_is_reported_once() -> None:
    found = read(f"{HEADER},operater\n{row('31.25')},Ida\n{row('31.26', piece=2)},Ida\n")
    (refusal,) = found.refusals
    assert (refusal.row, refusal.column, refusal.do) == (1, "operater", "Perhaps operator is meant")
    assert found.accepted_rows == 2


def test_a_repeated_row_counts_as_taken_another_value_is_a_conflict() -> None:
    found = read(f"{HEADER}\n{row('31.25')}\n{row('31.250')}\n{row('31.26')}\n")
    assert (found.accepted_rows, len(found.checks[0].readings)) == (2, 1)
    (refusal,) = found.refusals
    assert (refusal.row, refusal.value) == (4, "31.26")
    assert "row 2 already gives" in refusal.reason


def test_positions_are_separate_keys() -> None:
    found = read(f"{HEADER},position,temperature_c\n{row('31.25')},top,21.5\n{row('31.26')},foot,21.5\n")
    assert [(each.position, each.temperature_c) for each in found.checks[0].readings] == [
        ("top", Decimal("21.5")),
        ("foot", Decimal("21.5")),
    ]


def test_a_counter_that_contradicts_its_check_is_refused() -> None:
    found = read(
        f"{HEADER},counter\n{row('31.25')},\n{row('31.26', piece=2)},310\n{row('31.27', piece=3)},311\n"
    )
    assert (found.checks[0].counter, found.accepted_rows) == (310, 2)
    assert (found.refusals[0].row, found.refusals[0].column, found.refusals[0].allowed) == (
        4,
        "counter",
        "310",
    )


def test_a_refused_row_settles_nothing_for_its_check() -> None:
    found = read(f"{HEADER},counter\n{row('x')},310\n{row('31.26', piece=2)},311\n")
    assert found.checks[0].counter == 311
    assert [refusal.column for refusal in found.refusals] == ["value"]


def test_wide_rows_lose_a_bad_cell_only() -> None:
    found = read(f"{HEADER[:-12]},x1,x2,x3\n2026-03-02T09:00,R1,P-31,over_pin,31.25,x,31.26\n")
    assert values(found) == [("over_pin", 1, "31.25"), ("over_pin", 3, "31.26")]
    assert [(each.row, each.column, each.value) for each in found.refusals] == [(2, "x2", "x")]


def test_more_pieces_than_planned_and_a_missing_one_are_taken() -> None:
    pieces = [1, 2, 4, 5, 6, 7]
    found = read("\n".join([HEADER, *(row("31.25", piece=piece) for piece in pieces)]))
    assert [reading.piece for reading in found.checks[0].readings] == pieces


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "empty"),
        (b" \n\n", "empty"),
        (b"%PDF-1.7 ...", "a PDF"),
        (b"\x89PNG\r\n\x1a\n\0\0", "a picture"),
        (b"\xff\xfet\0i\0", "UTF-16"),
        (b"abc\0def\n1\0", "binary"),
        (b"PK\x03\x04 not really a sheet", "not a readable XLSX"),
        (b"hello\nworld\n", "none of the columns"),
        (b"time,machine,part,piece,value\n", "lacks characteristic"),
        (b"time,time,machine,part,characteristic,piece,value\n", "twice"),
    ],
)
def test_what_is_no_readings_file_is_one_paragraph_naming_the_columns(content: bytes, reason: str) -> None:
    with pytest.raises(Refused, match=reason) as refused:
        read(content)
    (refusal,) = refused.value.refusals
    assert refusal.file == "readings.csv"
    assert refusal.allowed


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="cannot be opened"):
        read_readings(tmp_path / "absent.csv", [plan()])


def test_a_line_that_is_not_utf8_is_refused_alone() -> None:
    content = f"{HEADER},operator\n{row('31.25')},J\xfcrg\n{row('31.26', piece=2)},Ida\n".encode("latin-1")
    found = read(content)
    assert values(found) == [("over_pin", 2, "31.26")]
    assert [(each.row, each.allowed) for each in found.refusals] == [(2, "text saved as UTF-8")]


def test_without_machines_in_any_plan_every_machine_is_taken() -> None:
    text = plan().text.replace('[[machine]]\nid = "R1"\n', "").replace('[[machine]]\nid = "R2"\n', "")
    found = read_readings(
        ("a.csv", f"{HEADER}\n{row('31.25')}\n".replace("R1", "any").encode()), [read_plan(text)]
    )
    assert found.checks[0].machine == "any"
