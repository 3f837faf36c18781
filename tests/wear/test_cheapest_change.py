"""The cheapest moment to change one set: against a fine grid of the same law, and what any such rule must keep."""

from math import log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import cumulative_trapezoid
from scipy.stats import norm

from spc.errors import Refused
from spc.wear import DieCosts, SetAhead, chance_of_end, cheapest_change, cost_at, waiting_cost

COSTS = DieCosts(1_700.0, 6_000.0)
SETS = (
    SetAhead(20_000, 4_000, 8_000, 14_000, 0.005),
    SetAhead(2_000, 14_000, 28_000, 40_000, 0.02),
    SetAhead(0, 1_000, 2_000, 4_000),
    SetAhead(9_000, 3_000, 3_300, 3_700),
)


def fine(ahead: SetAhead) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """More pieces, chance to be on still, and cost a piece: the law of the docstring on twenty thousand places."""
    pieces = np.linspace(1e-6, ahead.late, 20_001)
    z = np.log(pieces / ahead.likely)
    below, above = log(ahead.likely / ahead.early), log(ahead.late / ahead.likely)
    worn = norm.cdf(norm.ppf(0.95) * z / np.where(z < 0.0, below, above))
    alive = (1.0 - worn) * np.exp(-ahead.sudden_per_1000 * pieces / 1_000.0)
    made = cumulative_trapezoid(alive, pieces, initial=0.0)
    return (
        pieces,
        alive,
        (COSTS.planned * alive + COSTS.unplanned * (1.0 - alive)) / (ahead.age + made + 1e-9),
    )


@pytest.mark.parametrize("ahead", SETS)
def test_the_cheapest_moment_on_a_fine_grid(ahead: SetAhead) -> None:
    pieces, said = cheapest_change(ahead, COSTS)
    assert pieces is not None
    places, _, costs = fine(ahead)
    # trapezes over half a standard deviation: a half per cent, on a bottom that is flat
    assert said == pytest.approx(costs.min(), rel=5e-3)
    assert np.interp(pieces, places, costs) == pytest.approx(costs.min(), rel=5e-3)


@pytest.mark.parametrize("ahead", SETS)
def test_any_other_moment(ahead: SetAhead) -> None:
    places, alive, costs = fine(ahead)
    for pieces in (0.5 * ahead.early, ahead.early, ahead.likely, 0.9 * ahead.late):
        assert cost_at(ahead, COSTS, pieces) == pytest.approx(np.interp(pieces, places, costs), rel=0.02)
        ended = 1.0 - np.interp(pieces, places, alive)
        assert chance_of_end(ahead, pieces) == pytest.approx(ended, abs=0.02)


def test_run_to_the_end_where_a_planned_change_is_not_cheaper() -> None:
    """Process notes 3.1: a finite optimum only where cf > cp."""
    for unplanned in (1_700.0, 1_000.0):
        assert cheapest_change(SETS[0], DieCosts(1_700.0, unplanned))[0] is None


def test_change_now_where_the_end_may_be_here() -> None:
    assert cheapest_change(SetAhead(20_000, 0, 300, 900), COSTS) == (0.0, 1_700.0 / 20_000)
    assert chance_of_end(SetAhead(20_000, 0, 300, 900), 10) == 1.0


@given(st.floats(500, 50_000), st.floats(1.1, 3.0), st.floats(1.1, 3.0), st.floats(0.0, 60_000))
def test_what_every_such_rule_keeps(likely: float, under: float, over: float, age: float) -> None:
    ahead = SetAhead(age, likely / under, likely, likely * over)
    pieces, least = cheapest_change(ahead, COSTS)
    dear = cheapest_change(ahead, DieCosts(1_700.0, 30_000.0))[0]
    assert pieces is not None
    assert dear is not None
    assert dear <= 1.01 * pieces  # a dearer end is met sooner
    for other in (0.3 * pieces, 2.0 * pieces + 10.0):
        assert cost_at(ahead, COSTS, other) >= least * 0.995
    twice = SetAhead(2 * age, 2 * ahead.early, 2 * ahead.likely, 2 * ahead.late)
    assert cheapest_change(twice, COSTS)[0] == pytest.approx(2.0 * pieces, rel=1e-6)


def test_what_waiting_costs() -> None:
    first = cheapest_change(SETS[0], COSTS)[0] or 0.0
    waits = [waiting_cost(SETS[0], COSTS, first, first + more) for more in (0, 500, 1_500, 4_000)]
    assert waits[0] == 0.0
    assert waits == sorted(waits)
    # four fifths of a life later nearly the whole difference of the two changes is at stake
    assert 0.0 < waits[1] < 60.0 < 1_000.0 < waits[3] < 4_300.0


@pytest.mark.parametrize(
    "wrong", [(0, 3, 2, 4), (-1, 1, 2, 3), (0, -1, 2, 3), (0, 1, 2, float("nan")), (0, 1, 2, 3, -1)]
)
def test_numbers_that_do_not_rise(wrong: tuple[float, ...]) -> None:
    with pytest.raises(Refused, match="rise"):
        SetAhead(*wrong)
