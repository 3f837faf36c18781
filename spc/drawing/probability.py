"""For the quality lead: pieces against the distribution that the indices are read from."""

from typing import Any

import numpy as np
from scipy.special import ndtri

from spc.drawing.checks import decimals_of, plain_name, with_unit
from spc.drawing.frame import SCHEMA
from spc.drawing.size_panel import span_of
from spc.drawing.theme import LABEL_PX, Theme, theme, vega_config
from spc.shop import Characteristic
from spc.statistics import ModelCapability
from spc.statistics.probability_plot import median_ranks

__all__ = ["probability_picture"]

Layer = dict[str, Any]
_SHARES = (0.001, 0.01, 0.1, 0.5, 0.9, 0.99, 0.999)
_MOST_DOTS = 400


def probability_picture(
    found: ModelCapability, characteristic: Characteristic, theme_name: str
) -> dict[str, Any] | None:
    """Draw how the pieces lie along their distribution; None where it has no formula.

    Parameters
    ----------
    found : ModelCapability
        With the fitted model and its readings.
    characteristic : Characteristic
    theme_name : {"light", "dark"}

    Returns
    -------
    dict or None
        A Vega-Lite picture with its data inside. Shares below a size stand on a normal scale, so a normal model is a
        straight line and every other one a curve. Of many pieces only some are drawn, the outermost all.
    """
    model = found.model
    if model.family is None or model.readings[0] == model.readings[-1]:
        return None
    colours, digits = theme(theme_name), decimals_of(characteristic)
    ranks = median_ranks(model.n)
    dots = [{"x": float(model.readings[place]), "z": float(ndtri(ranks[place]))} for place in _drawn(model.n)]
    reach = max(3.3, dots[-1]["z"] * 1.06)
    line = [
        {"x": float(size), "z": float(ndtri(share))}
        for size in np.linspace(model.quantile(0.0003), model.quantile(0.9997), 60)
        if 0.0 < (share := model.cdf(float(size))) < 1.0
    ]
    edges = [
        (float(limit), words)
        for limit, words in (
            (characteristic.tolerance.lower, "smallest allowed"),
            (characteristic.tolerance.upper, "largest allowed"),
        )
        if limit is not None and not (limit == 0 and words == "smallest allowed")
    ]
    sizes = [each["x"] for each in (*dots, *line)]
    low, high = span_of([*sizes, *(limit for limit, _ in edges)], least=10.0**-digits, air=0.05)
    x, y = _x(low, high, characteristic, digits), _y(reach)
    layers = [_dots(dots, x, y, colours), _line(line, x, y, colours), *_edges(edges, x, digits, colours)]
    return _picture(
        layers, colours, f"{plain_name(characteristic)} of {model.n} pieces against its distribution"
    )


def _drawn(n: int) -> list[int]:
    """Return the places of the pieces that are drawn: all of few, of many the outermost fifty and some between."""
    if n <= _MOST_DOTS:
        return list(range(n))
    middle = np.linspace(50, n - 51, _MOST_DOTS - 100).round().astype(int).tolist()
    return [*range(50), *middle, *range(n - 50, n)]


def _x(low: float, high: float, characteristic: Characteristic, digits: int) -> dict[str, Any]:
    axis = {"format": f".{digits}f", "grid": False, "tickCount": 7, "labelFlush": True}
    title = with_unit(plain_name(characteristic), characteristic)
    scale = {"domain": [low, high], "zero": False, "nice": False}
    return {"field": "x", "type": "quantitative", "title": title, "scale": scale, "axis": axis}


def _y(reach: float) -> dict[str, Any]:
    places = [float(ndtri(share)) for share in _SHARES]
    words = " : ".join(
        f"abs(datum.value - {place:.4f}) < 0.01 ? '{share * 100:g} %'"
        for place, share in zip(places, _SHARES, strict=True)
    )
    axis = {"values": places, "labelExpr": f"{words} : ''", "grid": True, "orient": "left"}
    scale = {"domain": [-reach, reach], "zero": False, "nice": False}
    return {
        "field": "z",
        "type": "quantitative",
        "title": "pieces below this size",
        "scale": scale,
        "axis": axis,
    }


def _dots(dots: list[dict[str, float]], x: Layer, y: Layer, colours: Theme) -> Layer:
    mark = {
        "type": "point",
        "shape": "circle",
        "size": 34,
        "filled": True,
        "color": colours.size,
        "opacity": 0.55,
    }
    return {"name": "pieces", "data": {"values": dots}, "mark": mark, "encoding": {"x": x, "y": y}}


def _line(line: list[dict[str, float]], x: Layer, y: Layer, colours: Theme) -> Layer:
    mark = {"type": "line", "color": colours.ink, "strokeWidth": 2, "clip": True}
    encoding = {"x": x, "y": y, "order": {"field": "x", "type": "quantitative"}}
    return {"name": "model", "data": {"values": line}, "mark": mark, "encoding": encoding}


def _edges(edges: list[tuple[float, str]], x: Layer, digits: int, colours: Theme) -> list[Layer]:
    """Return the tolerance as upright lines, each with its words above the field."""
    layers: list[Layer] = []
    for limit, words in edges:
        align = "left" if words.startswith("smallest") else "right"
        data = {"values": [{"x": limit, "text": f"{words} {limit:.{digits}f}".replace("-", "−")}]}
        text = {
            "type": "text", "align": align, "baseline": "bottom", "dy": -6, "fontSize": LABEL_PX, "color": colours.ink,
        }  # fmt: skip
        rule = {"type": "rule", "color": colours.ink, "strokeWidth": 2.5}
        layers.append(
            {
                "data": data,
                "layer": [
                    {"mark": rule, "encoding": {"x": x}},
                    {"mark": text, "encoding": {"x": x, "y": {"value": 0}, "text": {"field": "text"}}},
                ],
            }
        )
    return layers


def _picture(layers: list[Layer], colours: Theme, description: str) -> dict[str, Any]:
    return {
        "$schema": SCHEMA, "description": description, "width": 1000, "height": 250, "layer": layers,
        "autosize": {"type": "fit-x", "contains": "padding"},
        "padding": {"left": 4, "right": 16, "top": 24, "bottom": 6}, "config": vega_config(colours),
    }  # fmt: skip
