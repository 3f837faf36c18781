"""What a review counts apart: set-up pieces, strike-outs, looks, holds with their answers, die sets."""

from datetime import UTC, datetime

from review_cases import DAY_PLAN, day_station

ON = ("2026-03-02T06:00:00", "die_set_mounted", "D-1")


def test_set_up_struck_out_and_hourly_are_kept_apart() -> None:
    checks = [
        {"time": "2026-03-02T06:10:00", "purpose": "setup"},
        "2026-03-02T07:10:00",
        "2026-03-02T08:10:00",
    ]
    station = day_station(checks, [ON])
    check_id = station.histories("P-1", "R1")[0].points[-1].check_id
    station.annul(check_id, "gauge was dirty", by="K. Auer")
    review = station.review("P-1", "R1")
    one = review.characteristics[0]
    assert (one.subgroups, one.pieces, one.other_checks) == (1, 2, (("setup", 1, 2),))
    assert one.struck_out == 1
    assert review.checks == 2
    assert review.struck_out == ((datetime(2026, 3, 2, 7, 10, tzinfo=UTC), "gauge was dirty", "K. Auer"),)


def test_a_look_that_found_something_is_held_counted_and_answered() -> None:
    bad = {
        "time": "2026-03-02T08:00:00",
        "counter": 200,
        "values": {"size": ["20.001", "20.002"], "look": ["flakes"]},
    }
    station = day_station([{"time": "2026-03-02T07:00:00", "counter": 100}, bad], [ON])
    held = station.review("P-1", "R1").held
    assert [(each.counter, each.die_set, each.pieces_held, each.answer) for each in held] == [
        (200, "D-1", 100, "")
    ]
    station.answer(held[0].check_id, "worn flank", "dies changed", by="K. Auer")
    review = station.review("P-1", "R1")
    assert (review.held[0].answer, review.held[0].answered_by) == ("worn flank: dies changed", "K. Auer")
    assert dict(review.verdicts)["hold"] == 1
    assert [(look.checks, look.pieces, look.finds) for look in review.looks] == [(2, 2, (("flakes", 1),))]


def test_a_piece_on_the_limit_is_inside() -> None:
    values = [{"size": ["20.050", "19.950"]}, {"size": ["20.051", "20.000"]}]
    checks = [
        {"time": f"2026-03-02T0{hour}:00:00", "values": each} for hour, each in enumerate(values, start=7)
    ]
    assert day_station(checks, [ON]).review("P-1", "R1").characteristics[0].outside == 1


def test_the_age_at_the_removal_is_the_life_of_a_worn_set() -> None:
    events = [
        ON,
        ("2026-03-02T09:00:00", "die_set_removed", "worn"),
        ("2026-03-02T09:30:00", "die_set_mounted", "D-2"),
    ]
    checks = [
        {"time": f"2026-03-02T{hour}:00:00", "counter": counter}
        for hour, counter in (("07", 100), ("08", 200), ("10", 40))
    ]
    first, second = day_station(checks, events).review("P-1", "R1").die_sets
    assert (first.die_set, first.checks, first.age_first, first.removed_for) == ("D-1", 2, 100, "worn")
    assert (first.life_ended, second.life_ended, second.removed) == (True, False, None)
    assert first.age_last == 200


def test_a_part_made_on_two_machines_has_a_review_of_each() -> None:
    plan = DAY_PLAN.replace('id = "R1"', 'id = "R1"\n[[machine]]\nid = "R2"')
    station = day_station(
        ["2026-03-02T07:00:00", {"time": "2026-03-02T07:00:00", "machine": "R2"}], [ON], plan
    )
    assert station.machines("P-1") == ("R1", "R2")
    assert [station.review("P-1", machine).checks for machine in station.machines("P-1")] == [1, 1]


def test_a_machine_without_a_check_has_an_empty_review() -> None:
    review = day_station([]).review("P-1", "R1")
    assert (review.checks, review.characteristics, review.duty.due, review.from_time) == (0, (), (), None)
