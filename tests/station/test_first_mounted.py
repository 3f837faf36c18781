"""When the record first saw a die set mounted: only on the machines that are asked for."""

from datetime import UTC, datetime

from feed import plan_of, station


def test_the_first_mounting_of_each_machine_that_is_asked_for():
    live = station()
    for part in ("BG-21", "SW-32"):
        live.take_plan(plan_of(part).text)
    for machine, part, day in (("R3", "BG-21", 4), ("R3", "", 2), ("R1", "SW-32", 1), ("R3", "BG-21", 9)):
        where = {"machine": machine, "part": part, "time": f"2026-03-{day:02d}T06:00:00+00:00"}
        live.log({**where, "event": "die_set_mounted", "value": f"D-{day}"})
    assert live.first_mounted(["R3", "R9"]) == {"R3": datetime(2026, 3, 2, 6, tzinfo=UTC)}
    assert live.first_mounted([]) == {}
