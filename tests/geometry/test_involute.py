"""The involute and its inverse; values to 12 digits from 30-digit arithmetic, written for this test."""

import math

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import inverse_involute, involute

INVOLUTES = {
    14.5: 0.00554484281671,
    16.0: 0.00749270543972,
    20.0: 0.0149043838673,
    25.0: 0.0299753451564,
    30.0: 0.0537514935913,
    37.5: 0.112828518481,
    45.0: 0.214601836603,
}
INVERSES = {0.05: 29.337720303, 0.1: 36.1914218729, 0.5: 55.8643701267, 2.0: 73.0173209715}


@pytest.mark.parametrize(("angle_deg", "polar"), INVOLUTES.items())
def test_involute_of_usual_angles(angle_deg: float, polar: float) -> None:
    assert involute(math.radians(angle_deg)) == pytest.approx(polar, rel=5e-12)


@pytest.mark.parametrize(("polar", "angle_deg"), INVERSES.items())
def test_inverse_reaches_the_arguments_a_short_start_misses(polar: float, angle_deg: float) -> None:
    assert math.degrees(inverse_involute(polar)) == pytest.approx(angle_deg, abs=5e-10)


@given(st.floats(1e-9, 1.57))
def test_involute_keeps_its_digits(angle: float) -> None:
    with mpmath.workdps(50):
        exact = mpmath.tan(mpmath.mpf(angle)) - mpmath.mpf(angle)
        assert involute(angle) == pytest.approx(float(exact), rel=1e-11)


@given(st.floats(1e-6, 1.57))
def test_there_and_back(angle: float) -> None:
    assert inverse_involute(involute(angle)) == pytest.approx(angle, rel=1e-11)


@given(st.floats(0.0, 1e300), st.floats(0.0, 1e300))
def test_inverse_never_fails_and_never_falls(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert 0.0 <= inverse_involute(low) <= inverse_involute(high) <= math.pi / 2


@pytest.mark.parametrize("angle", [-0.1, math.pi / 2, 2.0, math.nan, math.inf])
def test_what_is_no_pressure_angle_is_refused(angle: float) -> None:
    with pytest.raises(Refused, match="no pressure angle"):
        involute(angle)


@pytest.mark.parametrize("polar", [-1e-9, math.nan, math.inf])
def test_what_no_involute_goes_through_is_refused(polar: float) -> None:
    with pytest.raises(Refused, match="no involute flank goes through"):
        inverse_involute(polar)
