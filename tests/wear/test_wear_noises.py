"""What moves a level: learned back from simulated sets whose truth is known."""

import math

import numpy as np
import pytest

from spc.wear import LevelMoves, Noises, RecentLevels, Seen, learn_moves, noises_from

LENGTH, GAP, WHITE = 2500.0, 300, 0.5
TRUTH = Noises(between_checks=0.4, wander=2.2, batch=6.0)
GUESS = Noises(between_checks=0.8, wander=1.4, batch=4.0)


def simulated(dice: np.random.Generator, expected: Noises, checks: int = 150) -> LevelMoves:
    """One set: straight growth, white noise, a wander that comes back, bars that change every twenty checks."""
    moves, recent = LevelMoves(), RecentLevels()
    keeps = math.exp(-GAP / LENGTH)
    wander, bars = dice.normal(0.0, TRUTH.wander**0.5), dice.normal(0.0, TRUTH.batch**0.5)
    for i in range(checks):
        age, is_new = GAP * (i + 1), i > 0 and i % 20 == 0
        bars = dice.normal(0.0, TRUTH.batch**0.5) if is_new else bars
        wander = keeps * wander + dice.normal(0.0, (TRUTH.wander * (1.0 - keeps**2)) ** 0.5)
        noise = dice.normal(0.0, (WHITE + TRUTH.between_checks) ** 0.5)
        level = float(3.0 + 1.1 * age / 1000.0 + wander + bars + noise)
        moves, recent = learn_moves(moves, recent, Seen(age, level, 1.1, WHITE, is_new), LENGTH, expected)
    return moves


def test_forty_sets_tell_the_three_variances() -> None:
    # 40 sets: 280 changes of bars, each half square with relative sd sqrt(2): 8 % of some 7.3 µm², 0.6 µm². The
    # wander from some 40·150·300/2500/2 = 360 free stretches: sqrt(2/360) = 7 %, doubled for the overlap of the
    # lags and the noise beneath. The rest is a difference of sums of 5,700 squares of about 1.1: 0.03, plus
    # a tenth of what the wander misses (0.11 of it lies in the nearest moves): 0.05. Three errors each.
    dice = np.random.default_rng(8)
    found = noises_from([simulated(dice, GUESS) for _ in range(40)], GUESS)
    assert found.batch == pytest.approx(TRUTH.batch, abs=3 * 0.6)
    assert found.wander == pytest.approx(TRUTH.wander, rel=3 * 0.14)
    assert found.between_checks == pytest.approx(TRUTH.between_checks, abs=3 * 0.05)
    for name in ("batch", "wander", "between_checks"):
        assert abs(getattr(found, name) - getattr(TRUTH, name)) < abs(
            getattr(GUESS, name) - getattr(TRUTH, name)
        )


def test_nothing_seen_is_the_guess() -> None:
    assert noises_from([], GUESS) == GUESS
    assert noises_from([LevelMoves()] * 5, GUESS) == GUESS
    few, recent = LevelMoves(), RecentLevels()
    for i in range(4):  # three moves
        few, recent = learn_moves(few, recent, Seen(300 * i, 9.0 * i, 0.0, WHITE, False), LENGTH, GUESS)
    assert noises_from([few], GUESS) == GUESS


def test_without_a_change_of_bars_batches_are_as_guessed() -> None:
    dice = np.random.default_rng(4)
    found = noises_from([simulated(dice, GUESS, checks=19) for _ in range(10)], GUESS)
    assert found.batch == GUESS.batch
    assert found.wander != GUESS.wander


def test_half_squares_by_hand() -> None:
    # Levels 0, 2, 5 at 0, 1,000 and 2,000 pieces, growth 1: moves 1 and 2 near, 3 over two.
    moves, recent = LevelMoves(), RecentLevels()
    for age, level in ((0, 0.0), (1000, 2.0), (2000, 5.0)):
        moves, recent = learn_moves(moves, recent, Seen(age, level, 1.0, WHITE, False), LENGTH, GUESS)
    near, far = 1.0 - math.exp(-0.4), 1.0 - math.exp(-0.8)
    assert moves.squares_um2 == pytest.approx((0.5 + 2.0, 4.5, 0.0, 0.0))
    assert moves.shares == pytest.approx((2 * near, far, 0.0, 0.0))
    assert moves.counts == (2.0, 1.0, 0.0, 0.0)
    assert moves.white_um2 == pytest.approx(2 * WHITE)
    moves, recent = learn_moves(moves, recent, Seen(3000, 2.0, 1.0, WHITE, True), LENGTH, GUESS)
    assert (moves.batch_um2, moves.batch_shares, moves.batches) == pytest.approx((8.0, near, 1.0))
    assert recent == RecentLevels((3000,), (2.0,))


@pytest.mark.parametrize("is_new", [False, True])
def test_one_absurd_step_is_cut(is_new: bool) -> None:
    start = RecentLevels((0,), (0.0,))
    moves, _ = learn_moves(LevelMoves(), start, Seen(300, 9000.0, 0.0, WHITE, is_new), LENGTH, GUESS)
    expected = WHITE + GUESS.between_checks + (1.0 - math.exp(-0.12)) * GUESS.wander
    expected += GUESS.batch if is_new else 0.0
    assert (moves.batch_um2 if is_new else moves.squares_um2[0]) == pytest.approx(9.0 * expected)


def test_never_below_a_hundredth_of_the_guess() -> None:
    many = 1e7
    still = LevelMoves(
        (0.0,) * 4, (many / 9, many / 5, many / 3, many / 2), (many,) * 4, 0.0, 0.0, many, many
    )
    found = noises_from([still], GUESS)
    assert found.between_checks == pytest.approx(GUESS.between_checks / 100)
    assert found.wander == pytest.approx(GUESS.wander / 100)
    assert found.batch == pytest.approx(GUESS.batch / 100)
