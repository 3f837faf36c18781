"""The sizes page, grooves whose lead and depth change along the part on purpose: judged against the drawing's table."""

from collections.abc import Callable

import numpy as np
import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from spc.drawing.groove import groove_drawing
from spc.drawing.trace import depth_picture, trace_picture
from spc.errors import Refused
from spc.geometry import DepthDeviation, depth_deviation, nominal_lead, travel, travel_grade
from spc.geometry.travel import less_nominal
from spc.intake.columns_file import ColumnsRead
from spc.pages.look import picture, theme_name
from spc.pages.sizes_examples import LEADS, groove_trace
from spc.pages.sizes_fields import Asked, choice, table_field, tell_cannot
from spc.pages.sizes_look import drawn, halves
from spc.pages.sizes_travel import STANDARDS, floats, tell_travel
from spc.pages.tell import told

__all__ = ["groove_part"]

_LEADS, _TRACE, _DEPTH = ("position_mm", "lead_mm"), ("position_mm", "deviation_um"), ("depth_mm",)


def groove_part() -> None:
    """Ask for the table of the drawing and for what was measured; draw the groove and what is left."""
    fields, answer = halves()
    with answer:
        try:
            _answer(fields)
        except Refused as refused:
            tell_cannot(refused)


def _answer(fields: DeltaGenerator) -> None:
    asked = Asked("groove")
    left, right = fields.columns(2)
    outside = asked.number(left, "Outside diameter, mm", "24")
    lead = asked.number(right, "Against lead, mm", "12")
    standard = choice(fields, "Judged by", list(STANDARDS), "groove standard")
    table = table_field(
        fields, "The drawing's table", _LEADS, LEADS, optional=_DEPTH, key="groove leads", height_px=140
    )
    read = table_field(
        fields, "Measured along the part", _TRACE, groove_trace(), optional=_DEPTH, key="groove trace"
    )
    asked.sure()
    _refuse_no_diameter(outside)
    nominal = nominal_lead(floats(table.number("position_mm")), floats(table.number("lead_mm")))
    depth_at = _depth_at(table)
    drawn(groove_drawing(nominal, outside, theme_name(), depth_at), "the groove as the table asks for it")
    position, deviation = floats(read.number("position_mm")), floats(read.number("deviation_um"))
    found = travel(position, deviation, lead_mm=lead, nominal=nominal)
    turns, left_over = less_nominal(np.array(position), np.array(deviation), lead, nominal)
    shown = trace_picture(
        position,
        left_over.tolist(),
        found,
        theme_name(),
        turns=None if turns is None else turns.tolist(),
        name="Deviation from the table's travel, µm",
    )
    picture(shown, "sizes groove")
    tell_travel(found, travel_grade(found, STANDARDS[standard]), standard)
    _depth(table, read)


def _depth(table: ColumnsRead, read: ColumnsRead) -> None:
    """Tell the depth where both tables hold it."""
    if not (_has_depth(table) and _has_depth(read)):
        st.caption("Depth is judged where both tables have a column depth_mm.")
        return
    found = depth_deviation(
        floats(read.number("position_mm")), floats(read.number("depth_mm")), *_depths(table)
    )
    picture(depth_picture(found, theme_name()), "sizes depth")
    told([("Depth", _depth_words(found))])


def _depth_words(found: DepthDeviation) -> str:
    ends = ((found.deepest_um, found.at_deepest_mm), (found.shallowest_um, found.at_shallowest_mm))
    said = " and ".join(f"{_side(off)} at {at:g} mm" for off, at in ends)
    return f"Between {said}; on average {_side(found.mean_um)}."


def _side(off_um: float) -> str:
    if round(off_um, 1) == 0.0:
        return "as deep as asked"
    return f"{abs(off_um):.1f} µm too {'deep' if off_um > 0 else 'shallow'}"


def _depth_at(table: ColumnsRead) -> Callable[[float], float] | None:
    if not _has_depth(table):
        return None
    position, depth = _depths(table)
    return lambda at_mm: float(np.interp(at_mm, position, depth))


def _depths(table: ColumnsRead) -> tuple[list[float], list[float]]:
    return floats(table.number("position_mm")), floats(table.number("depth_mm"))


def _has_depth(read: ColumnsRead) -> bool:
    return "depth_mm" in dict(read.numbers)


def _refuse_no_diameter(outside_mm: float) -> None:
    if outside_mm <= 0.0:
        raise Refused.one(
            "a part has a diameter",
            value=f"{outside_mm:g} mm",
            column="outside diameter",
            allowed="above 0 mm",
        )
