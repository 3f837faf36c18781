"""What must hold of the wear filter whatever happens on the floor."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wear_cases import PRIOR, a_prior, matrix

from spc.errors import Refused
from spc.wear import (
    WearBelief,
    WearPrior,
    advance,
    change_batch,
    forecast_mean,
    fresh_belief,
    level_um,
    observe,
    open_shift,
    remount,
)

CHECK = st.tuples(
    st.just("check"), st.integers(1, 20_000), st.floats(-300, 300), st.floats(-60, 60), st.floats(1e-3, 50)
)
EVENT = st.sampled_from([("batch",), ("remount",), ("step",)])
STORY = st.lists(st.one_of(CHECK, CHECK, CHECK, EVENT), min_size=1, max_size=80)


def lived(story: list[tuple], prior: WearPrior, scale: float = 1.0) -> WearBelief:
    belief = fresh_belief(prior)
    for what, *rest in story:
        if what == "check":
            pieces, mean, approach, noise = rest
            belief = advance(belief, prior, belief.age_pieces + pieces)
            belief = observe(belief, scale * mean, scale * approach, scale**2 * noise)
        elif what == "batch":
            belief = change_batch(belief, prior)
        elif what == "remount":
            belief = remount(belief, prior)
        else:
            belief = open_shift(belief, scale**2 * 9.0)
    return belief


@given(STORY)
@settings(max_examples=60, deadline=None)
def test_the_covariance_stays_symmetric_and_positive(story: list[tuple]) -> None:
    cov = matrix(lived(story, PRIOR))
    assert np.array_equal(cov, cov.T)
    assert np.linalg.eigvalsh(cov).min() >= -1e-9 * max(1.0, np.trace(cov))
    assert np.all(np.isfinite(cov))


def test_the_covariance_stays_positive_over_years() -> None:
    dice = np.random.default_rng(4)
    belief = fresh_belief(PRIOR)
    for i in range(5000):
        belief = advance(belief, PRIOR, belief.age_pieces + int(dice.integers(50, 800)))
        belief = observe(belief, float(dice.normal(0, 3)), float(i % 40), 0.01)
        if i % 97 == 0:
            belief = change_batch(belief, PRIOR)
        if i % 501 == 0:
            belief = remount(belief, PRIOR)
    cov = matrix(belief)
    assert np.array_equal(cov, cov.T)
    assert np.linalg.eigvalsh(cov).min() > 0.0


@given(STORY, st.floats(0.01, 100))
@settings(max_examples=40, deadline=None)
def test_another_unit_of_size_changes_nothing(story: list[tuple], scale: float) -> None:
    scaled = a_prior(
        offset_sd_um=15.0 * scale,
        rate_um_per_1000=1.2 * scale,
        rate_sd_um_per_1000=0.8 * scale,
        rate_wander_um_per_1000=0.05 * scale,
        wander_sd_um=1.5 * scale,
        batch_sd_um=2.5 * scale,
    )
    plain, other = lived(story, PRIOR), lived(story, scaled, scale)
    per_unit = np.array([1.0, 1.0, 1.0, 1.0 / scale, 1.0, 1.0]) * scale
    assert np.array(other.mean) / per_unit == pytest.approx(np.array(plain.mean), rel=1e-6, abs=1e-6)
    assert matrix(other) / np.outer(per_unit, per_unit) == pytest.approx(matrix(plain), rel=1e-5, abs=1e-6)


@given(STORY, st.floats(-200, 200))
@settings(max_examples=40, deadline=None)
def test_another_target_moves_the_offset_and_nothing_else(story: list[tuple], shift: float) -> None:
    wide = a_prior(offset_sd_um=1e4)
    moved = [(what, rest[0], rest[1] + shift, *rest[2:]) if rest else (what,) for what, *rest in story]
    plain, other = lived(story, wide), lived(moved, wide)
    assert other.cov == plain.cov
    assert np.array(other.mean[1:]) == pytest.approx(np.array(plain.mean[1:]), abs=0.02)


@given(st.lists(st.integers(1, 3000), min_size=1, max_size=8))
@settings(max_examples=40, deadline=None)
def test_the_way_to_an_age_does_not_matter(steps: list[int]) -> None:
    start = observe(advance(fresh_belief(PRIOR), PRIOR, 700), 2.0, 5.0, 1.0)
    by_steps = start
    for step in steps:
        by_steps = advance(by_steps, PRIOR, by_steps.age_pieces + step)
    at_once = advance(start, PRIOR, 700 + sum(steps))
    assert by_steps.mean == pytest.approx(at_once.mean, rel=1e-10)
    assert np.array(by_steps.cov) == pytest.approx(np.array(at_once.cov), rel=1e-9, abs=1e-12)


def test_pieces_already_made_are_not_made_again() -> None:
    belief = advance(fresh_belief(PRIOR), PRIOR, 900)
    assert advance(belief, PRIOR, 900) is belief
    assert advance(belief, PRIOR, 100) is belief


def test_checks_at_one_age_may_come_in_any_order() -> None:
    start = advance(fresh_belief(PRIOR), PRIOR, 5000)
    one = observe(observe(start, 3.0, 0.0, 1.0), 5.0, 2.0, 0.5)
    other = observe(observe(start, 5.0, 2.0, 0.5), 3.0, 0.0, 1.0)
    assert one.mean == pytest.approx(other.mean, abs=1e-10)
    assert np.array(one.cov) == pytest.approx(np.array(other.cov), abs=1e-10)


def test_a_forecast_is_the_level_with_the_noise_of_a_check() -> None:
    belief = advance(fresh_belief(PRIOR), PRIOR, 4000)
    said = forecast_mean(belief, 6.0, 2.0)
    assert said.mean_um == pytest.approx(level_um(belief, 6.0)) == pytest.approx(1.2 * 4 - 0.8 * 6)
    quiet = forecast_mean(belief, 6.0, 1e-12)
    assert said.sd_um**2 - quiet.sd_um**2 == pytest.approx(2.0)


def test_what_a_straight_line_through_hourly_means_can_know() -> None:
    # Standard error of a least-squares slope, m evenly spaced means of standard deviation sx:
    # sx·sqrt(12/(m(m²−1))); m = 8: 0.1543, m = 24: 0.0295 (textbook formula, from memory).
    still = a_prior(rate_wander_um_per_1000=0.0, gain_sd=0.0, wander_sd_um=0.0, batch_sd_um=0.0)
    prior = replace(still, offset_sd_um=1e4, rate_sd_um_per_1000=1e4)
    for m, factor in ((8, 0.1543), (24, 0.0295)):
        belief = fresh_belief(prior)
        for hour in range(1, m + 1):
            belief = observe(advance(belief, prior, 1000 * hour), 0.0, 0.0, 1.0)
        assert belief.var(2) ** 0.5 == pytest.approx(factor, abs=5e-5)


NAN, INFINITE = float("nan"), float("inf")


@pytest.mark.parametrize(
    ("mean", "approach", "noise", "said"),
    [
        (NAN, 0.0, 1.0, "not a number"),
        (INFINITE, 0.0, 1.0, "not a number"),
        (1.0, NAN, 1.0, "not a number"),
        (1.0, 0.0, 0.0, "not above 0"),
        (1.0, 0.0, -2.0, "not above 0"),
        (1.0, 0.0, NAN, "not above 0"),
    ],
)
def test_refuses_what_no_check_can_be(mean: float, approach: float, noise: float, said: str) -> None:
    with pytest.raises(Refused, match=said):
        observe(fresh_belief(PRIOR), mean, approach, noise)
    if mean == 1.0:
        with pytest.raises(Refused, match=said):
            forecast_mean(fresh_belief(PRIOR), approach, noise)


@pytest.mark.parametrize("variance", [-1.0, NAN, INFINITE])
def test_refuses_a_move_of_impossible_variance(variance: float) -> None:
    with pytest.raises(Refused, match="variance"):
        open_shift(fresh_belief(PRIOR), variance)


def test_a_prior_that_is_sure_of_everything_learns_nothing() -> None:
    sure = WearPrior(0.0, 1.0, 0.0, 0.0, 0.8, 0.0, 0.0, 2500.0, 0.0)
    belief = observe(advance(fresh_belief(sure), sure, 3000), 99.0, 0.0, 1.0)
    assert belief == replace(belief, mean=(0.0, 3.0, 1.0, 0.8, 0.0, 0.0), cov=(0.0,) * 36)
