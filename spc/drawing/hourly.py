"""For the operator, below the verdict: size, size without the slide moves, slide and events on one axis."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from spc.drawing.checks import Row, check_rows, plain_name, with_unit
from spc.drawing.floor_panels import (
    KEY_LINE_PX,
    ROW_PX,
    die_change_layers,
    event_key,
    event_layers,
    lane_rows,
    setting_layers,
    setting_panel,
)
from spc.drawing.frame import Axis, Panel, heading, picture, sentence, x_of
from spc.drawing.kept import kept
from spc.drawing.marks_key import marks_key
from spc.drawing.size_panel import (
    limits_layers,
    marks_layers,
    pieces_layers,
    size_panel,
    span_of,
    tolerance_layers,
)
from spc.drawing.theme import Theme, theme
from spc.station.views import CharacteristicHistory

__all__ = ["axis_of", "hourly_picture"]

Layer = dict[str, Any]
_HEAD_PX, _GAP_PX = 30.0, 22.0
_SIZE_PX, _REFERENCE_PX, _SETTING_PX = 250.0, 130.0, 90.0


@kept(64)
def hourly_picture(history: CharacteristicHistory, theme_name: str) -> dict[str, Any]:
    """Draw one characteristic's history for the operator, on one axis of pieces.

    Parameters
    ----------
    history : CharacteristicHistory
    theme_name : {"light", "dark"}

    Returns
    -------
    dict
        A Vega-Lite picture with its data inside, ready for the page (without the page's own chart theme) and
        for `export`. What cannot be drawn is left out, and a sentence says so.
    """
    colours = theme(theme_name)
    rows = check_rows(history)
    axis = axis_of(history)
    name = plain_name(history.characteristic)
    if not rows:
        return picture([sentence(16, [f"No check of {name} yet."], colours)], 32, colours, name)
    drawn = [_sizes(rows, history, axis, colours)]
    for part in (_reference, _setting, _events):
        drawn.append(part(rows, history, axis, colours, drawn[-1].bottom_px))
    panels = [part.panel for part in drawn if part.panel is not None]
    layers = [*die_change_layers(history.events, panels, axis, colours), *(part.layer for part in drawn)]
    about = f"{name} on {history.machine}: {len(history.points)} checks"
    return picture(layers, drawn[-1].bottom_px, colours, about)


@dataclass(frozen=True, slots=True)
class _Part:
    """One stretch of the picture: what is drawn, where it ends, and its panel where it has one."""

    layer: Layer
    bottom_px: float
    panel: Panel | None = None


def axis_of(history: CharacteristicHistory) -> Axis:
    """Return the common axis: from the first to the last thing shown, with a little air."""
    places = [point.axis_pieces for point in history.points]
    places += [event.axis_pieces for event in history.events]
    start, end = min(places, default=0.0), max(places, default=1.0)
    air = (end - start) * 0.015
    title = "checks" if history.axis_counts == "checks" else "pieces made since the first check shown"
    return Axis(start - air, end + air, title) if air else Axis(start - 1, start + 9, title)


def _sizes(rows: list[Row], history: CharacteristicHistory, axis: Axis, colours: Theme) -> _Part:
    top = 26 + _HEAD_PX
    panel = size_panel(rows, history.characteristic, top, _SIZE_PX)
    name = with_unit(plain_name(history.characteristic), history.characteristic)
    layers = [
        *tolerance_layers(history.characteristic, panel, colours),
        marks_key(12, rows, colours),
        heading(26 + _HEAD_PX / 2, name, "", colours),
        *pieces_layers(rows, panel, axis, colours),
        *limits_layers(rows, ("lower", "upper"), panel, axis, colours),
        *marks_layers(rows, "y", panel, axis, colours),
    ]
    return _Part({"layer": layers}, panel.bottom_px, panel)


def _reference(
    rows: list[Row], history: CharacteristicHistory, axis: Axis, colours: Theme, bottom: float
) -> _Part:
    known = [row for row in rows if row["reference"] is not None and row["look"] not in _NOT_TRUSTED]
    top = bottom + _GAP_PX + _HEAD_PX
    if not known:
        lines = _why_no_reference(history)
        told = sentence(top - _HEAD_PX / 2, lines, colours)
        return _Part(told, top - _HEAD_PX / 2 + 20 * len(lines) - 10)
    digits = size_panel(rows, history.characteristic, 0, 1).digits
    fields = ("reference", "line_low", "line_high")
    low, high = span_of([row[field] for row in known for field in fields], least=4 * 10.0**-digits)
    panel = Panel(top, top + _REFERENCE_PX, low, high, digits, ticks=4)
    name = with_unit("size with the slide moves taken out", history.characteristic)
    head = heading(top - _HEAD_PX / 2, name, "line and band: what the dies alone do", colours)
    layers = [
        head,
        *_wear_line(known, panel, axis, colours),
        *marks_layers(known, "reference", panel, axis, colours),
    ]
    return _Part({"layer": layers}, panel.bottom_px, panel)


def _wear_line(rows: list[Row], panel: Panel, axis: Axis, colours: Theme) -> list[Layer]:
    """Return the wear line and its band of nine in ten, one stroke a mounting."""
    known = [
        {field: row[field] for field in ("x", "line", "line_low", "line_high", "die")}
        for row in rows
        if row["line"] is not None
    ]
    if not known:
        return []
    x, each = x_of(axis), {"field": "die"}
    band = {"x": x, "y": panel.y("line_low"), "y2": {"field": "line_high"}, "detail": each}
    line = {"x": x, "y": panel.y("line"), "detail": each, "order": {"field": "x"}}
    area = {"type": "area", "color": colours.size, "opacity": 0.2}
    stroke = {"type": "line", "color": colours.size, "strokeWidth": 2.5}
    data = {"values": known}
    return [
        {"name": "wear_band", "data": data, "mark": area, "encoding": band},
        {"name": "wear_line", "data": data, "mark": stroke, "encoding": line},
    ]


_NOT_TRUSTED = ("struck_out", "suspect", "other")


def _why_no_reference(history: CharacteristicHistory) -> Sequence[str]:
    if not history.characteristic.is_set_by_slide:
        return ["The slide does not set this, so there are no slide moves to take out."]
    return [
        "No slide setting is on record for these checks, so the slide moves cannot be taken out.",
        "Log the setting as it stands on the panel, and from then on they can.",
    ]


def _setting(
    _: list[Row], history: CharacteristicHistory, axis: Axis, colours: Theme, bottom: float
) -> _Part:
    if not history.settings:
        return _Part({}, bottom)
    top = bottom + _GAP_PX + _HEAD_PX
    panel = setting_panel(history.settings, top, _SETTING_PX)
    head = heading(top - _HEAD_PX / 2, "slide on the panel, mm", "deeper ↓", colours)
    layers = [head, *setting_layers(history.settings, panel, axis, colours, history.zone)]
    return _Part({"layer": layers}, panel.bottom_px, panel)


def _events(_: list[Row], history: CharacteristicHistory, axis: Axis, colours: Theme, bottom: float) -> _Part:
    told = [event for event in history.events if event.kind != "penetration" or not history.settings]
    if not told:
        return _Part({}, bottom + 8)
    placed, lines = lane_rows(told, axis, history.zone)
    top = bottom + 18
    layers = event_layers(placed, lines, top, axis, colours)
    end = top + lines * ROW_PX + 6
    key, key_lines = event_key(placed, end + 8, colours)
    if key:
        layers, end = [*layers, *key], end + 2 + key_lines * KEY_LINE_PX
    if len(placed) == len(told):
        return _Part({"layer": layers}, end)
    words = _no_room(len(told) - len(placed))
    return _Part({"layer": [*layers, sentence(end + 6, [words], colours)]}, end + 22)


def _no_room(events: int) -> str:
    """Say how many events stand there without words.

    Examples
    --------
    >>> _no_room(1)
    '1 older event has no room here; a shorter stretch shows it.'
    """
    if events == 1:
        return "1 older event has no room here; a shorter stretch shows it."
    return f"{events:,} older events have no room here; a shorter stretch shows them."
