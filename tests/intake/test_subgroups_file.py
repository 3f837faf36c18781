"""Subgroups for one-off answers, and the refusals file."""

import csv
from pathlib import Path

import pytest
from intake_samples import HEADER, row

from spc.errors import Refusal, Refused
from spc.intake import SubgroupsRead, read_subgroups, write_refusals

RINGS = Path(__file__).parents[1] / "references" / "piston_rings.csv"


def subgroups(text: str, **picked: str) -> SubgroupsRead:
    return read_subgroups(("f.csv", text.encode()), **picked)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("x1,x2\n1.1,1.2\n1.3,1.4\n", ((1.1, 1.2), (1.3, 1.4))),
        ("X2;X1\n1,2;1,1\n1,4;1,3\n", ((1.1, 1.2), (1.3, 1.4))),
        ("1.1,1.2\n1.3,1.4\n", ((1.1, 1.2), (1.3, 1.4))),
        ("1.1,1.1\n1.3,1.4\n", ((1.1, 1.1), (1.3, 1.4))),
        ("x1,x2,x3\n1.1,1.2,\n1.3\n", ((1.1, 1.2), (1.3,))),
        ("# source: a book\nx1\n1.1\n# remark\n1.2\n", ((1.1,), (1.2,))),
        ("diameter\n1.1\n1.2\n", ((1.1,), (1.2,))),
        ("diameter\n1,1\n1,2\n", ((1.1,), (1.2,))),
        ("1.1\n1.2\n", ((1.1,), (1.2,))),
        ("-5\n7\n", ((-5.0,), (7.0,))),
        ("1,1;1,2\n1,3;1,4\n", ((1.1, 1.2), (1.3, 1.4))),
        ("1,101\t1,002\r\n1,3\t1,4\r\n", ((1.101, 1.002), (1.3, 1.4))),
        ("33,75\n33,05\n", ((33.75,), (33.05,))),  # no piece reads 05: one column of decimal commas
        ("21,20\n24,23\n", ((21.0, 20.0), (24.0, 23.0))),  # two readings each, as they stand in the books
        ("x\n1.1\n1.2\n", ((1.1,), (1.2,))),
    ],
)
def test_bare_layouts(text: str, expected: tuple) -> None:
    found = subgroups(text)
    assert found.subgroups == expected
    assert (found.unit, found.refusals) == (None, ())


def test_a_column_x_is_taken_and_what_was_computed_from_it_is_left_out() -> None:
    found = subgroups("x,smoothed\n9.45,9.945\n7.99,9.7495\n")
    assert found.subgroups == ((9.45,), (7.99,))
    assert [(each.row, each.column) for each in found.refusals] == [(1, "smoothed")]


def test_one_column_that_may_be_thousands_is_refused() -> None:
    with pytest.raises(Refused, match=r"this could be 74030 or 74\.030"):
        subgroups("74,030\n74,002\n")


def test_the_piston_rings() -> None:
    # Montgomery, Introduction to Statistical Quality Control, piston rings, inside diameter: 25 × 5
    found = read_subgroups(RINGS)
    assert [len(each) for each in found.subgroups] == [5] * 25
    assert found.subgroups[0] == (74.030, 74.002, 74.019, 73.992, 74.008)


LONG = "\n".join(
    [
        f"{HEADER},unit,purpose",
        row("31.251") + ",mm,hourly",
        row("31252", piece=2) + ",um,",
        row("31.9", piece=1, time="2026-03-02T09:30") + ",mm,setup",
        row("31.253", time="2026-03-02T10:00") + ",mm,hourly",
    ]
)


def test_the_stations_own_layouts_without_a_plan() -> None:
    found = subgroups(LONG)
    assert found.subgroups == ((31.251, 31.252), (31.253,))
    assert (found.unit, found.machine, found.part, found.characteristic) == ("mm", "R1", "P-31", "over_pin")
    assert found.left_out_rows == 1
    wide = "time,machine,part,characteristic,x1,x2\n2026-03-02T09:00,R1,P-31,over_pin,31.251,31.252\n"
    assert subgroups(wide).subgroups == ((31.251, 31.252),)


def test_more_than_one_left_is_refused_with_the_list() -> None:
    text = LONG + "\n" + row("0.001", "lead_error") + ",mm,\n" + row("0.2").replace("R1", "R2") + ",mm,\n"
    with pytest.raises(Refused) as refused:
        subgroups(text)
    assert [(each.column, each.allowed) for each in refused.value.refusals] == [
        ("machine", "R1, R2"),
        ("characteristic", "lead_error, over_pin"),
    ]
    assert subgroups(text, machine="R1", characteristic="lead_error").subgroups == ((0.001,),)
    with pytest.raises(Refused, match="no row is of this part"):
        subgroups(text, part="P-99")


def test_cells_that_cannot_be_read_are_told_the_rest_is_kept() -> None:
    found = subgroups("x1,x2\n1.1,x\n1.3,1.4\n")
    assert found.subgroups == ((1.1,), (1.3, 1.4))
    assert [(each.row, each.column, each.value) for each in found.refusals] == [(2, "x2", "x")]


@pytest.mark.parametrize("text", ["", "a,b\n1,2\n", "x1,x2\n", "x1\nx\n", "time,machine\n1,2\n"])
def test_what_holds_no_values_is_refused(text: str) -> None:
    with pytest.raises(Refused):
        subgroups(text)


def test_refusals_are_written_as_the_contract_says(tmp_path: Path) -> None:
    path = tmp_path / "refusals.csv"
    refusals = [
        Refusal("no plan names this part", "P,\n3", "a.csv", 7, "part", "P-31", "Perhaps P-31 is meant"),
        Refusal("the file is empty", file="b.csv"),
    ]
    assert write_refusals(path, refusals) == 2
    with path.open(encoding="utf-8", newline="") as file:
        lines = list(csv.reader(file))
    assert lines == [
        ["file", "row", "column", "value", "reason", "allowed"],
        ["a.csv", "7", "part", "P,\n3", "no plan names this part", "P-31. Perhaps P-31 is meant"],
        ["b.csv", "", "", "", "the file is empty", ""],
    ]
    with pytest.raises(Refused, match="cannot be written"):
        write_refusals(tmp_path / "absent" / "x.csv", refusals)
