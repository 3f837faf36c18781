"""A small invented plan and hand-made checks for it."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from shaft_size import HOURLY, OVER_PIN_SIZE

from spc.shop import Verdict
from spc.station import Station, open_station

START = datetime(2026, 5, 4, 6, tzinfo=UTC)

PLAN = f"""
[part]
id = "T-9"
description = "test shaft"
[plant]
zone = "Europe/Berlin"
[[machine]]
id = "M1"
slide_step_mm = 0.001
largest_move_mm = 0.010
[[machine]]
id = "M2"
slide_step_mm = 0.005
display = "deeper_is_smaller"
[die_set]
correction_travel = 0.060
{HOURLY}{OVER_PIN_SIZE}limits = "with_die_wear"
[[characteristic]]
name = "bow"
kind = "straightness"
unit = "mm"
nominal = 0.0
upper = 0.050
subgroup_size = 2
[[characteristic]]
name = "look"
kind = "visual"
answers = ["ok", "flakes", "chip mark"]
"""

COSTS = """
[costs]
planned_die_change = 1700
unplanned_die_change = 2400
scrap_per_piece = 12
spoilt_pieces = 300
currency = "EUR"
"""


def pattern(hours: float) -> tuple[float, ...]:
    """Five pieces around their mean, mm; never the same twice in a row, range about 4 µm."""
    wide, narrow = 0.002 + 0.0001 * (round(hours) % 5), 0.001 + 0.0001 * (round(hours) % 3)
    return (0.0, wide, -wide, narrow, -narrow)


def open_shop(old: str = "", new: str = "") -> Station:
    """A station with the plan taken in, on a record of its own; `new` stands in the plan for `old`."""
    live = open_station(":memory:", now=lambda: START + timedelta(days=30))
    live.take_plan(PLAN.replace(old, new) if old else PLAN)
    return live


def at(hours: float) -> str:
    """Plant time so many hours after the start, as typed."""
    return (START + timedelta(hours=2 + hours)).replace(tzinfo=None).isoformat()


def check(
    hours: float,
    mean: float = 31.250,
    counter: int | None = None,
    *,
    pieces: Sequence[str] | None = None,
    **more: Any,
) -> dict[str, Any]:
    """A check with five over-pin pieces around a mean; keywords add or replace keys and characteristics."""
    values: dict[str, Any] = {"over_pin": list(pieces or [f"{mean + each:.4f}" for each in pattern(hours)])}
    values |= more.pop("values", {})
    return {"time": at(hours), "machine": "M1", "part": "T-9", "counter": counter, "values": values, **more}


def event(hours: float, kind: str, value: str = "", **more: Any) -> dict[str, Any]:
    return {"time": at(hours), "machine": "M1", "part": "T-9", "event": kind, "value": value, **more}


def running(live: Station, checks: int, *, counter: int = 300, mean: float = 31.250) -> None:
    """A set mounted at the start, its slide at 12.340, and so many quiet hourly checks."""
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, checks + 1):
        live.check_in(check(hour, mean, counter * hour))


def with_costs() -> Station:
    return open_shop("[die_set]", COSTS + "[die_set]")


def one_set(live: Station, start: float, name: str, ended: str, *, grows: float = 0.004) -> Verdict:
    """Ten hourly checks of a set that grows so many mm an hour, then off; the verdict on the last check."""
    live.log(event(start, "die_set_mounted", name))
    live.log(event(start, "penetration", "12.340"))
    for hour in range(1, 11):
        last = live.check_in(check(start + hour, 31.235 + grows * hour / 2, 300 * hour))
    if ended:
        live.log(event(start + 10.5, "die_set_removed", ended, counter=3100))
    return last
