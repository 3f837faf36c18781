"""The refusals file: what was not taken, one line each, in a form a sheet opens."""

import csv
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from spc.errors import Refusal, Refused

__all__ = ["REFUSAL_COLUMNS", "write_refusals"]

REFUSAL_COLUMNS: Final = ("file", "row", "column", "value", "reason", "allowed")


def write_refusals(path: Path | str, refusals: Iterable[Refusal]) -> int:
    """Write refusals as CSV for whoever must mend the file they came from.

    Parameters
    ----------
    path : Path or str
        Written anew, UTF-8; with its header alone where there is nothing to say.
    refusals : iterable of Refusal

    Returns
    -------
    int
        How many were written.

    Raises
    ------
    Refused
        The file cannot be written.
    """
    count = 0
    try:
        with Path(path).open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file, lineterminator="\n")
            writer.writerow(REFUSAL_COLUMNS)
            for refusal in refusals:
                writer.writerow(_line(refusal))
                count += 1
    except OSError as error:
        reason = f"the refusals file cannot be written: {error.strerror or error}"
        raise Refused.one(reason, file=str(path), allowed="a path in a folder that exists") from None
    return count


def _line(refusal: Refusal) -> tuple[str, ...]:
    row = "" if refusal.row is None else str(refusal.row)
    allowed = ". ".join(part.rstrip(".") for part in (refusal.allowed, refusal.do) if part)
    return (refusal.file, row, refusal.column, refusal.value, refusal.reason, allowed)
