"""A terminal for the checks: run a command in this process, and an invented cell to run it on."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from shaft_size import OVER_PIN_SIZE

from spc.cli import main

REFERENCES = Path(__file__).parents[1] / "references"
RINGS = REFERENCES / "piston_rings.csv"
GEARS = REFERENCES / "nist_gear_diameters.csv"
THIRTY = REFERENCES / "thirty_individuals.csv"
AIAG = REFERENCES / "aiag_gauge_study.csv"

PLAN = f"""\
[part]
id = "P-31"
[plant]
zone = "Europe/Berlin"
[[machine]]
id = "R1"
[die_set]
correction_travel = 0.060
[check]
subgroup_size = 5
{OVER_PIN_SIZE}"""
HEADER = "time,machine,part,characteristic,counter,x1,x2,x3,x4,x5\n"
EVENTS = "time,machine,part,event,value,note\n"
MOUNTED = "2026-03-02T06:00,R1,P-31,die_set_mounted,D-7,\n2026-03-02T06:00,R1,P-31,penetration,12.350,\n"


@dataclass(frozen=True, slots=True)
class Said:
    """What a command came to: exit code, stdout, stderr."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> dict[str, Any]:
        """The answer of `--json`."""
        answer: dict[str, Any] = json.loads(self.out)
        return answer

    @property
    def lines(self) -> list[dict[str, Any]]:
        """The answer of `replay`."""
        return [json.loads(line) for line in self.out.splitlines()]


class Terminal:
    """Runs `spc …` in this process and hands back what it said; no command may show a traceback."""

    def __init__(self, capsys: pytest.CaptureFixture[str], folder: Path) -> None:
        self.capsys = capsys
        self.folder = folder
        self.record = folder / "record.sqlite"

    def __call__(self, *arguments: object) -> Said:
        self.capsys.readouterr()
        code = main([str(each) for each in arguments])
        out, err = self.capsys.readouterr()
        assert "Traceback" not in out + err
        assert "The program made a mistake" not in err, err
        return Said(code, out, err)

    def intake(self, *more: object) -> Said:
        return self("intake", *self.files(), "--db", self.record, *more)

    def replay(self, *more: object) -> Said:
        return self("replay", *self.files(), *more)

    def files(self) -> list[object]:
        """The files that `write` left in the folder, as options."""
        folder = self.folder
        found: list[object] = ["--plan", folder / "plan.toml", "--readings", folder / "readings.csv"]
        return [*found, "--events", folder / "events.csv"] if (folder / "events.csv").exists() else found

    def write(self, readings: str | bytes, events: str = "", plan: str = PLAN) -> None:
        """Write one cell's files; rows only, the headers are put before them."""
        (self.folder / "plan.toml").write_text(plan, encoding="utf-8")
        if isinstance(readings, bytes):
            (self.folder / "readings.csv").write_bytes(readings)
        else:
            (self.folder / "readings.csv").write_text(HEADER + readings, encoding="utf-8")
        if events:
            (self.folder / "events.csv").write_text(EVENTS + events, encoding="utf-8")


def check_row(hour: int, values: Sequence[str], counter: object = "", part: str = "P-31") -> str:
    """One check of five pieces on the second of March, as a wide row."""
    return f"2026-03-02T{hour:02}:00,R1,{part},over_pin,{counter},{','.join(values)}\n"


GOOD = ("31.249", "31.251", "31.250", "31.248", "31.252")
"""Five pieces in the middle of the tolerance (invented)."""
