"""Grades of travel. JIS rows up to 800 mm, the 300 mm of C1 to C7 and single ISO cells were read; see each mark."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import (
    FROM_MEMORY,
    GRADES,
    NOT_DEFINED,
    NOT_KNOWN,
    READ,
    excess_travel_mm,
    readings_needed,
    travel,
    travel_grade,
    travel_tolerances,
)

JIS_READ = {  # mean ± / variation, over–to: C0, C1, C2, C3, C5
    100: (3, 3, 3.5, 5, 5, 7, 8, 8, 18, 18),
    200: (3.5, 3, 4.5, 5, 7, 7, 10, 8, 20, 18),
    315: (4, 3.5, 6, 5, 8, 7, 12, 8, 23, 18),
    400: (5, 3.5, 7, 5, 9, 7, 13, 10, 25, 20),
    500: (6, 4, 8, 5, 10, 7, 15, 10, 27, 20),
    630: (6, 4, 9, 6, 11, 8, 16, 12, 30, 23),
    800: (7, 5, 10, 7, 13, 9, 18, 13, 35, 25),
}
JIS_REMEMBERED = {
    1000: (8, 6, 11, 8, 15, 10, 21, 15, 40, 27),
    1600: (11, 7, 15, 10, 21, 13, 29, 18, 54, 35),
    4000: (None, None, 30, 18, 44, 25, 60, 35, 115, 65),
    6300: (None, None, None, None, 65, 36, 90, 50, 170, 93),
}


@pytest.mark.parametrize(("up_to", "row"), [*JIS_READ.items(), *JIS_REMEMBERED.items()])
def test_rows_of_jis(up_to: int, row) -> None:
    for place, grade in enumerate(("C0", "C1", "C2", "C3", "C5")):
        found = travel_tolerances("jis", grade, up_to)
        assert (found.mean_um.value, found.variation_um.value) == row[2 * place : 2 * place + 2]
        assert found.makers_addition == (grade == "C2")
        if up_to in JIS_READ:
            assert found.mean_um.how == found.variation_um.how == READ
        elif row[2 * place] is not None:
            assert found.variation_um.how == FROM_MEMORY


def test_a_row_goes_up_to_and_including_its_end() -> None:
    assert travel_tolerances("jis", "C3", 200.0).mean_um.value == 10.0
    assert travel_tolerances("jis", "C3", 200.1).mean_um.value == 12.0
    assert travel_tolerances("jis", "C3", 7000.0).mean_um.how == NOT_KNOWN


@pytest.mark.parametrize(
    ("standard", "grades", "in_300", "in_turn"),
    [
        ("jis", GRADES["jis"], (3.5, 5, 8, 18, 50, 210), (3, 4, 6, 8, None, None)),
        ("iso", GRADES["iso"], (None, 6, 8, 12, 16, 23, 52, 210), (3, 4, 5, 6, 7, 8, None, None)),
    ],
)
def test_any_300_mm_and_any_turn(standard, grades, in_300, in_turn) -> None:
    found = [travel_tolerances(standard, grade, 500.0) for grade in grades]
    assert tuple(one.variation_300_um.value for one in found) == in_300
    assert tuple(one.variation_2pi_um.value for one in found) == in_turn


def test_iso_points_that_were_read() -> None:
    """A maker's public page on lead error per 300 mm: P3 at 900 mm has 21 and 12; P5 a variation of 35."""
    third, fifth = travel_tolerances("iso", "P3", 900.0), travel_tolerances("iso", "P5", 900.0)
    assert (third.mean_um.value, third.mean_um.how) == (21.0, READ)
    assert (third.variation_300_um.value, third.variation_300_um.how) == (12.0, READ)
    assert (fifth.variation_um.value, fifth.variation_um.how) == (35.0, READ)


def test_iso_mean_deviations_follow_the_tolerance_grades_of_lengths() -> None:
    """IT1 … IT5 at 250–315 mm: 6, 8, 12, 16, 23 (a public ISO 286 table, read)."""
    means = [travel_tolerances("iso", f"P{grade}", 300.0).mean_um.value for grade in range(1, 6)]
    assert means == [6, 8, 12, 16, 23]
    fifth = [
        travel_tolerances("iso", "P5", up_to).mean_um for up_to in (400, 500, 630, 800, 1000, 1250, 1600)
    ]
    assert [one.value for one in fifth] == [25, 27, 32, 36, 40, 47, 55]
    assert {one.how for one in fifth} == {READ}


def test_what_the_standards_leave_open() -> None:
    for grade in ("P0", "P2", "P4"):
        assert travel_tolerances("iso", grade, 500.0).variation_um.how == NOT_KNOWN
    assert travel_tolerances("iso", "P0", 500.0).variation_300_um.how == NOT_KNOWN
    for standard, grade in (("jis", "C7"), ("jis", "C10"), ("iso", "T7")):
        assert travel_tolerances(standard, grade, 500.0).variation_um.how == NOT_DEFINED
    assert travel_tolerances("iso", "T7", 600.0).mean_um.value == 208.0  # 2 × 600/300 × 52 (from memory)
    assert [travel_tolerances("jis", one, 500.0).error_300_um.value for one in ("C7", "C8", "C10")] == [
        50,
        100,
        210,
    ]


@pytest.mark.parametrize(
    ("up_to", "jis", "iso"),
    [(600, 30, 32), (700, 35, 36), (1200, 46, 47), (1500, 54, 55), (2400, 77, 78), (3000, 93, 96)],
)
def test_the_two_standards_differ(up_to, jis, iso) -> None:
    assert travel_tolerances("jis", "C5", up_to).mean_um.value == jis
    assert travel_tolerances("iso", "P5", up_to).mean_um.value == iso


@pytest.mark.parametrize("standard", ["jis", "iso"])
def test_tolerances_never_shrink_with_travel_or_grade(standard) -> None:
    names = ("mean_um", "variation_um", "variation_300_um", "variation_2pi_um")
    lengths = [50, 150, 300, 350, 450, 600, 700, 900, 1200, 1500, 1800, 2200, 3000]
    for name in names:
        table = [
            [getattr(travel_tolerances(standard, grade, length), name).value for length in lengths]
            for grade in GRADES[standard]
        ]
        for row in table:
            known = [value for value in row if value is not None]
            assert known == sorted(known)
        for column in zip(
            *(row for row, grade in zip(table, GRADES[standard], strict=True) if grade[0] != "T"), strict=True
        ):
            known = [value for value in column if value is not None]
            assert known == sorted(known)


def test_readings_and_excess_travel_by_lead() -> None:
    """A public catalogue of ball screws of 1999, page 81 (read): grades 1, 3, 5, 7, 9."""
    table = {
        2.5: [30, 20, 10, 5, 5], 5: [15, 10, 6, 3, 3], 10: [10, 5, 3, 1, 1], 16: [8, 5, 3, 1, 1],
        20: [5, 5, 3, 1, 1], 25: [4, 4, 3, 1, 1], 32: [3, 3, 2, 1, 1], 40: [None, 2, 1, 1, 1],
    }  # fmt: skip
    for lead, row in table.items():
        assert [readings_needed(lead, grade) for grade in (1, 3, 5, 7, 9)] == row
    assert [excess_travel_mm(lead) for lead in table] == [10, 20, 40, 50, 60, 70, 80, 100]
    assert readings_needed(1.0, 1) == 30
    assert readings_needed(12.0, 10) == readings_needed(10.0, 9)


def test_L1_the_grade_and_what_prevents_the_next() -> None:
    found = travel([0, 100, 200, 300, 400, 500, 600], [0, 2, 5, 4, 8, 9, 14])
    jis = travel_grade(found, "jis")
    assert (jis.grade, jis.next_grade) == ("C3", "C1")
    assert jis.prevents == ("mean travel deviation 12.64 µm, allowed ±9 µm",)
    iso = travel_grade(found, "iso")
    assert (iso.grade, iso.next_grade) == ("P3", "P2")
    assert iso.prevents[-1] == "tolerance of the variation over the useful travel is not known"


def straight(length: float, slope: float):
    x = np.arange(0.0, length + 1, 50.0)
    return travel(x, slope * x)


def test_none_and_cannot_be_told_are_two_things() -> None:
    none = travel_grade(straight(600.0, 1.0), "jis")
    assert (none.grade, none.next_grade) == (None, "C10")
    assert none.prevents == ("travel error in 300 mm 300.00 µm, allowed ±210 µm",)
    far = travel_grade(straight(6600.0, 1.0), "jis")
    assert far.grade == "cannot be told"
    assert travel_grade(straight(6600.0, 0.0), "jis").grade == "C7"
    assert travel_grade(straight(600.0, 0.0), "jis").next_grade is None


def test_too_few_readings_are_said() -> None:
    found = travel(np.arange(0.0, 601.0, 16.0), np.zeros(38), lead_mm=16.0)
    said = travel_grade(found, "jis", lead_mm=16.0).cautions
    assert said == ("fewer than four readings in a turn: its variation is shown too small",)
    sparse = travel(np.arange(0.0, 601.0, 50.0), np.zeros(13))
    assert travel_grade(sparse, "jis", lead_mm=10.0).cautions[-1] == (
        "6 readings in 300 mm, grade C0 at a lead of 10 mm asks for 10: measure more closely"
    )


@given(st.floats(-0.4, 0.4), st.floats(0.0, 60.0), st.sampled_from(["jis", "iso"]))
def test_a_worse_trace_never_reaches_a_finer_grade(slope, wave, standard) -> None:
    x = np.arange(0.0, 601.0, 25.0)
    ranks = [
        [
            one.verdict
            for one in travel_grade(travel(x, share * (slope * x + wave * np.sin(x / 60))), standard).grades
        ]
        for share in (1.0, 1.5)
    ]
    for better, worse in zip(*ranks, strict=True):
        assert not (worse == "reached" and better != "reached")


def test_unknown_words_are_refused() -> None:
    with pytest.raises(Refused, match=r"unknown standard.*din.*jis, iso"):
        travel_grade(straight(600.0, 0.0), "din")
    with pytest.raises(Refused, match=r"no such grade.*P3.*C0, C1, C3"):
        travel_tolerances("jis", "P3", 100.0)
