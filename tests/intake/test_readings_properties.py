"""Any mixture of layouts gives the same checks; garbage costs itself and nothing else."""

import io
from datetime import datetime

import openpyxl
from hypothesis import given, settings
from hypothesis import strategies as st
from intake_samples import HEADER, plan, read, row, values

from spc.errors import Refused
from spc.intake.readings_file import ReadingsRead, read_readings
from spc.shop import CheckGauged

NAMES = HEADER.split(",")

sizes = st.integers(31200, 31300).map(lambda um: f"{um / 1000:.3f}")
pieces = st.lists(sizes, min_size=1, max_size=6)
hours = st.integers(0, 23)
checks_given = st.dictionaries(hours, pieces, min_size=1, max_size=4)


def rows_of(given_checks: dict[int, list[str]]) -> list[dict[str, str]]:
    return [
        dict(zip(NAMES, row(value, piece=piece, time=f"2026-03-02T{hour:02}:00").split(","), strict=True))
        for hour, sizes_of_one in given_checks.items()
        for piece, value in enumerate(sizes_of_one, start=1)
    ]


def bare(found: ReadingsRead) -> list[tuple[datetime, list[tuple[int, object]]]]:
    """What must not depend on the layout."""
    return [(check.time, pairs(check)) for check in found.checks]


def pairs(check: CheckGauged) -> list[tuple[int, object]]:
    return [(reading.piece, reading.value) for reading in check.readings]


@settings(deadline=None)
@given(
    checks_given,
    st.permutations(NAMES),
    st.sampled_from([",", ";", "\t"]),
    st.booleans(),
    st.booleans(),
    st.sampled_from(["\n", "\r\n"]),
    st.sampled_from([str.lower, str.upper, str.title]),
)
def test_layout_never_changes_the_checks(given_checks, order, separator, bom, comma, end, case) -> None:
    rows = rows_of(given_checks)
    plain = "\n".join([HEADER, *(",".join(each.values()) for each in rows)])
    lines = [separator.join(case(name) for name in order)]
    for each in rows:
        value = each["value"].replace(".", ",") if comma else each["value"]
        cells = {**each, "value": f'"{value}"' if separator == "," and comma else value}
        lines.append(separator.join(cells[name] for name in order))
    text = end.join(lines) + end
    found = read(text.encode("utf-8-sig" if bom else "utf-8"))
    assert found.refusals == ()
    assert bare(found) == bare(read(plain))
    assert found.accepted_rows == found.rows == len(rows)


@settings(deadline=None, max_examples=25)
@given(checks_given)
def test_wide_and_sheet_give_what_long_gives(given_checks) -> None:
    rows = rows_of(given_checks)
    long = read("\n".join([HEADER, *(",".join(each.values()) for each in rows)]))
    most = max(map(len, given_checks.values()))
    wide = ["time,machine,part,characteristic," + ",".join(f"x{piece}" for piece in range(1, most + 1))]
    for hour, sizes_of_one in given_checks.items():
        wide.append(",".join([f"2026-03-02T{hour:02}:00,R1,P-31,over_pin", *sizes_of_one]))
    assert bare(read("\n".join(wide))) == bare(long)
    assert bare(
        read(
            sheet(rows),
        )
    ) == bare(long)


def sheet(rows: list[dict[str, str]]) -> bytes:
    """Write rows as a sheet with real dates and numbers."""
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    page.append(NAMES)
    for each in rows:
        time, machine, part, name, piece, value = each.values()
        page.append([datetime.fromisoformat(time), machine, part, name, int(piece), float(value)])
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


@settings(deadline=None, max_examples=200)
@given(st.binary(max_size=300))
def test_any_bytes_are_refused_or_read(content: bytes) -> None:
    try:
        found = read(content)
    except Refused as refused:
        told = refused.refusals
    else:
        told = found.refusals
    assert all(each.file and each.reason and each.allowed for each in told)


junk = st.text(st.characters(codec="utf-8", exclude_characters="\n\r\0"), max_size=40)


@settings(deadline=None, max_examples=200)
@given(st.lists(junk, max_size=4), st.integers(0, 4))
def test_garbage_lines_never_lose_an_accepted_row(lines: list[str], place: int) -> None:
    good = [row("31.250", piece=piece) for piece in (1, 2, 3)]
    mixed = [*lines[:place], good[0], *lines[place:], *good[1:]]
    found = read("\n".join([HEADER, *mixed]))
    assert [each[1:] for each in values(found)] == [(piece, "31.250") for piece in (1, 2, 3)]
    for refusal in found.refusals:
        assert refusal.row is not None
        assert refusal.row >= 2
        assert refusal.column
        assert refusal.allowed


@settings(deadline=None, max_examples=200)
@given(st.sampled_from(NAMES), junk.filter(lambda text: "," not in text and '"' not in text))
def test_one_bad_cell_refuses_one_row(column: str, cell: str) -> None:
    cells = dict(zip(NAMES, row("31.250").split(","), strict=True))
    cells[column] = cell
    found = read("\n".join([HEADER, ",".join(cells.values()), row("0.001", "lead_error", 9)]))
    assert values(found)[-1] == ("lead_error", 9, "0.001")
    taken = sum(len(check.readings) for check in found.checks) - 1
    assert taken == (not found.refusals)


def test_no_plan_at_all_refuses_rows_not_the_program() -> None:
    found = read_readings(("a.csv", f"{HEADER}\n{row('31.25')}".encode()), [])
    assert [refusal.column for refusal in found.refusals] == ["part"]
    assert plan().part == "P-31"
