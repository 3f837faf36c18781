"""Tolerance factors against the e-Handbook and computed values, and by simulation."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf, quad
from scipy.special import ndtr
from scipy.stats import chi2, nct, norm

from spc.errors import Refused
from spc.statistics.noncentral import noncentral_t_cdf, noncentral_t_quantile
from spc.statistics.tolerance_factors import (
    one_sided_factor,
    one_sided_factor_approximate,
    two_sided_factor,
    two_sided_factor_howe,
)
from spc.statistics.tolerance_interval import tolerance_interval

HANDBOOK = (43, 0.90, 0.99)


def test_wafer_example():
    # NIST e-Handbook 7.2.6.3 (opened): n 43, mean 97.07, s 0.0268 (one line of the page prints 2.68: a slip);
    # k2 2.217 (Howe), k1 1.8752 (Natrella); exact values computed
    assert chi2.ppf(0.01, 42) == pytest.approx(23.650095, abs=5.1e-7)
    assert two_sided_factor_howe(*HANDBOOK) == pytest.approx(2.217316, abs=5.1e-7)
    assert one_sided_factor_approximate(*HANDBOOK) == pytest.approx(1.875190, abs=5.1e-7)
    assert two_sided_factor(*HANDBOOK) == pytest.approx(2.22283, abs=5.1e-6)
    assert one_sided_factor(*HANDBOOK) == pytest.approx(1.873954, abs=5.1e-7)
    reach = 0.0268 * two_sided_factor_howe(*HANDBOOK)
    assert (97.07 - reach, 97.07 + reach) == pytest.approx((97.01058, 97.12942), abs=5.1e-6)
    # 97.120255 and 97.019745 are computed with the approximate factor
    reach = 0.0268 * one_sided_factor_approximate(*HANDBOOK)
    assert (97.07 + reach, 97.07 - reach) == pytest.approx((97.120255, 97.019745), abs=5.1e-7)


@pytest.mark.parametrize(
    ("asked", "exact", "howe", "one_sided"),
    [
        # computed
        ((10, 0.95, 0.95), 3.39343, 3.38191, 2.91096),
        ((20, 0.95, 0.95), 2.76035, 2.75228, 2.39600),
        ((30, 0.9973, 0.95), 3.90445, 3.90254, 3.63464),
        ((50, 0.99, 0.95), 3.12877, 3.12623, 2.86245),
    ],
)
def test_factors(asked, exact, howe, one_sided):
    assert two_sided_factor(*asked) == pytest.approx(exact, abs=5.1e-6)
    assert two_sided_factor_howe(*asked) == pytest.approx(howe, abs=5.1e-6)
    assert one_sided_factor(*asked) == pytest.approx(one_sided, abs=5.1e-6)


def test_two_sided_factor_by_arbitrary_precision():
    # derivation: the same integral by adaptive quadrature in 20 digits, root inside by bisection
    n, share, k = 10, 0.95, two_sided_factor(10, 0.95, 0.95)

    def chance(z):
        offset = float(z) / np.sqrt(n)
        low, high = 0.0, 20.0
        for _ in range(60):
            middle = (low + high) / 2
            held = ndtr(offset + middle) - ndtr(offset - middle)
            low, high = (middle, high) if held < share else (low, middle)
        return mpf(chi2.sf((n - 1) * (low / k) ** 2, n - 1)) * mp.npdf(z)

    assert float(2 * quad(chance, [0, 3, 8], maxdegree=5)) == pytest.approx(0.95, abs=1e-9)


def test_intervals_hold_the_share_as_often_as_they_say():
    draws = np.random.default_rng(5).standard_normal((20_000, 12))
    means, sds = draws.mean(axis=1), draws.std(axis=1, ddof=1)
    k2, k1 = two_sided_factor(12, 0.9, 0.9), one_sided_factor(12, 0.9, 0.9)
    both = norm.cdf(means + k2 * sds) - norm.cdf(means - k2 * sds) >= 0.9
    above = norm.cdf(means + k1 * sds) >= 0.9
    assert np.mean(both) == pytest.approx(0.9, abs=0.008)
    assert np.mean(above) == pytest.approx(0.9, abs=0.008)


@pytest.mark.parametrize(("t", "freedom", "offset"), [(2.0, 10, 1.0), (0.5, 3, -1.0), (15.0, 24, 12.0)])
def test_noncentral_t_agrees_with_a_general_library_in_its_middle(t, freedom, offset):
    assert noncentral_t_cdf(t, freedom, offset) == pytest.approx(nct.cdf(t, freedom, offset), abs=1e-9)
    assert noncentral_t_quantile(noncentral_t_cdf(t, freedom, offset), freedom, offset) == pytest.approx(t)


def test_noncentral_t_answers_in_the_far_tails():
    assert noncentral_t_cdf(20.0, 19, 60.0) < 1e-8
    assert noncentral_t_quantile(0.999, 2, 30.0) > 30.0


@settings(max_examples=20)
@given(st.integers(2, 200), st.sampled_from([0.8, 0.95, 0.9973]), st.sampled_from([0.8, 0.95, 0.99]))
def test_more_pieces_or_less_to_hold_want_smaller_factors(n, share, confidence):
    for factor in (two_sided_factor, one_sided_factor):
        k = factor(n, share, confidence)
        assert factor(n + 1, share, confidence) < k
        assert factor(n, share - 0.05, confidence) < k
        assert factor(n, share, confidence - 0.05) < k
    assert two_sided_factor(n, share, confidence) > one_sided_factor(n, share, confidence) - 1e-9 or n < 4
    assert two_sided_factor(n, share, confidence) > norm.ppf((1 + share) / 2) - 1e-9


def test_interval_of_readings():
    readings = [9.9, 10.1, 10.0, 10.2, 9.8, 10.0]
    both, up = tolerance_interval(readings), tolerance_interval(readings, side="upper")
    assert (both.low + both.high) / 2 == pytest.approx(10.0)
    assert up.low is None
    assert up.high < both.high
    moved = tolerance_interval([2 * value - 7 for value in readings])
    assert moved.high == pytest.approx(2 * both.high - 7)


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: two_sided_factor(1, 1.2, 0.0), "share.*confidence.*at least 2"),
        (lambda: one_sided_factor_approximate(2, 0.9, 0.99), "exact factor"),
        (lambda: tolerance_interval([1.0, 2.0], side="left"), "no such side"),
        (lambda: tolerance_interval([1.0, 1.0]), "all equal"),
        (lambda: noncentral_t_cdf(1.0, 0.0, 0.0), "freedom"),
        (lambda: noncentral_t_quantile(1.0, 3.0, 0.0), "share"),
    ],
)
def test_impossible_questions_are_refused(act, says):
    with pytest.raises(Refused, match=says):
        act()
