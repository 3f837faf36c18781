"""What changed: Bayes factors against whole densities, and clean stories told by their name."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import multivariate_normal
from wear_cases import PRIOR, a_prior

from spc.wear import Level, Story, WearPrior, weigh_stories

STEADY = a_prior(wander_sd_um=0.6, batch_sd_um=2.0, rate_wander_um_per_1000=0.03)


def levels(values: list[float], new_bars: tuple[int, ...] = ()) -> list[Level]:
    """Checks 300 pieces apart, growth 1.0 ± 0.2 beforehand."""
    batches = [sum(i >= each for each in new_bars) for i in range(len(values))]
    return [Level(6000 + 300 * i, y, 0.3, 1.0, 0.2, batches[i]) for i, y in enumerate(values)]


def a_row(seed: int, checks: int = 20) -> np.ndarray:
    """Nothing but growth and noise."""
    return 4.0 + 0.3 * np.arange(checks) + np.random.default_rng(seed).normal(0.0, 0.55, checks)


def covariance(row: list[Level], prior: WearPrior) -> np.ndarray:
    """Entry by entry from the words; the part of the walking rate by integration."""
    cov = np.zeros((len(row), len(row)))
    for i, one in enumerate(row):
        for j, other in enumerate(row):
            s, t = ((each.age_pieces - row[0].age_pieces) / 1000.0 for each in (one, other))
            walked = quad(lambda u, s=s, t=t: (s - u) * (t - u), 0.0, min(s, t))[0]
            apart = abs(one.age_pieces - other.age_pieces)
            cov[i, j] = prior.wander_sd_um**2 * math.exp(-apart / prior.wander_pieces)
            cov[i, j] += one.rate_sd_um_per_1000**2 * s * t + prior.rate_wander_um_per_1000**2 * walked
            cov[i, j] += prior.batch_sd_um**2 if one.batch == other.batch else 0.0
            cov[i, j] += one.noise_var_um2 if i == j else 0.0
            cov[i, j] += 1e4 * max(prior.wander_sd_um**2, 1.0)  # where it begins is unknown
    return cov


@pytest.mark.parametrize("prior", [STEADY, PRIOR])
@pytest.mark.parametrize(("place", "is_slope"), [(4, False), (7, True), (-1, False)])
def test_the_weight_is_the_ratio_of_two_densities(prior: WearPrior, place: int, is_slope: bool) -> None:
    values = a_row(3, 10)
    values[6:] += 1.5
    row = levels(values.tolist(), (5,))
    shape = np.zeros(10)
    at = place % 10
    shape[at:] = [0.3 * (i - at + 1) for i in range(at, 10)] if is_slope else 1.0
    cov, mean = covariance(row, prior), 0.3 * np.arange(10)
    story = multivariate_normal(mean, cov + 9.0 * np.outer(shape, shape)).logpdf(values)
    nothing = multivariate_normal(mean, cov).logpdf(values)
    tales = {each.cause: each for each in weigh_stories(row, prior, [Story("it", place, 0.2, 3.0, is_slope)])}
    odds = 0.2 * math.exp(story - nothing)
    assert tales["it"].weight / tales[""].weight == pytest.approx(odds, rel=1e-4)
    solved = np.linalg.solve(cov + 9.0 * np.outer(shape, shape), values - mean)
    assert tales["it"].amount_um == pytest.approx(9.0 * shape @ solved, rel=1e-4, abs=1e-6)


def test_an_age_that_fell_within_the_window_is_weighed_all_the_same() -> None:
    """A counter set back unnoticed: walked growth has a covariance only where it is counted from the youngest."""
    ages = [80_200 + 10_000 * i for i in range(4)] + [5 + 5_000 * i for i in range(12)]
    row = [Level(age, 2.0, 1.0, 0.5, 0.3, 1) for age in ages]
    stories = [Story("wear", i, 0.02, 3.6, True) for i in range(1, len(row))]
    tales = weigh_stories(row, a_prior(rate_wander_um_per_1000=0.11), stories)
    assert sum(each.weight for each in tales) == pytest.approx(1.0)
    assert all(math.isfinite(each.amount_um) for each in tales)


def usual(checks: int, **chances: float) -> list[Story]:
    steps = [Story("step", i, chances.get("step", 0.002), 6.0) for i in range(1, checks)]
    return steps + [Story("wear", i, chances.get("wear", 0.002), 2.0, True) for i in range(1, checks)]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("height", [-6.0, 6.0])
def test_a_clean_step_is_told_at_its_check(seed: int, height: float) -> None:
    values = a_row(seed)
    values[14:] += height
    first = weigh_stories(levels(values.tolist()), STEADY, usual(20))[0]
    assert (first.cause, first.place) == ("step", 14)
    assert first.weight > 0.9
    assert first.amount_um == pytest.approx(height, abs=2.0)


@pytest.mark.parametrize("seed", range(4))
def test_a_clean_ramp_is_told_as_wear(seed: int) -> None:
    values = a_row(seed)
    values[10:] += 3.0 * 0.3 * np.arange(1, 11)  # 3 µm in 1,000 pieces faster
    first = weigh_stories(levels(values.tolist()), STEADY, usual(20))[0]
    assert first.cause == "wear"
    assert first.weight > 0.7
    assert abs(first.place - 10) <= 2
    assert first.amount_um == pytest.approx(3.0, abs=0.9)


@pytest.mark.parametrize("seed", range(4))
def test_where_nothing_happened_nothing_is_told(seed: int) -> None:
    assert weigh_stories(levels(a_row(seed).tolist()), STEADY, usual(20))[0].cause == ""


def test_a_logged_change_of_bars_breaks_a_tie() -> None:
    values = a_row(1)
    values[14:] += 4.0
    tie = [Story("batch", 14, 0.01, 4.0), Story("step", 14, 0.01, 4.0)]
    even = {each.cause: each.weight for each in weigh_stories(levels(values.tolist()), STEADY, tie)}
    assert even["batch"] == pytest.approx(even["step"])
    logged = [Story("batch", 14, 0.3, 4.0), Story("step", 14, 0.01, 4.0)]
    told = weigh_stories(levels(values.tolist()), STEADY, logged)
    assert told[0].cause == "batch"
    assert told[0].weight / {each.cause: each.weight for each in told}["step"] == pytest.approx(30.0)
    known = {each.cause: each.weight for each in weigh_stories(levels(values.tolist(), (14,)), STEADY, tie)}
    assert known[""] > even[""]  # bars known to have changed may lie elsewhere: less is left to explain


@given(st.integers(0, 9999), st.floats(0.01, 100.0))
@settings(max_examples=25, deadline=None)
def test_weights_are_a_whole_in_order(seed: int, size: float) -> None:
    row = levels((np.random.default_rng(seed).normal(0.0, size, 9)).tolist(), (3, 6))
    tales = weigh_stories(row, PRIOR, usual(9))
    assert math.fsum(each.weight for each in tales) == pytest.approx(1.0)
    assert [each.weight for each in tales] == sorted((each.weight for each in tales), reverse=True)
    assert {each.cause for each in tales} == {"", "step", "wear"}
