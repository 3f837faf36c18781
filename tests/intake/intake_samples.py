"""An invented part with a size, a deviation, a magnitude and a look, and files about it."""

from shaft_size import HOURLY, OVER_PIN_SIZE

from spc.intake import read_plan
from spc.intake.readings_file import ReadingsRead, read_readings
from spc.shop import Plan

PLAN = f"""\
[part]
id = "P-31"
description = "splined shaft"
[plant]
zone = "Europe/Berlin"
[[machine]]
id = "R1"
[[machine]]
id = "R2"
[die_set]
correction_travel = 0.060
removal_words = ["crane_damage"]
{HOURLY}{OVER_PIN_SIZE}target = 31.249
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.0
lower = -0.014
upper = 0.014
subgroup_size = 1
at = ["first_off", "shift"]
[[characteristic]]
name = "runout"
kind = "runout"
unit = "um"
upper = 25
[[characteristic]]
name = "look"
kind = "visual"
answers = ["ok", "flakes", "torn flank"]
"""

HEADER = "time,machine,part,characteristic,piece,value"


def plan() -> Plan:
    """Read the sample plan."""
    return read_plan(PLAN)


def read(text: str | bytes, name: str = "readings.csv") -> ReadingsRead:
    """Read a readings file given as text, under the sample plan."""
    content = text if isinstance(text, bytes) else text.encode()
    return read_readings((name, content), [plan()])


def values(read_file: ReadingsRead) -> list[tuple[str, int, str]]:
    """Characteristic, piece and value or answer of every reading, in file order."""
    return [
        (reading.characteristic, reading.piece, reading.answer or str(reading.value))
        for check in read_file.checks
        for reading in check.readings
    ]


def row(value: str, characteristic: str = "over_pin", piece: int = 1, time: str = "2026-03-02T09:00") -> str:
    """Write one row under HEADER."""
    return f"{time},R1,P-31,{characteristic},{piece},{value}"
