"""Grooves whose lead and depth change on purpose, against numerical integration."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from spc.errors import Refused
from spc.geometry import depth_deviation, nominal_lead, travel

TABLES = st.lists(st.tuples(st.floats(5.0, 80.0), st.floats(2.0, 60.0)), min_size=2, max_size=6).map(
    lambda pairs: (np.cumsum([step for step, _ in pairs]), np.array([lead for _, lead in pairs]))
)


@given(TABLES, st.floats(0.0, 1.0))
def test_turns_are_the_integral_of_one_over_the_lead(table, share) -> None:
    x, lead = table
    at = float(x[0] + share * (x[-1] - x[0]))
    pieces = [x[0], *(one for one in x if x[0] < one < at), at]
    turned = sum(
        quad(lambda place: 1 / np.interp(place, x, lead), a, b, epsabs=1e-12)[0] for a, b in pairwise(pieces)
    )
    assert float(nominal_lead(x, lead).turns([at])[0]) == pytest.approx(turned, abs=1e-9)


def test_a_constant_table_is_a_constant_lead() -> None:
    x = np.arange(0.0, 200.1, 2.5)
    e = 0.02 * x + np.sin(2 * np.pi * x / 10)
    plain, tabled = (
        travel(x, e, lead_mm=10.0),
        travel(x, e, lead_mm=10.0, nominal=nominal_lead([0, 250], [10, 10])),
    )
    assert tabled.mean_deviation_um == pytest.approx(plain.mean_deviation_um, abs=1e-9)
    assert tabled.variation_2pi_um == pytest.approx(plain.variation_2pi_um, abs=1e-9)


@given(st.floats(8.0, 12.0), st.floats(8.0, 12.0), st.floats(-0.05, 0.05))
def test_only_what_differs_from_the_table_is_judged(first, last, slope) -> None:
    table = nominal_lead([0.0, 120.0, 200.0], [first, last, last])
    x = np.arange(0.0, 200.1, 4.0)
    found = travel(x, table.nominal_deviation_um(x, 10.0) + slope * x, lead_mm=10.0, nominal=table)
    assert found.mean_deviation_um == pytest.approx(slope * 200.0, abs=1e-6)
    assert found.variation_um == pytest.approx(0.0, abs=1e-6)


def test_a_turn_is_a_turn_of_that_groove() -> None:
    """Lead 10 mm, then 20 mm: a bump and a dip 15 mm apart lie in one turn only where the lead is 20 mm."""
    x = np.arange(0.0, 400.1, 5.0)
    table = nominal_lead([0.0, 190.0, 210.0, 400.0], [10.0, 10.0, 20.0, 20.0])

    def wobble(place: float) -> float:
        e = table.nominal_deviation_um(x, 10.0).copy()
        e[x == place] += 1.0
        e[x == place + 15.0] -= 1.0
        return travel(x, e, lead_mm=10.0, nominal=table).variation_2pi_um

    assert wobble(50.0) == pytest.approx(1.0, abs=0.1)
    assert wobble(300.0) == pytest.approx(2.0, abs=0.1)


def test_depth_against_its_table() -> None:
    found = depth_deviation([0, 25, 50, 75, 100], [1.0, 1.255, 1.5, 1.747, 2.001], [0, 100], [1.0, 2.0])
    assert found.deviation_um.tolist() == pytest.approx([0.0, 5.0, 0.0, -3.0, 1.0], abs=1e-9)
    assert (found.at_deepest_mm, found.at_shallowest_mm, found.n) == (25.0, 75.0, 5)
    assert found.mean_um == pytest.approx(0.6, abs=1e-9)


def test_what_the_table_doesnt_say_is_refused() -> None:
    with pytest.raises(Refused, match=r"row 2 of the table.*0 mm.*above 0 mm"):
        nominal_lead([0, 10], [5.0, 0.0])
    with pytest.raises(Refused, match=r"doesn't reach this far.*120 mm.*0 to 100 mm"):
        depth_deviation([50, 120], [1, 1], [0, 100], [1, 1])
    with pytest.raises(Refused, match="repeats after point 1 of the table of nominal depths"):
        depth_deviation([0, 1], [1, 1], [0, 0], [1, 1])
    with pytest.raises(Refused, match="compared with the constant lead"):
        travel([0, 1], [0, 0], nominal=nominal_lead([0, 10], [5, 5]))
