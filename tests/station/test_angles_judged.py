"""A start angle from the gauge to the verdict: 359.6° and 0.3° are neighbours, whoever judges them."""

import math
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from spc.errors import Refused
from spc.intake import doubt, read_check, read_plan
from spc.shop import Verdict
from spc.station import open_station

PLAN = """
[part]
id = "P-81"
[plant]
zone = "UTC"
[[machine]]
id = "R8"
[check]
subgroup_size = 4
interval_minutes = 60
[[characteristic]]
name = "start"
kind = "start_angle"
unit = "deg"
nominal = 0
lower = -1.5
upper = 1.5
"""
BY_CIRCLE = PLAN.replace("lower = -1.5", "lower = 358.5")


def verdicts_of(tmp_path: Path, plan: str, checks: list[list[str]]) -> list[Verdict]:
    with_time = [
        {"time": f"2026-03-0{1 + hour // 24}T{hour % 24:02d}:10:00", "machine": "R8", "part": "P-81",
         "values": {"start": values}}
        for hour, values in enumerate(checks)
    ]  # fmt: skip
    station = open_station(tmp_path / "record.sqlite")
    station.take_plan(plan)
    found = [station.check_in(check) for check in with_time]
    station.close()
    return found


@pytest.mark.parametrize("plan", [PLAN, BY_CIRCLE])
def test_mean_and_range_cross_the_jump(tmp_path: Path, plan: str) -> None:
    """Against the sum of unit arrows, worked here in the complex plane."""
    read = ["359.6", "0.3", "0.1", "359.8"]
    (verdict,) = verdicts_of(tmp_path, plan, [read])
    group = verdict.subgroup("start")
    assert group is not None
    arrow = np.exp(1j * np.radians([float(each) for each in read])).sum()
    assert group.mean == pytest.approx(math.degrees(np.angle(arrow)), abs=1e-6)
    assert group.mean == pytest.approx(-0.05)
    assert group.range == pytest.approx(0.7)
    assert verdict.verdict == "run"


def test_a_piece_beyond_the_jump_is_held(tmp_path: Path) -> None:
    (verdict,) = verdicts_of(tmp_path, PLAN, [["358.4", "0.0", "0.1", "359.9"]])
    assert verdict.verdict == "hold"
    assert any("-1.6" in each.says or "−1.6" in each.says for each in verdict.signals)


def test_the_same_pieces_named_by_another_turn_give_the_same_verdicts(tmp_path: Path) -> None:
    """Turning the feature, or the sense in which the gauge counts whole turns, changes nothing but names."""
    rng = np.random.default_rng(8)
    offsets = np.round(rng.normal(0.0, 0.3, (25, 4)), 1)
    offsets[22:] += 0.9  # a step that the limits find
    signed = [[f"{each:.1f}" for each in row] for row in offsets]
    on_circle = [[f"{each % 360:.1f}" for each in row] for row in offsets]
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    first = [each.to_dict() for each in verdicts_of(tmp_path / "a", PLAN, signed)]
    second = [each.to_dict() for each in verdicts_of(tmp_path / "b", PLAN, on_circle)]
    assert first == second
    assert any(each["signals"] for each in first[22:])


def test_what_was_read_stays_as_read() -> None:
    check: dict[str, Any] = {
        "time": "2026-03-01T08:00", "machine": "R8", "part": "P-81", "values": {"start": ["359.6"]},
    }  # fmt: skip
    (reading,) = read_check(check, read_plan(PLAN)).readings
    assert (reading.text, reading.value) == ("359.6", Decimal("359.6"))


def test_only_a_slip_is_doubted() -> None:
    start = read_plan(PLAN).characteristic("start")
    assert doubt(Decimal("359.6"), start) is None
    assert doubt(Decimal("-0.4"), start) is None
    assert "359.6 would fit" in (doubt(Decimal("3596"), start) or "")
    assert doubt(Decimal("90"), start) is not None


def test_limits_by_the_circle_are_kept_around_the_nominal() -> None:
    start = read_plan(BY_CIRCLE).characteristic("start")
    assert (start.tolerance.lower, start.tolerance.upper) == (Decimal("-1.5"), Decimal("1.5"))
    at_359 = PLAN.replace("nominal = 0", "nominal = 359").replace("lower = -1.5", "lower = 357.5")
    other = read_plan(at_359.replace("upper = 1.5", "upper = 0.5")).characteristic("start")
    assert (other.tolerance.lower, other.tolerance.upper) == (Decimal("357.5"), Decimal("360.5"))


def test_limits_that_no_reading_can_be_held_to_are_refused() -> None:
    with pytest.raises(Refused, match="more than a whole circle"):
        read_plan(PLAN.replace("upper = 1.5", "upper = 361.5"))
    with pytest.raises(Refused, match="above the upper"):
        read_plan(PLAN.replace("lower = -1.5", "lower = 2.0"))


def test_with_three_starts_a_third_of_a_circle_is_the_same(tmp_path: Path) -> None:
    plan = PLAN + "[characteristic.thread]\npitch_mm = 2.0\nstarts = 3\nincluded_angle_deg = 30\n"
    (verdict,) = verdicts_of(tmp_path, plan, [["119.6", "0.3", "240.1", "359.8"]])
    group = verdict.subgroup("start")
    assert group is not None
    assert (group.mean, group.range) == (pytest.approx(-0.05), pytest.approx(0.7))
