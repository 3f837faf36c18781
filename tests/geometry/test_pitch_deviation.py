"""Pitch deviations: by hand, and the cumulative one by every sector of the circle."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import pitch_deviations

READINGS = st.lists(st.integers(-100, 100), min_size=3, max_size=30).map(lambda all_: np.array(all_) * 0.1)


def test_four_pitches_by_hand() -> None:
    """Mean 1 off: 2, 0, −2, 0; flanks at 0, 2, 2, 0, 0."""
    found = pitch_deviations([3.0, 1.0, -1.0, 1.0])
    assert found.deviations_um.tolist() == [2.0, 0.0, -2.0, 0.0]
    assert found.index_um.tolist() == [0.0, 2.0, 2.0, 0.0, 0.0]
    assert (found.single_um, found.cumulative_um, found.neighbours_um, found.n) == (2.0, 2.0, 2.0, 4)


def test_one_tooth_out_of_place_is_long_then_short() -> None:
    found = pitch_deviations([0.0] * 5 + [4.0, -4.0] + [0.0] * 5)
    assert (abs(found.single_um), found.cumulative_um, found.neighbours_um) == (4.0, 4.0, 8.0)


def test_an_eccentric_part_has_small_single_and_large_cumulative_deviations() -> None:
    """Flanks off by e·sin: the cumulative one is 2 e, a single one at most 2 e sin(180°/z)."""
    count, off = 24, 10.0
    index = off * np.sin(2 * np.pi * np.arange(count + 1) / count)
    found = pitch_deviations(np.diff(index) + 3.0)
    assert found.cumulative_um == pytest.approx(2 * off, abs=1e-9)
    assert abs(found.single_um) <= 2 * off * np.sin(np.pi / count) + 1e-9


@given(READINGS)
def test_every_sector_of_the_circle(readings) -> None:
    found = pitch_deviations(readings)
    twice = np.concatenate([found.deviations_um, found.deviations_um])
    sectors = (twice[a : a + k].sum() for a in range(len(readings)) for k in range(len(readings)))
    assert found.cumulative_um == pytest.approx(max(abs(one) for one in sectors), abs=1e-9)
    assert abs(found.single_um) <= found.cumulative_um + 1e-9
    assert found.index_um[-1] == pytest.approx(0.0, abs=1e-9)


@given(READINGS, st.integers(0, 29), st.floats(-50, 50))
def test_neither_the_first_tooth_nor_the_comparators_zero_matter(readings, first, zero) -> None:
    plain, moved = pitch_deviations(readings), pitch_deviations(np.roll(readings, first) + zero)
    assert moved.cumulative_um == pytest.approx(plain.cumulative_um, abs=1e-9)
    assert moved.neighbours_um == pytest.approx(plain.neighbours_um, abs=1e-9)
    assert abs(moved.single_um) == pytest.approx(abs(plain.single_um), abs=1e-9)


def test_along_an_axis_the_nominal_pitch_counts() -> None:
    found = pitch_deviations([2.0, 2.0, 2.0], closed=False)
    assert (found.single_um, found.cumulative_um, found.neighbours_um) == (2.0, 6.0, 0.0)


def test_too_few_and_no_numbers_are_refused() -> None:
    with pytest.raises(Refused, match="3 or more around a circle"):
        pitch_deviations([1.0, 2.0])
    with pytest.raises(Refused, match="2 or more along the axis"):
        pitch_deviations([1.0], closed=False)
    with pytest.raises(Refused, match="pitch 2 is no number"):
        pitch_deviations([1.0, np.nan, 2.0])
