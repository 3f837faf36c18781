"""Planned-age replacement: the table of the process notes, its limits, and another way to the same numbers."""

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed_digits import printed
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from spc.errors import Refused
from spc.statistics import age_replacement, cost_rate_at

# process notes, section 3.1 [O: own numerical minimisation after Barlow & Hunter 1960]: eta = 1, cp = 1;
# shape, cf/cp, T*, cost rate, run to the end, saving %, share that ends before
TABLE = """
1.5  5 0.6755 4.9313  5.5387 11.0 0.426
2    3 0.7379 2.9517  3.3851 12.8 0.420
2    5 0.5107 4.0852  5.6419 27.6 0.230
2.5  5 0.4930 3.4620  5.6353 38.6 0.157
3    3 0.6365 2.4312  3.3595 27.6 0.227
3    5 0.5026 3.0314  5.5992 45.9 0.119
3   10 0.3825 3.9494 11.1985 64.7 0.054
4    5 0.5384 2.4971  5.5163 54.7 0.081
5   10 0.4886 2.5643 10.8912 76.5 0.027
"""
shapes = st.floats(1.2, 6.0)
ratios = st.floats(1.2, 20.0)


@pytest.mark.parametrize("row", TABLE.strip().splitlines())
def test_the_table_of_ages(row: str) -> None:
    shape, ratio, age, cost, to_end, saving, before = row.split()
    found = age_replacement(float(shape), 1.0, 1.0, float(ratio))
    assert found.age == printed(age)
    assert found.cost_rate == printed(cost)
    assert found.cost_rate_to_end == printed(to_end)
    assert 100.0 * (1.0 - found.cost_rate / found.cost_rate_to_end) == printed(saving)
    assert found.share_before == printed(before)


def test_the_demo_shop() -> None:
    # process notes, section 9 [O]: Weibull(3, 40 000), cp 1 700, cf 6 000
    found = age_replacement(3, 40_000, 1_700, 6_000)
    assert found.age == printed("23494")
    assert found.cost_rate == printed("0.11125")
    assert found.cost_rate_to_end == printed("0.16798")
    assert found.share_before == printed("0.183")


@pytest.mark.parametrize(
    ("shape", "unplanned"), [(1.0, 5.0), (0.7, 5.0), (3.0, 1.0), (3.0, 0.5), (1.0001, 1.01)]
)
def test_nothing_to_plan(shape: float, unplanned: float) -> None:
    """Where the risk does not rise with age, or an unplanned end costs no more, running to the end is cheapest."""
    found = age_replacement(shape, 1_000, 1.0, unplanned)
    assert found.age is None
    assert found.cost_rate == found.cost_rate_to_end
    assert found.share_before == 1.0


@given(shapes, ratios)
def test_the_age_is_where_the_cost_is_least(shape: float, ratio: float) -> None:
    """Written differently: the integral by quadrature, the least by search, no balance of any kind."""
    found = age_replacement(shape, 1.0, 1.0, ratio)

    def cost(age: float) -> float:
        alive = exp(-(age**shape))
        return (alive + ratio * (1.0 - alive)) / quad(lambda t: exp(-(t**shape)), 0.0, age)[0]

    top = 3.0 ** (1.0 / shape) * 2.0 if found.age is None else 3.0 * found.age
    searched = minimize_scalar(cost, bounds=(1e-3, top), method="bounded", options={"xatol": 1e-9})
    if found.age is not None:
        assert found.cost_rate == pytest.approx(searched.fun, rel=1e-7)
        assert found.cost_rate == pytest.approx(cost(found.age), rel=1e-9)


@given(shapes, ratios, st.floats(0.01, 1e6))
def test_scales(shape: float, ratio: float, times: float) -> None:
    """The age goes with the lives; the cost rate with the cost and against the lives (process notes 3.1)."""
    one, other = age_replacement(shape, 1.0, 1.0, ratio), age_replacement(shape, times, 2.0, 2.0 * ratio)
    assert (one.age is None) == (other.age is None)
    if one.age is not None and other.age is not None:
        assert other.age == pytest.approx(times * one.age, rel=1e-9)
    assert other.cost_rate == pytest.approx(2.0 / times * one.cost_rate, rel=1e-9)
    assert other.share_before == pytest.approx(one.share_before, rel=1e-8)


def test_cost_of_any_age() -> None:
    best = age_replacement(3, 40_000, 1_700, 6_000)
    ages = (5_000, 15_000, 30_000, 90_000)
    assert all(cost_rate_at(age, 3, 40_000, 1_700, 6_000) > best.cost_rate for age in ages)
    assert cost_rate_at(1e9, 3, 40_000, 1_700, 6_000) == pytest.approx(best.cost_rate_to_end)


@pytest.mark.parametrize("wrong", [(0, 1, 1, 2), (2, -1, 1, 2), (2, 1, 0, 2), (2, 1, 1, float("nan"))])
def test_numbers_above_zero(wrong: tuple[float, float, float, float]) -> None:
    with pytest.raises(Refused, match="not above 0"):
        age_replacement(*wrong)
