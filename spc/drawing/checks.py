"""For the pictures of one characteristic: checks as rows to draw, with their look and their words."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from itertools import groupby, pairwise
from typing import Any

from spc.drawing.thin import thinned
from spc.shop import Characteristic
from spc.shop.moment import to_local
from spc.shop.names import shop_name
from spc.station.views import CharacteristicHistory, CheckPoint

__all__ = [
    "NOT_COUNTED",
    "Row",
    "check_rows",
    "decimals_of",
    "is_outside",
    "limit_rows",
    "look_of",
    "plain_name",
    "when",
    "with_unit",
]

Row = dict[str, Any]

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_PURPOSES = {
    "hourly": "hourly check", "setup": "set-up", "first_off": "first-off", "after_move": "after a move",
    "confirm": "value to confirm", "last_off": "last-off", "sort": "sorting", "trial": "trial",
}  # fmt: skip
_COUNTED = ("hourly", "after_move", "confirm")
NOT_COUNTED = ("struck_out", "suspect", "left_out")
"""Looks of checks that stretch no scale and carry no limits."""


def check_rows(history: CharacteristicHistory) -> list[Row]:
    """Return one row a check; in a long history one row for several plain checks side by side.

    Returns
    -------
    list of dict
        `x`, `y` (mean), `reference`, `line`, `line_low`, `line_high` (of the dies alone), `range`,
        `low`, `high` (of the pieces), `look`, `die` (the mounting), the limits
        and standing, `pieces` (empty where several checks stand together), those `outside`, and the words of
        the tooltip.
    """
    digits = decimals_of(history.characteristic)
    mountings = _mountings(history.points)
    rows = [
        _row(point, mounting, history, digits)
        for point, mounting in zip(history.points, mountings, strict=True)
    ]
    return thinned(rows, digits)


def _mountings(points: Sequence[CheckPoint]) -> list[str]:
    """Return, a check, which mounting it belongs to: a set that comes back is not joined to its earlier days."""
    names: list[str] = []
    count = 0
    before: CheckPoint | None = None
    for point in points:
        if before is not None and _another(before, point):
            count += 1
        names.append(f"{count}")
        before = before if point.struck_out or point.suspect else point
    return names


def _another(before: CheckPoint, point: CheckPoint) -> bool:
    fell = before.counter is not None and point.counter is not None and point.counter < before.counter
    return before.die_set != point.die_set or (fell and not (point.struck_out or point.suspect))


def _row(point: CheckPoint, mounting: str, history: CharacteristicHistory, digits: int) -> Row:
    return {
        "x": point.axis_pieces,
        "y": point.mean,
        "reference": point.mean_at_reference_setting,
        "line": None if point.wear_line is None else point.wear_line.estimate,
        "line_low": None if point.wear_line is None else point.wear_line.low90,
        "line_high": None if point.wear_line is None else point.wear_line.high90,
        "range": point.range,
        "low": min(point.values, default=point.mean),
        "high": max(point.values, default=point.mean),
        "pieces": list(point.values),
        "outside": _outside(point, history.characteristic),
        "look": look_of(point, history.characteristic),
        "die": mounting,
        "lower": point.lower,
        "centre": point.centre,
        "upper": point.upper,
        "spread_upper": point.spread_upper,
        "standing": point.standing,
        "when": when(point.time, history.zone),
        "counter": "not known" if point.counter is None else f"{point.counter:,}",
        "n": str(point.n),
        "mean": f"{point.mean:.{digits + 1}f}",
        "spread": f"{point.range:.{digits}f}",
        "purpose": _PURPOSES.get(point.purpose, point.purpose),
        "die_set": point.die_set or "not known",
        "says": " ".join(point.says) or "nothing to say",
    }


def look_of(point: CheckPoint, characteristic: Characteristic) -> str:
    """Return the name in `theme.LOOKS` of the mark a check gets.

    A sentence that only tells what an event explains doesn't speak against a check: its verdict is "run". A slide
    move asked for has its own mark on every size that the slide sets.
    """
    if point.struck_out:
        return "struck_out"
    if point.suspect:
        return "suspect"
    if point.left_out:
        return "left_out"
    if _outside(point, characteristic) or (point.verdict == "hold" and point.says):
        return "out"
    if point.verdict == "correct" and characteristic.is_set_by_slide:
        return "asked"
    if point.verdict in ("watch", "hold") and point.says:
        return "against"
    return "ordinary" if point.purpose in _COUNTED else "other"


def _outside(point: CheckPoint, characteristic: Characteristic) -> list[float]:
    return [value for value in point.values if is_outside(value, characteristic)]


def is_outside(value: float, characteristic: Characteristic) -> bool:
    """Say whether a piece is outside the tolerance; read back as it was typed, so equality is inside."""
    return not characteristic.tolerance.holds(Decimal(repr(float(value))))


def limit_rows(rows: list[Row], fields: tuple[str, ...]) -> list[Row]:
    """Return the limits in force as steps: each run of the same standing and die set is one `run`.

    A step reaches halfway to the neighbouring checks, so that a single check has limits to look at too. Sloping
    limits are lines from check to check.
    """
    kept = [row for row in rows if row["look"] not in NOT_COUNTED]
    edges = _edges([row["x"] for row in kept])
    steps: list[Row] = []
    numbered = list(zip(kept, pairwise(edges), strict=True))
    runs = groupby(numbered, key=lambda item: (item[0]["standing"], item[0]["die"], _known(item[0], fields)))
    for run, ((standing, _, known), members) in enumerate(runs):
        if not any(known):
            continue
        for row, (left, right) in members:
            step = {"run": run, "standing": standing, **{field: row[field] for field in fields}}
            places = (row["x"],) if standing == "sloping" else (left, right)
            steps += [{"x": place, **step} for place in places]
    return steps


def _edges(places: list[float]) -> list[float]:
    if not places:
        return []
    half = (places[-1] - places[0]) / max(len(places) - 1, 1) / 2 or 0.5
    middles = [(left + right) / 2 for left, right in pairwise(places)]
    return [places[0] - half, *middles, places[-1] + half]


def _known(row: Row, fields: tuple[str, ...]) -> tuple[bool, ...]:
    return tuple(row[field] is not None for field in fields)


def decimals_of(characteristic: Characteristic) -> int:
    """Return how many decimals the plan writes, which is what sizes are read with."""
    written = (characteristic.nominal, characteristic.tolerance.lower, characteristic.tolerance.upper)
    return max((_decimals(number) for number in written if number is not None), default=0)


def _decimals(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    return max(-exponent, 0) if isinstance(exponent, int) else 0


def plain_name(characteristic: Characteristic) -> str:
    """Return the name of a characteristic as the floor says it."""
    return shop_name(characteristic.name)


def with_unit(words: str, characteristic: Characteristic) -> str:
    """Return words with the unit behind them."""
    unit = {"um": "µm", "deg": "°"}.get(characteristic.unit, characteristic.unit)
    return f"{words}, {unit}" if unit else words


def when(moment: datetime, zone: str) -> str:
    """Return a moment as the plant's clock and calendar show it.

    Examples
    --------
    >>> from datetime import UTC
    >>> when(datetime(2026, 3, 2, 8, 5, tzinfo=UTC), "Europe/Berlin")
    'Mon 2 Mar 2026, 09:05'
    """
    local = to_local(moment, zone)
    return f"{_DAYS[local.weekday()]} {local.day} {_MONTHS[local.month - 1]} {local.year}, {local:%H:%M}"
