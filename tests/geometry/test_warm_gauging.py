"""How sure a size at 20 °C is: against drawn temperatures and coefficients."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.geometry import size_at_20, warm_uncertainty

WARM = st.floats(0.0, 60.0)


def test_against_drawn_values() -> None:
    """20,000 draws know the spread to 0.5 %."""
    draws = np.random.default_rng(5)
    size = size_at_20(80.0, part_c=38.0, master_c=24.0, part_per_k=11.5e-6, master_per_k=10.5e-6)
    part_c, master_c = (draws.normal(mean, 0.5, 20_000) for mean in (38.0, 24.0))
    part_k, master_k = (draws.normal(mean, 1e-6, 20_000) for mean in (11.5e-6, 10.5e-6))
    taken_off = 80.0 * (part_k * (part_c - 20) - master_k * (master_c - 20))
    found = warm_uncertainty(size, temperature_c=0.5, expansion_per_k=1e-6)
    assert found.total_mm == pytest.approx(taken_off.std(), rel=0.02)


def test_one_steel_leaves_only_the_difference_of_temperatures() -> None:
    warm = size_at_20(80.0, part_c=38.0, master_c=38.0)
    assert warm_uncertainty(warm, temperature_c=0.0, same_steel=True).total_mm == 0.0
    apart = warm_uncertainty(warm, temperature_c=0.0).total_mm
    assert apart == pytest.approx(80.0 * 18.0 * 1e-6 * np.sqrt(2.0), rel=1e-12)


@given(WARM, WARM, st.floats(1.0, 500.0))
def test_longer_parts_are_less_sure(part_c, master_c, length) -> None:
    short, long = (size_at_20(one, part_c=part_c, master_c=master_c) for one in (length, 2 * length))
    assert warm_uncertainty(long).total_mm == pytest.approx(2 * warm_uncertainty(short).total_mm, rel=1e-9)


def test_doubt_below_zero_is_refused() -> None:
    with pytest.raises(Refused) as caught:
        warm_uncertainty(size_at_20(1.0, part_c=20, master_c=20), temperature_c=-1.0, expansion_per_k=-1.0)
    assert len(caught.value.refusals) == 2
