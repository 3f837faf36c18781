"""For the quality lead: every single piece as a dot between the edges of the tolerance."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy as np

from spc.drawing.checks import decimals_of, is_outside, plain_name, with_unit
from spc.drawing.frame import SCHEMA, sentence
from spc.drawing.kept import kept
from spc.drawing.size_panel import span_of
from spc.drawing.theme import LABEL_PX, Theme, theme, vega_config
from spc.shop import Characteristic

__all__ = ["pieces_picture"]

Layer = dict[str, Any]
_TOP_PX, _FIELD_PX, _DOT_PX = 104.0, 180.0, 11.0
_COLUMNS = 64


def pieces_picture(
    values: Sequence[float], characteristic: Characteristic, theme_name: str
) -> dict[str, Any]:
    """Draw how single pieces lie in the tolerance.

    Parameters
    ----------
    values : sequence of float
        One a piece, in the plan's unit, any order.
    characteristic : Characteristic
    theme_name : {"light", "dark"}

    Returns
    -------
    dict
        A Vega-Lite picture with its data inside: one dot a piece, stacked at the gauge's resolution; where
        there are too many, one dot stands for several and the words say for how many. Above the dots a bar
        holds the middle 90 % of the pieces. No curve is fitted: a curve would be a claim.
    """
    return _drawn(tuple(float(value) for value in values), characteristic, theme_name)


@kept(64)
def _drawn(values: tuple[float, ...], characteristic: Characteristic, theme_name: str) -> dict[str, Any]:
    colours = theme(theme_name)
    name = plain_name(characteristic)
    if not values:
        return _picture([sentence(16, [f"No piece of {name} to show."], colours)], 32, colours, name)
    tolerance = characteristic.tolerance
    edges = [float(limit) for limit in (tolerance.lower, tolerance.upper) if limit is not None]
    x = _x(*span_of([*values, *edges], least=10.0 ** -decimals_of(characteristic), air=0.06), characteristic)
    dots, each = _dots(values, x, characteristic)
    bottom = _TOP_PX + _FIELD_PX
    layers = [
        *_edges(characteristic, x, bottom, colours),
        _words(values, each, characteristic, colours),
        *_middle(values, x, colours),
        *_dot_layers(dots, x, bottom, colours),
    ]
    return _picture(layers, bottom, colours, f"{len(values)} pieces of {name}")


def _picture(layers: list[Layer], height_px: float, colours: Theme, description: str) -> dict[str, Any]:
    return {
        "$schema": SCHEMA, "description": description, "width": 1000, "height": height_px, "layer": layers,
        "autosize": {"type": "fit-x", "contains": "padding"},
        "padding": {"left": 16, "right": 16, "top": 6, "bottom": 6}, "config": vega_config(colours),
    }  # fmt: skip


def _x(low: float, high: float, characteristic: Characteristic) -> dict[str, Any]:
    axis = {"format": f".{decimals_of(characteristic)}f", "grid": False, "tickCount": 8, "labelFlush": True}
    title = with_unit(plain_name(characteristic), characteristic)
    scale = {"domain": [low, high], "zero": False, "nice": False}
    return {"field": "x", "type": "quantitative", "title": title, "scale": scale, "axis": axis}


def _dots(
    values: tuple[float, ...], x: dict[str, Any], characteristic: Characteristic
) -> tuple[list[dict[str, Any]], int]:
    """Return a dot's place for every `each` pieces, never fewer than one dot where a piece lies."""
    low, high = x["scale"]["domain"]
    step = 10.0 ** -decimals_of(characteristic)
    step *= max(1, round((high - low) / _COLUMNS / step))
    columns = Counter((round(value / step), is_outside(value, characteristic)) for value in values)
    each = max(1, -(-max(columns.values()) // int(_FIELD_PX / _DOT_PX - 2)))
    dots, stacked = [], Counter[int]()
    for (column, outside), count in sorted(columns.items()):
        for _ in range(-(-count // each)):
            dots.append({"x": column * step, "floor": stacked[column], "outside": outside})
            stacked[column] += 1
    return dots, each


def _dot_layers(dots: list[dict[str, Any]], x: dict[str, Any], bottom: float, colours: Theme) -> list[Layer]:
    layers: list[Layer] = []
    for outside, shape, fill in ((False, "circle", colours.size), (True, "diamond", colours.hold)):
        values = [
            {"x": dot["x"], "px": bottom - (dot["floor"] + 0.7) * _DOT_PX}
            for dot in dots
            if dot["outside"] == outside
        ]
        mark = {
            "type": "point", "shape": shape, "size": 130 if outside else 75, "fill": fill, "opacity": 1,
            "stroke": colours.ground, "strokeWidth": 1,
        }  # fmt: skip
        y = {"field": "px", "type": "quantitative", "scale": None, "axis": None}
        if values:
            name = "pieces_outside" if outside else "pieces"
            encoding = {"x": x, "y": y}
            layers.append({"name": name, "data": {"values": values}, "mark": mark, "encoding": encoding})
    return layers


def _edges(characteristic: Characteristic, x: dict[str, Any], bottom: float, colours: Theme) -> list[Layer]:
    """Return the land outside the tolerance, its edges with their words, and what is aimed at."""
    tolerance, digits = characteristic.tolerance, decimals_of(characteristic)
    low, high = x["scale"]["domain"]
    place = {"y": {"value": _TOP_PX - 22}, "y2": {"value": bottom}}
    layers: list[Layer] = []
    sides = (
        (tolerance.lower, low, "smallest allowed", "left"),
        (tolerance.upper, high, "largest allowed", "right"),
    )
    for limit, end, words, align in sides:
        if limit is None:
            continue
        row = {"x": float(limit), "end": end, "text": f"{words} {limit:.{digits}f}".replace("-", "−")}
        land = {"mark": {"type": "rect", "color": colours.plate, "opacity": 1}}
        text = {
            "type": "text",
            "align": align,
            "baseline": "bottom",
            "fontSize": LABEL_PX,
            "color": colours.ink,
        }
        layers.append(
            {
                "data": {"values": [row]},
                "layer": [
                    {**land, "encoding": {"x": x, "x2": {"field": "end"}, **place}},
                    {
                        "mark": {"type": "rule", "color": colours.ink, "strokeWidth": 2.5},
                        "encoding": {"x": x, **place},
                    },
                    {
                        "mark": text,
                        "encoding": {"x": x, "y": {"value": _TOP_PX - 28}, "text": {"field": "text"}},
                    },
                ],
            }
        )
    return layers


def _middle(values: tuple[float, ...], x: dict[str, Any], colours: Theme) -> list[Layer]:
    """Return the bar over the middle 90 % with a stroke at the median."""
    low, middle, high = (float(edge) for edge in np.quantile(values, (0.05, 0.5, 0.95)))
    y = {"value": _TOP_PX - 8}
    bar = {"type": "rule", "color": colours.size, "strokeWidth": 6, "opacity": 0.55, "strokeCap": "round"}
    stroke = {"type": "tick", "orient": "vertical", "color": colours.size, "size": 20, "thickness": 4}
    row = {"x": low, "high": high}
    return [
        {
            "name": "middle_of_the_pieces",
            "data": {"values": [row]},
            "mark": bar,
            "encoding": {"x": x, "x2": {"field": "high"}, "y": y},
        },
        {"data": {"values": [{"x": middle}]}, "mark": stroke, "encoding": {"x": x, "y": y}},
    ]


def _words(values: tuple[float, ...], each: int, characteristic: Characteristic, colours: Theme) -> Layer:
    outside = sum(is_outside(value, characteristic) for value in values)
    told = f"{len(values):,} pieces, {outside or 'none'} outside the tolerance."
    stands = f"One dot stands for up to {each}. " if each > 1 else ""
    return sentence(14, [told, f"{stands}The bar holds the middle 90 %."], colours)
