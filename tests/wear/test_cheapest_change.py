"""The cheapest moment to change one set: against a fine grid of the same law, and what any such rule must keep."""

from math import log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import cumulative_trapezoid
from scipy.stats import norm

from spc.errors import Refused
from spc.statistics import age_replacement
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
    rate = 0.3 if ahead.age == 0 else 0.11
    pieces = cheapest_change(ahead, COSTS, rate)
    assert pieces is not None
    places, alive, _ = fine(ahead)
    made = cumulative_trapezoid(alive, places, initial=0.0)
    net = COSTS.unplanned - (COSTS.unplanned - COSTS.planned) * alive - rate * made
    # trapezes over half a standard deviation: a hundredth of a change, on a bottom that is flat
    assert np.interp(pieces, places, net) == pytest.approx(
        min(net.min(), COSTS.planned), abs=0.01 * COSTS.planned
    )


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
        assert cheapest_change(SETS[0], DieCosts(1_700.0, unplanned), 0.1) is None


def test_change_now_where_the_end_may_be_here() -> None:
    for ahead in (SetAhead(20_000, 0, 300, 900), SetAhead(20_000, 0, 0, 0)):
        assert cheapest_change(ahead, COSTS, 0.11) == 0.0
    assert chance_of_end(SetAhead(20_000, 0, 0, 0), 10) > 0.99


@given(st.floats(1e-5, 1e-2), st.floats(0, 200_000))
def test_a_risk_that_does_not_rise_takes_no_set_off(per_piece: float, age: float) -> None:
    """Process notes 3.1: with shape 1 there is no finite optimum, however lucky a set has been so far."""
    rate = age_replacement(1.0, 1.0 / per_piece, COSTS.planned, COSTS.unplanned).cost_rate
    far = 100.0 / per_piece
    ahead = SetAhead(age, far, 2.0 * far, 3.0 * far, 1_000.0 * per_piece)
    assert (
        cheapest_change(ahead, COSTS, rate) is None or (cheapest_change(ahead, COSTS, rate) or 0) > 0.05 * far
    )


@given(st.floats(500, 50_000), st.floats(1.1, 3.0), st.floats(1.1, 3.0), st.floats(0.01, 4.0))
def test_what_every_such_rule_keeps(likely: float, under: float, over: float, usual: float) -> None:
    """Where a piece is worth much, the risk of a wide law is never worth a change: then the end is cheapest."""
    ahead, rate = SetAhead(9_000, likely / under, likely, likely * over), usual * 3_000.0 / likely
    pieces = cheapest_change(ahead, COSTS, rate)
    dear = cheapest_change(ahead, DieCosts(1_700.0, 30_000.0), rate)
    if pieces is not None:
        assert dear is not None
        assert dear <= 1.01 * pieces  # a dearer end is met sooner
    best = 3.0 * ahead.late if pieces is None else pieces
    for other in (0.0, 0.3 * best, 0.1 * likely, likely, ahead.late, 2.0 * best + 10.0):
        assert waiting_cost(ahead, COSTS, rate, best, other) > -0.02 * COSTS.planned
    twice = SetAhead(0, 2 * ahead.early, 2 * ahead.likely, 2 * ahead.late)
    of_twice = cheapest_change(twice, COSTS, rate / 2.0)
    assert (of_twice is None) == (pieces is None)
    assert of_twice is None or of_twice == pytest.approx(2.0 * best, rel=1e-6)


def test_what_waiting_costs() -> None:
    first = cheapest_change(SETS[0], COSTS, 0.11) or 0.0
    waits = [waiting_cost(SETS[0], COSTS, 0.11, first, first + more) for more in (0, 500, 1_500, 4_000)]
    assert waits[0] == 0.0
    assert waits == sorted(waits)
    # written out: the chance to end meanwhile times what it costs more, less the pieces made
    ended = chance_of_end(SETS[0], first + 4_000) - chance_of_end(SETS[0], first)
    assert waits[3] == pytest.approx(4_300.0 * ended - 0.11 * 4_000 * (1.0 - 0.5 * ended - 0.05), abs=60.0)


@pytest.mark.parametrize(
    "wrong", [(0, 3, 2, 4), (-1, 1, 2, 3), (0, -1, 2, 3), (0, 1, 2, float("nan")), (0, 1, 2, 3, -1)]
)
def test_numbers_that_do_not_rise(wrong: tuple[float, ...]) -> None:
    with pytest.raises(Refused, match="rise"):
        SetAhead(*wrong)
