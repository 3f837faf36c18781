"""For the hourly picture: the slide as the machine's panel shows it, and what happened at the machine."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from spc.drawing.checks import Row, when
from spc.drawing.frame import Axis, Panel, fixed_text, halo_text, words_px, x_of
from spc.drawing.glyphs import event_glyph
from spc.drawing.size_panel import span_of
from spc.drawing.theme import LABEL_PX, VALUE_PX, Theme
from spc.station.views import FloorEvent, SettingPoint

__all__ = [
    "KEY_LINE_PX", "ROW_PX", "die_change_layers", "event_key", "event_layers", "lane_rows", "setting_layers",
    "setting_panel",
]  # fmt: skip

Layer = dict[str, Any]
ROW_PX, KEY_LINE_PX = 26, 22
_MOST_ROWS = 5
_MOST_DIE_CHANGES = 30
_MOST_DOTS = 40
_PLOT_PX = 640
"""Width of the plot on a tablet beside the page list; on a wider page labels only get more room."""
_KIND_WORDS = {
    "die_set_mounted": "die set on, off or reground", "die_set_removed": "die set on, off or reground",
    "die_set_reground": "die set on, off or reground", "blank_batch": "new bar batch",
    "gauge_mastered": "gauge set on its master", "machine_stopped": "stop", "penetration": "slide move",
}  # fmt: skip
_DIE_EVENTS = ("die_set_mounted", "die_set_reground", "die_set_removed")


def setting_panel(settings: Sequence[SettingPoint], top_px: float, height_px: float) -> Panel:
    """Return the panel of the slide; deeper is always further down, whichever way the machine counts."""
    shown = [float(point.shown_mm) for point in settings]
    digits = max((_decimals(point.shown_mm) for point in settings), default=3)
    low, high = span_of(shown, least=6 * 10.0**-digits, air=0.35)
    if any(point.setting_mm != 0 and point.shown_mm == point.setting_mm for point in settings):
        low, high = high, low
    return Panel(top_px, top_px + height_px, low, high, digits, ticks=3)


def _decimals(number: Decimal) -> int:
    exponent = number.as_tuple().exponent
    return max(-exponent, 0) if isinstance(exponent, int) else 0


def setting_layers(
    settings: Sequence[SettingPoint], panel: Panel, axis: Axis, colours: Theme, zone: str
) -> list[Layer]:
    """Return the slide as a step line, each new setting written beside its step."""
    steps = [
        {
            "x": min(max(point.axis_pieces, axis.start), axis.end),
            "shown": float(point.shown_mm),
            "text": f"{point.shown_mm:.{panel.digits}f}".replace("-", "−"),
            "when": when(point.time, zone),
        }
        for point in settings
    ]
    line = [*steps, {**steps[-1], "x": axis.end}]
    tooltip = [{"field": "when", "title": "since"}, {"field": "text", "title": "slide on the panel, mm"}]
    encoding = {"x": x_of(axis), "y": panel.y("shown")}
    stroke = {"type": "line", "interpolate": "step-after", "color": colours.adjust, "strokeWidth": 3}
    area = 90 if len(steps) <= _MOST_DOTS else 12
    dot = {
        "type": "point", "shape": "circle", "size": area, "fill": colours.adjust, "stroke": colours.ground,
        "strokeWidth": 1, "opacity": 1,
    }  # fmt: skip
    mark = {"align": "left", "baseline": "bottom", "dx": 6, "dy": -5, "fontSize": VALUE_PX}
    written = {"data": {"values": _with_room(steps, axis)}}
    return [
        {"data": {"values": line}, "mark": stroke, "encoding": {**encoding, "order": {"field": "x"}}},
        {"data": {"values": steps}, "mark": dot, "encoding": {**encoding, "tooltip": tooltip}},
        {
            **written,
            **halo_text(mark, {**encoding, "text": {"field": "text"}}, colours.ink, colours),
        },
    ]


def _with_room(steps: list[Row], axis: Axis) -> list[Row]:
    """Keep the newest setting and each older one that has room for its number before the next."""
    kept: list[Row] = []
    ends, room = float("inf"), 14 if len(steps) <= _MOST_DOTS else 120
    for step in reversed(steps):
        left = _px(step["x"], axis)
        if left + words_px(step["text"], VALUE_PX) + room <= ends and left < _PLOT_PX - 60:
            kept.append(step)
            ends = left
    return kept[::-1]


def _px(place: float, axis: Axis) -> float:
    return (place - axis.start) / (axis.end - axis.start) * _PLOT_PX


def lane_rows(events: Sequence[FloorEvent], axis: Axis, zone: str) -> tuple[list[Row], int]:
    """Return events with their place in the lane, and how many lines the lane needs.

    The newest are placed first. Where all lines are full an older event keeps its shape without its words,
    and one that has no room even for that is left out.
    """
    taken: list[list[tuple[float, float]]] = [[] for _ in range(_MOST_ROWS)]
    rows: list[Row] = []
    for event in reversed(events):
        place = min(max(event.axis_pieces, axis.start), axis.end)
        px, wide = _px(place, axis), words_px(event.label, LABEL_PX) + 26
        left = px + wide > _PLOT_PX
        reach = (px - wide, px + 10) if left else (px - 10, px + wide)
        line = _free_line(taken, reach)
        side = "left" if left else "right"
        if line is None:
            reach, side = (px - 10, px + 10), ""
            line = _free_line(taken, reach)
        if line is None:
            continue
        taken[line].append(reach)
        row = {"x": place, "line": line, "side": side, "kind": event.kind}
        rows.append({**row, "label": event.label, "when": when(event.time, zone)})
    return rows[::-1], max((row["line"] for row in rows), default=0) + 1


def _free_line(taken: list[list[tuple[float, float]]], reach: tuple[float, float]) -> int | None:
    for index, used in enumerate(taken):
        if all(reach[1] <= start or reach[0] >= end for start, end in used):
            return index
    return None


def event_layers(rows: list[Row], lines: int, top_px: float, axis: Axis, colours: Theme) -> list[Layer]:
    """Return each event as its own small shape with a short label beside it."""
    scale = {"domain": [0, lines], "range": [top_px + ROW_PX / 2, top_px + (lines + 0.5) * ROW_PX]}
    y = {"field": "line", "type": "quantitative", "axis": None, "scale": {**scale, "zero": False}}
    encoding: dict[str, Any] = {"x": x_of(axis), "y": y}
    tooltip = [{"field": "when", "title": "time"}, {"field": "label", "title": "at the machine"}]
    layers: list[Layer] = []
    for side, align, dx in (("right", "left", 13), ("left", "right", -13)):
        values = [row for row in rows if row["side"] == side]
        mark = {"align": align, "baseline": "middle", "dx": dx, "fontSize": LABEL_PX, "limit": 420}
        if values:
            text = halo_text(mark, {**encoding, "text": {"field": "label"}}, colours.ink, colours)
            layers.append({"data": {"values": values}, **text})
    for glyph in dict.fromkeys(event_glyph(row["kind"]) for row in rows):
        values = [row for row in rows if event_glyph(row["kind"]) == glyph]
        mark = {
            "type": "point",
            "shape": glyph,
            "size": 260,
            "fill": colours.ink,
            "stroke": colours.ink,
            "strokeWidth": 0,
            "opacity": 1,
        }
        layers.append(
            {"data": {"values": values}, "mark": mark, "encoding": {**encoding, "tooltip": tooltip}}
        )
    return layers


def event_key(rows: list[Row], y_px: float, colours: Theme) -> tuple[list[Layer], int]:
    """Return what the shapes without words mean, and in how many lines; nothing where each has its words."""
    kinds = dict.fromkeys(_KIND_WORDS.get(row["kind"], "something else") for row in rows if not row["side"])
    glyphs = {_KIND_WORDS.get(row["kind"], "something else"): event_glyph(row["kind"]) for row in rows}
    layers: list[Layer] = []
    x_px, lines = 8.0, 1 if kinds else 0
    for words in kinds:
        wide = words_px(words, VALUE_PX) * 1.06 + 34
        if x_px > 8.0 and x_px + wide - 22 > _PLOT_PX:
            x_px, y_px, lines = 8.0, y_px + KEY_LINE_PX, lines + 1
        place = {"x": {"value": x_px}, "y": {"value": y_px}}
        mark = {
            "type": "point", "shape": glyphs[words], "size": 150, "fill": colours.ink, "strokeWidth": 0, "opacity": 1,
        }  # fmt: skip
        layers.append({"data": {"values": [{}]}, "mark": mark, "encoding": place})
        layers.append(fixed_text(words, x_px + 12, y_px, colours.quiet, VALUE_PX))
        x_px += wide
    return layers, lines


def die_change_layers(
    events: Sequence[FloorEvent], panels: Sequence[Panel], axis: Axis, colours: Theme
) -> list[Layer]:
    """Return a fine upright line through each panel where a die set came on or off."""
    places = [
        min(max(event.axis_pieces, axis.start), axis.end) for event in events if event.kind in _DIE_EVENTS
    ]
    values = [
        {"x": place, "top": panel.top_px, "bottom": panel.bottom_px}
        for place in dict.fromkeys(places)
        for panel in panels
    ]
    mark = {"type": "rule", "color": colours.quiet, "strokeWidth": 1.5, "strokeDash": [2, 4]}
    y = {"field": "top", "type": "quantitative", "scale": None, "axis": None}
    encoding = {"x": x_of(axis), "y": y, "y2": {"field": "bottom"}}
    if len(values) > _MOST_DIE_CHANGES * len(panels):
        return []
    return (
        [{"name": "die_changes", "data": {"values": values}, "mark": mark, "encoding": encoding}]
        if values
        else []
    )
