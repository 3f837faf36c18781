"""Ranges by probability, against a general-purpose library's studentized range with known σ."""

import numpy as np
import pytest
from scipy import stats

from spc.errors import Refused
from spc.statistics import range_point


@pytest.mark.parametrize("n", [2, 3, 5, 10])
@pytest.mark.parametrize("chance", [0.5, 0.95, 0.99])
def test_agrees_with_the_studentized_range_of_known_sigma(chance, n):
    assert range_point(chance, n) == pytest.approx(stats.studentized_range.ppf(chance, n, np.inf), abs=1e-5)


def test_two_pieces_are_a_half_normal_difference():
    """The difference of two normal pieces is normal with spread √2 σ: an arithmetic of its own."""
    assert range_point(0.9973, 2) == pytest.approx(stats.norm.ppf(1 - 0.0027 / 2) * 2**0.5, rel=1e-9)


@pytest.mark.parametrize(("chance", "n"), [(0.0, 5), (1.0, 5), (float("nan"), 5), (0.99, 1)])
def test_no_such_range(chance, n):
    with pytest.raises(Refused):
        range_point(chance, n)
