"""Indices from quantiles of any model, their intervals and the fallout."""

from math import exp, log

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import beta, norm

from spc.errors import Refused
from spc.statistics.bootstrap import bootstrap_checks
from spc.statistics.fitted_model import FittedModel, fit_model
from spc.statistics.index_intervals import location_interval, one_sided_interval, spread_interval
from spc.statistics.percentile_indices import percentile_indices
from spc.statistics.readings import frozen


def known(name, n=100, **parameters):
    return FittedModel(name, tuple(parameters.items()), n, 0.0, frozen(np.arange(1.0, n + 1)), "given")


def test_rayleigh_example():
    # computed, constructed: sigma 5, U 25; a normal formula would claim 1.9063
    model = known("rayleigh", sigma=5.0)
    found = percentile_indices(model, 0.0, 25.0, seed=1, natural_zero=True)
    assert found.quantiles.q50 == pytest.approx(5.887050, abs=5.1e-7)
    assert found.quantiles.q99865 == pytest.approx(18.176428, abs=5.1e-7)
    assert found.ppk_upper.estimate == pytest.approx(1.555241, abs=5.1e-7)
    assert found.ppk.estimate == found.ppk_upper.estimate
    assert (found.pp, found.ppk_lower) == (None, None)
    assert found.fallout_ppm.estimate == pytest.approx(3.726653, abs=5.1e-7)
    assert found.fallout_ppm.estimate == pytest.approx(1e6 * exp(-12.5), rel=1e-9)
    assert pytest.approx(1.9063, abs=5.1e-5) == (25 - 5 * 1.25331414) / (3 * 5 * 0.65513638)


def test_lognormal_example():
    # computed, constructed: ln-mean ln 10, ln-sd 0.4, L 2, U 40
    found = percentile_indices(known("lognormal", log_mean=log(10), log_sd=0.4), 2.0, 40.0, seed=1)
    ends = (found.quantiles.q00135, found.quantiles.q50, found.quantiles.q99865)
    assert ends == pytest.approx((3.011970, 10.0, 33.200864), abs=5.1e-7)
    indices = (found.pp, found.ppk_upper, found.ppk_lower)
    assert [each.estimate for each in indices] == pytest.approx([1.258741, 1.293055, 1.144815], abs=5.1e-7)
    assert found.ppk.estimate == found.ppk_lower.estimate
    above = percentile_indices(known("lognormal", log_mean=log(10), log_sd=0.4), None, 40.0, seed=1)
    assert above.fallout_ppm.estimate == pytest.approx(264.391, abs=5.1e-4)
    below = percentile_indices(known("lognormal", log_mean=log(10), log_sd=0.4), 2.0, None, seed=1)
    assert below.fallout_ppm.estimate == pytest.approx(28.6583, abs=5.1e-5)


def test_normal_model_gives_the_usual_indices_and_their_intervals():
    # derivation: chi-square, Bissell and noncentral t; 0.135 % taken literally is 2.999977 sigma
    model = known("normal", n=60, mean=10.0, sigma=1.0)
    found = percentile_indices(model, 5.0, 14.0, seed=3, draws=8000)
    exact = spread_interval(1.5, 60)
    assert found.pp.estimate == pytest.approx(1.5, rel=1e-5)
    assert (found.pp.low, found.pp.high) == pytest.approx((exact.low, exact.high), abs=0.02)
    bissell = location_interval(4 / 3, 60)
    assert (found.ppk.low, found.ppk.high) == pytest.approx((bissell.low, bissell.high), abs=0.03)
    one = percentile_indices(model, None, 14.0, seed=3, draws=8000)
    exact = one_sided_interval(4 / 3, 60)
    assert (one.ppk.low, one.ppk.high) == pytest.approx((exact.low, exact.high), abs=0.03)
    assert one.fallout_ppm.estimate == pytest.approx(1e6 * norm.sf(4.0), rel=1e-9)
    assert one.fallout_ppm.low == pytest.approx(1e6 * norm.sf(3 * exact.high), rel=0.5)
    assert one.fallout_ppm.high == pytest.approx(1e6 * norm.sf(3 * exact.low), rel=0.2)


def test_intervals_cover_as_often_as_they_say():
    random = np.random.default_rng(12)
    truth = (6.0 - 1.17741002) / (3.63528560 - 1.17741002)
    hits = 0
    for trial in range(200):
        readings = np.hypot(*random.standard_normal((2, 40)))
        found = percentile_indices(fit_model(readings, "rayleigh"), None, 6.0, seed=trial, draws=400)
        hits += found.ppk.low <= truth <= found.ppk.high
    assert hits / 200 == pytest.approx(0.95, abs=0.05)


@settings(max_examples=15)
@given(
    st.lists(st.integers(1, 99), min_size=8, max_size=20).filter(lambda v: len(set(v)) > 3),
    st.sampled_from([0.25, 4.0]),
)
def test_indices_have_no_unit_and_ignore_order(values, scale):
    plain = percentile_indices(fit_model(values, "weibull"), None, 200.0, seed=1, draws=200)
    moved = [scale * value for value in reversed(values)]
    again = percentile_indices(fit_model(moved, "weibull"), None, 200.0 * scale, seed=1, draws=200)
    for one, two in ((plain.ppk, again.ppk), (plain.fallout_ppm, again.fallout_ppm)):
        assert two.estimate == pytest.approx(one.estimate, rel=1e-5, abs=1e-6)
        assert two.low == pytest.approx(one.low, rel=1e-4, abs=1e-4)
        assert one.low <= one.estimate <= one.high


def test_few_empirical_pieces_promise_nothing():
    random = np.random.default_rng(3)
    few = percentile_indices(fit_model(random.random(100), "empirical"), None, 1.5, seed=1)
    assert few.ppk.low == 0.0
    assert "741 pieces" in few.warning
    # none of 100 outside: Clopper-Pearson upper end is 1 - 0.025^(1/100)
    assert few.fallout_ppm.high == pytest.approx(1e6 * (1 - 0.025**0.01), rel=1e-9)
    many = percentile_indices(fit_model(random.random(20_000), "empirical"), -1.0, 2.0, seed=1)
    assert 2.9 < many.pp.low < 3.0 / 0.9973 < many.pp.high < 3.1
    assert many.warning == ""


def test_order_statistics_hold_the_quantile():
    # derivation: coverage of [x(k), x(m)] by the beta distribution of the order statistics
    from spc.statistics.percentile_intervals import _between

    for n, share in ((50, 0.5), (3000, 0.99865), (3000, 0.00135)):
        low, high = _between(np.arange(1.0, n + 1), share, 0.025)
        too_high = beta.sf(share, low, n + 1 - low)  # chance that even the low one lies above
        too_low = beta.cdf(share, high, n + 1 - high)
        assert too_high <= 0.025
        assert too_low <= 0.025
        assert beta.sf(share, low + 1, n - low) > 0.025
        assert beta.cdf(share, high - 1, n + 2 - high) > 0.025


def test_the_seed_fixes_the_interval():
    model = fit_model([3.0, 1.0, 2.0, 5.0, 2.5], "rayleigh")
    once, again, other = (percentile_indices(model, None, 12.0, seed=seed) for seed in (5, 5, 6))
    assert once == again
    assert once.ppk.low != other.ppk.low


def test_redrawing_checks_knows_that_the_mean_wanders():
    random = np.random.default_rng(1)
    checks = [list(random.normal(level, 0.1, 5)) for level in random.normal(0.0, 1.0, 40)]
    found = bootstrap_checks(checks, lambda some: float(np.mean(some)), seed=2)
    means = np.mean(checks, axis=1)
    half = 1.96 * np.std(means, ddof=1) / np.sqrt(40)
    assert (found.high - found.low) / 2 == pytest.approx(half, rel=0.15)


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda m: percentile_indices(m, seed=1), "limit"),
        (lambda m: percentile_indices(m, 0.0, None, seed=1, natural_zero=True), "limit"),
        (lambda m: percentile_indices(m, 3.0, 2.0, seed=1), "not below"),
        (lambda m: percentile_indices(m, None, 2.0, seed=1, confidence=2.0), "confidence"),
        (lambda m: percentile_indices(m, None, 2.0, seed=1, draws=10), "too few draws"),
        (lambda _: bootstrap_checks([[1.0], [2.0]], len, seed=1), "too few subgroups"),
    ],
)
def test_impossible_questions_are_refused(act, says):
    with pytest.raises(Refused, match=says):
        act(known("rayleigh", sigma=1.0))
