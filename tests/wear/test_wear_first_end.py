"""The first of several ends: against drawing each end from its own law, and what must hold."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wear_cases import PRIOR, Die, a_prior, after_checks

from spc.wear import (
    CROSSING_LEVELS,
    Way,
    advance,
    forecast_life,
    fresh_belief,
    past_ways,
    size_way,
    travel_way,
)
from spc.wear.learned import left_law

TRAVEL = Way("over_pin", "travel", 50.0, 25.0, 0.8, 1.0, 0.15, 22_000)
LEAD = Way("lead", "upper", 20.0, 9.0, 1.5, 0.5, 0.1, 22_000)
PAST = {"over_pin": past_ways([]), "lead": past_ways([])}


def test_the_least_of_two_agrees_with_drawing_both() -> None:
    dice, draws = np.random.default_rng(12), 200_000
    ends = []
    for way in (TRAVEL, LEAD):
        law = left_law(way, PAST[way.characteristic])
        ends.append(np.exp(law.centre + law.scale * dice.standard_t(law.df, draws)) - law.unsure)
    first = np.minimum(*ends)
    forecast = forecast_life([TRAVEL, LEAD], PAST)
    assert forecast is not None
    for pieces, level in zip(forecast.pieces, CROSSING_LEVELS, strict=True):
        error = (level * (1.0 - level) / draws) ** 0.5
        # four standard errors, and the straight lines between places 6 % apart
        assert np.mean(first <= pieces) == pytest.approx(level, abs=4.0 * error + 0.002)
    by_then = [
        np.mean(end <= np.median(first)) for end in ends
    ]  # the likelier to have come by the likely count
    assert forecast.characteristic == ("lead" if by_then[1] > by_then[0] else "over_pin")


@given(st.floats(1.0, 60.0), st.floats(0.1, 30.0), st.floats(0.2, 3.0))
@settings(max_examples=40, deadline=None)
def test_one_end_more_never_lengthens(length: float, done: float, rate: float) -> None:
    other = Way("lead", "upper", length, done, 1.0, rate, 0.2, 22_000)
    single, double = forecast_life([TRAVEL], PAST), forecast_life([TRAVEL, other], PAST)
    assert single is not None
    assert double is not None
    assert all(b <= a for a, b in zip(single.pieces, double.pieces, strict=True))


def test_the_nearer_end_is_named() -> None:
    near = replace(LEAD, done_um=19.0)
    forecast, alone, far = (forecast_life(ways, PAST) for ways in ([TRAVEL, near], [near], [TRAVEL]))
    assert forecast is not None
    assert alone is not None
    assert far is not None
    assert (forecast.characteristic, forecast.limit) == ("lead", "upper")
    assert forecast.pieces[2] <= alone.pieces[2] < far.pieces[2] / 5


@pytest.mark.parametrize("beyond", [3.0, 20.0])
def test_an_end_already_reached_leaves_nothing(beyond: float) -> None:
    over = replace(TRAVEL, done_um=50.0 + beyond)
    for ways in ([over], [over, LEAD]):
        forecast = forecast_life(ways, PAST)
        assert forecast is not None
        assert forecast.pieces[:3] == (0, 0, 0)


def test_nothing_that_can_end_it_gives_no_forecast() -> None:
    assert forecast_life([], {}) is None


def test_more_checks_narrow_the_forecast_of_a_young_set() -> None:
    # Past the middle life that is assumed before any set ended (20,000 pieces) this does not hold.
    prior = a_prior(rate_wander_um_per_1000=0.0, gain_sd=0.02)
    widths = []
    for checks in (1, 3, 10):
        belief = after_checks(Die(), prior, [600 * i for i in range(1, checks + 1)], [0.0] * checks)
        forecast = forecast_life([travel_way(belief, "over_pin", 60.0)], PAST)
        assert forecast is not None
        widths.append((forecast.pieces[4] - forecast.pieces[0]) / forecast.pieces[2])
    assert widths[0] > widths[1] > widths[2]


def test_before_the_first_check_it_says_almost_nothing() -> None:
    belief = advance(fresh_belief(PRIOR), PRIOR, 100)
    forecast = forecast_life([travel_way(belief, "over_pin", 60.0)], PAST)
    assert forecast is not None
    assert forecast.pieces[4] > 5 * forecast.pieces[0]


@given(noise=st.floats(0.2, 4), rate=st.floats(-1, 4), checks=st.integers(1, 60), age=st.integers(1, 90_000))
@settings(max_examples=30, deadline=None)
def test_whatever_checks_say_pieces_are_ordered(noise: float, rate: float, checks: int, age: int) -> None:
    die = Die(rate_um_per_1000=rate, noise_sd_um=noise)
    belief = after_checks(die, PRIOR, [age + 300 * i for i in range(checks)], [0.0] * checks)
    size = size_way(belief, "lead", -30.0, 30.0, 0.0)
    assert size is not None
    forecast = forecast_life([travel_way(belief, "over_pin", 60.0), size], PAST)
    assert forecast is not None
    assert list(forecast.pieces) == sorted(forecast.pieces)
    assert 0 <= forecast.pieces[0] <= forecast.pieces[-1] <= 1_000_000
