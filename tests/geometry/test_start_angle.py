"""Start angles against scipy's circular statistics, and a search that knows no arrows."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from spc.errors import Refused
from spc.geometry import angle_from, start_angles

NEAR = st.lists(st.floats(-20.0, 20.0), min_size=2, max_size=12)


def test_around_zero_by_hand() -> None:
    found = start_angles([359.0, 1.0])
    assert found.mean_deg == pytest.approx(0.0, abs=1e-9) or found.mean_deg == pytest.approx(360.0, abs=1e-9)
    assert found.range_deg == pytest.approx(2.0, abs=1e-9)
    assert found.sigma_deg == pytest.approx(np.sqrt(2.0), abs=1e-9)
    assert found.deviations_deg.tolist() == pytest.approx([-1.0, 1.0], abs=1e-9)


@given(NEAR, st.floats(0.0, 360.0), st.lists(st.integers(-2, 2), min_size=12, max_size=12))
def test_mean_of_scipy_whatever_the_turn(near, where, turns) -> None:
    angles = np.array(near) + where
    found = start_angles(angles + 360.0 * np.array(turns[: len(near)]))
    assert angle_from(found.mean_deg, stats.circmean(angles, high=360.0)) == pytest.approx(0.0, abs=1e-6)
    assert found.agreement == pytest.approx(1 - stats.circvar(angles, high=360.0), abs=1e-9)
    assert found.range_deg == pytest.approx(np.ptp(near), abs=1e-6)
    assert 0.0 <= found.mean_deg < 360.0


@given(NEAR, st.floats(0.0, 360.0))
def test_the_mean_is_the_direction_nearest_to_all(near, where) -> None:
    """Searched on a grid: the direction with the least sum of squared chords."""
    angles = np.array(near) + where
    grid = np.arange(0.0, 360.0, 0.5)
    chords = (1 - np.cos(np.radians(angles[:, None] - grid))).sum(axis=0)
    assert abs(angle_from(start_angles(angles).mean_deg, grid[chords.argmin()])) <= 0.26


@given(NEAR, st.floats(0.0, 360.0), st.integers(2, 4))
def test_several_starts_come_again_sooner(near, where, starts) -> None:
    small = np.array(near) / 4
    assume(len(small) > 1)
    plain = start_angles(small + where)
    marked = small + where + 360.0 / starts * (np.arange(len(small)) % starts)
    found = start_angles(marked, starts=starts)
    assert found.full_circle_deg == 360.0 / starts
    assert found.sigma_deg == pytest.approx(plain.sigma_deg, rel=0.02, abs=1e-6)
    assert found.range_deg == pytest.approx(plain.range_deg, abs=1e-6)
    assert angle_from(found.mean_deg, plain.mean_deg, starts=starts) == pytest.approx(0.0, abs=0.1)


@pytest.mark.parametrize(
    ("angle", "nominal", "starts", "off"),
    [
        (1.0, 359.0, 1, 2.0),
        (359.0, 1.0, 1, -2.0),
        (179.0, 1.0, 2, -2.0),
        (725.0, 0.0, 1, 5.0),
        (90.0, 0.0, 4, 0.0),
    ],
)
def test_shortest_way_from_nominal(angle, nominal, starts, off) -> None:
    assert angle_from(angle, nominal, starts=starts) == pytest.approx(off, abs=1e-9)


def test_one_piece_has_no_spread() -> None:
    found = start_angles([200.0])
    assert (found.sigma_deg, found.range_deg, found.n) == (0.0, pytest.approx(0.0, abs=1e-9), 1)


def test_what_has_no_direction_is_refused() -> None:
    with pytest.raises(Refused, match=r"start all round.*0°, 120°, 240°"):
        start_angles([0.0, 120.0, 240.0])
    for angles in ([], [np.nan], [[1.0]]):
        with pytest.raises(Refused, match="one number a piece"):
            start_angles(angles)
    with pytest.raises(Refused, match="whole starts"):
        start_angles([1.0], starts=0)
