"""Intervals of capability indices against published numbers, other distributions and coverage."""

import numpy as np
import pytest
from scipy import integrate, stats

from spc.errors import Refused
from spc.statistics.index_intervals import (
    location_interval,
    one_sided_interval,
    spread_interval,
    target_interval,
)
from spc.statistics.indices import location_index, spread_index, target_index

# Index 1.33: n, Cp two-sided, Cpk after Bissell two-sided, Bissell lower 95 %, exact one-sided lower 95 %.
# Computed from the formulas of the e-Handbook 6.1.6, Bissell (1990) and the noncentral t distribution.
AT_133 = [
    (20, 0.9106, 1.7489, 0.8826, 1.7774, 0.9545, 0.9487),
    (25, 0.9560, 1.7033, 0.9317, 1.7283, 0.9957, 0.9908),
    (30, 0.9894, 1.6700, 0.9675, 1.6925, 1.0258, 1.0216),
    (50, 1.0673, 1.5922, 1.0509, 1.6091, 1.0958, 1.0931),
    (100, 1.1449, 1.5148, 1.1336, 1.5264, 1.1651, 1.1637),
    (125, 1.1646, 1.4952, 1.1545, 1.5055, 1.1827, 1.1815),
    (200, 1.1994, 1.4605, 1.1914, 1.4686, 1.2137, 1.2129),
]


def test_formulas_meet_the_handbook():
    # NIST e-Handbook 6.1.6 (from memory): 20, 8, mean 16, s 2; Cpm with target 14 computed
    assert spread_index(8, 20, 2) == pytest.approx(1.0)
    assert location_index(16, 8, 20, 2) == pytest.approx(0.6667, abs=5e-5)
    assert location_index(16, None, 20, 2) == pytest.approx(0.6667, abs=5e-5)
    assert location_index(16, 8, None, 2) == pytest.approx(1.3333, abs=5e-5)
    assert target_index(16, 8, 20, 14, 2) == pytest.approx(0.707107, abs=5e-7)
    assert spread_index(None, 20, 2) is None
    assert target_index(16, None, 20, 14, 2) is None


def test_two_processes_of_montgomery():
    # 35 .. 65, target 50: (50, 5) and (57.5, 2.5): Cpm 1.0 and 0.63 (from memory)
    assert target_index(50, 35, 65, 50, 5) == pytest.approx(1.0)
    assert target_index(57.5, 35, 65, 50, 2.5) == pytest.approx(0.632456, abs=5e-7)
    assert location_index(57.5, 35, 65, 2.5) == pytest.approx(1.0)


@pytest.mark.parametrize(("n", "low", "high", "k_low", "k_high", "k_bound", "exact"), AT_133)
def test_intervals_at_133(n, low, high, k_low, k_high, k_bound, exact):
    cp, cpk = spread_interval(1.33, n), location_interval(1.33, n)
    assert (cp.low, cp.high) == pytest.approx((low, high), abs=5.1e-5)
    assert (cpk.low, cpk.high) == pytest.approx((k_low, k_high), abs=5.1e-5)
    assert location_interval(1.33, n, confidence=0.90).low == pytest.approx(k_bound, abs=5.1e-5)
    assert one_sided_interval(1.33, n, confidence=0.90).low == pytest.approx(exact, abs=5.1e-5)
    assert (cpk.n, cpk.level, cpk.estimate) == (n, 0.95, 1.33)


def test_published_intervals():
    # Montgomery, SQC, Example 8.5 (from memory): 1.57 .. 3.01 with rounded chi-square; digits computed
    cp = spread_interval(24 / (6 * 1.75), 20)
    assert (cp.low, cp.high) == pytest.approx((1.564945, 3.005579), abs=5.1e-7)
    # Quality Digest, May 2000, last word: n 45, Cpk 1.15, 0.89 .. 1.41
    cpk = location_interval(1.15, 45)
    assert (cpk.low, cpk.high) == pytest.approx((0.89, 1.41), abs=0.0051)
    # Boyles: n 50, one standard deviation off target (computed)
    cpm = target_interval(0.707107, 50, 1.0)
    assert (cpm.low, cpm.high) == pytest.approx((0.587267, 0.826723), abs=1e-6)


@pytest.mark.parametrize(
    ("index", "n", "freedom"), [(1.5, 12, 11.0), (0.4, 30, 21.3), (-0.3, 8, 7.0), (2.5, 400, 399.0)]
)
def test_one_sided_interval_agrees_with_integrating_over_sigma(index, n, freedom):
    found = one_sided_interval(index, n, freedom)

    def chance_of_less(true_index):
        """P(estimate <= index) as an integral of the normal mean over the distribution of sigma."""
        sigma = stats.chi(freedom, scale=freedom**-0.5)
        low, high = sigma.ppf(1e-12), sigma.isf(1e-12)
        shifted = 3 * n**0.5
        return integrate.quad(
            lambda s: sigma.pdf(s) * stats.norm.cdf(shifted * (index * s - true_index)), low, high, limit=400
        )[0]

    assert chance_of_less(found.low) == pytest.approx(0.975, abs=1e-6)
    assert chance_of_less(found.high) == pytest.approx(0.025, abs=1e-6)


def test_one_sided_interval_stands_very_many_pieces():
    few, many = one_sided_interval(1.67, 100), one_sided_interval(1.67, 100_000)
    assert few.low < many.low < 1.67 < many.high < few.high
    assert many.low == pytest.approx(location_interval(1.67, 100_000).low, abs=1e-4)


@pytest.mark.parametrize("n", [10, 40])
def test_intervals_cover_the_truth_as_often_as_promised(n):
    rng = np.random.default_rng(n)
    draws = rng.standard_normal((1200, n))
    means, sds = draws.mean(axis=1), draws.std(axis=1, ddof=1)
    exact, bissell, within = 0, 0, 0
    for mean, sd in zip(means[:400], sds[:400], strict=True):
        one = one_sided_interval(location_index(mean, None, 4.0, sd), n)
        exact += one.low <= 4 / 3 <= one.high
    for mean, sd in zip(means, sds, strict=True):
        two = spread_interval(spread_index(-4.0, 4.0, sd), n)
        within += two.low <= 4 / 3 <= two.high
        near = location_interval(location_index(mean, -9.0, 4.0, sd), n)
        bissell += near.low <= 4 / 3 <= near.high
    assert exact / 400 == pytest.approx(0.95, abs=0.035)
    assert within / 1200 == pytest.approx(0.95, abs=0.02)
    assert bissell / 1200 == pytest.approx(0.95, abs=0.035)


def test_bad_questions_are_refused():
    for interval in (spread_interval, location_interval, one_sided_interval):
        with pytest.raises(Refused, match="confidence"):
            interval(1.0, 20, confidence=95.0)
        with pytest.raises(Refused, match="at least 2"):
            interval(1.0, 1)
