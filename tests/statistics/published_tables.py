"""Reads the published data under tests/references for the checks of this room."""

import csv
from pathlib import Path

REFERENCES = Path(__file__).parent.parent / "references"


def columns(name: str) -> dict[str, list[float]]:
    """Every column of a reference file by its heading."""
    with (REFERENCES / f"{name}.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    return {heading: [float(row[heading]) for row in rows] for heading in rows[0]}


def subgroups(name: str) -> list[list[float]]:
    """One subgroup a row."""
    by_heading = columns(name)
    return [list(row) for row in zip(*by_heading.values(), strict=True)]
