"""The four small plans: they name their geometry, run one day, and leave the month as it was."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from spc.intake import read_plans
from spc.shop import Characteristic
from spc.simulator import demo_part_ids, demo_policy, demo_shop, simulate, small_shop
from spc.simulator.demo import MACHINES as MONTH_MACHINES

DEMO = Path(__file__).parents[2] / "demo_data"
SMALL = ("PW-22", "AS-16", "GT-34", "ST-05")
DRAWN = [
    (part.id, feature)
    for part in small_shop().parts
    for feature in part.features
    if feature.tables and feature.nature == "size"
]


@pytest.fixture(scope="module")
def plans():
    return {plan.part: plan for plan in read_plans([DEMO])}


def characteristic(plans, part: str, name: str) -> Characteristic:
    return next(each for each in plans[part].characteristics if each.name == name)


def test_every_part_has_its_own_plan_and_the_small_ones_their_own_machine(plans):
    assert set(plans) == set(demo_part_ids())
    machines = [plans[part].machines[0].id for part in SMALL]
    assert machines == ["R4", "R5", "R6", "R7"]
    assert not {machine.id for machine in MONTH_MACHINES} & set(machines)


def test_the_month_is_what_it_was_without_the_small_machines(readings, events):
    month = simulate(demo_shop(2), demo_policy(demo_shop(2)), 20260302)
    end = datetime(2026, 3, 4)  # noqa: DTZ001  # plant time without offset, as in the files
    kept = [row for row in readings if row["part"] not in SMALL and row["time"] < end]
    made = [row for row in month.readings if row.time < end]
    assert [(row["time"], row["machine"], row["value"]) for row in kept] == [
        (row.time, row.machine, row.value) for row in made
    ]
    assert {row["machine"] for row in events if row["part"] in SMALL} == {"R4", "R5", "R6", "R7"}


@pytest.mark.parametrize("part", SMALL)
def test_a_small_plan_has_a_day_that_ends_with_the_month(part, readings):
    times = sorted({row["time"] for row in readings if row["part"] == part})
    hourly = {row["time"] for row in readings if row["part"] == part and row["purpose"] == "hourly"}
    last = max(row["time"] for row in readings)
    assert last - times[-1] < timedelta(hours=1)
    assert timedelta(hours=23) < times[-1] - times[0] < timedelta(hours=24)
    assert 20 <= len(hourly) <= 24


@pytest.mark.parametrize(("part", "feature"), DRAWN, ids=lambda each: getattr(each, "name", each))
def test_a_size_takes_limits_and_gain_from_its_geometry(part, feature, plans):
    read = characteristic(plans, part, feature.name)
    assert read.geometry is not None
    assert read.geometry.gain is not None
    # The policy of the simulator rounds the gain to two places.
    assert read.geometry.gain.gain == pytest.approx(feature.gain_guess, abs=0.005)
    assert read.penetration_gain is None
    lower, upper = read.tolerance.lower, read.tolerance.upper
    assert lower is not None
    assert upper is not None
    assert float(lower + upper) / 2 == pytest.approx(feature.nominal, abs=0.001)


def test_the_shaft_has_two_forms_on_one_slide(plans):
    slid = {each.form for each in plans["PW-22"].characteristics if each.is_set_by_slide}
    assert slid == {"spline", "thread"}


def test_a_start_angle_is_gauged_on_both_sides_of_zero(plans, readings):
    values = [float(row["value"]) for row in readings if row["characteristic"] == "start"]
    assert all(0.0 <= value < 360.0 for value in values)
    assert min(values) < 2.0
    assert max(values) > 358.0
    start = characteristic(plans, "AS-16", "start")
    assert (start.unit, start.set_by, start.geometry) == ("deg", "phase", None)


def test_the_groove_changes_lead_and_depth_and_its_values_are_deviations(plans, readings):
    depth, travel = (characteristic(plans, "GT-34", name) for name in ("depth_error", "travel_error"))
    assert depth.trace is not None
    assert travel.trace is not None
    assert len({value for _, value in depth.trace.nominal_depth}) > 1
    assert len({value for _, value in travel.trace.nominal_lead}) > 1
    assert (depth.nominal, travel.nominal) == (0, 0)
    deviations = [float(row["value"]) for row in readings if row["characteristic"] == "depth_error"]
    assert min(deviations) < 0.0 < max(deviations)


def test_wear_makes_a_groove_shallower_and_the_slide_makes_it_deeper(truth):
    (life,) = [life for life in truth["die_lives"] if life["part"] == "GT-34"]
    assert life["wear_um"]["depth_error"] < 0.0
    assert life["gain"]["depth_error"] < 0.0


def test_straightness_of_the_stems_is_not_set_by_the_slide(plans, readings):
    straightness = characteristic(plans, "ST-05", "straightness")
    assert straightness.trace is not None
    assert straightness.set_by == "blade"
    assert not straightness.is_set_by_slide
    values = [
        row["value"] for row in readings if (row["part"], row["characteristic"]) == ("ST-05", "straightness")
    ]
    assert all(float(value) >= 0.0 for value in values)
