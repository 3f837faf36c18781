"""A missing week, checks of one to ten pieces, and checks that come in twice: verdicts stay sensible."""

from datetime import timedelta

import numpy as np
import pytest
from known_shop import KnownShop, kinds
from shaft import check, open_shop, running

from spc.errors import Refused
from spc.shop import Subgroup, Verdict

SEEDS = range(4)


def over_pin(verdict: Verdict) -> Subgroup:
    return dict(verdict.subgroups)["over_pin"]


def width_um(group: Subgroup) -> float | None:
    return None if group.upper is None or group.lower is None else 1000.0 * (group.upper - group.lower)


@pytest.mark.parametrize("unchecked", [0, 2_400, 6_000])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_missing_week_widens_the_limits_and_raises_no_alarm(seed: int, unchecked: int) -> None:
    """A week without a check, the machine standing or running on: the dies wore as ever, and that is expected."""
    shop = KnownShop(seed, growth_um=0.8)
    shop.hours(30)
    shop.now += timedelta(days=7)
    shop.age += unchecked
    shop.counter += unchecked
    shop.wear_um += shop.growth_um * unchecked / 1000.0
    before, after = shop.verdicts[-1], shop.hours(12)

    assert not set(kinds(after)) - {"travel_used"}
    usual, first, later = (width_um(over_pin(each)) for each in (before, after[0], after[8]))
    assert usual is not None
    if unchecked:
        assert first is None or first > 1.1 * usual  # None: too unsure to judge, the tolerance judges alone
    assert later is not None
    assert later < 1.25 * usual
    assert shop.is_believed()


@pytest.mark.parametrize("seed", SEEDS)
def test_limits_follow_the_number_of_pieces(seed: int) -> None:
    """One to ten pieces, as they come: no alarm, and limits the wider the fewer pieces carry the mean."""
    shop, sizes = KnownShop(seed), np.random.default_rng(40 + seed)
    widths: dict[int, list[float]] = {}
    for hour in range(110):
        shop.n = int(sizes.integers(1, 11))
        group = over_pin(shop.hour())
        assert group.n == shop.n
        found = width_um(group)
        if hour >= 30 and found is not None:
            widths.setdefault(shop.n, []).append(found)
    middle = {n: float(np.median(each)) for n, each in widths.items()}

    assert not set(kinds(shop.verdicts)) - {"travel_used"}
    assert sorted(middle) == list(range(1, 11))
    assert middle[1] > middle[2] > middle[4] > middle[9]
    # 3.2 √(σ²/n + what the forecast itself is unsure of): a single piece is never narrower than its own chance
    assert middle[1] > 2 * 3.2 * 0.8 * shop.sigma_um
    assert middle[1] / middle[10] < 10**0.5


def test_a_check_that_comes_twice_is_taken_once() -> None:
    live = open_shop()
    running(live, 6)
    first = live.check_in(check(7, 31.251, 2100))
    again = live.check_in(check(7, 31.251, 2100))
    after = live.check_in(check(8, 31.2505, 2400))

    assert again.to_dict() == first.to_dict()
    assert after.signals == ()
    once = open_shop()
    running(once, 6)
    once.check_in(check(7, 31.251, 2100))
    said = [each.check_in(check(9, 31.252, 2700)).to_dict() for each in (live, once) if each is live]
    once.check_in(check(8, 31.2505, 2400))
    expected = once.check_in(check(9, 31.252, 2700)).to_dict()
    assert {**said[0], "check_id": 0} == {**expected, "check_id": 0}


def test_the_same_check_with_another_value_is_refused_and_changes_nothing() -> None:
    live = open_shop()
    running(live, 6)
    live.check_in(check(7, 31.251, 2100))
    with pytest.raises(Refused):
        live.check_in(check(7, 31.253, 2100))
    after = live.check_in(check(8, 31.2505, 2400))

    assert after.signals == ()
    assert after.verdict == "run"
