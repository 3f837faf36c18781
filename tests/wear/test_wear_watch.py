"""Watching against the forecast: run lengths against the exact laws, likelihood ratios against densities."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ndtr
from scipy.stats import norm

from spc.statistics import cusum_law
from spc.wear import MEAN_LIMIT, Finding, Watch, from_here, watch_mean, watch_spread

SLACK, DECISION, FACTOR, SPREAD_DECISION = 0.5, 8.0, 1.5, 6.0


@pytest.fixture(scope="module")
def chance() -> tuple[int, list[Finding]]:
    """What rings by chance alone in a long row of surprises."""
    checks, watch, found = 240_000, Watch(), []
    for surprise in np.random.default_rng(17).standard_normal(checks).tolist():
        watch, finding = watch_mean(watch, surprise)
        if finding is not None:
            found.append(finding)
    return checks, found


def test_single_surprises_ring_as_often_as_the_normal_law_says(chance: tuple[int, list[Finding]]) -> None:
    checks, found = chance
    expected = checks * 2.0 * ndtr(-MEAN_LIMIT)  # about 330, a count with standard error sqrt(330)
    assert sum(each.single for each in found) == pytest.approx(expected, abs=4.0 * expected**0.5)


def test_slow_surprises_ring_as_often_as_the_cusum_law_says(chance: tuple[int, list[Finding]]) -> None:
    checks, found = chance
    expected = checks / cusum_law(0.0, 0.0, SLACK, DECISION).mean_points
    assert sum(not each.single for each in found) == pytest.approx(expected, abs=4.0 * expected**0.5)


def test_the_words_beside_the_limits_hold() -> None:
    assert 1.0 / (2.0 * ndtr(-MEAN_LIMIT)) == pytest.approx(728, abs=0.5)
    assert cusum_law(0.0, 0.0, SLACK, DECISION).mean_points == pytest.approx(
        9500, abs=50
    )  # half a unit of what is printed


def test_a_shift_is_found_as_soon_as_the_cusum_law_says() -> None:
    # 0.75 standard deviations; rows in which a single mean rang are left out on neither side: at this shift
    # fewer than one check in 200 does, which shortens the mean run by less than a twentieth.
    dice, runs = np.random.default_rng(3), []
    for _ in range(1500):
        watch, finding, checks = Watch(), None, 0
        while finding is None:
            watch, finding = watch_mean(watch, float(dice.normal(0.75)))
            checks += 1
        runs.append(checks)
    law = cusum_law(0.75, 0.0, SLACK, DECISION)
    error = float(np.std(runs)) / 1500**0.5
    assert law.mean_points * 0.95 - 4.0 * error < np.mean(runs) < law.mean_points + 4.0 * error


def plain_cusum(surprises: np.ndarray) -> list[tuple[int, bool]]:
    """Page's sums as the drawn-out form has them: cumulated less its own minimum since the last ring."""
    rings, start = [], 0
    for i in range(len(surprises)):
        highs, lows = (
            np.concatenate(([0.0], np.cumsum(sign * surprises[start : i + 1] - SLACK))) for sign in (1, -1)
        )
        high, low = highs[-1] - highs.min(), lows[-1] - lows.min()
        if max(high, low) > DECISION:
            rings.append((i, bool(high > low)))
            start = i + 1
    return rings


@given(st.integers(0, 9999), st.floats(-1.5, 1.5))
@settings(max_examples=30, deadline=None)
def test_rings_where_the_sum_leaves_its_own_minimum(seed: int, shift: float) -> None:
    surprises = np.clip(np.random.default_rng(seed).normal(shift, 1.0, 120), -3.1, 3.1)
    watch, rings = Watch(), []
    for i, surprise in enumerate(surprises.tolist()):
        watch, finding = watch_mean(watch, surprise)
        if finding is not None:
            rings.append((i, finding.up))
            assert not finding.single
            assert (watch.high, watch.low, watch.high_since, watch.low_since) == (0.0, 0.0, 0, 0)
    assert rings == plain_cusum(surprises)


def test_says_since_when_it_has_been_growing() -> None:
    watch = Watch()
    for surprise in (-1.0, 0.2, -0.3):
        watch, finding = watch_mean(watch, surprise)
        assert finding is None
    for _ in range(5):
        watch, finding = watch_mean(watch, 2.2)  # 1.7 a check: 6.8 after four, 8.5 after five
    assert finding == Finding(False, True, 5)


@pytest.mark.parametrize("sign", [1, -1])
def test_one_mean_far_off_rings_alone_and_once(sign: int) -> None:
    watch, finding = watch_mean(Watch(), 40.0 * sign)
    assert finding == Finding(True, sign > 0, 1)
    assert watch_mean(watch, 0.0)[1] is None
    assert watch_mean(Watch(), 3.19 * sign)[1] is None


def test_the_spread_ratio_is_that_of_the_densities() -> None:
    dice = np.random.default_rng(5)
    watch, total = Watch(), 0.0
    for _ in range(40):
        z = dice.normal(0.0, 1.3, 4)  # a check of five around its own mean is four independent numbers
        ratio = float(norm.logpdf(z, 0.0, FACTOR).sum() - norm.logpdf(z).sum())
        total = max(0.0, total + ratio)
        watch, since, _ = watch_spread(watch, float(z @ z), 4)
        assert (since > 0) == (total > SPREAD_DECISION)
        total = 0.0 if since else total
        assert watch.spread == pytest.approx(total)


def test_a_spread_that_grew_is_told_once_with_its_beginning() -> None:
    watch = Watch()
    for _ in range(5):
        watch, since, _ = watch_spread(watch, 4.0, 4)
        assert since == 0
    assert watch.spread == 0.0
    told = []
    for _ in range(6):
        watch, since, times = watch_spread(watch, 14.0, 4)  # 14·(1 − 1/1.5²)/2 − 4·ln 1.5 = 2.27 a check
        told.append(since)
    assert told == [0, 0, 3, 0, 0, 3]
    assert times == pytest.approx((14.0 / 4.0) ** 0.5)  # what the checks since its beginning say of it


@pytest.mark.parametrize(("suspected", "told"), [(False, [0, 0, 3]), (True, [0, 2, 0])])
def test_what_was_logged_needs_less_evidence(suspected: bool, told: list[int]) -> None:
    watch, said = Watch(), []
    for _ in range(3):
        watch, since, _ = watch_spread(
            watch, 14.0, 4, suspected=suspected
        )  # 2.27 a check: 6.0 and 3.0 are passed
        said.append(since)
    assert said == told


def test_by_chance_a_logged_setting_is_blamed_in_about_15_of_1000_rows() -> None:
    """Against an independent simulation of the same law; the tolerance is four standard errors of both."""
    dice, rows = np.random.default_rng(23), 8_000
    squares, rung = dice.chisquare(4, (rows, 40)), 0
    for row in squares.tolist():
        watch, since, begun = Watch(), 0, False
        for each in row:
            watch, since, _ = watch_spread(watch, each, 4, suspected=True)
            if since or (begun and watch.spread == 0.0):
                break
            begun = True
        rung += since > 0
    assert rung / rows == pytest.approx(0.015, abs=4.0 * (0.015 / rows + 0.015 / 20_000) ** 0.5)


def test_a_count_begins_anew_unless_it_is_more_likely_than_not() -> None:
    little, *_ = watch_spread(Watch(), 12.0, 4)
    much, *_ = watch_spread(little, 14.0, 4)
    assert from_here(little) == Watch()
    assert from_here(much) == much


def test_means_and_spread_are_remembered_apart() -> None:
    watch, *_ = watch_spread(watch_mean(Watch(), 2.0)[0], 9.0, 4)
    assert (watch.high, watch.high_since, watch.spread_since) == (1.5, 1, 1)
    after, _ = watch_mean(watch, 9.0)
    assert (after.spread, after.spread_since) == (watch.spread, 1)
