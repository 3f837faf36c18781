"""Lines of a CSV to cells, so that a broken line costs itself and no other."""

import csv
from collections.abc import Sequence

from spc.errors import Refusal

__all__ = ["csv_rows", "decoded"]

_LONGEST_NOTE = 20
"""Lines that one quoted text may run over."""


def decoded(file: str, content: bytes) -> tuple[list[str], list[Refusal]]:
    """Split a file into lines; a line that is not UTF-8 is refused and comes back empty."""
    content = content.removeprefix(b"\xef\xbb\xbf")
    content = content.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    try:
        return content.decode("utf-8").split("\n"), []
    except UnicodeDecodeError:
        pass
    lines: list[str] = []
    refusals: list[Refusal] = []
    for row, raw in enumerate(content.split(b"\n"), start=1):
        try:
            lines.append(raw.decode("utf-8"))
        except UnicodeDecodeError:
            lines.append("")
            shown = raw.decode("utf-8", errors="replace")[:60]
            reason = "this line is not UTF-8 text"
            refusals.append(Refusal(reason, shown, file, row, "the whole line", "text saved as UTF-8"))
    return lines, refusals


def csv_rows(
    lines: list[str], first: int, separator: str, file: str
) -> tuple[list[tuple[int, Sequence[str]]], list[Refusal]]:
    """Split lines from `first` on into stripped cells, with their line numbers from 1; empty lines are passed over.

    Notes
    -----
    A quoted text may run over several lines (a note). Where no closing mark follows, the line alone is refused.
    """
    rows: list[tuple[int, Sequence[str]]] = []
    refusals: list[Refusal] = []
    blank = " \t" + separator
    place = first
    while place < len(lines):
        line = lines[place]
        row = place + 1
        place += 1
        if '"' not in line:
            if line.strip(blank):
                cells = line.split(separator)
                rows.append((row, [cell.strip() for cell in cells] if " " in line else cells))
            continue
        extra: int | None = 0
        if line.count('"') % 2:
            extra = _lines_to_closing_mark(lines, place)
        quoted = None if extra is None else _split(lines[place - 1 : place + extra], separator)
        if quoted is None:
            reason = "a quotation mark is not closed"
            refusals.append(
                Refusal(reason, line[:60], file, row, "the whole line", "quotation marks in pairs")
            )
            continue
        rows.append((row, [cell.strip() for cell in quoted]))
        place += extra or 0
    return rows, refusals


def _lines_to_closing_mark(lines: list[str], place: int) -> int | None:
    """Count the lines that a quoted text runs on over; None where it does not end soon."""
    for extra, line in enumerate(lines[place : place + _LONGEST_NOTE], start=1):
        if line.count('"') % 2:
            return extra
    return None


def _split(lines: list[str], separator: str) -> list[str] | None:
    try:
        return next(csv.reader(["\n".join(lines)], delimiter=separator, strict=True))
    except (csv.Error, StopIteration):
        return None
