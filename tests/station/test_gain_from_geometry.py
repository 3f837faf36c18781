"""The first guess of the gain comes from the geometry a plan names; a gain that the plan gives wins."""

import math
from pathlib import Path

import pytest
from shaft import PLAN, check, event, open_shop

from spc.geometry import InvoluteTeeth, thickness_from_over_pins
from spc.intake import read_plan
from spc.station import open_station
from spc.station.kept import state_of, text_of
from spc.station.priors import first_gain, prior_of
from spc.station.size_behind import size_behind
from spc.station.state import StreamState

GIVEN = "penetration_gain = 0.80\n"
LIMITS = 'limits = "with_die_wear"\n'
SPLINE = """[characteristic.spline]
module = 1.25
teeth = 22
pressure_angle_deg = 30
pin_mm = 2.4
"""
TEETH = InvoluteTeeth(1.25, 22, 30.0)
NAMED = PLAN.replace(LIMITS, LIMITS + SPLINE)
DRAWN = NAMED.replace(GIVEN, "")


def slide_gain(over_pin_mm: float = 31.250) -> float:
    """Sin α / sin φ for an even count of teeth: dies move in by tan α, the pin rides on the flank."""
    centre = (over_pin_mm - 2.4) / 2
    at_pin = math.acos(TEETH.base_diameter_mm / 2 / centre)
    return math.sin(math.radians(30.0)) / math.sin(at_pin)


def test_the_first_gain_is_that_of_the_flanks() -> None:
    found = first_gain(read_plan(DRAWN).characteristic("over_pin"))
    assert found == pytest.approx(slide_gain(), abs=1e-9)
    assert found == pytest.approx(thickness_from_over_pins(TEETH, 31.25, 2.4).slide_gain, abs=1e-9)


def test_a_given_gain_wins_and_without_both_it_is_the_usual_one() -> None:
    assert first_gain(read_plan(NAMED).characteristic("over_pin")) == 0.80
    assert first_gain(read_plan(PLAN.replace(GIVEN, "")).characteristic("over_pin")) == 0.9


@pytest.mark.parametrize(("plan", "gain", "share"), [(DRAWN, slide_gain(), 0.2), (NAMED, 0.80, 0.2)])
def test_the_prior_says_how_far_the_guess_may_be_off(plan: str, gain: float, share: float) -> None:
    prior = prior_of(StreamState("T-9", plan=read_plan(plan)), "over_pin", "M1")
    assert prior is not None
    assert prior.gain == pytest.approx(gain)
    assert prior.gain_sd == pytest.approx(share * gain)


def test_against_a_plain_die_the_size_moves_twice_as_far() -> None:
    plain = DRAWN.replace("pin_mm = 2.4\n", 'pin_mm = 2.4\nopposite_die = "plain"\n')
    assert first_gain(read_plan(plain).characteristic("over_pin")) == pytest.approx(2 * slide_gain())


def test_a_crest_rises_and_is_less_certain() -> None:
    """An open crest rises about 1:1 and stops when the die is full (common practice, no source)."""
    thread = "[characteristic.thread]\npitch_mm = 1.5\n"
    text = DRAWN.replace(SPLINE, thread).replace("over_pin_diameter", "crest_diameter")
    prior = prior_of(StreamState("T-9", plan=read_plan(text)), "over_pin", "M1")
    assert prior is not None
    assert (prior.gain, prior.gain_sd) == (-1.0, 0.5)


def test_a_size_the_slide_does_not_set_has_no_gain() -> None:
    text = DRAWN.replace('set_by = "penetration"\n', "")
    assert first_gain(read_plan(text).characteristic("over_pin")) is None


def test_the_verdict_carries_the_gain_of_the_flanks_until_moves_teach_another() -> None:
    live = open_shop(PLAN, DRAWN)
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    verdict = live.check_in(check(1, 31.250, 300))
    assert verdict.die_life is not None
    assert verdict.die_life.gain == pytest.approx(slide_gain(), abs=0.01)
    live.close()


def test_the_state_keeps_what_was_worked_out() -> None:
    state = StreamState("T-9", plan=read_plan(DRAWN))
    assert state_of(text_of(state)) == state


def test_a_record_opened_again_judges_with_the_same_gain(tmp_path: Path) -> None:
    path, gains = tmp_path / "record.sqlite", []
    for hour in (1, 2):
        live = open_station(path)
        live.take_plan(DRAWN)
        if hour == 1:
            live.log(event(0, "die_set_mounted", "D-1"))
        verdict = live.check_in(check(hour, 31.250, 300 * hour))
        assert verdict.die_life is not None
        gains.append(verdict.die_life.gain)
        live.close()
    assert gains[0] == pytest.approx(slide_gain(), abs=0.01)
    assert gains[1] == pytest.approx(slide_gain(), abs=0.01)


def test_the_size_behind_a_reading() -> None:
    """The tooth behind a reading is the one that gives it over the pins."""
    characteristic = read_plan(DRAWN).characteristic("over_pin")
    found = size_behind(characteristic, [31.249, 31.250, 31.251])
    assert found is not None
    assert found.mean_mm == pytest.approx(thickness_from_over_pins(TEETH, 31.25, 2.4).tooth_thickness_mm)
    assert found.smallest_mm < found.mean_mm < found.largest_mm
    assert found.lower_mm == pytest.approx(thickness_from_over_pins(TEETH, 31.232, 2.4).tooth_thickness_mm)
    assert size_behind(characteristic, [10.0]) is None
    assert size_behind(read_plan(PLAN).characteristic("over_pin"), [31.25]) is None
