"""Life data and change points against published values and general libraries."""

import numpy as np
import pytest
import statsmodels.datasets
from hypothesis import given
from hypothesis import strategies as st
from lifelines import KaplanMeierFitter, LogNormalFitter, WeibullFitter
from mpmath import findroot, log, mp, mpf
from published_series import BEARINGS, SIX_MP

from spc.errors import Refused
from spc.statistics.change_point import level_change, rank_change
from spc.statistics.kaplan_meier import kaplan_meier
from spc.statistics.life_model import life_model

WEEKS = [float(each.rstrip("+")) for each in SIX_MP]
RELAPSED = [not each.endswith("+") for each in SIX_MP]
NILE = statsmodels.datasets.nile.load_pandas().data["volume"].tolist()


def test_kaplan_meier_of_six_mp():
    # Freireich 1963, Lawless (from memory, reproduces the print)
    found = kaplan_meier(WEEKS, RELAPSED)
    assert found.times == (6, 7, 10, 13, 16, 22, 23)
    printed = [0.85714, 0.80672, 0.75294, 0.69020, 0.62745, 0.53782, 0.44818]
    assert list(found.survival) == pytest.approx(printed, abs=5.1e-6)
    assert (found.errors[0], found.errors[-1]) == pytest.approx((0.07636, 0.13459), abs=5.1e-6)
    assert (found.n, found.failures, found.median) == (21, 9, 23)
    assert (found.at(5.9), found.at(6), found.at(100)) == (1.0, found.survival[0], found.survival[-1])


def test_life_models_of_six_mp():
    exponential = life_model(WEEKS, RELAPSED, "exponential")
    assert dict(exponential.parameters)["rate"] == pytest.approx(9 / 359)
    assert dict(exponential.parameters)["rate"] == pytest.approx(0.0250696, abs=5.1e-8)
    weibull = life_model(WEEKS, RELAPSED)
    # the scale is quoted elsewhere as 33.765150; in 30 digits it is 33.765150968, so the last digit there is a slip
    assert [value for _, value in weibull.parameters] == pytest.approx([1.353735, 33.765151], abs=5.1e-7)
    # quoted as -41.658679: that search stopped short of the top as well, -41.658678477 is higher
    assert weibull.log_likelihood == pytest.approx(-41.658678, abs=5.1e-7)


def test_weibull_of_six_mp_in_thirty_digits():
    # derivation: the score of the shape solved in arbitrary precision
    with mp.workdps(30):
        lives, ended = [mpf(week) for week in WEEKS], sum(RELAPSED)
        logs = sum(log(t) for t, over in zip(lives, RELAPSED, strict=True) if over) / ended

        def score(k):
            return 1 / k + logs - sum(t**k * log(t) for t in lives) / sum(t**k for t in lives)

        shape = findroot(score, 1.35)
        scale = (sum(t**shape for t in lives) / ended) ** (1 / shape)
    found = life_model(WEEKS, RELAPSED)
    assert [value for _, value in found.parameters] == pytest.approx([float(shape), float(scale)], rel=1e-12)


def test_life_models_of_the_bearings():
    # Lieblein & Zelen 1956; published shape 2.10, scale 81.88 (computed 81.874559), lognormal 4.15, 0.522
    weibull, lognormal = life_model(BEARINGS), life_model(BEARINGS, model="lognormal")
    assert [value for _, value in weibull.parameters] == pytest.approx([2.101847, 81.874559], abs=5.1e-7)
    assert weibull.log_likelihood == pytest.approx(-113.691959, abs=5.1e-7)
    assert [value for _, value in lognormal.parameters] == pytest.approx([4.150383, 0.521687], abs=5.1e-7)
    assert weibull.quantile(0.1).estimate == pytest.approx(28.065, abs=5.1e-4)
    assert weibull.quantile(0.5).estimate == pytest.approx(68.773, abs=5.1e-4)
    assert weibull.survival(weibull.quantile(0.1).estimate) == pytest.approx(0.9)


def test_a_second_implementation_agrees():
    # derivation: general survival library
    random = np.random.default_rng(5)
    lives = np.round(20 * random.weibull(1.6, 60), 2) + 0.01
    failed = list(random.random(60) < 0.6)
    steps = KaplanMeierFitter().fit(lives, failed).survival_function_["KM_estimate"]
    found = kaplan_meier(lives, failed)
    assert [found.at(life) for life in steps.index] == pytest.approx(steps.tolist(), abs=1e-12)
    weibull, other = life_model(lives, failed), WeibullFitter().fit(lives, failed)
    assert [value for _, value in weibull.parameters] == pytest.approx([other.rho_, other.lambda_], rel=1e-4)
    assert weibull.covariance[0] ** 0.5 * other.lambda_ == pytest.approx(
        other.summary.loc["lambda_", "se(coef)"], rel=1e-3
    )
    lognormal, other = life_model(lives, failed, "lognormal"), LogNormalFitter().fit(lives, failed)
    assert [value for _, value in lognormal.parameters] == pytest.approx([other.mu_, other.sigma_], rel=1e-4)
    assert lognormal.log_likelihood == pytest.approx(other.log_likelihood_, abs=1e-6)


def test_quantile_intervals_cover():
    random, hits = np.random.default_rng(2), 0
    for _ in range(300):
        lives = 100 * random.weibull(2.0, 60)
        found = life_model(np.minimum(lives, 120.0), lives < 120.0).quantile(0.1)
        hits += found.low <= 100 * (-np.log(0.9)) ** 0.5 <= found.high
    assert hits / 300 == pytest.approx(0.95, abs=0.04)


@given(
    st.lists(st.tuples(st.integers(1, 200), st.booleans()), min_size=4, max_size=25),
    st.sampled_from(["weibull", "lognormal", "exponential"]),
    st.sampled_from([0.01, 24.0]),
)
def test_lives_follow_the_unit_and_ignore_order(pairs, model, scale):
    pairs = [(1, True), (7, True), *pairs]
    lives, failed = zip(*pairs, strict=True)
    plain = life_model(lives, failed, model)
    moved = life_model([scale * life for life in lives[::-1]], failed[::-1], model)
    one, two = plain.quantile(0.3), moved.quantile(0.3)
    assert (two.estimate, two.low) == pytest.approx((scale * one.estimate, scale * one.low), rel=1e-6)
    assert one.low < one.estimate < one.high
    steps = kaplan_meier(lives, failed)
    assert all(a > b for a, b in zip(steps.survival, steps.survival[1:], strict=False))


def test_nile_broke_after_1898():
    # Nile flow 1871-1970, accepted break after observation 28 (computed: split, sums of squares, K)
    found = level_change(NILE, seed=1)
    assert found.after == found.peak_at == 28
    assert found.before_mean == pytest.approx(1097.75, abs=5.1e-3)
    assert found.after_mean == pytest.approx(849.9722, abs=5.1e-5)
    assert found.residual_squares == pytest.approx(1597457.194, abs=5.1e-4)
    assert found.total_squares == pytest.approx(2835156.75, abs=5.1e-3)
    assert abs(found.peak_sum) == pytest.approx(4995.2, abs=0.06)
    assert found.p == 0.001
    ranks = rank_change(NILE)
    assert (ranks.after, ranks.statistic) == (28, 1617)
    assert ranks.p < 1e-6


def test_split_by_brute_force():
    # derivation: every split fitted anew
    values = np.random.default_rng(4).normal(size=30)
    left = [
        np.sum((values[:k] - values[:k].mean()) ** 2) + np.sum((values[k:] - values[k:].mean()) ** 2)
        for k in range(1, 30)
    ]
    found = level_change(values, seed=1)
    assert found.after == int(np.argmin(left)) + 1
    assert found.residual_squares == pytest.approx(min(left), rel=1e-12)
    signs = np.sign(values[:, None] - values[None, :])
    assert rank_change(values).statistic == max(abs(signs[:k, k:].sum()) for k in range(1, 30))


def test_without_a_change_p_is_seldom_small():
    rows = np.random.default_rng(6).standard_normal((300, 40))
    assert np.mean([level_change(row, seed=1, draws=99).p <= 0.05 for row in rows]) < 0.09
    assert np.mean([rank_change(row).p < 0.05 for row in rows]) < 0.09


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: kaplan_meier([1, 2], [True]), "every life"),
        (lambda: kaplan_meier([1, 2], [False, False]), "nothing has failed yet"),
        (lambda: kaplan_meier([0, 2], [True, False]), "above 0"),
        (lambda: life_model([5, 5, 9], [True, True, False]), "two different lives.*exponential"),
        (lambda: life_model([5, 6], model="gamma"), "no such life model"),
        (lambda: level_change([1, 2, 3], seed=1), "too few"),
        (lambda: level_change([1, 2, 3, 4], seed=1, draws=5), "shuffles"),
        (lambda: rank_change([1, 1, 1, 1]), "all equal"),
    ],
)
def test_impossible_questions_are_refused(act, says):
    with pytest.raises(Refused, match=says):
        act()
