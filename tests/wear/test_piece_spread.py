"""The spread of one piece, learned check by check."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spc.errors import Refused
from spc.wear import PieceSpread, learn_spread, sigma_um

CHECKS = st.lists(st.lists(st.floats(-50, 50), min_size=2, max_size=8).map(tuple), min_size=1, max_size=12)


@given(CHECKS)
def test_pools_the_squares_within_checks(checks: list[tuple[float, ...]]) -> None:
    spread = PieceSpread(3.0)
    for values in checks:
        spread = learn_spread(spread, values, None)
    squares = sum(np.var(values, ddof=1) * (len(values) - 1) for values in checks)
    df = sum(len(values) - 1 for values in checks)
    assert spread.df == df
    assert sigma_um(spread) == pytest.approx(((squares + 4 * 9.0) / (df + 4)) ** 0.5, rel=1e-6)


@given(CHECKS, st.floats(-1000, 1000))
def test_where_the_pieces_lie_does_not_matter(checks: list[tuple[float, ...]], shift: float) -> None:
    one = other = PieceSpread(3.0)
    for values in checks:
        one = learn_spread(one, values, None)
        other = learn_spread(other, tuple(value + shift for value in values), None)
    assert sigma_um(other) == pytest.approx(sigma_um(one), rel=1e-6)


def test_single_pieces_teach_by_their_moves() -> None:
    spread = PieceSpread(3.0)
    for value in (1.0, 3.0, 0.0):
        spread = learn_spread(spread, (value,), value)
    assert (spread.squares_um2, spread.df) == (2.0**2 / 2 + 3.0**2 / 2, 2.0)


def test_finds_the_spread_of_single_pieces_on_a_slow_drift() -> None:
    dice = np.random.default_rng(7)
    spread = PieceSpread(9.0)
    for i in range(4000):
        value = 0.05 * i + float(dice.normal(0.0, 2.0))
        spread = learn_spread(spread, (value,), value)
    assert sigma_um(spread) == pytest.approx(2.0, abs=0.08)


def test_a_piece_without_a_reference_teaches_nothing() -> None:
    assert learn_spread(PieceSpread(3.0), (5.0,), None) == PieceSpread(3.0)


def test_alike_pieces_never_make_the_spread_vanish() -> None:
    spread = PieceSpread(3.0)
    for _ in range(500):
        spread = learn_spread(spread, (1.0, 1.0, 1.0), None)
    assert sigma_um(spread) > 0.1


@pytest.mark.parametrize("values", [(1.0, float("nan")), (float("inf"), 2.0)])
def test_refuses_a_lost_number(values: tuple[float, ...]) -> None:
    with pytest.raises(Refused, match="no number"):
        learn_spread(PieceSpread(3.0), values, None)
