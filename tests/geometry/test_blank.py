"""Constant-volume blanks: figures calculated by another program, and volumes counted in thin slices.

The spline of 56 teeth and the worm of module 1.9 are trade figures: common practice, no source.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import InvoluteTeeth, Worm, spline_blank, thread_blank, worm_blank

HEIGHT = math.sqrt(3) / 2  # of the sharp triangle of a 60° thread, in pitches


@pytest.mark.parametrize(
    ("major", "pitch", "flat_quarter", "flat_eighth", "pitch_diameter"),
    [
        (10, 1.5, 9.1072, 9.0520, 9.0257),
        (6, 1.0, 5.4065, 5.3702, 5.3505),
        (20, 2.5, 18.5058, 18.4120, 18.3762),
        (30, 3.5, 27.9053, 27.7732, 27.7267),
    ],
)
def test_metric_threads(major, pitch, flat_quarter, flat_eighth, pitch_diameter) -> None:
    middle = major - 0.75 * HEIGHT * pitch
    assert middle == pytest.approx(pitch_diameter, abs=5.1e-5)  # 18.37620 and the like
    for root, blank in ((1.25, flat_quarter), (1.5, flat_eighth)):
        found = thread_blank(pitch, 60, middle, major, major - root * HEIGHT * pitch)
        assert found.blank_mm == pytest.approx(blank, abs=5e-5)


def test_an_error_of_the_blank_shows_larger_outside() -> None:
    """M10: 7.3 times; a spline: "about 3 to 1" in the shop (common practice, no source), 3.15 calculated."""
    thread = thread_blank(1.5, 60, 10 - 0.75 * HEIGHT * 1.5, 10, 10 - 1.25 * HEIGHT * 1.5)
    assert thread.outside_gain == pytest.approx(7.3, abs=0.05)
    spline = InvoluteTeeth(0.79375, 56, 30.0)
    found = spline_blank(spline, spline.thickness_mm(), 57 * 0.79375, 43.3784)
    assert found.outside_gain == pytest.approx(3.15, abs=5e-3)


@pytest.mark.parametrize(("root", "blank"), [(43.3784, 44.3735), (43.2594, 44.3445), (43.0212, 44.2956)])
def test_trade_figure_spline(root: float, blank: float) -> None:
    """The last one is 44.29561 at the printed root: within a unit of the last digit of the root."""
    spline = InvoluteTeeth(0.79375, 56, 30.0)
    assert spline_blank(spline, spline.thickness_mm(), 57 * 0.79375, root).blank_mm == pytest.approx(
        blank, abs=6e-5
    )


@pytest.mark.parametrize(("share", "blank"), [(1.2, 17.3448), (1.25, 17.3067)])
def test_trade_figure_worm(share: float, blank: float) -> None:
    worm = Worm(1.9, 3, 16.0, 17.2)
    assert worm_blank(worm, 21.0, 17.2 - 2 * share * 1.9).blank_mm == pytest.approx(blank, abs=5e-5)


@given(st.integers(12, 60), st.sampled_from([20.0, 30.0]), st.floats(0.9, 1.1))
def test_metal_of_a_spline_counted_in_rings(count, angle, thick) -> None:
    teeth = InvoluteTeeth(1.0, count, angle)
    thickness = thick * teeth.half_pitch_mm
    tip, root = count + 1.0, count - 1.5
    radii = np.linspace(root / 2, tip / 2, 20_001)
    middle = (radii[1:] + radii[:-1]) / 2
    base = teeth.base_diameter_mm / 2
    rolled = np.sqrt(np.maximum((middle / base) ** 2 - 1, 0.0))
    at_reference = math.tan(math.radians(angle))
    half = thickness / count + at_reference - math.atan(at_reference) - (rolled - np.arctan(rolled))
    metal = math.pi * root**2 / 4 + count * np.sum(2 * half * middle * np.diff(radii))
    found = spline_blank(teeth, thickness, tip, root)
    assert math.pi * found.blank_mm**2 / 4 == pytest.approx(metal, rel=1e-7)
    assert root < found.blank_mm < tip


@given(st.floats(0.5, 4.0), st.sampled_from([30.0, 55.0, 60.0]), st.floats(6.0, 15.0))
def test_metal_of_a_thread_counted_in_rings(pitch, angle, slim) -> None:
    middle, slope = slim * pitch, math.tan(math.radians(angle / 2))
    tip, root = middle + 0.3 * pitch / slope, middle - 0.35 * pitch / slope
    if root <= 0.0:
        return
    radii = np.linspace(root / 2, tip / 2, 20_001)
    centre = (radii[1:] + radii[:-1]) / 2
    ridge = pitch / 2 + 2 * (middle / 2 - centre) * slope
    metal = math.pi * root**2 / 4 * pitch + np.sum(2 * math.pi * centre * ridge * np.diff(radii))
    found = thread_blank(pitch, angle, middle, tip, root)
    assert math.pi * found.blank_mm**2 / 4 * pitch == pytest.approx(metal, rel=1e-7)


@given(st.floats(-0.05, 0.05))
def test_the_gain_is_what_more_metal_needs_outside(step) -> None:
    """Open crests between dies that stay: the flanks are kept, the outside grows until the metal is placed."""
    teeth = InvoluteTeeth(1.25, 24, 30.0)
    before = spline_blank(teeth, teeth.half_pitch_mm, 31.0, 28.0)
    after = spline_blank(teeth, teeth.half_pitch_mm, 31.0 + 0.01 * step, 28.0)
    assert after.blank_mm - before.blank_mm == pytest.approx(
        0.01 * step / before.outside_gain, rel=1e-2, abs=1e-9
    )


def test_forms_that_dont_close_are_refused() -> None:
    with pytest.raises(Refused, match="don't follow each other"):
        thread_blank(1.5, 60, 9.0, 8.9, 8.0)
    with pytest.raises(Refused, match="flanks meet before"):
        thread_blank(1.5, 60, 9.0, 10.5, 8.0)
    teeth = InvoluteTeeth(1.0, 20, 20.0)
    with pytest.raises(Refused, match="flanks meet before"):
        spline_blank(teeth, teeth.half_pitch_mm, 24.0, 18.0)
