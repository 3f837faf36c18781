"""For every picture of stacked panels: one view, one x axis, each panel its own stretch of height.

A single layered view (rather than views put under one another) follows the width of the page, and its panels
cannot get out of line with each other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from spc.drawing.theme import LABEL_PX, TITLE_PX, Theme, vega_config

__all__ = [
    "SCHEMA", "Axis", "Panel", "fixed_text", "halo_text", "heading", "picture", "sentence", "words_px", "x_of",
]  # fmt: skip

SCHEMA = "https://vega.github.io/schema/vega-lite/v6.json"
Layer = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Axis:
    """The common axis: from and to, and what it counts."""

    start: float
    end: float
    title: str


@dataclass(frozen=True, slots=True)
class Panel:
    """A stretch of the picture with its own scale.

    Attributes
    ----------
    top_px, bottom_px : float
        From the top of the picture.
    low, high : float
        What stands at the bottom and at the top; `low` > `high` turns the panel over.
    digits : int
        Decimals at the scale.
    """

    top_px: float
    bottom_px: float
    low: float
    high: float
    digits: int
    ticks: int = 5

    def y(self, field: str) -> dict[str, Any]:
        """Return the encoding of a field on this panel's scale."""
        return {"field": field, "type": "quantitative", "title": None, **self._drawn()}

    def at(self, value: float) -> dict[str, Any]:
        """Return the encoding of one height on this panel's scale."""
        return {"datum": value, "type": "quantitative", "title": None, **self._drawn()}

    def px(self, value: float) -> float:
        """Return where a value stands, in pixels from the top."""
        share = (value - self.low) / (self.high - self.low)
        return self.bottom_px - share * (self.bottom_px - self.top_px)

    def _drawn(self) -> dict[str, Any]:
        scale = {
            "domain": [self.low, self.high],
            "range": [self.bottom_px, self.top_px],
            "zero": False,
            "nice": False,
        }
        axis = {"orient": "left", "format": f".{self.digits}f", "tickCount": self.ticks, "grid": True}
        return {"scale": scale, "axis": axis}


def x_of(axis: Axis, field: str = "x") -> dict[str, Any]:
    """Return the encoding of the common axis."""
    return {
        "field": field,
        "type": "quantitative",
        "title": axis.title,
        "scale": {"domain": [axis.start, axis.end], "zero": False, "nice": False},
        "axis": {"format": ",.0f", "grid": False, "tickCount": 8, "tickMinStep": 1, "labelFlush": True},
    }


def picture(
    layers: Sequence[Layer], height_px: float, colours: Theme, description: str, width_px: int = 1000
) -> dict[str, Any]:
    """Return the whole picture: it keeps its height and follows the width of the page."""
    return {
        "$schema": SCHEMA,
        "description": description,
        "width": width_px,
        "height": height_px,
        "autosize": {"type": "fit-x", "contains": "padding"},
        "padding": {"left": 4, "right": 12, "top": 6, "bottom": 6},
        "config": vega_config(colours),
        "resolve": {"scale": {"y": "independent"}, "axis": {"y": "independent"}},
        "layer": [layer for layer in layers if layer],
    }


def heading(y_px: float, words: str, aside: str, colours: Theme) -> Layer:
    """Return a panel's name in strong type and, to the right of it, an explanation in quiet type."""
    strong = fixed_text(words, 0, y_px, colours.ink, TITLE_PX, weight="bold")
    if not aside:
        return strong
    beside = words_px(words, TITLE_PX) * 1.06 + 16
    return {"layer": [strong, fixed_text(aside, beside, y_px, colours.quiet, LABEL_PX)]}


def sentence(y_px: float, lines: Sequence[str], colours: Theme) -> Layer:
    """Return lines of quiet type that stand where a panel has nothing to show."""
    return {
        "layer": [
            fixed_text(line, 0, y_px + 20 * index, colours.quiet, LABEL_PX)
            for index, line in enumerate(lines)
        ]
    }


def fixed_text(
    words: str, x_px: float, y_px: float, colour: str, size_px: int, weight: str = "normal"
) -> Layer:
    """Return words at a fixed place, their left edge at `x_px`."""
    mark = {
        "type": "text", "text": words, "color": colour, "fontSize": size_px, "fontWeight": weight,
        "align": "left", "baseline": "middle",
    }  # fmt: skip
    return {
        "data": {"values": [{}]},
        "mark": mark,
        "encoding": {"x": {"value": x_px}, "y": {"value": y_px}},
    }


def halo_text(mark: dict[str, Any], encoding: dict[str, Any], colour: str, colours: Theme) -> Layer:
    """Return text with a rim in the ground's colour, so that lines beneath don't cut it."""
    rim = {"type": "text", **mark, "stroke": colours.ground, "strokeWidth": 5, "strokeJoin": "round"}
    return {
        "layer": [
            {"mark": {**rim, "color": colours.ground}, "encoding": encoding},
            {"mark": {"type": "text", **mark, "color": colour}, "encoding": encoding},
        ]
    }


def words_px(words: str, size_px: float) -> float:
    """Return about how wide words come out; letters of our faces are nearly half as wide as high."""
    return len(words) * size_px * 0.47
