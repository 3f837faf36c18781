"""Tooth thickness at other places than the reference diameter, against printed teeth."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import InvoluteTeeth, best_pin_mm, over_pins


def test_half_angle_and_chord_of_a_shifted_tooth() -> None:
    """Table 10-1 of the "Elements of Metric Gear Technology", section 10 (read): m 10, 20°, 12 teeth, x = 0.3."""
    teeth = InvoluteTeeth(10.0, 12, 20.0)
    thickness = teeth.thickness_mm(0.3)
    half = thickness / teeth.reference_diameter_mm
    assert thickness == pytest.approx(17.8918, abs=5e-5)
    assert math.degrees(half) == pytest.approx(8.54270, abs=5e-6)
    assert 120.0 * math.sin(half) == pytest.approx(17.8256, abs=5e-5)
    assert 13.0 + 60.0 * (1 - math.cos(half)) == pytest.approx(13.6657, abs=5e-5)
    helical = InvoluteTeeth(5.0, 16, 20.0, helix_angle_deg=25.0)
    assert helical.thickness_mm(0.2) == pytest.approx(8.5819, abs=5e-5)
    assert 16 / math.cos(math.radians(25.0)) ** 3 == pytest.approx(21.4928, abs=5e-5)


def test_P1_tip_and_radial_size_over_one_ball() -> None:
    """A public worked page (read); it halves its rounded 22.2941, so its last digit is one up."""
    teeth = InvoluteTeeth(1.0, 20, 20.0)
    assert teeth.thickness_at_mm(22.0, teeth.half_pitch_mm) == pytest.approx(0.6949, abs=5e-5)
    assert over_pins(teeth, teeth.half_pitch_mm, 1.7).over_pin_mm / 2 == pytest.approx(11.1471, abs=6e-5)


def test_what_two_public_cases_should_have_said() -> None:
    """Their printed answers fit no pin; these are calculated. In inches: 45 teeth, 8 to the inch, 20°."""
    inch = InvoluteTeeth(1 / 8, 45, 20.0)
    assert over_pins(inch, 0.2124, 0.2160).over_pin_mm == pytest.approx(5.963727, abs=5e-7)
    metric = InvoluteTeeth(2.0, 20, 30.0)
    for pin, size in ((3.5, 44.98181), (4.0, 46.36961)):
        assert over_pins(metric, metric.half_pitch_mm, pin).over_pin_mm == pytest.approx(size, abs=5e-6)


def test_P12_P13_best_pins_in_more_digits() -> None:
    """Gear technical reference of KHK, its ideal pins (from memory), calculated in 30 digits."""
    spur, helical = InvoluteTeeth(1.0, 20, 20.0), InvoluteTeeth(1.0, 20, 20.0, 15.0)
    assert best_pin_mm(spur, spur.half_pitch_mm) == pytest.approx(1.72444912, abs=5e-9)
    assert best_pin_mm(helical, helical.thickness_mm(0.4)) == pytest.approx(1.90202029, abs=5e-9)


@given(st.integers(12, 60), st.sampled_from([20.0, 30.0]), st.floats(0.9, 1.1), st.floats(0.0, 1.0))
def test_an_unrolled_flank_is_as_far_from_the_middle(count, angle, thick, out) -> None:
    """A point of the string's end at some diameter, turned so that the reference diameter has its thickness."""
    teeth = InvoluteTeeth(1.0, count, angle)
    thickness, diameter = thick * teeth.half_pitch_mm, count + out
    base, unrolled = teeth.base_diameter_mm / 2, math.tan(math.radians(angle))

    def direction(string: float) -> float:
        return math.atan2(
            math.sin(string) - string * math.cos(string), math.cos(string) + string * math.sin(string)
        )

    string = math.sqrt((diameter / 2 / base) ** 2 - 1)
    half = thickness / count - (direction(string) - direction(unrolled))
    assert teeth.thickness_at_mm(diameter, thickness) == pytest.approx(diameter * half, abs=1e-12)
    assert np.isfinite(half)


def test_below_the_base_circle_there_is_no_flank() -> None:
    with pytest.raises(Refused, match=r"no involute.*from 18\.794 mm"):
        InvoluteTeeth(1.0, 20, 20.0).thickness_at_mm(18.0, 1.5)
