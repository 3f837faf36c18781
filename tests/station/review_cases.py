"""Stations for checks of the review: the published piston rings as hourly checks, and small hand-made days."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from spc.station import Station, open_station

RINGS = Path(__file__).parents[1] / "references" / "piston_rings.csv"
NOW = datetime(2026, 3, 20, 12, tzinfo=UTC)

RINGS_PLAN = """
[part]
id = "RING"
description = "piston ring"
[plant]
zone = "UTC"
shifts = ["06:00", "14:00", "22:00"]
[check]
subgroup_size = 5
interval_minutes = 60
[[characteristic]]
name = "inside_diameter"
kind = "diameter"
unit = "mm"
nominal = 74.000
lower = 73.950
upper = 74.050
minimum_cpk = 1.33
"""

DAY_PLAN = """
[part]
id = "P-1"
[plant]
zone = "Europe/Berlin"
shifts = ["06:00", "14:00", "22:00"]
[[machine]]
id = "R1"
[check]
subgroup_size = 2
interval_minutes = 60
[[characteristic]]
name = "size"
kind = "diameter"
unit = "mm"
nominal = 20.000
lower = 19.950
upper = 20.050
[[characteristic]]
name = "look"
kind = "visual"
subgroup_size = 1
answers = ["ok", "flakes", "chip mark"]
"""


def rings() -> list[list[str]]:
    """The published subgroups as text."""
    return [line.split(",") for line in RINGS.read_text(encoding="utf-8").split()[1:]]


def ring_station() -> Station:
    """A station that took the 25 published subgroups in, one an hour, without counter or die set."""
    station = open_station(":memory:", now=lambda: NOW)
    station.take_plan(RINGS_PLAN)
    for hour, values in enumerate(rings()):
        time = datetime(2026, 3, 2, 6, tzinfo=UTC) + timedelta(hours=hour)
        station.check_in(
            {"time": time.isoformat(), "machine": "M1", "part": "RING", "values": {"inside_diameter": values}}
        )
    return station


def day_station(
    checks: Sequence[str | Mapping[str, Any]], events: Sequence[tuple[str, ...]] = (), plan: str = DAY_PLAN
) -> Station:
    """A station with a few checks of P-1 on R1 at wall-clock times, and events (time, event, value[, part])."""
    station = open_station(":memory:", now=lambda: NOW)
    station.take_plan(plan)
    for time, event, value, *part in events:
        station.log(
            {
                "time": time,
                "machine": "R1",
                "part": part[0] if part else "P-1",
                "event": event,
                "value": value,
            }
        )
    for number, check in enumerate(checks):
        known = {"time": check} if isinstance(check, str) else check
        values = {"size": [f"20.00{number % 7}", f"20.01{number % 6}"], "look": ["ok"]}
        station.check_in({"machine": "R1", "part": "P-1", "values": values, **known})
    return station
