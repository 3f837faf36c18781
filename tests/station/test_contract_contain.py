"""Which pieces are held back: `contain` of contract section 5 and the good check of section 0."""

import pytest
from shaft import PLAN, START, check, event, open_shop, running

from spc.shop import Contain
from spc.station import verdict_line
from spc.station.wording import held_back

OUT = ["31.269", "31.262", "31.261", "31.263", "31.262"]
FLAKES = {"look": ["flakes"]}
SHAPE = """
[[characteristic]]
name = "runout"
kind = "runout"
unit = "mm"
nominal = 0.0
upper = 0.050
subgroup_size = 1
at = ["shift"]
"""


def contain(verdict):
    return verdict_line(verdict)["contain"]


def kinds(verdict):
    return {each.kind for each in verdict.signals}


def test_from_the_last_check_older_than_the_first_that_shows_the_cause():
    """Section 0: a good check is "older than the first check that shows the cause of the hold in question".

    The step shows at counter 2700 while every piece is still inside; the piece outside comes at 3000.
    """
    live = open_shop()
    running(live, 8)
    first = live.check_in(check(9, 31.2615, 2700))
    hold = live.check_in(check(10, counter=3000, pieces=OUT))

    assert first.verdict == "watch"
    assert "out_of_tolerance" in kinds(hold)
    assert contain(hold) == {"from_counter": 2400, "to_counter": 3000, "pieces": 600}


def test_a_find_that_was_not_looked_for_in_between_still_stands():
    """Section 5: "`since` is the time of the first check that shows it"; what was not gauged says nothing."""
    live = open_shop()
    live.take_plan(PLAN + SHAPE, at=START)
    running(live, 3)
    first = live.check_in(check(4, counter=1200, values={"runout": ["0.060"]}))
    live.check_in(check(5, counter=1500))
    again = live.check_in(check(6, counter=1800, values={"runout": ["0.061"]}))

    assert contain(first) == {"from_counter": 900, "to_counter": 1200, "pieces": 300}
    assert contain(again) == {"from_counter": 900, "to_counter": 1800, "pieces": 900}
    assert {each.since for each in again.signals if each.characteristic == "runout"} == {first.time}


def test_of_this_machine_part_and_mounting():
    """Section 5: "from the last good check of this machine, part and mounting (exclusive; 0 if none)"."""
    live = open_shop()
    running(live, 3)
    live.log(event(3.5, "die_set_removed", "part_change", counter=950))
    live.log(event(3.6, "die_set_mounted", "D-1"))
    live.check_in(check(4, counter=5000, machine="M2"))
    hold = live.check_in(check(5, counter=40, values=FLAKES))

    assert contain(hold) == {"from_counter": 0, "to_counter": 40, "pieces": 40}


def test_a_check_without_a_counter_cannot_be_where_holding_back_begins():
    """Section 1: "without it … the counts of `contain` are null"; the one before it with a counter counts."""
    live = open_shop()
    running(live, 3)
    live.check_in(check(4))
    hold = live.check_in(check(5, counter=1500, values=FLAKES))
    bare = live.check_in(check(6, values=FLAKES))

    assert contain(hold) == {"from_counter": 900, "to_counter": 1500, "pieces": 600}
    assert contain(bare) == {"from_counter": None, "to_counter": None, "pieces": None}


def test_a_slip_of_the_counter_never_makes_fewer_than_no_pieces():
    """Section 5: "pieces = to − from"; the counter 9000 for 900 was seen only at the next check."""
    live = open_shop()
    running(live, 2)
    live.check_in(check(3, counter=9000))
    back = live.check_in(check(4, counter=1200, values=FLAKES))

    assert "suspect_entry" in kinds(back)
    assert contain(back) == {"from_counter": 600, "to_counter": 1200, "pieces": 600}


def test_a_slip_of_the_counter_is_suspect_when_it_comes_and_when_it_falls_back():
    """Section 1: suspect is what is "readable but implausible", and "a counter that falls without a mounting"."""
    live = open_shop()
    running(live, 7)
    high = live.check_in(check(8, counter=24000))
    back = live.check_in(check(9, counter=2700))
    on = [live.check_in(check(hour, counter=300 * hour)) for hour in (10, 11)]

    assert "suspect_entry" in kinds(high)  # 21,900 pieces in an hour
    assert "suspect_entry" in kinds(back)
    assert [each.verdict for each in on] == ["run", "run"]
    assert [each.age for each in (high, back, *on)] == [2400, 2700, 3000, 3300]


def test_before_the_machine_is_known_a_slip_shows_when_the_counter_falls_back():
    live = open_shop()
    running(live, 4)
    high = live.check_in(check(5, counter=15000))
    back = live.check_in(check(6, counter=1800))
    on = [live.check_in(check(hour, counter=300 * hour)) for hour in (7, 8)]

    assert "suspect_entry" not in kinds(high)
    assert "suspect_entry" in kinds(back)
    assert [each.verdict for each in on] == ["run", "run"]


def test_a_low_slip_of_the_counter_is_one_suspect_entry_too():
    live = open_shop()
    running(live, 4)
    low = live.check_in(check(5, counter=150))
    on = live.check_in(check(6, counter=1800))

    assert "suspect_entry" in kinds(low)
    assert on.verdict == "run"
    assert on.age == 1800


def test_after_more_good_checks_than_are_kept_the_count_is_still_right():
    """Section 5: from the last good check, however long a signal has stood since."""
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 131):
        live.check_in(check(hour, counter=10 * hour))
    hold = live.check_in(check(131, counter=1310, values=FLAKES))

    assert contain(hold) == {"from_counter": 1300, "to_counter": 1310, "pieces": 10}


@pytest.mark.parametrize("struck", [True, False])
def test_an_annulled_check_is_no_good_check(struck):
    """Section 0: "good check: not annulled"."""
    live = open_shop()
    running(live, 3)
    last = live.check_in(check(4, counter=1200))
    if struck:
        live.annul(last.check_id, "gauged another part")
    hold = live.check_in(check(5, counter=1500, values=FLAKES))

    assert contain(hold)["from_counter"] == (900 if struck else 1200)


def test_pieces_held_back_are_said_as_one_would():
    """A first-off at counter 0 leaves no pieces since the last good check but those gauged."""
    assert held_back(Contain(0, 0, 0)) == "Hold back the pieces gauged at counter 0"
    assert held_back(Contain(4, 5, 1)) == "Hold back the 1 piece after counter 4 up to and with 5"
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    first = live.check_in(check(0.2, counter=0, pieces=OUT, purpose="first_off"))
    assert contain(first) == {"from_counter": 0, "to_counter": 0, "pieces": 0}
    assert "0 pieces" not in first.next_action


def test_checks_that_the_gauge_made_look_good_are_not_good():
    """ISO 9001:2015, 7.1.5.2 (from memory): equipment found unfit puts earlier results in doubt.

    15 µm off and read as 31.250, the pieces were 31.235, one piece-spread and a half inside the lower limit.
    """
    live = open_shop()
    running(live, 4)
    live.log(event(4.2, "gauge_mastered", "0.1", note="over_pin"))
    for hour in (5, 6, 7):
        live.check_in(check(hour, counter=300 * hour))
    live.log(event(7.2, "gauge_mastered", "15.0", note="over_pin"))
    hold = live.check_in(check(8, 31.234, 2400, pieces=["31.231", "31.235", "31.234", "31.236", "31.235"]))

    assert contain(hold) == {"from_counter": 1200, "to_counter": 2400, "pieces": 1200}


def test_a_gauge_hardly_off_leaves_good_checks_good():
    live = open_shop()
    running(live, 4)
    live.log(event(4.2, "gauge_mastered", "0.1", note="over_pin"))
    for hour in (5, 6, 7):
        live.check_in(check(hour, counter=300 * hour))
    live.log(event(7.2, "gauge_mastered", "2.0", note="over_pin"))
    hold = live.check_in(check(8, counter=2400, pieces=OUT))

    assert contain(hold)["from_counter"] == 2100
