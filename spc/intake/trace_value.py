"""What a measured curve amounts to for one characteristic: the one place where traces become values."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Final

import numpy as np
from numpy.typing import NDArray

from spc.errors import Refused
from spc.geometry import depth_deviation, less_meant, nominal_lead, straightness, travel
from spc.geometry.trace import checked_trace
from spc.geometry.travel import least_readings, refuse_gap, within
from spc.shop.layouts import LENGTH_UNITS
from spc.shop.plan import Characteristic
from spc.shop.trace import TRACE_OF, TraceRule

__all__ = ["MOST_POINTS", "value_from_trace"]

MOST_POINTS: Final = 20_000
_WINDOW_MM: Final = 300.0
Floats = NDArray[np.float64]
Points = Sequence[tuple[Decimal, Decimal]]


def value_from_trace(points: Points, characteristic: Characteristic) -> Decimal:
    """Work out what a trace says of a characteristic, in the plan's unit.

    Parameters
    ----------
    points : sequence of (position mm, value)
        Value in µm, of a depth in mm.
    characteristic : Characteristic
        With a trace rule.

    Returns
    -------
    Decimal
        Rounded to 0.01 µm, well below what a trace can tell. A mean travel deviation keeps its sign, a depth is
        the deviation from its nominal table that is farthest from 0.

    Raises
    ------
    Refused
        The trace goes back, repeats a position, has too few readings or a gap that a window falls into, or does
        not reach over the useful travel or beyond the nominal table.

    Notes
    -----
    The arithmetic is that of `spc.geometry.travel`, `straightness` and `depth_deviation`. A variation, a zone
    and a depth want three readings in any 300 mm (or in all, or in a turn): between two every line is straight.

    Examples
    --------
    >>> from spc.shop.limits import ToleranceLimits
    >>> lead = Characteristic("lead", "mean_travel_deviation", "um", Decimal(0),
    ...                       ToleranceLimits(Decimal(-20), Decimal(20)), trace=TraceRule())
    >>> heights = (0, 2, 5, 4, 8, 9, 14)
    >>> value_from_trace([(Decimal(100 * k), Decimal(e)) for k, e in enumerate(heights)], lead)
    Decimal('12.64')
    """
    rule = characteristic.trace
    if rule is None:
        raise Refused.one(f"no trace gives {characteristic.name}", allowed=", ".join(TRACE_OF))
    what = "profile" if characteristic.kind == "straightness" else "trace"
    if len(points) > MOST_POINTS:
        raise Refused.one(
            f"this {what} is too dense to keep",
            value=f"{len(points):,} points",
            allowed=f"at most {MOST_POINTS:,}",
        )
    x, y = checked_trace([float(each) for each, _ in points], [float(each) for _, each in points], what)
    x, y = _useful(x, y, rule.useful_mm)
    if TRACE_OF[characteristic.kind] == "travel":
        refuse_gap(x, None, None)
    _enough(x, rule, what)
    value_um = _READ[characteristic.kind](x, y, rule)
    return _in_unit(value_um, characteristic.unit)


def _useful(x: Floats, y: Floats, useful_mm: tuple[float, float] | None) -> tuple[Floats, Floats]:
    """Keep the useful travel; a trace that leaves out part of it says nothing of it."""
    if useful_mm is None:
        return x, y
    if x[0] > useful_mm[0] or x[-1] < useful_mm[1]:
        raise Refused.one(
            "it does not reach over the useful travel",
            value=f"{x[0]:g} to {x[-1]:g} mm",
            allowed=f"from {useful_mm[0]:g} mm or before to {useful_mm[1]:g} mm or beyond",
        )
    return within(x, y, useful_mm)


def _enough(x: Floats, rule: TraceRule, what: str) -> None:
    found = least_readings(x, _WINDOW_MM)
    if found < rule.least_readings:
        where = "in all" if x[-1] - x[0] < _WINDOW_MM else "in some 300 mm"
        raise Refused.one(
            f"this {what} has too few readings",
            value=f"{found} {where}",
            allowed=f"at least {rule.least_readings}",
        )


def _mean_travel_um(x: Floats, e: Floats, rule: TraceRule) -> float:
    return travel(x, _less_nominal(x, e, rule)).mean_deviation_um


def _variation_um(x: Floats, e: Floats, rule: TraceRule) -> float:
    if rule.over != "turn":
        found = travel(x, _less_nominal(x, e, rule))
        return found.variation_um if rule.over == "travel" else found.variation_300_um
    table = nominal_lead(*zip(*rule.nominal_lead, strict=True)) if rule.nominal_lead else None
    if rule.nominal_deviation:
        e = less_meant(x, e, *zip(*rule.nominal_deviation, strict=True))
    in_turn = travel(x, e, lead_mm=rule.lead_mm, nominal=table)
    turns = x / (rule.lead_mm or 1.0) if table is None else table.turns(x)
    if least_readings(turns, 1.0) < 3:
        raise Refused.one(
            "two readings in a turn cannot show how the lead varies in it",
            value=f"{least_readings(turns, 1.0)} in some turn",
            allowed="at least 3",
        )
    return in_turn.variation_2pi_um or 0.0


def _less_nominal(x: Floats, e: Floats, rule: TraceRule) -> Floats:
    """Take off what the drawing means: a table of leads, else one of deviations."""
    if rule.nominal_lead:
        table = nominal_lead(*zip(*rule.nominal_lead, strict=True))
        return e - table.nominal_deviation_um(x, rule.lead_mm or 0.0)
    if rule.nominal_deviation:
        return less_meant(x, e, *zip(*rule.nominal_deviation, strict=True))
    return e


def _straightness_um(x: Floats, height: Floats, rule: TraceRule) -> float:
    found = straightness(x, height)
    by_line = {
        "minimum_zone": found.minimum_zone_um,
        "least_squares": found.least_squares_um,
        "end_points": found.end_points_um,
    }
    return by_line[rule.line]


def _depth_um(x: Floats, depth_mm: Floats, rule: TraceRule) -> float:
    found = depth_deviation(x, depth_mm, *zip(*rule.nominal_depth, strict=True))
    return max(found.deepest_um, found.shallowest_um, key=abs)


_READ: Final[dict[str, Callable[[Floats, Floats, TraceRule], float]]] = {
    "mean_travel_deviation": _mean_travel_um,
    "travel_variation": _variation_um,
    "straightness": _straightness_um,
    "groove_depth": _depth_um,
}


def _in_unit(value_um: float, unit: str) -> Decimal:
    um = Decimal(f"{value_um:.2f}") + 0  # minus nothing is nothing
    value = um / 1000 / Decimal(LENGTH_UNITS[unit])
    return (
        um if unit == "um" else value.quantize(Decimal("0.00001") if unit == "mm" else Decimal("0.0000001"))
    )
