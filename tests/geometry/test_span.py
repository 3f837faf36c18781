"""Spans over teeth against the gear technical reference of KHK (from memory, reproduced), and by contact.

"Elements of Metric Gear Technology", section 10, prints the same two cases.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from spc.errors import Refused
from spc.geometry import InvoluteTeeth, best_span_teeth, span_over_teeth, thickness_from_span

SPUR = InvoluteTeeth(3.0, 24, 20.0)
HELICAL = InvoluteTeeth(3.0, 24, 20.0, helix_angle_deg=25.0)


@pytest.mark.parametrize(("teeth", "count", "span"), [(SPUR, 4, 32.8266), (HELICAL, 5, 42.0085)])
def test_published_spans(teeth: InvoluteTeeth, count: int, span: float) -> None:
    thickness = teeth.thickness_mm(0.4)
    assert best_span_teeth(teeth, thickness) == count
    assert span_over_teeth(teeth, thickness, count).span_mm == pytest.approx(span, abs=5e-5)


def widest_between_faces(teeth: InvoluteTeeth, thickness: float, count: int) -> float:
    """Distance of two parallel faces that touch points unrolled from the base circle, by search alone.

    A flank's farthest point along a direction is searched on its string; the teeth spanned stand around x = 0.
    """
    base, reference = teeth.base_diameter_mm / 2, teeth.reference_diameter_mm / 2
    at_reference = math.tan(teeth.transverse_angle_rad)
    polar = at_reference - math.atan(at_reference)
    half = thickness / 2 / reference + (count - 1) * math.pi / teeth.teeth + polar  # last flank's base point

    def sideways(unrolled: float) -> float:
        """Distance from the middle line, of the point with this much string let off."""
        x, y = (
            math.cos(unrolled) + unrolled * math.sin(unrolled),
            math.sin(unrolled) - unrolled * math.cos(unrolled),
        )
        return base * (x * math.sin(half) - y * math.cos(half))

    found = minimize_scalar(
        lambda u: -sideways(u), bounds=(0.0, 2.0), method="bounded", options={"xatol": 1e-10}
    )
    return -2 * found.fun


@given(
    st.integers(12, 90),
    st.sampled_from([14.5, 20.0, 25.0, 30.0, 45.0]),
    st.floats(0.85, 1.1),
    st.integers(-1, 1),
)
def test_two_faces_pressed_on_the_flanks_stand_where_the_formula_says(count, angle, thick, off) -> None:
    teeth = InvoluteTeeth(1.5, count, angle)
    thickness = thick * teeth.half_pitch_mm
    spanned = min(max(2, best_span_teeth(teeth, thickness) + off), count // 2)
    found = span_over_teeth(teeth, thickness, spanned)
    assert found.span_mm == pytest.approx(widest_between_faces(teeth, thickness, spanned), abs=1e-8)


@given(st.integers(12, 90), st.floats(-35.0, 35.0), st.floats(0.85, 1.1))
def test_there_and_back_and_thicker_teeth_span_more(count, helix, thick) -> None:
    teeth = InvoluteTeeth(2.0, count, 30.0, helix)
    thickness = thick * teeth.half_pitch_mm
    spanned = min(best_span_teeth(teeth, thickness), count // 2)
    found = span_over_teeth(teeth, thickness, spanned)
    back = thickness_from_span(teeth, found.span_mm, spanned)
    assert back.tooth_thickness_mm == pytest.approx(thickness, abs=1e-10)
    thicker = span_over_teeth(teeth, thickness + 0.01, spanned).span_mm
    assert (thicker - found.span_mm) / 0.01 == pytest.approx(found.change_factor, rel=1e-8)


def test_the_best_count_touches_nearest_to_the_middle() -> None:
    thickness = SPUR.half_pitch_mm
    away = {
        count: abs(span_over_teeth(SPUR, thickness, count).contact_diameter_mm - SPUR.reference_diameter_mm)
        for count in range(2, 7)
    }
    assert min(away, key=away.__getitem__) == best_span_teeth(SPUR, thickness) == 3


def test_spans_that_are_none_are_refused() -> None:
    with pytest.raises(Refused, match=r"13 of 24 teeth.*2 to 12"):
        span_over_teeth(SPUR, SPUR.half_pitch_mm, 13)
    with pytest.raises(Refused, match="Count the teeth between the faces again"):
        thickness_from_span(SPUR, 32.8266, 3)
    short = InvoluteTeeth(3.0, 24, 20.0, 0.0, 74.0, 66.0, 70.0)
    with pytest.raises(Refused, match="above the tip"):
        span_over_teeth(short, SPUR.half_pitch_mm, 5)
    with pytest.raises(Refused, match="below the active flank"):
        span_over_teeth(short, SPUR.half_pitch_mm, 2)
