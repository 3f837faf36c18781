"""Checks due, late and missed in a review, against days counted by hand (plan: 60 minutes, late after 69)."""

from datetime import UTC, datetime

import pytest
from review_cases import DAY_PLAN, day_station

from spc.errors import Refused
from spc.station import Review

ON = ("2026-03-02T06:00:00", "die_set_mounted", "D-1")


def counts(review: Review) -> tuple[int, int, int]:
    return tuple(review.duty.count(word) for word in ("in time", "late", "missed"))  # type: ignore[return-value]  # three words


def clocks(*times: str) -> list[str]:
    return [f"2026-03-{time}:00" for time in times]


def test_in_time_late_and_missed() -> None:
    # due 07:00 made 07:00; due 08:00 made 08:09 (not late: 69 min); due 09:09 made 09:19 (late: 70 min);
    # due 10:19 and 11:19 never made; due 12:19 made 12:20
    station = day_station(clocks("02T07:00", "02T08:09", "02T09:19", "02T12:20"), [ON])
    review = station.review("P-1", "R1")
    assert counts(review) == (3, 1, 2)
    missed = [each.due for each in review.duty.due if each.standing == "missed"]
    assert missed == [datetime(2026, 3, 2, 9, 19, tzinfo=UTC), datetime(2026, 3, 2, 10, 19, tzinfo=UTC)]
    late = [each.minutes_late for each in review.duty.due if each.standing == "late"]
    assert late == [10.0]


def test_a_stop_suspends_the_clock() -> None:
    # 07:00 made; stopped 07:30 to 10:30; 90 - 30 = 60 running minutes are over at 11:00
    station = day_station(
        clocks("02T07:00", "02T11:00"), [ON, ("2026-03-02T07:30:00", "machine_stopped", "180")]
    )
    review = station.review("P-1", "R1")
    assert counts(review) == (2, 0, 0)
    assert review.duty.stopped_hours == pytest.approx(3.0)


def test_without_the_stop_the_same_day_misses_three() -> None:
    assert counts(day_station(clocks("02T07:00", "02T11:00"), [ON]).review("P-1", "R1")) == (2, 0, 3)


def test_a_part_change_is_no_duty_of_this_part() -> None:
    # off 07:30, another part until 13:00; on again 13:00: 30 + 30 running minutes are over at 13:30
    events = [
        ON,
        ("2026-03-02T07:30:00", "die_set_removed", "part_change"),
        ("2026-03-02T13:00:00", "die_set_mounted", "D-1"),
    ]
    assert counts(day_station(clocks("02T07:00", "02T13:30"), events).review("P-1", "R1")) == (2, 0, 0)


def test_dies_of_another_part_end_the_running_even_where_the_removal_was_forgotten() -> None:
    station = day_station(clocks("02T07:00"), [ON])
    station.take_plan(DAY_PLAN.replace("P-1", "P-2"))
    station.log(
        {
            "time": "2026-03-02T07:30:00",
            "machine": "R1",
            "part": "P-2",
            "event": "die_set_mounted",
            "value": "E-1",
        }
    )
    assert counts(station.review("P-1", "R1")) == (1, 0, 0)
    assert station.review("P-1", "R1").duty.running_hours == pytest.approx(1.5)


def test_a_weekend_that_was_logged_as_a_stop() -> None:
    # Friday 13:00 made; stopped 14:00 Friday to 06:00 Monday (64 h); 60 running minutes are over at 14:00, on the
    # stroke of the stop: the check at 06:05 on Monday is 5 running minutes late, which is in time
    station = day_station(
        clocks("06T13:00", "09T06:05"),
        [
            ("2026-03-06T12:00:00", "die_set_mounted", "D-1"),
            ("2026-03-06T14:00:00", "machine_stopped", "3840"),
        ],
    )
    assert counts(station.review("P-1", "R1")) == (2, 0, 0)


def test_a_set_up_check_before_its_time_starts_the_clock_but_is_no_duty() -> None:
    checks = [{"time": "2026-03-02T06:10:00", "purpose": "setup"}, "2026-03-02T07:10:00"]
    review = day_station(checks, [ON]).review("P-1", "R1")
    assert counts(review) == (1, 0, 0)
    assert dict(review.purposes) == {"setup": 1, "hourly": 1}


def test_where_the_record_falls_silent_nothing_more_is_due() -> None:
    review = day_station(clocks("02T07:00"), [ON]).review("P-1", "R1")  # now is 18 days later
    assert counts(review) == (1, 0, 0)
    assert "Nothing was logged" in review.duty.remark


def test_a_machine_that_just_ran_on_is_counted_to_now() -> None:
    station = day_station(clocks("02T07:00"), [ON])
    review = station.review("P-1", "R1", at=datetime(2026, 3, 2, 9, 30, tzinfo=UTC))  # 10:30 in the plant
    assert counts(review) == (1, 0, 2)


def test_a_check_belongs_to_the_shift_in_which_it_was_made() -> None:
    # due 13:50, made 14:02: the late shift's; due 21:50 in the late shift, never made before 22:50
    times = ["02T12:50", "02T14:02", *(f"02T{hour}:02" for hour in range(15, 21)), "02T22:55"]
    station = day_station(clocks(*times), [("2026-03-02T12:00:00", "die_set_mounted", "D-1")])
    shifts = {shift: station.review("P-1", "R1", shift=shift) for shift in ("06:00", "14:00", "22:00")}
    assert [each.checks for each in shifts.values()] == [1, 7, 1]
    assert [counts(each) for each in shifts.values()] == [(1, 0, 0), (6, 1, 1), (0, 1, 0)]
    whole = station.review("P-1", "R1")
    assert counts(whole) == tuple(map(sum, zip(*(counts(each) for each in shifts.values()), strict=True)))


def test_periods_side_by_side_count_every_check_once() -> None:
    station = day_station(clocks("02T07:00", "02T08:09", "02T09:19", "02T12:20", "02T13:00"), [ON])
    whole = station.review("P-1", "R1")
    cut = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)  # 10:30 in the plant, between a missed check and the next
    first = station.review("P-1", "R1", to_time=cut)
    second = station.review("P-1", "R1", from_time=cut)
    assert counts(whole) == tuple(map(sum, zip(counts(first), counts(second), strict=True)))


@pytest.mark.parametrize("shift", ["07:00", "night"])
def test_an_unknown_shift_is_refused_with_the_shifts_of_the_plan(shift: str) -> None:
    station = day_station(clocks("02T07:00"), [ON])
    with pytest.raises(Refused, match="06:00, 14:00, 22:00"):
        station.review("P-1", "R1", shift=shift)


def test_a_period_that_ends_before_it_begins_is_refused() -> None:
    station = day_station(clocks("02T07:00"), [ON])
    low, high = datetime(2026, 3, 3, tzinfo=UTC), datetime(2026, 3, 2, tzinfo=UTC)
    with pytest.raises(Refused, match="ends before it begins"):
        station.review("P-1", "R1", from_time=low, to_time=high)
