"""For pictures of what was measured along a part: its axis, a line, a band, the readings and the key above."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from spc.drawing.frame import Axis, Panel, fixed_text, words_px, x_of
from spc.drawing.size_panel import span_of
from spc.drawing.theme import LABEL_PX, Theme

__all__ = ["ROW_PX", "TOP_PX", "Along", "along_part", "key_row"]

Layer = dict[str, Any]
Rows = list[tuple[float, float]]
TOP_PX = 52.0
ROW_PX = 20.0
_DOTS = 150
"""Readings up to which each gets its own mark."""
_DRAWN = 4000
"""Readings up to which all are drawn; beyond, every second, third, … of them."""
_FINE_UM = 8.0


@dataclass(frozen=True, slots=True)
class Along:
    """One panel over the length of a part, in µm."""

    panel: Panel
    axis: Axis
    colours: Theme

    def line(self, name: str, rows: Iterable[tuple[float, float]], pen: dict[str, Any]) -> Layer:
        """Return a line through points."""
        values = [{"x": float(x), "y": float(y)} for x, y in rows]
        mark = {"type": "line", "strokeWidth": 1.7, **pen}
        encoding = {"x": x_of(self.axis), "y": self.panel.y("y")}
        return {"name": name, "data": {"values": values}, "mark": mark, "encoding": encoding}

    def band(
        self, name: str, edges: Iterable[tuple[float, float, float]], colour: str, opacity: float
    ) -> Layer:
        """Return the area between two straight edges: (position, lower, upper) at both ends."""
        values = [{"x": x, "low": low, "high": high} for x, low, high in edges]
        mark = {"type": "area", "color": colour, "opacity": opacity}
        encoding = {"x": x_of(self.axis), "y": self.panel.y("low"), "y2": {"field": "high"}}
        return {"name": name, "data": {"values": values}, "mark": mark, "encoding": encoding}

    def readings(self, rows: Sequence[tuple[float, float]]) -> list[Layer]:
        """Return what was measured, each reading marked where there is room."""
        drawn = rows[:: -(-len(rows) // _DRAWN)]
        line = self.line("readings", drawn, {"color": self.colours.size})
        if len(drawn) > _DOTS:
            return [line]
        titles = (("x", "position, mm"), ("y", "µm"))
        told = [{"field": field, "type": "quantitative", "title": title} for field, title in titles]
        mark = {"type": "point", "filled": True, "size": 34, "color": self.colours.size, "opacity": 1}
        dots = {
            "name": "dots",
            "data": line["data"],
            "mark": mark,
            "encoding": {**line["encoding"], "tooltip": told},
        }
        return [line, dots]


def along_part(
    values_um: Iterable[float],
    ends_mm: tuple[float, float],
    colours: Theme,
    *,
    high_px: float,
    top_px: float = TOP_PX,
    is_turned: bool = False,
) -> Along:
    """Lay a panel out that holds these values; `is_turned` counts downwards."""
    low, high = span_of(list(values_um), least=1.0)
    digits = 1 if high - low < _FINE_UM else 0
    sides = (high, low) if is_turned else (low, high)
    panel = Panel(top_px, top_px + high_px, *sides, digits)
    return Along(panel, Axis(*ends_mm, "position, mm"), colours)


def key_row(said: Iterable[tuple[str, str]], row: int = 0) -> list[Layer]:
    """Say what each line and area is, in its own colour, in one row below the heading; half a page holds three."""
    at, found = 0.0, []
    for words, colour in said:
        found.append(fixed_text(words, at, 34 + ROW_PX * row, colour, LABEL_PX))
        at += words_px(words, LABEL_PX) + 24
    return found
