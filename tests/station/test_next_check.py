"""When to check next: never later than the plan, sooner where more may go wrong until then."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shaft import COSTS, START, check, event, open_shop, running

from spc.station import verdict_line

ODD = ["31.2500", "31.2505", "31.2500", "31.2495", "31.2622"]


def due(live, hours):
    return live.operator_view("T-9", "M1", START + timedelta(hours=hours)).due


def hour(hours):
    return START + timedelta(hours=hours)


def old_dies(checks, live=None):
    """A set well past its break-in: 300 pieces an hour, from 6,000 on."""
    live = live or open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for each in range(1, checks + 1):
        live.check_in(check(each, counter=6000 + 300 * each))
    return live


def test_quiet_dies_are_checked_as_planned():
    live = old_dies(7)
    verdict = live.check_in(check(8, counter=8400))
    assert verdict_line(verdict)["next_check"] == {
        "pieces": 300, "minutes": 60.0, "says": "in 60 min, about 300 pieces, as planned",
    }  # fmt: skip
    assert verdict.next_action == "Run on. Next check as planned."
    assert due(live, 8.5) == hour(9)


def test_new_dies_are_checked_sooner():
    live = open_shop()
    running(live, 1)
    verdict = live.check_in(check(2, counter=600))
    assert (verdict.next_check.pieces, verdict.next_check.minutes) == (150, 30.0)
    assert "new dies" in verdict.next_action
    assert due(live, 2.1) == hour(2.5)


def test_after_a_find_the_next_three_checks_come_sooner():
    live = old_dies(8)
    found = live.check_in(check(9, counter=8700, pieces=ODD))
    assert found.reaction.first == "gauge"
    minutes = [found.next_check.minutes]
    minutes += [
        live.check_in(check(each, counter=6000 + 300 * each)).next_check.minutes for each in (10, 11, 12, 13)
    ]
    assert minutes == [15.0, 30.0, 30.0, 60.0, 60.0]


def test_where_the_machine_stops_the_first_pieces_are_gauged_before_it_runs_on():
    live = old_dies(8)
    verdict = live.check_in(check(9, counter=8700, values={"look": ["flakes"]}))
    assert (verdict.next_check.pieces, verdict.next_check.minutes) == (5, None)
    assert "before it runs on" in verdict.next_check.says


def test_after_a_slide_move_the_first_pieces_are_due():
    live = old_dies(8)
    live.log(event(8.4, "penetration", "12.342"))
    assert due(live, 8.5) == hour(8.4)
    live.check_in(check(8.5, 31.2484, counter=8550, purpose="after_move"))
    assert due(live, 8.6) == hour(9.5)


def test_an_advised_move_is_checked_on_its_first_pieces():
    live = old_dies(3)
    for each in range(4, 12):
        verdict = live.check_in(check(each, 31.2575, 6000 + 300 * each))
        if verdict.verdict == "correct":
            break
    assert verdict.verdict == "correct"
    assert verdict.next_check.pieces == 5
    assert "after the move" in verdict.next_check.says


def test_a_cold_machine_is_checked_before_it_has_changed_much():
    live = old_dies(8)
    live.log(event(8.1, "machine_stopped", "60"))
    verdict = live.check_in(check(9.2, counter=8460))
    assert verdict.next_check.pieces == 150
    assert "warm" in verdict.next_check.says


def test_near_the_end_of_a_life_checks_come_sooner():
    live = old_dies(2)
    for each in range(3, 60):
        grown = 0.0012 * (each - 2)
        if each % 2 == 0:
            live.log(event(each - 0.9, "penetration", f"{12.340 + 0.8 * grown:.3f}"))
        verdict = live.check_in(check(each, 31.250 + 0.2 * grown, counter=6000 + 300 * each))
        if verdict.die_life.pieces_left.p50 < 500:
            break
    assert verdict.die_life.pieces_left.p50 < 500
    assert verdict.next_check.minutes is None or verdict.next_check.minutes <= 30


def test_a_size_near_its_limit_is_checked_sooner():
    """Nearly 1 % would be outside now, by σ 4.6 µm at 7.4 µm from the middle of ±18 µm."""
    wide = (0.0, 0.0063, -0.0063, 0.0033, -0.0033)
    live = open_shop("largest_move_mm = 0.010", "largest_move_mm = 0.0005")  # no move helps here
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for each in range(1, 15):
        pieces = [f"{31.2424 + one + 0.0001 * (each % 3):.4f}" for one in wide]
        verdict = live.check_in(check(each, counter=6000 + 300 * each, pieces=pieces))
        if verdict.next_check.says.endswith("later"):
            break
    assert "over pins" in verdict.next_check.says
    assert 75 <= verdict.next_check.pieces < 300


def nearing(costs):
    """A size that stands 4 µm off and grows, σ 3 µm in ±18: less than one piece in a hundred would be out."""
    wide = (0.0, 0.0042, -0.0042, 0.0021, -0.0021)
    live = open_shop("largest_move_mm = 0.010\n", "largest_move_mm = 0.0005\n")
    plan = live.plans()[0].text
    live.take_plan(plan.replace("[check]", costs + "[check]"), at=START - timedelta(days=1))
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for each in range(1, 13):
        pieces = [f"{31.2545 + 0.0003 * each + one + 0.0001 * (each % 3):.4f}" for one in wide]
        verdict = live.check_in(check(each, counter=6000 + 300 * each, pieces=pieces))
    return verdict


def test_where_the_plan_says_what_a_check_costs_the_next_comes_when_that_is_cheapest():
    asked = [
        nearing(costs).next_check
        for costs in ("", COSTS, COSTS + "check = 6\n", COSTS + "check = 2\n", COSTS + "check = 0.5\n")
    ]
    assert [each.pieces for each in asked[:3]] == [300, 300, 300]  # scrap alone says nothing
    assert 300 > asked[3].pieces > asked[4].pieces >= 75
    assert asked[3].says.endswith("later, scrap of over pins would cost more than a check")


def test_without_counters_the_plan_and_the_clock_are_all_there_is():
    live = open_shop()
    verdicts = [live.check_in(check(each)) for each in range(1, 6)]
    assert {each.next_check.minutes for each in verdicts} == {60.0}
    assert verdicts[-1].next_check.pieces is None


def test_an_interval_by_pieces_counts_too():
    live = old_dies(8, open_shop("interval_minutes = 60", "interval_minutes = 60\ninterval_pieces = 200"))
    verdict = live.check_in(check(9, counter=8700))
    assert (verdict.next_check.pieces, verdict.next_check.minutes) == (200, 40.0)
    assert due(live, 9.1) == hour(9 + 2 / 3)


@given(st.lists(st.tuples(st.floats(31.236, 31.264), st.integers(20, 500)), min_size=2, max_size=6))
def test_never_later_than_the_plan(steps):
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    counter = 0
    for place, (mean, pieces) in enumerate(steps, 1):
        counter += pieces
        found = live.check_in(check(place, mean, counter)).next_check
        assert found.minutes is None or 1.0 <= found.minutes <= 60.0
        assert found.pieces is None or found.pieces >= 1


@pytest.mark.parametrize("made", [9.5, 10.4])
def test_the_review_counts_by_the_plan(made):
    """Late and missed stay the plan's: 60 minutes, late after 15 % more (contract section 3)."""
    live = old_dies(8)
    live.check_in(check(9, counter=8700, pieces=ODD))
    live.check_in(check(made, counter=8850))
    duty = live.review("T-9", "M1", hour(8.5), hour(made + 0.1)).duty
    assert duty.count("missed") == 0
    assert duty.count("late") == (1 if made > 10.15 else 0)


def test_a_slip_of_the_fingers_is_no_change_at_the_machine():
    live = old_dies(8)
    slip = live.check_in(check(9, counter=8700, pieces=["31.250", "312.51", "31.249", "31.250", "31.251"]))
    assert slip.verdict == "hold"
    again = live.check_in(check(10, counter=9000))
    assert again.next_action == "Run on. Next check as planned."
