"""A long history of one part for measuring speed: four machines, die sets that come off, moves, bars, stops."""

import csv
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

SEED = 31
MACHINES = ("R1", "R2", "R3", "R4")
SIZES = ("over_pin", "crest", "lead_error")
PIECES = 5
PLANT = ZoneInfo("Europe/Berlin")
Row = tuple[Any, ...]
"""Begins with a time in UTC."""

PLAN = """
[part]
id = "SP-40"
[plant]
zone = "Europe/Berlin"
shifts = ["06:00", "14:00", "22:00"]
[[machine]]
id = "R1"
largest_move_mm = 0.020
[[machine]]
id = "R2"
largest_move_mm = 0.020
[[machine]]
id = "R3"
largest_move_mm = 0.020
[[machine]]
id = "R4"
largest_move_mm = 0.020
[die_set]
correction_travel = 0.060
[check]
subgroup_size = 5
interval_minutes = 60
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
nominal = 31.250
lower = 31.226
upper = 31.274
set_by = "penetration"
penetration_gain = 0.80
limits = "with_die_wear"
[[characteristic]]
name = "crest"
kind = "diameter"
unit = "mm"
nominal = 33.000
lower = 32.970
upper = 33.030
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.0
lower = -0.030
upper = 0.030
wears_with_die = true
"""

READINGS = ("time", "machine", "part", "characteristic", "piece", "value", "unit", "counter", "operator")
EVENTS = ("time", "machine", "part", "event", "value", "note", "counter")


def write_history(folder: Path, checks: int) -> None:
    """Write plan, readings and events of so many checks, a quarter of them on each machine."""
    (folder / "plan.toml").write_text(PLAN.lstrip(), encoding="utf-8")
    dice = np.random.default_rng(SEED)
    rows = [row for machine in MACHINES for row in _one_machine(dice, machine, checks // len(MACHINES))]
    rows.sort(key=lambda row: row[0])
    for name, header in (("readings.csv", READINGS), ("events.csv", EVENTS)):
        with (folder / name).open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file, lineterminator="\n")
            writer.writerow(header)
            writer.writerows(_in_plant_time(row) for row in rows if len(row) == len(header))


def _in_plant_time(row: Row) -> tuple[object, ...]:
    return (f"{row[0].astimezone(PLANT):%Y-%m-%dT%H:%M:%S}", *row[1:])


def _one_machine(dice: np.random.Generator, machine: str, checks: int) -> Iterator[Row]:
    """Rows of readings and events, hour after hour, die set after die set."""
    time, left, number, counter = datetime(2024, 1, 8, 6, 0, tzinfo=UTC), 0.0, 0, 0
    for _ in range(checks):
        if left <= 0.0:
            time += timedelta(minutes=20)
            if number:
                yield _event(time, machine, "die_set_removed", "worn", counter)
            number, counter, wear, slide, batch = number + 1, 0, 0.0, 12.300, 0
            left, rate = dice.uniform(18_000, 45_000), dice.uniform(0.7, 1.6)
            offset, lead = dice.normal(0.0, 3.0), dice.normal(0.0, 2.0)
            yield _event(time, machine, "die_set_mounted", f"{machine}-{number:03d}", 0)
            yield _event(time, machine, "penetration", f"{slide:.3f}", 0)
        if dice.random() < 0.12:
            batch = dice.normal(0.0, 1.5)
            yield _event(
                time + timedelta(minutes=5),
                machine,
                "blank_batch",
                f"B-{machine}-{time:%m%d%H}-{number}",
                counter,
            )
        time += timedelta(minutes=60)
        made = int(dice.integers(240, 300))
        counter, left = counter + made, left - made
        wear += rate * made / 1000.0
        size = offset + wear + batch - 0.8 * (slide - 12.300) * 1000.0
        middles = (31.250 + size / 1000.0, 33.0, (lead + 0.3 * wear) / 1000.0)
        yield from _check(dice, time, machine, middles, counter)
        if size > 6.0:
            slide += 0.007
            yield _event(time, machine, "penetration", f"{slide:.3f}", counter)


def _check(
    dice: np.random.Generator, time: datetime, machine: str, middles: tuple[float, ...], counter: int
) -> Iterator[Row]:
    values = np.round(dice.normal(0.0, 0.0022, (len(SIZES), PIECES)) + np.array(middles)[:, None], 4)
    for name, row in zip(SIZES, values, strict=True):
        for piece, value in enumerate(row, 1):
            yield (time, machine, "SP-40", name, piece, f"{value:.4f}", "mm", counter, "AK")


def _event(time: datetime, machine: str, event: str, value: str, counter: int) -> Row:
    return (time, machine, "SP-40", event, value, "", counter)
