"""Straightness against a published example, exact fractions, and linear programming.

S1 is an autocollimator example of public lecture slides (read: readings and the end-point answer of 3 µm); the
minimum zone and least squares of S1 to S4 are calculated in fractions by three methods.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from spc.errors import Refused
from spc.geometry import straightness

CASES = {
    "S1": (range(0, 700, 100), [0, 0, 1.5, 5, 4, 4, 6], 3.0, 29 / 14, 27 / 28, 3.0),
    "S2": (range(5), [0, 3, 1, 4, 2], 5 / 2, 3 / 2, 1.0, 5 / 2),
    "S3": (range(0, 250, 50), [0, 6, 8, 6, 0.8], 38 / 5, None, None, 7.6),
    "S4": (range(6), [0, 0, 0, 10, 0, 0], 10.0, None, None, 10.0),
}
WIDTHS = {"S1": 85 / 28, "S2": 5 / 2, "S3": 192 / 25, "S4": 74 / 7}


@pytest.mark.parametrize("name", CASES)
def test_published_and_exact_cases(name: str) -> None:
    position, height, zone, peak, valley, ends = CASES[name]
    found = straightness(list(position), height)
    assert found.minimum_zone_um == pytest.approx(zone, abs=1e-12)
    assert found.least_squares_um == pytest.approx(WIDTHS[name], abs=1e-12)
    assert found.end_points_um == pytest.approx(ends, abs=1e-12)
    assert found.n == len(height)
    if peak is not None:
        assert found.least_squares_peak_um == pytest.approx(peak, abs=1e-12)
        assert found.least_squares_valley_um == pytest.approx(valley, abs=1e-12)


def zone_by_linear_programme(x, y) -> float:
    """Least t with |y − a x − b| ≤ t for all points; the zone is 2 t."""
    ones = np.ones_like(x)
    above = np.column_stack([-x, -ones, -ones])
    below = np.column_stack([x, ones, -ones])
    answer = linprog(
        [0, 0, 1],
        np.vstack([above, below]),
        np.concatenate([-y, y]),
        bounds=[(None, None)] * 3,
        method="highs",
    )
    return 2 * answer.fun


PROFILES = st.lists(st.tuples(st.integers(1, 40), st.integers(-300, 300)), min_size=2, max_size=30).map(
    lambda pairs: (np.cumsum([step for step, _ in pairs]) * 0.5, np.array([y for _, y in pairs]) * 0.1)
)


@given(PROFILES)
def test_the_zone_is_the_narrowest_and_the_others_are_wider(profile) -> None:
    x, y = profile
    found = straightness(x, y)
    assert found.minimum_zone_um == pytest.approx(zone_by_linear_programme(x, y), abs=1e-6)
    assert found.minimum_zone_um <= found.least_squares_um + 1e-9
    assert found.minimum_zone_um <= found.end_points_um + 1e-9
    assert found.least_squares_um == pytest.approx(
        found.least_squares_peak_um + found.least_squares_valley_um, abs=1e-9
    )


@given(PROFILES)
def test_the_zone_holds_every_point_and_touches_three(profile) -> None:
    x, y = profile
    found = straightness(x, y)
    height = y - (found.zone_slope_um_per_mm * x + found.zone_bottom_um)
    assert height.min() == pytest.approx(0.0, abs=1e-9)
    assert height.max() == pytest.approx(found.minimum_zone_um, abs=1e-9)
    touching = np.sum(height < 1e-9) + np.sum(height > found.minimum_zone_um - 1e-9)
    assert touching >= min(3, len(x))


@given(PROFILES, st.floats(-5, 5), st.floats(-50, 50), st.floats(0.1, 10))
def test_tilt_and_height_change_nothing_and_scale_scales(profile, tilt, up, scale) -> None:
    x, y = profile
    plain, moved = straightness(x, y), straightness(x, scale * y + tilt * x + up)
    for name in ("minimum_zone_um", "least_squares_um", "end_points_um"):
        assert getattr(moved, name) == pytest.approx(scale * getattr(plain, name), abs=1e-8)


def test_a_dense_bow_is_judged_at_once() -> None:
    x = np.linspace(0.0, 500.0, 20_001)
    found = straightness(x, 20.0 * (1 - ((x - 250.0) / 250.0) ** 2) + 0.1 * x)
    assert found.minimum_zone_um == pytest.approx(20.0, abs=1e-9)
    assert found.zone_slope_um_per_mm == pytest.approx(0.1, abs=1e-9)


@pytest.mark.parametrize(
    ("position", "height", "sentence"),
    [
        ([0.0], [1.0], "two points or more"),
        ([], [], "two points or more"),
        ([0, 1, 2], [0, 1], "one height for each position"),
        ([0, 1, 1], [0, 1, 2], "repeats after point 2"),
        ([0, 2, 1], [0, 1, 2], "goes back after point 2"),
        ([0, 1, 2], [0, np.nan, 2], "point 2 of the profile is no number"),
    ],
)
def test_what_is_no_profile_is_refused(position, height, sentence: str) -> None:
    with pytest.raises(Refused, match=sentence):
        straightness(position, height)
