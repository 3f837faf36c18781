"""The demo files, read back with nothing but the standard library, as any other program would."""

import csv
import json
from collections import defaultdict
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

DEMO = Path(__file__).parents[2] / "demo_data"
SIZES = {
    "KS-24": ("over_pin", 27.460),
    "SW-32": ("over_wire", 32.879),
    "KS-38": ("over_pin", 44.260),
    "BG-21": ("over_ball", 21.080),
    "PW-22": ("over_pin", 31.397),
    "AS-16": ("over_wire", 16.680),
    "GT-34": ("depth_error", 0.0),
    "ST-05": ("over_wire", 5.473),
}
"""Leading size and its target by part, as in the plans."""


def rows_of(name: str) -> list[dict[str, Any]]:
    with (DEMO / name).open(encoding="utf-8", newline="") as file:
        return [row | {"time": datetime.fromisoformat(row["time"])} for row in csv.DictReader(file)]


@pytest.fixture(scope="session")
def readings() -> list[dict[str, Any]]:
    return rows_of("readings.csv")


@pytest.fixture(scope="session")
def events() -> list[dict[str, Any]]:
    return rows_of("events.csv")


@pytest.fixture(scope="session")
def truth() -> dict[str, Any]:
    return json.loads((DEMO / "truth.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def checks(readings: list[dict[str, Any]]) -> dict[str, dict[datetime, dict[str, Any]]]:
    """By part and time: purpose, operator, counter and the values in µm from target of the leading size."""
    found: dict[str, dict[datetime, dict[str, Any]]] = defaultdict(dict)
    for row in readings:
        name, target = SIZES[row["part"]]
        if row["characteristic"] == name:
            check = found[row["part"]].setdefault(
                row["time"],
                {
                    "purpose": row["purpose"],
                    "operator": row["operator"],
                    "counter": int(row["counter"]),
                    "um": [],
                },
            )
            check["um"].append(1000.0 * (float(row["value"]) - target))
    return found


@pytest.fixture(scope="session")
def story(truth: dict[str, Any]) -> Any:
    """Look up the stories of a letter, times as datetimes."""

    def find(letter: str) -> list[dict[str, Any]]:
        return [
            entry | {"from": datetime.fromisoformat(entry["from"]), "to": datetime.fromisoformat(entry["to"])}
            for entry in truth["stories"]
            if entry["story"] == letter
        ]

    return find
