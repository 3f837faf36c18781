"""For the hourly and the mean-and-range picture: sizes with tolerance, limits in force and history."""

from collections.abc import Sequence
from typing import Any

from spc.drawing.checks import NOT_COUNTED, Row, decimals_of, limit_rows
from spc.drawing.frame import Axis, Panel, x_of
from spc.drawing.theme import LABEL_PX, LOOKS, Theme, look_stroke
from spc.shop import Characteristic

__all__ = ["limits_layers", "marks_layers", "pieces_layers", "size_panel", "span_of", "tolerance_layers"]

Layer = dict[str, Any]
_STANDINGS = {
    "provisional": "provisional limits",
    "signed": "signed limits",
    "forecast": "limits follow the die",
    "proposed": "limits of these checks",
    "sloping": "limits slope with the die",
}
_RANGE_STANDINGS = {
    "provisional": "provisional limit",
    "signed": "signed limit",
    "forecast": "limit of the range",
    "proposed": "limit of these checks",
    "sloping": "limit of the range",
}
_DASHES = {
    "provisional": [7, 5],
    "signed": [1, 0],
    "forecast": [2, 4],
    "proposed": [10, 4, 2, 4],
    "sloping": [2, 4],
}
_STROKES = {
    "provisional": "– –",
    "signed": "——",
    "forecast": "·····",
    "proposed": "– · –",
    "sloping": "·····",
}
"""The same strokes beside their words."""
_SINGLE_PIECES = 1200
_CROWDED = 150
_TOOLTIP = (
    ("when", "time"), ("counter", "counter"), ("purpose", "purpose"), ("die_set", "die set"),
    ("n", "pieces gauged"), ("mean", "mean"), ("spread", "range"), ("says", "says"),
)  # fmt: skip


def size_panel(rows: list[Row], characteristic: Characteristic, top_px: float, height_px: float) -> Panel:
    """Return the panel that holds the pieces, their limits and the tolerance.

    What is struck out or in doubt doesn't stretch it, and nothing stretches it further than one width of the
    tolerance beyond the tolerance: such a mark stands at the edge, with its value in the tooltip.
    """
    believed = [row for row in rows if row["look"] not in NOT_COUNTED] or rows
    shown = [row[field] for row in believed for field in ("low", "high", "lower", "upper", "y")]
    lower, upper = characteristic.tolerance.lower, characteristic.tolerance.upper
    edges = [float(limit) for limit in (lower, upper) if limit is not None]
    width = characteristic.tolerance.width
    if width is not None:
        reach = float(width) or float("inf")
        shown = [min(max(value, edges[0] - reach), edges[1] + reach) for value in shown if value is not None]
    low, high = span_of([*shown, *edges], least=10.0 ** -decimals_of(characteristic))
    return Panel(top_px, top_px + height_px, low, high, decimals_of(characteristic))


def span_of(values: Sequence[float | None], least: float, air: float = 0.14) -> tuple[float, float]:
    """Return lowest and highest value with some air; at least `least` apart, 0 to 1 where there are none."""
    known = [value for value in values if value is not None]
    if not known:
        return 0.0, 1.0
    low, high = min(known), max(known)
    gap = max((high - low) * air, (least - (high - low)) / 2)
    return low - gap, high + gap


def tolerance_layers(characteristic: Characteristic, panel: Panel, colours: Theme) -> list[Layer]:
    """Return the land outside the tolerance, its edges, and what they are, in words."""
    digits = decimals_of(characteristic)
    sides = (
        (characteristic.tolerance.upper, panel.high, "largest allowed", -1),
        (characteristic.tolerance.lower, panel.low, "smallest allowed", 1),
    )
    layers: list[Layer] = []
    for limit, end, words, side in sides:
        if limit is None:
            continue
        edge = {"y": float(limit), "end": end, "text": f"{words} {limit:.{digits}f}".replace("-", "−")}
        encoding = {"x": {"value": 8}, "y": panel.y("y"), "text": {"field": "text"}}
        mark = {
            "align": "left", "baseline": "bottom" if side < 0 else "top", "dy": side * 5, "type": "text",
            "fontSize": LABEL_PX, "color": colours.ink,
        }  # fmt: skip
        outside = {"mark": {"type": "rect", "color": colours.plate, "opacity": 1}}
        line = {"mark": {"type": "rule", "color": colours.ink, "strokeWidth": 2.5}}
        layers.append(
            {
                "data": {"values": [edge]},
                "layer": [
                    {**outside, "encoding": {"y": panel.y("y"), "y2": {"field": "end"}}},
                    {**line, "encoding": {"y": panel.y("y")}},
                    {"mark": mark, "encoding": encoding},
                ],
            }
        )
    return layers


def limits_layers(
    rows: list[Row], fields: tuple[str, ...], panel: Panel, axis: Axis, colours: Theme
) -> list[Layer]:
    """Return the limits in force as steps, and above the panel how they stand."""
    steps = limit_rows(rows, fields)
    standings = dict.fromkeys(step["standing"] for step in steps)
    layers = [
        _steps([step for step in steps if step["standing"] == standing], field, panel, axis, colours)
        for standing in standings
        for field in fields
    ]
    if steps:
        layers.append(_standing(steps, fields, panel, colours))
    return [layer for layer in layers if layer]


def _steps(steps: list[Row], field: str, panel: Panel, axis: Axis, colours: Theme) -> Layer:
    values = [
        {"x": step["x"], "limit": step[field], "place": place, "run": step["run"]}
        for place, step in enumerate(steps)
        if step[field] is not None
    ]
    standing = steps[0]["standing"]
    thin = {"strokeWidth": 1, "opacity": 0.7} if field == "centre" else {"strokeWidth": 2}
    mark = {
        "type": "line", "color": colours.quiet, "interpolate": "linear", "clip": True,
        "strokeDash": [1, 0] if field == "centre" else _DASHES.get(standing, [7, 5]), **thin,
    }  # fmt: skip
    encoding = {
        "x": x_of(axis), "y": panel.y("limit"), "detail": {"field": "run", "type": "nominal"},
        "order": {"field": "place", "type": "quantitative"},
    }  # fmt: skip
    name = f"limit_{field}_{standing or 'known'}"
    return {"name": name, "data": {"values": values}, "mark": mark, "encoding": encoding} if values else {}


def _standing(steps: list[Row], fields: tuple[str, ...], panel: Panel, colours: Theme) -> Layer:
    """Return every sort of limit with its stroke, at the right above the panel, where no point can lie."""
    standings = _RANGE_STANDINGS if fields == ("spread_upper",) else _STANDINGS
    said = [
        f"{_STROKES.get(each, '– –')} {standings.get(each, 'limits in force')}"
        for each in dict.fromkeys(step["standing"] for step in steps)
    ]
    mark = {
        "type": "text", "text": "      ".join(said), "align": "right", "baseline": "middle", "dx": -4,
        "fontSize": LABEL_PX, "color": colours.quiet,
    }  # fmt: skip
    place = {"x": {"value": "width"}, "y": {"value": panel.top_px - 16}}
    name = f"standing_words_{fields[-1]}"
    return {"name": name, "data": {"values": [{}]}, "mark": mark, "encoding": place}


def pieces_layers(rows: list[Row], panel: Panel, axis: Axis, colours: Theme) -> list[Layer]:
    """Return single pieces as light ticks; where they are too many, a stroke from smallest to largest."""
    shown = [row for row in rows if row["look"] not in NOT_COUNTED and row["n"] != "1"]
    single = [{"x": row["x"], "piece": value} for row in shown for value in row["pieces"]]
    outside = _outside_layers(shown, panel, axis, colours)
    if 0 < len(single) <= _SINGLE_PIECES and all(row["pieces"] for row in shown):
        mark = {
            "type": "tick", "orient": "horizontal", "color": colours.size, "size": 11, "thickness": 1.6,
            "opacity": 0.5, "clip": True,
        }  # fmt: skip
        encoding = {"x": x_of(axis), "y": panel.y("piece")}
        layer = {"name": "pieces", "data": {"values": single}, "mark": mark, "encoding": encoding}
        return [layer, *outside]
    spans = [{"x": row["x"], "low": row["low"], "high": row["high"]} for row in shown]
    rule = {"type": "rule", "color": colours.size, "strokeWidth": 2.5, "opacity": 0.35, "clip": True}
    encoding = {"x": x_of(axis), "y": panel.y("low"), "y2": {"field": "high"}}
    layer = {"name": "pieces", "data": {"values": spans}, "mark": rule, "encoding": encoding}
    return [layer, *outside] if spans else []


def _outside_layers(shown: list[Row], panel: Panel, axis: Axis, colours: Theme) -> list[Layer]:
    low, high = _inside(panel)
    values = [
        {"x": row["x"], "piece": min(max(value, low), high)} for row in shown for value in row["outside"]
    ]
    mark = {"type": "tick", "orient": "horizontal", "color": colours.hold, "size": 14, "thickness": 4}
    mark |= {"opacity": 1}
    encoding = {"x": x_of(axis), "y": panel.y("piece")}
    layer = {"name": "pieces_outside", "data": {"values": values}, "mark": mark, "encoding": encoding}
    return [layer] if values else []


def marks_layers(rows: list[Row], field: str, panel: Panel, axis: Axis, colours: Theme) -> list[Layer]:
    """Return the line through the checks that count, broken where the die set changes, and a mark a check."""
    low, high = _inside(panel)
    held = [row for row in rows if row[field] is not None]
    drawn = [{**_told(row), "x": row["x"], "y": min(max(row[field], low), high)} for row in held]
    line = [
        {"x": row["x"], "y": shown["y"], "die": row["die"]}
        for row, shown in zip(held, drawn, strict=True)
        if row["look"] in ("ordinary", "asked", "against", "out")
    ]
    stroke = {"type": "line", "color": colours.size, "strokeWidth": 1.5, "opacity": 0.75}
    encoding = {"x": x_of(axis), "y": panel.y("y")}
    layers: list[Layer] = [
        {
            "data": {"values": line},
            "mark": stroke,
            "encoding": {**encoding, "detail": {"field": "die"}, "order": {"field": "x"}},
        }
    ]
    for name, look in LOOKS.items():
        values = [shown for row, shown in zip(held, drawn, strict=True) if row["look"] == name]
        area = look.area_px * (0.4 if name == "ordinary" and len(values) > _CROWDED else 1)
        mark = {"type": "point", "shape": look.path, "size": area, "opacity": 1}
        tooltip = [{"field": key, "title": title} for key, title in _TOOLTIP]
        if values:
            layers.append(
                {
                    "name": f"checks_{field}_{name}",
                    "data": {"values": values},
                    "mark": {**mark, **look_stroke(look, colours)},
                    "encoding": {**encoding, "tooltip": tooltip},
                }
            )
    return layers if held else []


def _inside(panel: Panel) -> tuple[float, float]:
    """Lowest and highest place where a mark still stands whole inside its panel."""
    low, high = sorted((panel.low, panel.high))
    rim = (high - low) * 9 / (panel.bottom_px - panel.top_px)
    return low + rim, high - rim


def _told(row: Row) -> Row:
    return {key: row[key] for key, _ in _TOOLTIP}
