"""The one move of the slide: contract section 5, `correction`."""

from datetime import timedelta

import pytest
from shaft import PLAN, START, at, check, event, open_shop

from spc.intake import read_plan
from spc.station import open_station, verdict_line
from spc.station.priors import first_gain

DEPTH = """
[[characteristic]]
name = "depth"
kind = "groove_depth"
unit = "mm"
nominal = 2.000
lower = 1.980
upper = 2.004
target = 2.000
set_by = "penetration"
penetration_gain = -1.0
subgroup_size = 5
at = ["first_off"]
"""


def shop(text):
    live = open_station(":memory:", now=lambda: START + timedelta(days=30))
    live.take_plan(text)
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    return live


@pytest.mark.parametrize("gauged_now", [True, False])
def test_no_characteristic_that_the_slide_sets_is_driven_out(gauged_now):
    """Section 5: "so chosen that no characteristic the slide sets is driven out", gauged in this check or not.

    The size asks for 10 µm deeper; the groove, 2 µm below its limit at the first-off, would go out.
    """
    live = shop(PLAN + DEPTH)
    depth = {"depth": ["2.0017", "2.0020", "2.0023", "2.0019", "2.0021"]}
    words = []
    for hour in range(1, 12):
        values = depth if gauged_now or hour == 1 else {}
        depth = {"depth": [f"{float(each) + 0.00001 * (-1) ** hour:.5f}" for each in depth["depth"]]}
        verdict = live.check_in(check(hour, 31.2575, 300 * hour, values=values))
        line = verdict_line(verdict)
        words.append(line["verdict"])
        if line["correction"] is not None:
            lands = line["correction"]["lands_at"]
            assert lands["depth"] <= 2.004 - 0.001, line["correction"]
    assert words


@pytest.mark.parametrize(("unit", "factor"), [("mm", 1.0), ("um", 1000.0), ("in", 1 / 25.4)])
def test_the_gain_of_the_plan_is_mm_per_mm_in_any_unit(unit, factor):
    """Section 3: `penetration_gain` is "mm smaller per mm deeper", whatever unit the size is written in."""
    size = PLAN.split("[[characteristic]]")[1]
    numbers = (
        f'unit = "{unit}"\nnominal = {31.25 * factor}\nlower = {31.232 * factor}\nupper = {31.268 * factor}'
    )
    there = 'unit = "mm"\nnominal = 31.250\nlower = 31.232\nupper = 31.268'
    assert there in size
    plan = read_plan(PLAN.replace(there, numbers))

    assert first_gain(plan.characteristic("over_pin")) == pytest.approx(0.80)


def test_the_change_is_in_displayed_travel_with_two_slides():
    """Section 5: "`penetration_mm` is the change, positive deeper, in the displayed travel".

    Section 3: two opposed slides move the centre distance by twice the display.
    """
    live = shop(PLAN.replace("slide_step_mm = 0.001", 'slide_step_mm = 0.001\nslides = "two"', 1))
    for hour in range(1, 20):
        verdict = live.check_in(check(hour, 31.258 + 0.00001 * (hour % 3), 300 * hour))
        if verdict.correction is not None:
            break
    correction = verdict_line(verdict)["correction"]

    assert correction["penetration_mm"] == pytest.approx(0.005, abs=0.001)  # 8 µm / 0.8 / two slides
    assert correction["to_mm"] == pytest.approx(correction["from_mm"] + correction["penetration_mm"])
    assert correction["lands_at"]["over_pin"] == pytest.approx(31.250, abs=0.0012)


def test_a_hold_may_carry_a_correction_and_no_other_verdict_but_correct():
    """Section 5: "`correction` exactly with `correct` (a `hold` may carry one …)"; "`contain` exactly with `hold`"."""
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 26):
        mean = 31.250 + 0.0008 * hour
        line = verdict_line(live.check_in(check(hour, mean, 300 * hour)))
        assert (line["verdict"] == "hold") == (line["contain"] is not None)
        assert line["correction"] is None or line["verdict"] in ("correct", "hold")
        assert line["verdict"] != "correct" or line["correction"] is not None
        assert line["verdict"] != "run" or line["signals"] == []
        assert line["time"] == at(hour)
