"""What the filter learns from a shop's days: the gain from moves, wear in spite of them, across re-mountings."""

import math

import numpy as np
import pytest
from wear_cases import PRIOR, Die, a_prior, after_checks, matrix, sd

from spc.wear import (
    SlideRole,
    WearBelief,
    advance,
    change_batch,
    forecast_mean,
    fresh_belief,
    gain_of,
    level_um,
    observe,
    open_shift,
    prior_for,
    remount,
)
from spc.wear.belief import GAIN, OFFSET, RATE, WEAR

TRUE_GAIN = 0.8


def held_at_target(die: Die, plan_gain: float, checks: int, pieces: int) -> tuple:
    """An operator who goes deeper by the plan's gain, in whole µm, whenever a mean is 4 µm off."""
    prior = prior_for(SlideRole("over_pin", 36.0, plan_gain), [])
    belief, approach, moves, seen = fresh_belief(prior), 0.0, 0, []
    for check in range(1, checks + 1):
        mean = die.mean_um(pieces * check, approach)
        belief = observe(advance(belief, prior, pieces * check), mean, approach, die.noise_sd_um**2)
        seen.append((moves, gain_of(belief), belief.mean[RATE]))
        if abs(mean) > 4.0:
            approach += round(mean / plan_gain)
            moves += 1
    return belief, seen


@pytest.mark.parametrize("wrong", [0.6, 1.4])
def test_a_gain_40_percent_wrong_is_pulled_back_by_moves(wrong: float) -> None:
    left = []
    for seed in range(12):
        die = Die(offset_um=9.0, rate_um_per_1000=1.4, gain=TRUE_GAIN, seed=seed)
        belief, seen = held_at_target(die, wrong * TRUE_GAIN, 80, 400)
        within_five = [gain for moves, gain, _ in seen if moves <= 5][-1]
        left.append((within_five - TRUE_GAIN) / ((wrong - 1.0) * TRUE_GAIN))
        assert abs(gain_of(belief) - TRUE_GAIN) < 3.5 * sd(belief, GAIN)
    assert abs(np.median(left)) < 0.5  # half of the mistake is gone after five moves of some 5 µm
    assert abs(np.mean(left)) < 0.5


@pytest.mark.parametrize("wrong", [0.6, 1.4])
def test_the_growth_does_not_absorb_a_wrong_gain(wrong: float) -> None:
    errors = []
    for seed in range(12):
        die = Die(offset_um=9.0, rate_um_per_1000=1.4, gain=TRUE_GAIN, seed=100 + seed)
        belief, _ = held_at_target(die, wrong * TRUE_GAIN, 80, 400)
        errors.append((belief.mean[RATE] - 1.4) / sd(belief, RATE))
    assert abs(np.mean(errors)) < 1.5
    assert max(map(abs, errors)) < 3.5


def test_without_a_move_nothing_is_learned_of_the_gain() -> None:
    belief = after_checks(Die(), PRIOR, list(range(300, 9000, 300)), [0.0] * 29)
    assert gain_of(belief) == PRIOR.gain
    assert sd(belief, GAIN) == pytest.approx(PRIOR.gain_sd)


def test_one_large_move_teaches_the_gain_at_once() -> None:
    # Two checks beside a move of 20 µm, noise 1 µm each: the gain to about sqrt(2)/20 and the wander's part.
    still = a_prior(wander_sd_um=0.0, batch_sd_um=0.0, rate_wander_um_per_1000=0.0)
    ages = list(range(200, 4200, 200))
    belief = after_checks(Die(gain=0.62), still, ages, [0.0] * 10 + [20.0] * 10)
    assert gain_of(belief) == pytest.approx(0.62, abs=3 * sd(belief, GAIN))
    assert sd(belief, GAIN) < math.sqrt(2.0) / 20.0


def test_the_level_is_known_better_than_one_check() -> None:
    belief = after_checks(Die(), PRIOR, list(range(300, 9000, 300)), [0.0] * 29)
    assert forecast_mean(belief, 0.0, 1e-12).sd_um < 0.75
    assert level_um(belief, 0.0) == pytest.approx(3.0 + 1.1 * 8.7, abs=2.5)


@pytest.fixture
def worn() -> tuple:
    return after_checks(Die(rate_um_per_1000=1.1), PRIOR, list(range(300, 18000, 300)), [0.0] * 59), 17700


def test_a_remounting_keeps_wear_and_rate(worn: tuple) -> None:
    belief, age = worn
    back = remount(belief, PRIOR)
    assert back.mean[WEAR] == belief.mean[WEAR]
    assert (back.mean[RATE], back.var(RATE)) == (belief.mean[RATE], belief.var(RATE))
    assert (back.mean[GAIN], back.var(GAIN)) == (belief.mean[GAIN], belief.var(GAIN))
    assert (back.age_pieces, back.checks) == (age, belief.checks)
    assert sd(back, OFFSET) == pytest.approx(PRIOR.offset_sd_um)


def test_a_set_up_somewhere_else_does_not_move_wear(worn: tuple) -> None:
    belief, age = worn
    back = remount(belief, PRIOR)
    elsewhere = Die(offset_um=-11.0, rate_um_per_1000=1.1, seed=8)
    for each in range(age + 300, age + 6300, 300):
        back = advance(back, PRIOR, each)
        back = observe(back, elsewhere.mean_um(each, 0.0), 0.0, 1.0)
    assert back.mean[OFFSET] + back.mean[WEAR] == pytest.approx(-11.0 + 1.1 * 23.7, abs=3.0)
    assert back.mean[WEAR] - belief.mean[WEAR] == pytest.approx(1.1 * 6.0, abs=2.0)
    assert back.mean[RATE] == pytest.approx(1.1, abs=0.2)


def test_a_remounting_keeps_what_is_known_of_reference_and_wear_together(worn: tuple) -> None:
    belief, _ = worn
    back = remount(belief, PRIOR)
    before, after = matrix(belief), matrix(back)
    together = before[OFFSET, OFFSET] + before[WEAR, WEAR] + 2.0 * before[OFFSET, WEAR]
    assert back.reference_um == belief.mean[OFFSET]
    assert after[WEAR, WEAR] == pytest.approx(together)
    assert after[WEAR, RATE] == pytest.approx(before[OFFSET, RATE] + before[WEAR, RATE])
    assert after[WEAR, GAIN] == pytest.approx(before[OFFSET, GAIN] + before[WEAR, GAIN], abs=1e-12)
    assert together < before[OFFSET, OFFSET] + before[WEAR, WEAR]  # each for itself is known less well
    again = remount(back, PRIOR)
    assert again.reference_um == back.reference_um
    assert again.mean[WEAR] == back.mean[WEAR]
    assert again.var(WEAR) == back.var(WEAR)


def test_a_mounting_without_a_check_taught_no_reference() -> None:
    back = remount(advance(fresh_belief(PRIOR), PRIOR, 200), PRIOR)
    assert back.first_offset_um is None


def two_batches(belief: WearBelief, age: int, checks: int, *, logged: bool) -> WearBelief:
    """Go on with bars that bring 5 µm more, of which the log may know."""
    belief = change_batch(belief, PRIOR) if logged else belief
    die = Die(offset_um=8.0, rate_um_per_1000=1.1, seed=5)
    for each in range(age + 300, age + 300 * checks + 300, 300):
        belief = advance(belief, PRIOR, each)
        belief = observe(belief, die.mean_um(each, 0.0), 0.0, 1.0)
    return belief


@pytest.mark.parametrize("checks", [1, 4, 30])
def test_a_new_batch_moves_the_level_and_hardly_the_wear(worn: tuple, checks: int) -> None:
    belief, age = worn
    told = two_batches(belief, age, checks, logged=True)
    untold = two_batches(belief, age, checks, logged=False)
    made = 1.1 * 0.3 * checks
    assert abs(told.mean[WEAR] - belief.mean[WEAR] - made) < 1.0
    assert abs(told.mean[RATE] - 1.1) < 0.15
    assert abs(told.mean[RATE] - 1.1) < max(0.05, abs(untold.mean[RATE] - 1.1))
    assert level_um(told, 0.0) == pytest.approx(8.0 + 1.1 * 17.7 + made, abs=2.0)


def test_a_step_nobody_logged_may_stay_or_pass(worn: tuple) -> None:
    belief, _ = worn
    opened = open_shift(belief, 16.0)
    assert forecast_mean(opened, 0.0, 1.0).sd_um ** 2 - forecast_mean(belief, 0.0, 1.0).sd_um ** 2 == (
        pytest.approx(16.0)
    )
    assert opened.mean == belief.mean
    assert opened.var(OFFSET) - belief.var(OFFSET) == pytest.approx(8.0)


def test_many_batches_teach_where_the_set_stands() -> None:
    dice = np.random.default_rng(3)
    prior = a_prior(rate_wander_um_per_1000=0.0)
    belief, age = fresh_belief(prior), 0
    for _ in range(25):
        bars = float(dice.normal(0.0, 2.5))
        for _ in range(6):
            age += 300
            belief = advance(belief, prior, age)
            belief = observe(belief, 3.0 + 1.1 * age / 1000.0 + bars + float(dice.normal()), 0.0, 1.0)
        belief = change_batch(belief, prior)
    truth = 3.0 + 1.1 * age / 1000.0
    sums = matrix(belief)[:2, :2].sum()
    assert belief.mean[OFFSET] + belief.mean[WEAR] == pytest.approx(truth, abs=3.0 * sums**0.5)
    assert sums**0.5 < 1.5  # one batch alone would leave 2.5
    assert belief.mean[RATE] == pytest.approx(1.1, abs=3.0 * sd(belief, RATE))
