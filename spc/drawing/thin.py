"""For long histories: plain checks side by side become one row before anything is drawn."""

from itertools import groupby
from typing import Any

import numpy as np

__all__ = ["LARGEST", "thinned"]

LARGEST = 1000
"""Checks that are drawn one by one; beyond, a screen has no room for each."""
_GROUPS = 300
_MARKED = 200
_MEANS = (
    "x", "y", "reference", "line", "line_low", "line_high", "range", "lower", "centre", "upper", "spread_upper",
)  # fmt: skip


def thinned(rows: list[dict[str, Any]], digits: int, largest: int = LARGEST) -> list[dict[str, Any]]:
    """Return the rows as they are, or about 300 groups of plain ones and the newest 200 marked ones.

    Parameters
    ----------
    rows : list of dict
        From `checks.check_rows`, in order of the axis.
    digits : int
        Decimals of the plan, for the words.
    largest : int
        Up to so many rows nothing is put together.

    Notes
    -----
    A group never reaches over a change of die set or of the standing of its limits. It shows the mean of its
    means and limits, and the smallest and largest of its pieces, so nothing that was gauged looks smaller.
    """
    if len(rows) <= largest:
        return rows
    plain = [row for row in rows if row["look"] == "ordinary"]
    marked = [row for row in rows if row["look"] != "ordinary"][-_MARKED:]
    size = max(2, -(-len(plain) // _GROUPS))
    groups: list[dict[str, Any]] = []
    for _, run in groupby(plain, key=_same):
        members = list(run)
        groups += [_together(members[start : start + size], digits) for start in range(0, len(members), size)]
    return sorted(groups + marked, key=lambda row: row["x"])


def _same(row: dict[str, Any]) -> tuple[Any, ...]:
    return (row["die"], row["standing"], row["lower"] is None, row["upper"] is None)


def _together(rows: list[dict[str, Any]], digits: int) -> dict[str, Any]:
    """Put the rows of one group together."""
    first, last = rows[0], rows[-1]
    if len(rows) == 1:
        return first
    means = {field: _mean([row[field] for row in rows]) for field in _MEANS}
    mean, spread = means["y"] or 0.0, means["range"] or 0.0
    return {
        **last,
        **means,
        "low": min(row["low"] for row in rows),
        "high": max(row["high"] for row in rows),
        "pieces": [],
        "when": f"{first['when']} to {last['when']}",
        "counter": f"{first['counter']} to {last['counter']}",
        "n": f"{len(rows)} checks together",
        "mean": f"{mean:.{digits + 1}f}",
        "spread": f"{spread:.{digits + 1}f} on average",
        "says": "nothing to say",
    }


def _mean(values: list[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return float(np.mean(known)) if known else None
