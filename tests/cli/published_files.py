"""Published data sets as files of the layouts a person may have them in; sources beside each."""

from collections.abc import Sequence
from pathlib import Path

from terminal import GEARS, RINGS, THIRTY

__all__ = ["LAYOUTS", "SERIES", "file_of", "rings", "thirty", "written_as"]

SERIES = {
    # Montgomery, Introduction to SQC, individuals example of the 2nd to 5th edition (from memory, reproduces the print)
    "viscosity": "33.75 33.05 34.00 33.81 33.46 34.02 33.68 33.27 33.49 33.20 33.62 33.00 33.54 33.12 33.84",
    # Montgomery & Runger, Applied Statistics and Probability for Engineers, 3rd ed. 2003, Table 16-3, p. 617 (opened)
    "chemical": "102.0 94.8 98.3 98.4 102.0 98.5 99.0 97.7 100.0 98.1 101.3 98.7 101.1 98.4 97.0 96.7 100.3 101.4 "
    "97.2 101.0",
    # ISO 8258:1991 and ISO 7870-2:2013, moisture of skim-milk powder, 10 lots (from memory, reproduces the print)
    "moisture": "2.9 3.2 3.6 4.3 3.8 3.5 3.0 3.1 3.6 3.5",
    # NIST/SEMATECH e-Handbook, section 6.3.2.2, flow rate (from memory, reproduces the print)
    "flow": "49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1",
    # NIST/SEMATECH e-Handbook, section 6.3.2.4, EWMA (opened as quoted)
    "ewma": "52.0 47.0 53.0 49.3 50.1 47.0 51.0 50.1 51.2 50.5 49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1",
    # NIST Statistical Reference Datasets, NumAcc1 (from memory)
    "numacc1": "10000001 10000003 10000002",
    # NIST/SEMATECH e-Handbook, section 7.2.2, particles a wafer (from memory, reproduces the print)
    "particles": "50 48 44 56 61 52 53 55 67 51",
}
# NIST Statistical Reference Datasets, Mavro (from memory, reproduces the certified values)
MAVRO_DIGITS = """
18 17 18 19 18 17 15 14 15 15 17 18 18 19 19 21 20 16 14 13 13 15 15 16 15
14 13 14 15 14 15 16 15 16 19 20 20 21 22 23 24 25 27 26 26 26 27 26 25 24
"""
SERIES["mavro"] = " ".join(f"2.00{digits}" for digits in MAVRO_DIGITS.split())

LAYOUTS = (
    "header", "no header", "BOM and semicolons", "tabs", "tabs, no header", "semicolons, no header",
    "any order and case", "empty cells at the end", "old line ends", "quoted", "long", "wide with names",
    "remarks and blank lines", "a sheet",
)  # fmt: skip

Rows = Sequence[Sequence[str]]


def file_of(folder: Path, name: str) -> Path:
    """A published series as one column of numbers, or a published table as it stands."""
    if name in ("rings", "gears", "thirty"):
        return {"rings": RINGS, "gears": GEARS, "thirty": THIRTY}[name]
    file = folder / f"{name}.csv"
    file.write_text("\n".join(SERIES[name].split()), encoding="utf-8")
    return file


def rings() -> list[list[str]]:
    """The piston rings as texts, without their header."""
    return [row.split(",") for row in RINGS.read_text(encoding="utf-8").splitlines()[1:]]


def thirty() -> list[dict[str, float]]:
    """The thirty single values with what is printed beside each."""
    header, *rows = (row.split(",") for row in THIRTY.read_text(encoding="utf-8").splitlines())
    return [dict(zip(header, map(float, row), strict=True)) for row in rows]


def written_as(file: Path, layout: str, rows: Rows) -> Path:
    """Write subgroups in one of `LAYOUTS`."""
    header = [f"x{piece}" for piece in range(1, len(rows[0]) + 1)]
    headed = [header, *rows]
    german = [[cell.replace(".", ",") for cell in row] for row in headed]
    texts = {
        "header": _lines(headed, ","),
        "no header": _lines(rows, ","),
        "BOM and semicolons": "\ufeff" + _lines(german, ";", "\r\n"),
        "tabs": _lines(german, "\t", "\r\n"),
        "tabs, no header": _lines(german[1:], "\t"),
        "semicolons, no header": _lines(german[1:], ";"),
        "any order and case": _lines([[cell.upper() for cell in reversed(row)] for row in headed], ","),
        "empty cells at the end": _lines([[*row, "", ""] for row in headed], ","),
        "old line ends": _lines(headed, ",", "\r"),
        "quoted": _lines([[f'"{cell}"' for cell in row] for row in headed], ","),
        "long": _long(rows),
        "wide with names": _wide(rows),
        "remarks and blank lines": "\n# inside diameter\n" + _lines(headed, ",", "\n\n"),
    }
    if layout == "a sheet":
        return _sheet(file.with_suffix(".xlsx"), headed)
    file.write_bytes(texts[layout].encode())
    return file


def _lines(rows: Rows, separator: str, end: str = "\n") -> str:
    return "".join(separator.join(row) + end for row in rows)


def _time(check: int) -> str:
    return f"2026-03-{2 + check // 24:02}T{check % 24:02}:00"


def _long(rows: Rows) -> str:
    head = "VALUE;Piece;Characteristic;part;Machine;time;purpose"
    lines = [
        f"{value};{piece};bore;P-9;M1;{_time(check)};{'' if check % 2 else 'hourly'}"
        for check, row in enumerate(rows)
        for piece, value in enumerate(row, start=1)
    ]
    return "\r\n".join([head, *lines])


def _wide(rows: Rows) -> str:
    names = ",".join(f"X{piece}" for piece in range(1, len(rows[0]) + 1))
    lines = [f"{_time(check)},M1,P-9,bore,mm,{','.join(row)}" for check, row in enumerate(rows)]
    return "\n".join([f"Time,machine,part,characteristic,unit,{names}", *lines])


def _sheet(file: Path, rows: Rows) -> Path:
    from openpyxl import Workbook

    book = Workbook()
    header, *values = rows
    book.active.append(list(header))
    for row in values:
        book.active.append([float(cell) for cell in row])
    book.save(file)
    return file
