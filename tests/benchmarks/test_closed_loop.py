"""The race on a small scale: the account adds up, and the station's advice costs less than the hand rule."""

import pytest

from tests.benchmarks.closed_loop_account import Account, Costs
from tests.benchmarks.closed_loop_informed import Informed
from tests.benchmarks.closed_loop_machine import run_sets
from tests.benchmarks.closed_loop_policies import ByHand, ByStation, KnowingAll
from tests.benchmarks.closed_loop_shop import draw_part, draw_set

COSTS = Costs()


def test_the_station_beats_the_hand_rule_and_not_the_one_who_knows() -> None:
    part = draw_part(11)
    hand, station, oracle = (
        run_sets(part, range(2), each) for each in (ByHand(part), ByStation(part), KnowingAll(3.0, COSTS))
    )
    assert station.cost(COSTS) < hand.cost(COSTS)
    assert oracle.cost(COSTS) < station.cost(COSTS)


def test_who_knows_the_shop_lies_between_the_hand_rule_and_the_one_who_knows_the_set() -> None:
    part = draw_part(11)
    hand, informed, oracle = (
        run_sets(part, range(2), each)
        for each in (ByHand(part), Informed(part, COSTS, 2), KnowingAll(3.0, COSTS))
    )
    assert oracle.cost(COSTS) < informed.cost(COSTS) < hand.cost(COSTS)


def test_the_same_set_is_drawn_for_every_policy() -> None:
    one, other = (draw_set(draw_part(12), 3) for _ in range(2))
    assert (one.level_um == other.level_um).all()
    assert (one.end_age, one.broken_age, one.batches) == (other.end_age, other.broken_age, other.batches)


def test_every_bad_piece_is_found_or_passed_on() -> None:
    part = draw_part(13)
    account = run_sets(part, range(2), ByHand(part))
    assert 0.0 <= account.bad_found <= account.bad <= account.pieces
    assert 0.0 <= account.in_doubt <= account.pieces
    assert account.sets == 2


def test_the_cost_is_what_the_account_says() -> None:
    account = Account(
        pieces=2000, bad=3, bad_found=2, in_doubt=100, checks=7, moves=2, looks=1, sets=1, unplanned=1
    )
    # 2·12 + 1·50 + 100·0.5 + 7·6 + 2·10 + 25 + 1,700 + 700, over two thousand pieces
    assert account.cost(COSTS) == pytest.approx((24 + 50 + 50 + 42 + 20 + 25 + 1700 + 700) / 2)
