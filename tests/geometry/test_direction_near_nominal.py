"""A direction named near its nominal: nothing but whole circles is taken off."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.geometry import angle_from, near_nominal_deg, start_angles

TENTHS = st.decimals(-360, 720, places=1)


@given(TENTHS, st.decimals(0, 359, places=1), st.sampled_from((1, 2, 3, 4, 5, 6)))
def test_it_is_the_shortest_way_from_the_nominal(angle: Decimal, nominal: Decimal, starts: int) -> None:
    near = near_nominal_deg(angle, nominal, starts=starts)
    way = angle_from(float(angle), float(nominal), starts=starts)
    assert abs(float(near - nominal)) == pytest.approx(abs(way), abs=1e-9)
    assert abs(near - nominal) * 2 * starts <= 360
    turned = np.exp(1j * np.radians(float(angle) * starts))  # independent: the same arrow in the plane
    assert np.exp(1j * np.radians(float(near) * starts)) == pytest.approx(turned, abs=1e-9)


@given(st.lists(st.decimals(-10, 10, places=2), min_size=2, max_size=8), st.integers(0, 359))
def test_mean_of_the_named_angles_is_the_mean_direction(offsets: list[Decimal], nominal: int) -> None:
    """Within a narrow arc arrows and angles near the nominal have one mean; they part with its cube."""
    read = [(nominal + each) % 360 for each in offsets]
    near = [near_nominal_deg(each, Decimal(nominal)) for each in read]
    assert [each - nominal for each in near] == offsets
    found = start_angles([float(each) for each in read])
    mean = float(sum(near, Decimal(0)) / len(near))
    assert angle_from(found.mean_deg, mean) == pytest.approx(
        0.0, abs=0.75
    )  # 30° in cubes of radians: below 0.75°
    narrow = start_angles([nominal + float(each) / 100 for each in offsets])
    assert angle_from(narrow.mean_deg, nominal + float(sum(offsets, Decimal(0))) / len(offsets) / 100) == (
        pytest.approx(0.0, abs=1e-4)
    )
