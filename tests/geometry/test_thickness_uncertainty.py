"""Uncertainty of a tooth thickness against small steps of reading and pin."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import (
    InvoluteTeeth,
    best_pin_mm,
    over_pins,
    thickness_from_over_pins,
    thickness_uncertainty,
)


@given(st.integers(10, 80), st.sampled_from([20.0, 30.0, 45.0]), st.floats(-25.0, 25.0))
def test_slopes_are_those_of_small_steps(count, angle, helix) -> None:
    teeth = InvoluteTeeth(2.0, count, angle, helix)
    pin = 1.05 * best_pin_mm(teeth, teeth.half_pitch_mm)
    found = over_pins(teeth, teeth.half_pitch_mm, pin)
    doubt, step = thickness_uncertainty(teeth, found, reading_um=1.0, pin_um=1.0), 1e-5

    def thickness(reading: float, pin_mm: float) -> float:
        return thickness_from_over_pins(teeth, found.over_pin_mm + reading, pin_mm).tooth_thickness_mm

    assert (thickness(step, pin) - thickness(-step, pin)) / (2 * step) == pytest.approx(
        doubt.per_reading, rel=1e-5
    )
    assert (thickness(0, pin + step) - thickness(0, pin - step)) / (2 * step) == pytest.approx(
        doubt.per_pin, rel=1e-5
    )
    assert doubt.total_um == pytest.approx(math.hypot(doubt.per_reading, doubt.per_pin), rel=1e-12)


def test_pins_off_by_themselves_count_less() -> None:
    teeth = InvoluteTeeth(2.0, 25, 30.0)
    found = over_pins(teeth, teeth.half_pitch_mm, 3.75)
    together = thickness_uncertainty(teeth, found, reading_um=0.0, pin_um=1.0)
    apart = thickness_uncertainty(teeth, found, reading_um=0.0, pin_um=1.0, pins_alike=False)
    assert together.total_um == pytest.approx(math.sqrt(2.0) * apart.total_um, rel=1e-12)


def test_doubt_below_zero_is_refused() -> None:
    teeth = InvoluteTeeth(2.0, 25, 30.0)
    with pytest.raises(Refused) as caught:
        thickness_uncertainty(teeth, over_pins(teeth, 3.1, 3.75), reading_um=-1.0, pin_um=-1.0)
    assert [refusal.column for refusal in caught.value.refusals] == ["reading", "pin"]
