"""What traces amount to: exact made-up traces of the geometry reference, section 4.5, and an independent route."""

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from traced_plan import L1, L4, L5, PLAN, PROFILE, with_rule

from spc.errors import Refused
from spc.intake import read_plan, read_trace, value_from_trace

TURN = '[characteristic.trace]\nover = "turn"\nlead_mm = 10'
IN_300 = '[characteristic.trace]\nover = "300"'


def points(trace: list[list[float]]) -> list[tuple[Decimal, Decimal]]:
    return [(Decimal(repr(x)), Decimal(repr(y))) for x, y in trace]


def value(trace: list[list[float]], name: str, plan: str = PLAN) -> Decimal:
    return value_from_trace(points(trace), read_plan(plan).characteristic(name))


@pytest.mark.parametrize(
    ("trace", "name", "rule", "expected"),
    [
        (L1, "lead", "", "12.64"),  # 177/14
        (L1, "wobble", "", "0.00368"),  # 103/28
        (L1, "wobble", IN_300, "0.00368"),  # window 300 to 600
        (L5, "lead", "", "0.82"),  # 9/11
        (L5, "wobble", "", "0.00636"),  # 70/11
        (L5, "wobble", IN_300, "0.00573"),  # 63/11
        (L4, "lead", "", "11.90"),
        (L4, "wobble", "", "0.00810"),
        (L4, "wobble", IN_300, "0.00805"),
        (L4, "wobble", TURN, "0.00800"),
        (PROFILE, "bow", "", "0.00250"),
        (PROFILE, "bow", '[characteristic.trace]\nline = "end_points"', "0.00250"),
    ],
)
def test_made_up_traces_of_known_answers(
    trace: list[list[float]], name: str, rule: str, expected: str
) -> None:
    assert value(trace, name, with_rule(name, rule)) == Decimal(expected)


def test_the_useful_travel_is_cut_out_by_itself() -> None:
    """Against a line fitted by a general library to the readings inside."""
    rule = "[characteristic.trace]\nuseful_mm = [100, 500]"
    x, e = np.array(L1)[1:6].T
    slope = np.polynomial.Polynomial.fit(x, e, 1).convert().coef[1]
    assert float(value(L1, "lead", with_rule("lead", rule))) == pytest.approx(slope * 400, abs=0.005)


def test_a_groove_of_changing_lead_is_judged_against_its_table() -> None:
    """The groove itself, turn by turn: its angle is integrated numerically, no closed formula."""
    table = [[0, 10.0], [300, 10.0], [600, 12.0]]
    rule = (
        f"[characteristic.groove]\nball_mm = 3\nlead_mm = 10\nnominal_lead = {table}\n[characteristic.trace]"
    )
    x = np.arange(0.0, 601.0, 5.0)
    fine = np.linspace(0.0, 600.0, 600_001)
    per_mm = 1.0 / np.interp(fine, [0, 300, 600], [10.0, 10.0, 12.0])
    turns = np.concatenate([[0.0], np.cumsum((per_mm[1:] + per_mm[:-1]) / 2 * np.diff(fine))])
    meant_um = 1000 * (x - 10.0 * np.interp(x, fine, turns))
    trace = [list(each) for each in zip(x.tolist(), (meant_um + 0.015 * x).tolist(), strict=True)]
    assert abs(value(trace, "lead", with_rule("lead", rule)) - Decimal("9.00")) <= Decimal("0.01")
    assert value(trace, "wobble", with_rule("wobble", rule)) <= Decimal("0.00001")
    with pytest.raises(Refused, match="doesn't reach this far"):
        value([*trace, [605.0, 0.0]], "lead", with_rule("lead", rule))


def test_a_table_of_nominal_deviations_is_taken_off() -> None:
    rule = "[characteristic.trace]\nnominal_deviation = [[0, 0.0], [600, 12.0]]"
    assert value(L1, "lead", with_rule("lead", rule)) == Decimal("0.64")  # 177/14 − 12


def test_a_groove_of_changing_depth_gives_its_farthest_deviation() -> None:
    plan = (
        PLAN
        + """
[[characteristic]]
name = "depth"
kind = "groove_depth"
unit = "mm"
nominal = 0
lower = -0.02
upper = 0.02
[characteristic.groove]
ball_mm = 3
nominal_depth = [[0, 1.5], [100, 2.5]]
"""
    )
    trace = [[0, 1.502], [50, 2.0], [100, 2.495]]
    assert value(trace, "depth", plan) == Decimal("-0.00500")


@pytest.mark.parametrize(
    ("trace", "name", "rule", "says"),
    [
        ([[0, 0], [10, 1], [10, 2], [20, 3]], "lead", "", "the position repeats after point 2"),
        ([[0, 0], [20, 1], [10, 2]], "lead", "", "the position goes back after point 2"),
        ([[0, 0]], "lead", "", "needs two points or more"),
        ([[0, 0], [100, 1]], "wobble", "", "too few readings"),
        ([[0, 0], [10, 1], [20, 1], [400, 1]], "wobble", "", "a gap wider than the 300 mm"),
        (L1, "wobble", TURN, "a gap wider than a turn"),
        ([[5 * k, k % 2] for k in range(60)], "wobble", TURN, "two readings in a turn"),
        (L1, "lead", "[characteristic.trace]\nuseful_mm = [0, 700]", "does not reach over the useful travel"),
        (L1, "lead", "[characteristic.trace]\nleast_readings = 5", "too few readings"),
        ([[k / 100, 0] for k in range(20_001)], "lead", "", "too dense to keep"),
        ([[0, 0], [2, 1], [1, 2]], "bow", "", "goes back after point 2 of the profile"),
    ],
)
def test_what_is_geometrically_wrong_is_said(
    trace: list[list[float]], name: str, rule: str, says: str
) -> None:
    with pytest.raises(Refused, match=says):
        value(trace, name, with_rule(name, rule))


@pytest.mark.parametrize(
    ("name", "rule", "says"),
    [
        ("lead", '[characteristic.trace]\nover = "turn"', "says nothing of a mean_travel_deviation"),
        ("wobble", '[characteristic.trace]\nover = "turn"', "how long a turn is"),
        ("bow", "[characteristic.trace]\nlead_mm = 10", "says nothing of a straightness"),
        ("lead", "[characteristic.trace]\nuseful_mm = [580, 20]", "to a farther one"),
        ("lead", "[characteristic.trace]\nuse = 3", "has no key 'use'"),
        (
            "lead",
            "[characteristic.groove]\nball_mm = 3\nnominal_lead = [[0, 10.0], [9, 11.0]]",
            "constant lead",
        ),
        ("lead", "[characteristic.trace]\nnominal_deviation = [[0, 1.0]]", "two rows or more"),
        (
            "lead",
            "[characteristic.thread]\npitch_mm = 2\n[characteristic.trace]\nlead_mm = 3",
            "the geometry has a lead of 2 mm",
        ),
    ],
)
def test_a_rule_that_no_trace_can_be_judged_by_is_refused(name: str, rule: str, says: str) -> None:
    with pytest.raises(Refused, match=says):
        read_plan(with_rule(name, rule))


def test_no_trace_gives_a_diameter() -> None:
    plan = PLAN.replace("mean_travel_deviation", "diameter").replace(
        'unit = "um"', 'unit = "um"\nnominal = 0'
    )
    with pytest.raises(Refused, match="no trace gives a diameter"):
        read_plan(with_rule("lead", "[characteristic.trace]", plan))


def test_the_columns_say_what_a_file_is() -> None:
    assert read_trace(("a.csv", b"position_mm,deviation_um\n0,0.50\n10,1\n")).points[0] == (
        Decimal(0),
        Decimal("0.50"),
    )
    assert read_trace(("b.csv", b"Depth_mm;Position_mm\n1,5;0\n1,6;10\n")).kind == "depth"
    with pytest.raises(Refused, match="position_mm and one of deviation_um, height_um, depth_mm"):
        read_trace(("c.csv", b"position_mm,width\n0,1\n"))
    with pytest.raises(Refused, match="row 3"):
        read_trace(("d.csv", b"position_mm,height_um\n0,1\n5,abc\n"))
    with pytest.raises(Refused, match="position_mm"):
        read_trace(("e.csv", b"height_um,angle\n0,1\n"))


def test_the_value_comes_in_the_unit_of_the_plan() -> None:
    found: dict[str, Any] = {}
    for unit in ("um", "mm", "in"):
        plan = PLAN.replace('unit = "um"', f'unit = "{unit}"')
        found[unit] = value(L1, "lead", plan)
    assert found == {"um": Decimal("12.64"), "mm": Decimal("0.01264"), "in": Decimal("0.0004976")}
