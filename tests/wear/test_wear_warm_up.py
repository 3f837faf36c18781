"""Warm-up after a start: against the posterior of one number written out, and what must hold."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.wear import COLD_PIECES, WarmUp, fresh_warm_up, learn_warm_up, still_cold


def test_learns_like_one_weighted_mean_of_all_checks() -> None:
    # Height h ~ N(0, P), checks z = share·h + N(0, R): precisions add, 1/P + Σ share²/R, all checks at once.
    dice = np.random.default_rng(2)
    noise = 1.7
    shares = [still_cold(pieces) for pieces in (10, 60, 140, 300, 5, 80, 250)]
    seen = [share * 2.6 + float(dice.normal(0.0, noise)) for share in shares]
    warm = fresh_warm_up(36.0)
    start = warm.variance_um2
    for share, z in zip(shares, seen, strict=True):
        variance = share**2 * warm.variance_um2 + noise**2
        warm = learn_warm_up(warm, share, z - share * warm.height_um, variance)
    precision = 1.0 / start + sum(share**2 for share in shares) / noise**2
    pulled = sum(share * z for share, z in zip(shares, seen, strict=True)) / noise**2
    assert warm.height_um == pytest.approx(pulled / precision)
    assert warm.variance_um2 == pytest.approx(1.0 / precision)


def test_one_update_written_out() -> None:
    # P = 4, share 1/2, R = 3: S = 4, K = 1/2; a surprise of 2 raises the height by 1 and leaves P(1 − K/2) = 3.
    assert learn_warm_up(WarmUp(1.0, 4.0), 0.5, 2.0, 4.0) == WarmUp(2.0, 3.0)


def test_begins_without_a_sign_at_a_twentieth_of_the_tolerance() -> None:
    assert fresh_warm_up(40.0) == WarmUp(0.0, 4.0)


@pytest.mark.parametrize("height", [-4.0, 4.0])
def test_the_sign_is_learned(height: float) -> None:
    dice, warm = np.random.default_rng(9), fresh_warm_up(40.0)
    for _ in range(20):
        share = still_cold(20)
        surprise = share * (height - warm.height_um) + float(dice.normal())
        warm = learn_warm_up(warm, share, surprise, share**2 * warm.variance_um2 + 1.0)
    assert warm.height_um == pytest.approx(height, abs=3.0 * warm.variance_um2**0.5)
    assert warm.variance_um2**0.5 < 0.3


@given(st.integers(0, 5000))
def test_what_is_left_falls_to_nothing(pieces: int) -> None:
    share = still_cold(pieces)
    assert share in (0.0, pytest.approx(math.exp(-pieces / COLD_PIECES)))
    assert still_cold(pieces + 1) <= share <= 1.0
    if pieces > 4 * COLD_PIECES:
        assert share == 0.0


def test_a_warm_machine_teaches_nothing() -> None:
    warm = WarmUp(1.5, 2.0)
    assert learn_warm_up(warm, still_cold(None), 9.0, 1.0) == warm
    assert learn_warm_up(warm, still_cold(900), 9.0, 1.0) == warm
    assert still_cold(-3) == 0.0
