"""The interval of the fallout against the noncentral t and by coverage; die lives taken out one by one."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from spc.errors import Refused
from spc.statistics.capability import capability
from spc.statistics.detrended_capability import detrended_capability
from spc.statistics.fallout_interval import fallout_interval, fallout_says
from spc.statistics.honest_capability import honest_capability
from spc.statistics.honest_percentiles import honest_percentiles
from spc.statistics.index_intervals import Estimate, one_sided_interval


@pytest.mark.parametrize("n", [4, 10, 50, 200])
@pytest.mark.parametrize("distance", [1.5, 3.0, 4.5])
def test_one_limit_is_the_noncentral_t_interval(n, distance):
    # independent derivation: fallout is a falling function of the index, whose exact interval is known
    index = one_sided_interval(distance / 3.0, n)
    found = fallout_interval(0.0, 1.0, None, distance, n=n)
    exact = [1e6 * norm.sf(3.0 * end) for end in (index.high, index.low)]
    # 16,384 points leave the ends of the index right to 0.01 of their distance
    ends = [float(norm.isf(end / 1e6)) for end in (found.low, found.high)]
    wanted = [float(norm.isf(end / 1e6)) for end in exact]
    assert ends == pytest.approx(wanted, abs=0.01 * abs(wanted[0] - wanted[1]))
    mirrored = fallout_interval(0.0, 1.0, -distance, None, n=n)
    assert mirrored.estimate == pytest.approx(found.estimate, rel=1e-12)


def test_the_honest_fallout_covers_where_checks_wander_and_the_textbook_one_does_not():
    random, truth = np.random.default_rng(11), 1e6 * 2.0 * norm.sf(2.5)
    honest = textbook = 0
    for _ in range(150):
        # half of the variance lies between checks, together 1
        level = random.normal(0.0, np.sqrt(0.5), (12, 1))
        checks = (level + random.normal(0.0, np.sqrt(0.5), (12, 5))).tolist()
        wide = honest_capability(checks, -2.5, 2.5).fallout
        narrow = capability(checks, -2.5, 2.5).fallout
        honest += wide.low <= truth <= wide.high
        textbook += narrow.low <= truth <= narrow.high
    # 95 % of 150 is 142.5 with a standard error of 2.7: four of them below
    assert honest >= 132
    assert textbook < honest - 10


def test_fallout_of_a_model_by_whole_checks():
    random = np.random.default_rng(3)
    sizes = random.rayleigh(1.0, (30, 5))
    wandering = (sizes * random.uniform(0.4, 1.6, (30, 1))).tolist()
    still, wide = (
        honest_percentiles(each, "rayleigh", upper=4.0, seed=1).fallout
        for each in (sizes.tolist(), wandering)
    )
    for each in (still, wide):
        assert 0.0 <= each.low <= each.estimate <= each.high <= 1e6
    assert still.low < 1e6 * np.exp(-8.0) < still.high  # the model that the sizes were drawn from
    assert wide.high / wide.low > 3.0 * still.high / still.low
    counted = honest_percentiles(sizes.tolist(), "empirical", upper=6.0, seed=1).fallout
    # none outside: the upper end of Clopper and Pearson for 30 checks
    assert (counted.estimate, counted.low) == (0.0, 0.0)
    assert counted.high == pytest.approx(1e6 * (1.0 - 0.025 ** (1 / 30)), rel=1e-9)


@settings(max_examples=20, deadline=None)
@given(st.floats(-3.0, 3.0), st.floats(0.2, 3.0), st.integers(2, 400), st.sampled_from([0.8, 0.95, 0.99]))
def test_the_interval_holds_the_estimate_and_has_no_unit(mean, sigma, n, confidence):
    found = fallout_interval(mean, sigma, -4.0, 5.0, n=n, confidence=confidence)
    assert 0.0 <= found.low <= found.estimate <= found.high <= 1e6
    scaled = fallout_interval(10.0 * mean, 10.0 * sigma, -40.0, 50.0, n=n, confidence=confidence)
    assert (scaled.low, scaled.high) == pytest.approx((found.low, found.high), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("ends", "said"),
    [
        ((0.2, 0.001, 0.9), "under 1 ppm, cannot be told from 40 pieces"),
        ((0.2, 0.001, 25.4), "under 1 ppm, cannot be told from 40 pieces (95 % interval up to 25 ppm)"),
        ((63.4, 0.1, 2134.0), "about 63 ppm (95 % interval under 1 to 2,100 ppm, 40 pieces)"),
        ((1e6, 999_999.0, 1e6), "about 1,000,000 ppm (95 % interval 1,000,000 to 1,000,000 ppm, 40 pieces)"),
        ((1.26, 1.04, 9.96), "about 1.3 ppm (95 % interval 1.0 to 10.0 ppm, 40 pieces)"),
    ],
)
def test_a_share_is_said_no_finer_than_pieces_carry(ends, said):
    assert fallout_says(Estimate(*ends, 40, 0.95, "")) == said


def _worn(random, checks_of_life, slope=0.2):
    """Checks of 5 pieces of sigma 1, wear within each life, a regrind back to its own level between them."""
    checks, lives = [], []
    for number, count in enumerate(checks_of_life):
        start = random.normal(0.0, 4.0)
        for each in range(count):
            checks.append((start + slope * each + random.standard_normal(5)).tolist())
            lives.append(f"life {number}")
    return checks, lives


def test_each_life_gets_its_own_line():
    checks, lives = _worn(np.random.default_rng(2), [15, 20, 2, 18, 1])
    found = detrended_capability(checks, -15.0, 15.0, lives=lives)
    assert [(life.label, life.checks, life.trend is not None) for life in found.lives] == [
        ("life 0", 15, True),
        ("life 1", 20, True),
        ("life 2", 2, False),
        ("life 3", 18, True),
        ("life 4", 1, False),
    ]
    for life in found.lives[:2]:
        assert life.trend.slope_low < 0.2 < life.trend.slope_high
    assert found.says == (
        "Taken out: the lines of 3 die lives; from 2 die lives with fewer than 3 checks only the level of each."
    )
    # the sigma that the pieces were drawn with; 280 pieces know it to 4.2 %, three of them
    assert found.capability.sigma_overall == pytest.approx(1.0, abs=0.13)
    one_line = detrended_capability(checks, -15.0, 15.0)
    assert one_line.capability.sigma_overall > 2.0
    assert one_line.says == "Taken out: one straight line through all checks."
    assert one_line.lives[0].trend == one_line.trend
    assert found.trend is None
    assert found.capability.mean == pytest.approx(one_line.capability.mean, abs=1e-12)


def test_what_is_taken_out_costs_freedom():
    # property: lines fitted to pure chance leave, on average, the sigma that chance has
    random, left = np.random.default_rng(9), []
    for _ in range(300):
        checks = random.standard_normal((12, 2)).tolist()
        found = detrended_capability(checks, -9.0, 9.0, lives=["a"] * 4 + ["b"] * 4 + ["c"] * 2 + ["d"] * 2)
        left.append(found.capability.sigma_overall**2)
    # 24 pieces less 1 less 5: 18 degrees of freedom, so a standard error of sqrt(2/18/300) = 0.019; three of them
    assert np.mean(left) == pytest.approx(1.0, abs=0.058)


@pytest.mark.parametrize(
    ("checks", "lives", "reason"),
    [
        ([[1.0, 2.0]] * 4, ["a", "b"], "every check wants its die life"),
        ([[1.0, 2.0]] * 4, ["a", "a", " ", "b"], "check 3: the die life is missing"),
        ([[1.0], [2.0], [4.0], [3.0]], ["a", "b", "c", "d"], "nothing is left"),
        ([[1.0], [2.0], [3.0], [7.0], [7.0]], ["a", "a", "a", "b", "b"], "nothing is left"),
    ],
)
def test_lives_that_cannot_be_taken_out(checks, lives, reason):
    with pytest.raises(Refused, match=reason):
        detrended_capability(checks, 0.0, 9.0, lives=lives)
