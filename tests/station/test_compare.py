"""Groups of hourly checks compared: hand-made shifts whose true difference is known, and refusals in words."""

from datetime import UTC, datetime, timedelta

import pytest
from review_cases import DAY_PLAN

from spc.errors import Refused
from spc.station import Comparison, Station, open_station

FIRST = datetime(2026, 3, 2, 6, tzinfo=UTC)
PLAN = DAY_PLAN.replace("Europe/Berlin", "UTC").replace('id = "R1"', 'id = "R1"\n[[machine]]\nid = "R2"')
STEPS_UM = (0.0, 0.6, -0.6)
"""Of the checks of one shift worked around its mean; they sum to 0."""


def worked(higher_um: dict[int, float], *, days: int = 3, plan: str = PLAN) -> Station:
    """Three checks of two pieces in each shift worked; by the hour of its start so many µm higher."""
    station = open_station(":memory:", now=lambda: FIRST + timedelta(days=30))
    station.take_plan(plan)
    station.log(
        {"time": FIRST.isoformat(), "machine": "R1", "part": "P-1", "event": "blank_batch", "value": "B-1"}
    )
    for day in range(days):
        for start in (6, 14, 22):
            for number, step in enumerate(STEPS_UM):
                size = 20.0 + (higher_um.get(start, 0.0) + step + 0.3 * (day % 3 - 1)) / 1000
                time = FIRST + timedelta(days=day, hours=start - 6 + number, minutes=30)
                signed = {6: "MK", 14: "A. Roth", 22: "JS"}[start]
                check(station, time, size, operator=signed)
    return station


def check(station: Station, time: datetime, size: float, machine: str = "R1", **more: str) -> int:
    values = {"size": [f"{size + 0.001:.5f}", f"{size - 0.001:.5f}"]}
    verdict = station.check_in(
        {"time": time.isoformat(), "machine": machine, "part": "P-1", "values": values, **more}
    )
    assert verdict.check_id is not None
    return verdict.check_id


def difference(found: Comparison, lower: str, higher: str) -> float:
    assert found.found is not None
    names = [name for name, _, _ in found.groups]
    pair = next(
        each for each in found.found.pairs if {names[each.first], names[each.second]} == {lower, higher}
    )
    return pair.difference if names[pair.second] == higher else -pair.difference


def test_night_is_higher_by_what_was_put_in() -> None:
    found = worked({22: 1.8}).compare("P-1", "R1", "size", "shift")
    assert found.groups == (("06:00", 3, 9), ("14:00", 3, 9), ("22:00", 3, 9))
    assert difference(found, "06:00", "22:00") == pytest.approx(1.8, abs=1e-6)
    assert difference(found, "06:00", "14:00") == pytest.approx(0.0, abs=1e-6)
    assert "The shift from 22:00 is 1.8 µm higher than the shift from 06:00, 95 % interval" in found.says
    assert "(3 and 3 shifts worked)" in found.says
    assert found.says.endswith("No other difference is shown.")


def test_no_difference_says_so_and_what_could_hide() -> None:
    found = worked({}).compare("P-1", "R1", "size", "shift")
    assert found.says.startswith(
        "No difference between the 3 shifts is shown by 9 shifts worked; one of up to "
    )


def test_one_shift_worked_of_each_says_nothing() -> None:
    """Nine checks, but whatever was different that day was so for a whole shift."""
    found = worked({22: 1.8}, days=1).compare("P-1", "R1", "size", "shift")
    assert found.found is None
    assert found.says.startswith(
        "Nothing to compare yet: two shifts with hourly checks in at least 2 shifts worked"
    )
    assert (found.groups, found.left_out, found.remark) == ((), 9, "")


def test_people_stand_as_they_sign_and_in_the_order_of_names() -> None:
    found = worked({22: 1.8}).compare("P-1", "R1", "size", "person")
    assert [name for name, _, _ in found.groups] == ["A. Roth", "JS", "MK"]
    assert "What JS gauged is 1.8 µm higher than what MK gauged" in found.says
    assert "look at the gauge first" in found.remark
    assert "people and shifts cannot be told apart" in found.remark


def test_machines_are_compared_over_all_of_them() -> None:
    station = worked({})
    for day in range(3):
        for number, step in enumerate(STEPS_UM):
            time = FIRST + timedelta(days=day, hours=number, minutes=40)
            check(station, time, 20.0 + (3.0 + step + 0.3 * (day - 1)) / 1000, "R2")
    found = station.compare("P-1", None, "size", "machine")
    assert found.groups == (("R1", 9, 27), ("R2", 3, 9))
    assert difference(found, "R1", "R2") == pytest.approx(3.0, abs=1e-6)


def test_batches_and_die_sets_go_by_what_was_logged() -> None:
    station = worked({})
    log = {"machine": "R1", "part": "P-1", "time": (FIRST + timedelta(hours=34)).isoformat()}
    station.log({**log, "event": "blank_batch", "value": "B-2"})
    batches = station.compare("P-1", "R1", "size", "batch")
    assert [(name, turns) for name, turns, _ in batches.groups] == [("B-1", 5), ("B-2", 5)]
    dies = station.compare("P-1", "R1", "size", "die_set")
    assert (dies.found, dies.left_out) == (None, 27)  # no die set was ever logged


def test_struck_out_and_set_up_pieces_and_other_times_do_not_count() -> None:
    station = worked({})
    wrong = check(station, FIRST + timedelta(minutes=10), 20.004)
    station.annul(wrong, "gauge was dirty", by="K. Auer")
    check(station, FIRST + timedelta(minutes=20), 20.004, purpose="setup")
    found = station.compare("P-1", "R1", "size", "shift", None, FIRST + timedelta(days=2))
    assert found.groups == (("06:00", 2, 6), ("14:00", 2, 6), ("22:00", 2, 6))


def test_the_hours_after_midnight_belong_to_the_night_before() -> None:
    found = worked({}, days=2).compare("P-1", "R1", "size", "shift")
    assert found.groups[2] == ("22:00", 2, 6)


def test_a_plan_with_one_shift_has_no_other_to_compare() -> None:
    one = PLAN.replace('shifts = ["06:00", "14:00", "22:00"]', 'shifts = ["06:00"]')
    found = worked({}, plan=one).compare("P-1", "R1", "size", "shift")
    assert found.says.startswith(
        "Nothing to compare yet: two shifts with hourly checks in at least 2 shifts worked"
    )
    assert found.says.endswith("only one has them in this period.")


def test_what_is_not_gauged_is_refused_with_what_is() -> None:
    with pytest.raises(Refused, match="size"):
        worked({}, days=1).compare("P-1", "R1", "look", "shift")
    with pytest.raises(Refused, match="bar"):
        worked({}, days=1).compare("P-1", "R1", "size", "bar")  # type: ignore[arg-type]  # a slip in a program
