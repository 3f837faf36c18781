"""Piece counters that are set back while the dies stay on: one entry in doubt, and life goes on."""

from datetime import timedelta

import pytest
from known_shop import KnownShop, kinds
from shaft import check, event, open_shop, running

from spc.shop import EventLogged

SEEDS = range(3)


@pytest.mark.parametrize("seed", SEEDS)
def test_one_entry_is_in_doubt_and_the_age_goes_on(seed: int) -> None:
    """Set back at 9,000: the check that shows it is doubted, the next one has the dies 600 pieces older."""
    shop = KnownShop(seed)
    shop.hours(30)
    before = shop.verdicts[-1]
    shop.counter = 0
    fallen, *after = shop.hours(20)

    assert kinds([fallen]) == ["suspect_entry"]
    assert "from 9000 to 300" in fallen.signals[0].says
    assert fallen.subgroups[0][1].suspect
    assert kinds(after) == []
    assert [each.age for each in after] == [9_000 + 300 * hour for hour in range(2, 21)]
    assert before.die_life is not None
    assert after[0].die_life is not None
    left = before.die_life.pieces_left.p50
    assert abs(after[0].die_life.pieces_left.p50 - left) < 0.25 * left


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_that_was_learned_is_lost(seed: int) -> None:
    """Against the same shop whose counter was never touched: the belief differs by the one doubted check alone."""
    plain, touched = KnownShop(seed, follows=False), KnownShop(seed, follows=False)
    plain.hours(30)
    touched.hours(30)
    touched.counter = 0
    plain.hours(15)
    touched.hours(15)

    assert touched.belief.checks == plain.belief.checks - 1
    assert touched.belief.age_pieces == plain.belief.age_pieces
    for i in (1, 2):
        apart = abs(touched.belief.mean[i] - plain.belief.mean[i])
        assert apart < 0.5 * plain.belief.var(i) ** 0.5


@pytest.mark.parametrize("slip", [15_600, 66_000, 60_000])
def test_a_slip_upward_is_doubted_when_it_comes(slip: int) -> None:
    """6,600 typed with a digit too many, or another one in front: it teaches nothing, and nothing is lost by it."""
    plain, slipped = KnownShop(1, follows=False), KnownShop(1, follows=False)
    for shop in (plain, slipped):
        shop.hours(21)
    slipped.counter, plain.counter = slip - 300, 6_300
    told = slipped.hour()
    slipped.counter = 6_600
    plain.hour()
    after = slipped.hours(8)
    plain.hours(8)

    assert kinds([told, after[0]]) == ["suspect_entry", "suspect_entry"]  # it falls without a mounting, too
    assert (
        f"went up from 6300 to {slip}, but at its fastest the machine makes 300 an hour"
        in told.signals[0].says
    )
    assert told.next_action.startswith("Read the counter again")
    assert told.reaction is not None
    assert told.reaction.pattern == "a piece counter that is hard to believe"
    assert told.age == 6_600  # as the pace has it
    assert told.die_life is None
    assert kinds(after[1:]) == []
    assert [each.age for each in after] == [6_600 + 300 * hour for hour in range(1, 9)]
    assert slipped.belief.checks == plain.belief.checks - 2
    for i in (1, 2):
        apart = abs(slipped.belief.mean[i] - plain.belief.mean[i])
        assert apart < 0.5 * plain.belief.var(i) ** 0.5


def test_a_counter_set_forward_counts_on_from_there() -> None:
    shop = KnownShop(2)
    shop.hours(20)
    shop.counter = 50_000
    told, *after = shop.hours(6)

    assert kinds([told, *after]) == ["suspect_entry"]
    assert [each.age for each in after] == [6_000 + 300 * hour for hour in range(1, 6)]
    shop.counter = 40_000  # and back again
    told, *after = shop.hours(4)
    assert kinds([told, *after]) == ["suspect_entry"]
    assert [each.age for each in after] == [7_500 + 300 * hour for hour in range(1, 4)]


def test_after_two_slips_in_a_row_the_count_goes_on() -> None:
    shop = KnownShop(2, follows=False)
    shop.hours(20)
    for slip in (90_000, 60_000):
        shop.counter = slip
        assert kinds(shop.hours(1)) == ["suspect_entry"]
    shop.counter = 6_600
    assert [each.age for each in shop.hours(2)] == [6_900, 7_200]


def test_setting_up_slowly_makes_no_slip_of_the_first_hour() -> None:
    """Ten pieces every ten minutes until the size is right, then three hundred an hour."""
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    for turn in range(1, 9):
        live.check_in(check(turn / 6.0, counter=10 * turn, purpose="setup" if turn < 8 else "first_off"))
    said = [live.check_in(check(1.5 + hour, counter=80 + 300 * hour)) for hour in range(1, 4)]
    assert [each.says for verdict in said for each in verdict.signals if "counter" in each.says] == []


def test_a_slow_shift_before_a_quick_one_is_no_slip() -> None:
    """Ten times the pace of the last hours, as it was before them; and four nights' work that nobody checked."""
    shop = KnownShop(2)
    shop.hours(6)
    shop.pieces = 30
    shop.hours(8)
    shop.pieces = 300
    assert kinds(shop.hours(4)) == []
    shop.now += timedelta(days=4)
    shop.counter += 28_000
    shop.age += 28_000
    assert "suspect_entry" not in kinds(shop.hours(1))


def test_what_is_held_back_after_it_counts_from_the_setting_back() -> None:
    live = open_shop()
    running(live, 6)
    live.check_in(check(7, counter=250))
    held = live.check_in(check(8, 31.290, 550))

    assert held.age == 1800 + 550
    assert held.contain is not None
    assert (held.contain.from_counter, held.contain.to_counter, held.contain.pieces) == (250, 550, 300)


def test_a_slip_in_the_counter_of_a_removal_makes_no_long_life() -> None:
    """63,500 typed for 6,350: the last count stands, or every later set would be expected to last so long."""
    shop = KnownShop(4)
    shop.hours(21)
    removed = EventLogged(shop.now, "M1", "K-5", "die_set_removed", "worn", counter=63_500)
    shop.take(removed)
    assert [each.age_pieces for each in shop.state.finished] == [6_300]
    assert shop.state.die_sets["D-1"].age_pieces == 6_300


def test_a_second_setting_back_adds_up() -> None:
    live = open_shop()
    running(live, 4)
    for hour, counter in ((5, 100), (6, 400), (7, 700), (8, 1000), (9, 150), (10, 450)):
        last = live.check_in(check(hour, counter=counter))

    assert last.age == 1200 + 1000 + 450
    live.log(event(10.5, "die_set_removed", "part_change", counter=500))
    live.log(event(11, "die_set_mounted", "D-1"))
    assert live.check_in(check(12, counter=100)).age == 1200 + 1000 + 500 + 100
