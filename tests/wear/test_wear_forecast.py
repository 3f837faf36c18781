"""Pieces left: against arithmetic, against brute force, and what must hold whatever the numbers."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wear_cases import PRIOR, Die, a_prior, after_checks, matrix

from spc.errors import Refused
from spc.wear import (
    CROSSING_LEVELS,
    Crossing,
    FinishedSet,
    WearBelief,
    advance,
    forecast_life,
    fresh_belief,
    remount,
    size_crossing,
    travel_crossing,
)
from spc.wear.belief import GAIN, OFFSET, RATE, SIZE, WEAR

GRID = np.geomspace(1.0, 1e6, 480)
STEP = GRID[1] / GRID[0]


def known(reference: float, wear: float, rate: float, gain: float, age: int = 20_000) -> WearBelief:
    """A belief without doubt."""
    return WearBelief((reference, wear, rate, gain, 0.0, 0.0), (0.0,) * SIZE**2, age, None, 0.0, 50)


STILL = a_prior(rate_wander_um_per_1000=0.0)


@given(
    reference=st.floats(-10, 10),
    wear=st.floats(0, 30),
    rate=st.floats(0.1, 5),
    gain=st.floats(0.4, 2.1),
    travel=st.floats(50, 120),
)
@settings(max_examples=60, deadline=None)
def test_a_known_rate_gives_the_arithmetic(
    reference: float, wear: float, rate: float, gain: float, travel: float
) -> None:
    left = min(1000.0 * max(travel * gain - reference - wear, 0.0) / rate, 1e6)
    ends = travel_crossing(known(reference, wear, rate, gain), STILL, "over_pin", travel)
    forecast = forecast_life([ends], [], 20_000)
    assert forecast is not None
    assert all(left / STEP - 1 <= pieces <= left * STEP + 1 for pieces in forecast.pieces)


def test_a_negative_gain_is_the_mirror_image() -> None:
    prior = a_prior(gain=-0.9, rate_um_per_1000=-1.2)
    mirror = a_prior(gain=0.9)
    deeper_is_larger = after_checks(Die(-3.0, -1.1, -0.9, 1.0), prior, [500, 900, 4000], [0.0, 0.0, 3.0])
    deeper_is_smaller = replace(deeper_is_larger, mean=tuple(-each for each in deeper_is_larger.mean))
    one = travel_crossing(deeper_is_larger, prior, "groove", 60.0)
    other = travel_crossing(deeper_is_smaller, mirror, "groove", 60.0)
    assert np.array_equal(one.reached, other.reached)


@pytest.fixture(scope="module")
def partly_known() -> WearBelief:
    return after_checks(Die(), PRIOR, list(range(400, 12_000, 400)), [4.0 * (i // 7) for i in range(29)])


def states_ahead(belief: WearBelief, pieces: int, draws: int = 40_000) -> np.ndarray:
    """Draw the state now, then walk rate and wear on in small steps, as the model says in words."""
    dice = np.random.default_rng(6)
    states = dice.multivariate_normal(belief.mean, matrix(belief), draws)
    steps = 200
    k = pieces / 1000.0 / steps
    for _ in range(steps):
        before = states[:, RATE].copy()
        states[:, RATE] += dice.normal(0.0, PRIOR.rate_wander_um_per_1000 * k**0.5, draws)
        states[:, WEAR] += k * (before + states[:, RATE]) / 2.0
    return states


@pytest.mark.parametrize("place", [380, 400, 412])
def test_the_chance_ahead_agrees_with_brute_force(partly_known: WearBelief, place: int) -> None:
    states = states_ahead(partly_known, int(GRID[place]))
    needs = states[:, OFFSET] + states[:, WEAR] > states[:, GAIN] * 60.0
    ends = travel_crossing(partly_known, PRIOR, "over_pin", 60.0)
    assert ends.reached[place] == pytest.approx(needs.mean(), abs=4 * 0.5 / 200 + 1e-3)
    upper, lower = size_crossing(partly_known, PRIOR, "lead", -5.0, 40.0, 3.0)
    means = states[:, OFFSET] + states[:, WEAR] - 3.0
    assert upper.reached[place] == pytest.approx((means > 40.0).mean(), abs=4 * 0.5 / 200 + 1e-3)
    assert (upper.limit, lower.limit) == ("upper", "lower")


def test_after_a_remounting_the_need_is_as_sure_as_before(partly_known: WearBelief) -> None:
    before = travel_crossing(partly_known, PRIOR, "over_pin", 60.0)
    after = travel_crossing(remount(partly_known, PRIOR), PRIOR, "over_pin", 60.0)
    assert after.reached == pytest.approx(before.reached, abs=1e-12)


def test_after_a_remounting_the_size_is_as_unsure_as_its_set_up(partly_known: WearBelief) -> None:
    back = remount(partly_known, PRIOR)
    (upper,) = size_crossing(back, PRIOR, "lead", None, back.mean[OFFSET] + back.mean[WEAR], 0.0)
    assert upper.reached[0] == pytest.approx(0.5, abs=1e-3)
    (unsure,) = size_crossing(back, PRIOR, "lead", None, back.mean[OFFSET] + back.mean[WEAR] + 15.0, 0.0)
    assert unsure.reached[0] == pytest.approx(0.1587, abs=0.02)  # one standard deviation of a set-up away


@given(
    noise=st.floats(0.2, 4),
    rate=st.floats(0.05, 4),
    checks=st.integers(1, 60),
    age=st.integers(1, 90_000),
    seed=st.integers(0, 99),
)
@settings(max_examples=50, deadline=None)
def test_pieces_left_are_ordered_and_finite(
    noise: float, rate: float, checks: int, age: int, seed: int
) -> None:
    die = Die(rate_um_per_1000=rate, noise_sd_um=noise, seed=seed)
    belief = after_checks(die, PRIOR, [age + 300 * i for i in range(checks)], [0.0] * checks)
    crossings = [
        travel_crossing(belief, PRIOR, "over_pin", 60.0),
        *size_crossing(belief, PRIOR, "lead", -30.0, 30.0, 0.0),
    ]
    finished = [FinishedSet("D-1", 41_000, True, "worn"), FinishedSet("D-2", 9_000, False, "planned")]
    for sets in ([], finished):
        forecast = forecast_life(crossings, sets, belief.age_pieces)
        assert forecast is not None
        assert len(forecast.pieces) == len(CROSSING_LEVELS)
        assert list(forecast.pieces) == sorted(forecast.pieces)
        assert 0 <= forecast.pieces[0] <= forecast.pieces[-1] <= 1_000_000
    for crossing in crossings:
        assert np.all(np.diff(crossing.reached) >= 0.0)
        assert not crossing.reached.flags.writeable


def test_more_checks_narrow_the_forecast() -> None:
    prior = a_prior(rate_wander_um_per_1000=0.0, gain_sd=0.02)
    widths = []
    for checks in (3, 10, 40):
        belief = after_checks(Die(), prior, [600 * i for i in range(1, checks + 1)], [0.0] * checks)
        forecast = forecast_life([travel_crossing(belief, prior, "over_pin", 60.0)], [], belief.age_pieces)
        assert forecast is not None
        widths.append((forecast.pieces[4] - forecast.pieces[0]) / forecast.pieces[2])
    assert widths[0] > 1.3 * widths[1] > 2.0 * widths[2]


def test_the_forecast_is_no_line_with_a_fixed_margin() -> None:
    # Of two sets equally far from the limit the older one, whose growth is known, is told more sharply; and
    # late is further from likely than early is.
    young = after_checks(Die(), PRIOR, [300, 600, 900], [0.0] * 3)
    forecast = forecast_life([travel_crossing(young, PRIOR, "over_pin", 60.0)], [], 900)
    assert forecast is not None
    early, _, likely, _, late = forecast.pieces
    assert late - likely > 1.3 * (likely - early)


def test_a_wandering_rate_does_not_pull_the_forecast_early() -> None:
    # First passage of the walk itself, by brute force, is the truth; dies do not heal, so only its first half
    # is compared: growth 1.1 per 1,000, 60 µm to go.
    prior = a_prior(rate_wander_um_per_1000=0.13)
    cov = np.diag([0.5, 0.0, 0.01, 0.0004, 0.0, 0.0])
    belief = WearBelief((0.0, 0.0, 1.1, 0.8, 0.0, 0.0), tuple(cov.ravel()), 0, None, 0.0, 30)
    worn = [FinishedSet(f"D-{i}", age, True, "worn") for i, age in enumerate((20_000, 55_000, 150_000))]
    forecast = forecast_life([travel_crossing(belief, prior, "over_pin", 75.0)], worn, 0)
    dice = np.random.default_rng(1)
    draws, k = 8000, 0.5
    rate = dice.normal(1.1, 0.1, draws)
    gap = dice.normal(0.0, 0.5**0.5, draws) - 75.0 * dice.normal(0.8, 0.02, draws)
    passed = np.full(draws, np.inf)
    for step in range(1, 400):
        gap += k * rate
        rate += dice.normal(0.0, 0.13 * k**0.5, draws)
        passed[(gap > 0.0) & np.isinf(passed)] = 1000.0 * k * step
    assert forecast is not None
    assert forecast.pieces[2] == pytest.approx(np.median(passed), rel=0.08)
    assert forecast.pieces[0] == pytest.approx(np.quantile(passed, 0.05), rel=0.12)


def test_the_first_limit_reached_ends_the_set() -> None:
    belief = known(0.0, 10.0, 1.0, 0.8)
    travel = travel_crossing(belief, STILL, "over_pin", 60.0)  # 38,000 left
    (lead,) = size_crossing(known(0.0, 10.0, 0.5, 0.0), STILL, "lead", None, 14.0, 0.0)  # 8,000 left
    both = forecast_life([travel, lead], [], 20_000)
    alone = forecast_life([lead], [], 20_000)
    assert both is not None
    assert (both.characteristic, both.limit) == ("lead", "upper")
    assert alone is not None
    assert both.pieces == pytest.approx(alone.pieces, abs=2)
    assert both.pieces[2] == pytest.approx(8000, rel=0.03)


@given(st.integers(0, 10_000))
@settings(max_examples=40, deadline=None)
def test_one_limit_more_never_lengthens(seed: int) -> None:
    dice = np.random.default_rng(seed)
    one, other = (Crossing("a", "upper", np.sort(dice.beta(0.4, 0.4, 480))) for _ in range(2))
    single, double = forecast_life([one], [], 9000), forecast_life([one, other], [], 9000)
    assert single is not None
    assert double is not None
    assert all(b <= a for a, b in zip(single.pieces, double.pieces, strict=True))


def test_a_limit_already_reached_leaves_nothing() -> None:
    forecast = forecast_life([travel_crossing(known(0, 60.0, 1.0, 0.8), STILL, "over_pin", 60.0)], [], 9000)
    assert forecast is not None
    assert forecast.pieces == (0, 0, 0, 0, 0)


def test_a_die_that_never_reaches_its_limit_has_the_longest_count() -> None:
    forecast = forecast_life([travel_crossing(known(0, 0.0, -1.0, 0.8), STILL, "over_pin", 60.0)], [], 9000)
    assert forecast is not None
    assert forecast.pieces[0] > 900_000


def test_nothing_that_can_end_it_gives_no_forecast() -> None:
    assert forecast_life([], [], 100) is None
    assert size_crossing(known(0, 0, 1, 0.0), STILL, "lead", None, None, 0.0) == []


def test_before_the_first_check_it_says_almost_nothing() -> None:
    belief = advance(fresh_belief(PRIOR), PRIOR, 100)
    forecast = forecast_life([travel_crossing(belief, PRIOR, "over_pin", 60.0)], [], 100)
    assert forecast is not None
    assert forecast.pieces[4] > 5 * forecast.pieces[0]


def test_refuses_what_cannot_be() -> None:
    belief = fresh_belief(PRIOR)
    for travel in (0.0, -5.0, float("nan")):
        with pytest.raises(Refused, match="travel"):
            travel_crossing(belief, PRIOR, "over_pin", travel)
    with pytest.raises(Refused, match="not a number"):
        size_crossing(belief, PRIOR, "lead", None, float("nan"), 0.0)
    with pytest.raises(Refused, match="age"):
        forecast_life([travel_crossing(belief, PRIOR, "over_pin", 60.0)], [], -1)
