"""The whole filter against the general state-space filter of statsmodels, on an irregular series."""

import math
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter
from wear_cases import PRIOR, Die, a_prior, matrix

from spc.wear import advance, change_batch, forecast_mean, fresh_belief, observe, open_shift

Matrix = NDArray[np.float64]
COUNT = 60
NEW_BATCH_AFTER = {14, 37}
UNLOGGED_AFTER = {25}


@dataclass
class Series:
    ages: list[int]
    approaches: list[float]
    means: list[float]
    noises: list[float]


@pytest.fixture(scope="module")
def series() -> Series:
    dice = np.random.default_rng(20)
    ages = [int(age) for age in np.cumsum(dice.integers(20, 1500, COUNT))]
    approaches = [float(each) for each in np.repeat(np.cumsum(dice.integers(0, 6, COUNT // 5)), 5)]
    noises = [4.0 / float(n) for n in dice.integers(1, 6, COUNT)]
    die = Die(offset_um=-4.0, rate_um_per_1000=0.9, gain=0.62, noise_sd_um=1.3, seed=21)
    means = [die.mean_um(age, approach) for age, approach in zip(ages, approaches, strict=True)]
    return Series(ages, approaches, means, noises)


def transition(pieces: int) -> Matrix:
    move = np.eye(6)
    move[1, 2] = pieces / 1000.0
    move[4, 4] = math.exp(-pieces / PRIOR.wander_pieces)
    return move


def process_noise(pieces: int) -> Matrix:
    """Van Loan's integral written out: Wiener rate, integrated once; an autoregression's innovation."""
    k, w2 = pieces / 1000.0, PRIOR.rate_wander_um_per_1000**2
    noise = np.zeros((6, 6))
    noise[1:3, 1:3] = w2 * np.array([[k**3 / 3.0, k**2 / 2.0], [k**2 / 2.0, k]])
    noise[4, 4] = PRIOR.wander_sd_um**2 * -math.expm1(-2.0 * pieces / PRIOR.wander_pieces)
    return noise


def reference_filter(series: Series) -> KalmanFilter:
    reference = KalmanFilter(k_endog=1, k_states=6)
    reference.bind(np.array(series.means).reshape(-1, 1))
    reference["design"] = np.stack([[[1.0, 1.0, 0.0, -a, 1.0, 1.0]] for a in series.approaches], axis=2)
    reference["obs_cov"] = np.array(series.noises).reshape(1, 1, -1)
    reference["selection"] = np.eye(6)
    moves, noises = np.zeros((6, 6, COUNT)), np.zeros((6, 6, COUNT))
    for i in range(COUNT - 1):
        pieces = series.ages[i + 1] - series.ages[i]
        moves[:, :, i], noises[:, :, i] = transition(pieces), process_noise(pieces)
        if i in NEW_BATCH_AFTER:
            moves[5, 5, i] = 0.0
            noises[5, 5, i] = PRIOR.batch_sd_um**2
        if i in UNLOGGED_AFTER:
            noises[4, 4, i] += 4.5
            noises[0, 0, i] += 4.5
    moves[:, :, -1] = np.eye(6)
    reference["transition"], reference["state_cov"] = moves, noises
    first = transition(series.ages[0])
    sds = [PRIOR.offset_sd_um, 0.0, PRIOR.rate_sd_um_per_1000, PRIOR.gain_sd]
    start = np.diag([*sds, PRIOR.wander_sd_um, PRIOR.batch_sd_um])
    mean = first @ np.array([0.0, 0.0, PRIOR.rate_um_per_1000, PRIOR.gain, 0.0, 0.0])
    reference.initialize_known(mean, first @ start**2 @ first.T + process_noise(series.ages[0]))
    return reference


def test_agrees_with_the_general_filter(series: Series) -> None:
    reference = reference_filter(series).filter()
    belief = fresh_belief(PRIOR)
    for i in range(COUNT):
        belief = advance(belief, PRIOR, series.ages[i])
        if i - 1 in NEW_BATCH_AFTER:
            belief = change_batch(belief, PRIOR)
        if i - 1 in UNLOGGED_AFTER:
            belief = open_shift(belief, 9.0)
        said = forecast_mean(belief, series.approaches[i], series.noises[i])
        assert said.mean_um == pytest.approx(reference.forecasts[0, i], abs=1e-8)
        assert said.sd_um**2 == pytest.approx(reference.forecasts_error_cov[0, 0, i], rel=1e-8)
        belief = observe(belief, series.means[i], series.approaches[i], series.noises[i])
        assert belief.mean == pytest.approx(reference.filtered_state[:, i], abs=1e-8)
        assert matrix(belief) == pytest.approx(reference.filtered_state_cov[:, :, i], abs=1e-8)
    assert belief.checks == COUNT


def test_agrees_with_weighing_everything_at_once(series: Series) -> None:
    # The posterior of a straight die without wander is generalised least squares with the prior as data.
    still = a_prior(rate_wander_um_per_1000=0.0, wander_sd_um=0.0, batch_sd_um=0.0)
    belief = fresh_belief(still)
    for age, approach, mean, noise in zip(*vars(series).values(), strict=True):
        belief = observe(advance(belief, still, age), mean, approach, noise)
    rows = np.array([[1.0, a / 1000.0, -x] for a, x in zip(series.ages, series.approaches, strict=True)])
    weights = 1.0 / np.array(series.noises)
    precision = rows.T * weights @ rows + np.diag([15.0**-2, 0.8**-2, 0.15**-2])
    pull = rows.T * weights @ np.array(series.means) + np.array([0.0, 1.2 / 0.8**2, 0.8 / 0.15**2])
    offset, rate, gain = np.linalg.solve(precision, pull)
    assert (belief.mean[0], belief.mean[2], belief.mean[3]) == pytest.approx((offset, rate, gain), abs=1e-8)
    assert belief.mean[1] == pytest.approx(rate * series.ages[-1] / 1000.0, abs=1e-7)
