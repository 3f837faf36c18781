"""The make-believe nature behind the files: wear, policies, dice, mistakes."""

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise
from statistics import fmean, pstdev

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spc.simulator import chase_last_piece, demo_shop, hand_rule, leave_alone, simulate
from spc.simulator.demo_parts import DEMO_PARTS
from spc.simulator.dice import Dice
from spc.simulator.die import draw_life
from spc.simulator.mistakes import decimal_slip, digits_swapped


def always_deeper(_decision):
    return 0.004


def quiet_shop(days, part):
    return replace(demo_shop(days, (part,)), stories=())


@pytest.mark.parametrize("part", ["KS-38", "BG-21"])
def test_when_nobody_moves_the_slide_the_size_grows_by_the_true_wear(part):
    history = simulate(quiet_shop(4, part), leave_alone, seed=5)
    name = history.shop.parts[0].sizes[0].name
    target = history.shop.parts[0].sizes[0].aim
    life, batches = (
        history.lives[0],
        {size.time: size.batch_um for size in history.sizes if size.characteristic == name},
    )
    means = {}
    for row in history.readings:
        if row.characteristic == name and row.purpose == "hourly":
            means.setdefault(row.time, []).append(1000.0 * (float(row.value) - target))
    steady = [(time, fmean(values) - batches[time]) for time, values in means.items()]
    grown = fmean(mean for _, mean in steady[-12:]) - fmean(mean for _, mean in steady[:12])
    wear = {size.time: size.wear_um for size in history.sizes if size.characteristic == name}
    true = fmean(wear[time] for time, _ in steady[-12:]) - fmean(wear[time] for time, _ in steady[:12])
    assert true > 8.0
    # two means of 60 pieces each with sigma near 2.7 µm, plus 0.5 µm of gauge creep and warm-up
    assert grown == pytest.approx(true, abs=1.6)
    assert life.wear_um[name] >= true
    assert sum(row.event == "penetration" for row in history.events) == 1


@given(st.sampled_from(DEMO_PARTS), st.integers(0, 10_000))
def test_wear_never_goes_back_and_is_fast_steady_quick(part, seed):
    die = draw_life(part, "D-1", 1, Dice(seed, "die"))
    name, knee = part.sizes[0].name, die.knee
    path = [die.wear_um(name, knee * step / 20.0) for step in range(41)]
    assert all(later > earlier for earlier, later in pairwise(path))
    new, steady, late = path[1] - path[0], path[15] - path[14], path[30] - path[29]
    assert new > 1.5 * steady
    assert late > 1.3 * steady


def test_policies_meet_the_same_dies_bars_and_pieces():
    shop = quiet_shop(2, "KS-38")
    alone, handed = simulate(shop, leave_alone, seed=3), simulate(shop, hand_rule, seed=3)
    assert [life.wear_um_per_1000 for life in alone.lives] == [life.wear_um_per_1000 for life in handed.lives]
    assert alone.batches == handed.batches
    first = [row.value for row in alone.readings[:40]]
    assert first == [row.value for row in handed.readings[:40]]


def test_the_hand_holds_the_size_and_chasing_moves_more():
    shop = quiet_shop(5, "BG-21")
    name = "over_ball"

    def run(policy):
        history = simulate(shop, policy, seed=8)
        sizes = [s.size_um for s in history.sizes if s.characteristic == name and s.purpose == "hourly"]
        return pstdev(sizes), sum(row.event == "penetration" for row in history.events)

    (spread_alone, _), (spread_hand, moved_hand), (_, moved_chase) = map(
        run, (leave_alone, hand_rule, chase_last_piece)
    )
    assert spread_hand < 0.5 * spread_alone
    assert moved_chase > 2 * moved_hand


def test_two_opposed_slides_move_the_size_twice():
    def first_step(slides):
        shop = quiet_shop(1, "BG-21")
        machines = tuple(replace(machine, slides=slides) for machine in shop.machines)
        history = simulate(replace(shop, machines=machines), always_deeper, seed=2)
        sizes = [s for s in history.sizes if s.characteristic == "over_ball"]
        depth = 1000.0 * (sizes[-1].slide_mm - sizes[0].slide_mm)
        explained = sizes[-1].wear_um + sizes[-1].batch_um + sizes[-1].warm_um
        explained -= sizes[0].wear_um + sizes[0].batch_um + sizes[0].warm_um
        return (explained - (sizes[-1].size_um - sizes[0].size_um)) / depth

    assert first_step("one") == pytest.approx(0.85, abs=0.1)
    assert first_step("two") == pytest.approx(1.70, abs=0.2)


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 2**31), part=st.sampled_from(["KS-24", "SW-32", "KS-38", "BG-21"]))
def test_any_seed_gives_a_consistent_two_days(seed, part):
    history = simulate(demo_shop(2, (part,)), hand_rule, seed)
    assert len({(row.time, row.characteristic, row.piece) for row in history.readings}) == len(
        history.readings
    )
    mounted = [row.time for row in history.events if row.event == "die_set_mounted"]
    last: dict[datetime, int] = {}
    for row in history.readings:
        since = max(time for time in mounted if time <= row.time)
        assert row.counter >= last.get(since, 0)
        last[since] = row.counter
    end = history.shop.start + timedelta(hours=48)
    assert all(history.shop.start <= row.time <= end for row in (*history.readings, *history.events))


def test_the_same_words_roll_the_same_numbers_and_others_dont():
    assert [Dice(4, "a", 1).normal() for _ in range(2)] == [Dice(4, "a", 1).normal()] * 2
    assert Dice(4, "a").uniform() != Dice(4, "b").uniform()
    assert Dice(4, "a").uniform() != Dice(5, "a").uniform()


def test_normal_dice_have_the_mean_and_spread_asked_for():
    dice = Dice(7, "many")
    rolls = [dice.normal(3.0, 2.0) for _ in range(4000)]
    assert fmean(rolls) == pytest.approx(3.0, abs=0.13)  # four standard errors
    assert pstdev(rolls) == pytest.approx(2.0, abs=0.1)


@given(st.integers(10_000, 99_999))
def test_a_decimal_slip_is_ten_times_too_large(thousandths):
    value = f"{thousandths / 1000:.3f}"
    assert float(decimal_slip(value)) == pytest.approx(10 * float(value))


@given(st.integers(10_000, 99_999))
def test_swapped_digits_keep_the_digits(thousandths):
    value = f"{thousandths / 1000:.3f}"
    assert sorted(digits_swapped(value)) == sorted(value)
    assert digits_swapped(digits_swapped(value)) == value


def test_a_policy_is_told_everything_typed_and_logged_once():
    rows, events = [], []

    def listen(decision):
        rows.extend(decision.rows)
        events.extend(decision.events)
        assert decision.rows[-1].time == decision.time
        return 0.0

    history = simulate(quiet_shop(3, "BG-21"), listen, seed=4)
    assert tuple(rows) == history.readings[: len(rows)]
    assert sorted(events, key=lambda row: row.time) == list(history.events[: len(events)])
    assert len(rows) > 0.98 * len(history.readings)
