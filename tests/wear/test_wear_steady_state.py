"""Gains the filter settles at, against the Riccati equation: exact values of two small models."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.linalg import solve_discrete_are
from wear_cases import a_prior, matrix

from spc.wear import WearBelief, WearPrior, advance, fresh_belief, observe
from spc.wear.belief import RATE, SHIFT, SIZE, WEAR

# A unit step is 1,000 pieces, so that a rate per 1,000 pieces is one per step. The passing shift with an
# endless correlation length is a random walk: its variance grows by q in each step.
ENDLESS_PIECES = 1e10


def random_walk_prior(q: float, rate_wander: float = 0.0, rate_sd: float = 0.0) -> WearPrior:
    return a_prior(
        offset_sd_um=0.0,
        rate_um_per_1000=0.0,
        rate_sd_um_per_1000=rate_sd,
        rate_wander_um_per_1000=rate_wander,
        gain_sd=0.0,
        wander_sd_um=(q * ENDLESS_PIECES / 2000.0) ** 0.5,
        wander_pieces=ENDLESS_PIECES,
        batch_sd_um=0.0,
    )


def settled(prior: WearPrior, rate_noise: float = 0.0, steps: int = 600) -> WearBelief:
    """Predicted belief after many unit steps with an observation variance of 1."""
    start = fresh_belief(prior)
    small = tuple(min(each, 10.0) for each in start.cov)  # a nearer start settles sooner
    belief = replace(start, cov=small)
    for step in range(1, steps + 1):
        if step > 1:
            belief = observe(belief, 0.0, 0.0, 1.0)
        belief = advance(belief, prior, 1000 * step)
        belief = add_rate_noise(belief, rate_noise)
    return belief


def add_rate_noise(belief: WearBelief, variance: float) -> WearBelief:
    """Noise on the rate alone, once a step: the discrete model, which has no noise inside the step."""
    cov = list(belief.cov)
    cov[SIZE * RATE + RATE] += variance
    return replace(belief, cov=tuple(cov))


def gains(predicted: WearBelief) -> tuple[float, float]:
    """What a surprise of 1 moves: the level (wear and shift together) and the rate."""
    level, rate = WEAR, RATE
    after = observe(predicted, 1.0, 0.0, 1.0)
    moved = [after.mean[i] - predicted.mean[i] for i in range(SIZE)]
    surprise = 1.0 - predicted.mean[level] - predicted.mean[SHIFT] - predicted.mean[0]
    return (moved[level] + moved[SHIFT]) / surprise, moved[rate] / surprise


def test_a_local_level_settles_at_the_weight_of_an_ewma() -> None:
    # Local level, q = 0.1, r = 1: P = (q + sqrt(q² + 4q))/2 = 0.37016, K = P/(P + 1) = 0.27016; the local level
    # is the model behind the EWMA (Muth 1960, J. Am. Stat. Assoc. 55; from memory), the figures by hand.
    predicted = settled(random_walk_prior(0.1))
    assert predicted.var(SHIFT) == pytest.approx(0.37016, abs=5e-6)
    assert gains(predicted)[0] == pytest.approx(0.27016, abs=5e-6)


@pytest.mark.parametrize(
    ("q1", "q2", "level_gain", "rate_gain"),
    [
        # Discrete Riccati equation of level + rate, observation variance 1: own derivation, no outside source.
        (0.0, 1e-4, 0.1319, 0.0093),
        (0.0, 1e-3, 0.2226, 0.0279),
        (0.01, 1e-4, 0.1590, 0.0092),
        (0.05, 1e-3, 0.2856, 0.0267),
    ],
)
def test_level_and_rate_settle_at_the_discrete_gains(
    q1: float, q2: float, level_gain: float, rate_gain: float
) -> None:
    predicted = settled(random_walk_prior(q1, rate_sd=0.1), rate_noise=q2)
    assert gains(predicted) == (pytest.approx(level_gain, abs=5e-5), pytest.approx(rate_gain, abs=5e-5))


def test_the_standard_deviations_at_the_discrete_gains() -> None:
    # Same source: predicted sd of the level 0.390, of the rate 0.0389 at (q1, q2) = (0, 1e-4).
    predicted = settled(random_walk_prior(0.0, rate_sd=0.1), rate_noise=1e-4)
    assert predicted.var(WEAR) ** 0.5 == pytest.approx(0.390, abs=5e-4)
    assert predicted.var(RATE) ** 0.5 == pytest.approx(0.0389, abs=5e-5)


@pytest.mark.parametrize("w", [0.01, 0.05, 0.3])
def test_the_integrated_random_walk_settles_at_its_riccati_solution(w: float) -> None:
    transition = np.array([[1.0, 1.0], [0.0, 1.0]])
    noise = w * w * np.array([[1 / 3, 1 / 2], [1 / 2, 1.0]])  # Wiener velocity over a unit step
    expected = solve_discrete_are(transition.T, np.array([[1.0], [0.0]]), noise, np.array([[1.0]]))
    predicted = settled(random_walk_prior(0.0, rate_wander=w, rate_sd=0.3), steps=900)
    assert matrix(predicted)[np.ix_([WEAR, RATE], [WEAR, RATE])] == pytest.approx(expected, rel=1e-6)
