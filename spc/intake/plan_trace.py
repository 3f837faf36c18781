"""[characteristic.trace]: how a value is read from a measured curve."""

import math
from typing import Any, Final

from spc.intake.form_tables import read_rows
from spc.intake.plan_table import Table
from spc.shop.form_geometry import FormGeometry
from spc.shop.layouts import LENGTH_UNITS
from spc.shop.trace import TRACE_OF, TraceRule

__all__ = ["read_trace_rule"]

_OVER: Final = ("travel", "300", "turn")
_LINES: Final = ("minimum_zone", "least_squares", "end_points")
_ONLY_OF: Final = {
    "over": ("travel_variation",),
    "line": ("straightness",),
    "lead_mm": ("mean_travel_deviation", "travel_variation"),
    "nominal_deviation": ("mean_travel_deviation", "travel_variation"),
}


def read_trace_rule(table: Table, kind: str, unit: str, geometry: FormGeometry | None) -> TraceRule | None:
    """Read how a characteristic takes a trace; None where none gives its value.

    Parameters
    ----------
    table : Table
        The characteristic.
    kind, unit : str
        A groove depth takes a trace where its groove has a `nominal_depth`.
    geometry : FormGeometry or None
        Gives lead and nominal tables where the plan names a groove, thread or worm.
    """
    nominal_depth = geometry.groove.nominal_depth if geometry is not None and geometry.groove else ()
    takes = kind in TRACE_OF and unit in LENGTH_UNITS and (kind != "groove_depth" or bool(nominal_depth))
    if "trace" in table.values and not takes:
        by = "; a groove_depth by its groove's nominal_depth" if kind == "groove_depth" else ""
        table.refuse("trace", f"no trace gives a {kind} in {unit}", f"{', '.join(TRACE_OF)} in a length{by}")
    if not takes:
        return None
    inner = table.below("trace", "characteristic.trace")
    inner.refuse_unknown_keys()
    for key, kinds in _ONLY_OF.items():
        if key in inner.values and kind not in kinds:
            inner.refuse(key, f"it says nothing of a {kind}", f"only with {' or '.join(kinds)}")
    nominal_lead = geometry.groove.nominal_lead if geometry is not None and geometry.groove else ()
    rule = TraceRule(
        useful_mm=_useful(inner),
        lead_mm=_lead(inner, geometry),
        over=inner.word("over", _OVER, "travel"),
        line=inner.word("line", _LINES, "minimum_zone"),
        least_readings=max(inner.whole("least_readings", 3) or 3, 2),
        nominal_lead=nominal_lead if TRACE_OF[kind] == "travel" else (),
        nominal_deviation=read_rows(inner, "nominal_deviation"),
        nominal_depth=nominal_depth,
    )
    _sound(table, inner, kind, rule)
    return rule


def _useful(inner: Table) -> tuple[float, float] | None:
    value = inner.values.get("useful_mm")
    if value is None:
        return None
    rows: Any = [value]
    ends = read_rows(Table(inner.book, inner.name, inner.path, {"useful_mm": rows}), "useful_mm")
    if len(ends) != 1 or not ends[0][0] < ends[0][1]:
        inner.refuse("useful_mm", "the useful travel goes from one position to a farther one", "[20, 580]")
        return None
    return ends[0]


def _lead(inner: Table, geometry: FormGeometry | None) -> float | None:
    """Return the lead: of the groove, thread or worm, else this table's own."""
    own, of_form = inner.real("lead_mm", above=0), _lead_of(geometry)
    if own is not None and of_form is not None and not math.isclose(own, of_form, rel_tol=1e-9):
        inner.refuse("lead_mm", f"the geometry has a lead of {of_form:g} mm", "one of the two, or both alike")
    return of_form if own is None else own


def _lead_of(geometry: FormGeometry | None) -> float | None:
    if geometry is None:
        return None
    if geometry.thread is not None:
        return geometry.thread.pitch_mm * geometry.thread.starts
    if geometry.worm is not None:
        return math.pi * geometry.worm.module_mm * geometry.worm.starts
    return None if geometry.groove is None else geometry.groove.lead_mm


def _sound(table: Table, inner: Table, kind: str, rule: TraceRule) -> None:
    """Refuse what a trace could never be judged by."""
    if rule.over == "turn" and rule.lead_mm is None and not rule.nominal_lead:
        inner.refuse(
            "over", "without a lead nobody knows how long a turn is", "lead_mm, or [characteristic.groove]"
        )
    if rule.nominal_lead and rule.lead_mm is None:
        inner.refuse(
            "lead_mm", "a changing lead is compared with the constant lead that traces are measured against",
            "lead_mm, in [characteristic.groove]",
        )  # fmt: skip
    if rule.nominal_lead and rule.nominal_deviation:
        inner.refuse("nominal_deviation", "nominal_lead says the same already", "one of the two")
    if kind == "groove_depth" and table.number("nominal"):
        table.refuse("nominal", "with nominal_depth the value is the deviation from it", "nominal = 0")
    table_mm = rule.nominal_lead or rule.nominal_deviation or rule.nominal_depth
    if rule.useful_mm is not None and table_mm:
        low, high = table_mm[0][0], table_mm[-1][0]
        if rule.useful_mm[0] < low or rule.useful_mm[1] > high:
            inner.refuse("useful_mm", "the nominal table does not reach this far", f"{low:g} to {high:g} mm")
    _rising(inner, rule)


def _rising(inner: Table, rule: TraceRule) -> None:
    positions = [position for position, _ in rule.nominal_deviation]
    if "nominal_deviation" in inner.values and (len(positions) < 2 or positions != sorted(set(positions))):
        inner.refuse("nominal_deviation", "two rows or more, positions rising", "[[0, 0.0], [600, 12.0]]")
