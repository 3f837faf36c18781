"""A slide chased to and fro is told, a slide that follows the dies is not; the laws of chasing itself."""

import numpy as np
import pytest

from spc.wear import Level, to_and_fro


def seen(approaches: list[float], rate: float = 0.0) -> list[Level]:
    return [Level(300 * i, rate * 0.3 * i, 1.0, rate, 0.2, approach_um=a) for i, a in enumerate(approaches)]


def test_moves_that_take_each_other_back_are_told_with_their_numbers() -> None:
    found = to_and_fro(seen([0, 5, 0, 4, 0, 4, 0, 2], rate=0.5), 0.8)
    assert found is not None
    assert (found.moves, found.checks, found.sum_um, found.net_um) == (7, 7, 28.0, 2.0)
    assert found.growth_um == pytest.approx(0.5 * 7 * 0.3)


@pytest.mark.parametrize(
    "approaches",
    [
        [0, 3, 6, 9, 12, 15],  # after growth, one way
        [0, 5, 0, 5, 5, 5, 5, 5],  # three moves
        [0, 5, 0, 4, 0, 4, 0, 0],  # nothing moved since the last check: over by now
        [0, 0, 0, 0, 0, 0, 0, 4],
    ],
)
def test_a_slide_that_follows_the_dies_is_left_in_peace(approaches: list[float]) -> None:
    assert to_and_fro(seen([float(each) for each in approaches]), 0.8) is None


def test_moves_that_growth_asked_for_are_no_chase() -> None:
    assert to_and_fro(seen([0, 4, 8, 6, 10, 9, 12], rate=5.0), 1.0) is None


def chased(n: int, deadband: float, gain: float, checks: int = 400_000) -> tuple[float, list[float]]:
    """Setting error of a stable process moved by `gain` times each mean beyond a deadband; σ of a piece is 1."""
    dice = np.random.default_rng(7)
    error, errors, place = 0.0, [], [0.0]
    for noise in dice.standard_normal(checks) / n**0.5:
        errors.append(error)
        mean = error + noise
        if abs(mean) > deadband:
            error -= gain * mean
        place.append(error)
    return float(np.var(errors)), place


@pytest.mark.parametrize(("n", "deadband"), [(1, 0.0), (1, 1.5), (5, 0.0), (5, 0.6)])
def test_a_deadband_does_not_cure_full_answers(n: int, deadband: float) -> None:
    # process.md 3.3 and section 10 item 1: the variance of pieces is 1 + 1/n for every deadband: 2.0 and 1.2, to
    # 2 % (Monte-Carlo). Own algebra there: the swap (u, e) → (−e, −u) keeps the joint normal law.
    variance, _ = chased(n, deadband, 1.0)
    assert 1.0 + variance == pytest.approx(1.0 + 1.0 / n, rel=0.02)


@pytest.mark.parametrize(
    ("gain", "ratio"), [(1.0, 2.0), (0.5, 1.3333), (0.3, 1.1765), (0.2, 1.1111), (0.1, 1.0526)]
)
def test_partial_answers_cost_two_over_two_minus_the_gain(gain: float, ratio: float) -> None:
    # process.md 3.3: 2/(2 − G) for G 1/0.5/0.3/0.2/0.1: 2 / 1.3333 / 1.1765 / 1.1111 / 1.0526.
    variance, _ = chased(1, 0.0, gain)
    assert 1.0 + variance == pytest.approx(ratio, rel=0.02)


def test_a_night_of_full_answers_is_told() -> None:
    # Whoever answers each single piece in full is told in nearly every shift of eight checks.
    _, place = chased(1, 1.0, 1.0, checks=2000)
    nights = [place[i : i + 9] for i in range(0, 1990, 8)]
    told = [any(to_and_fro(seen(night[: k + 1]), 1.0) for k in range(9)) for night in nights]
    assert sum(told) / len(told) > 0.3
