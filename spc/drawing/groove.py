"""For whoever measures a groove whose lead and depth change on purpose: the part from the side, to scale."""

import math
from collections.abc import Callable

import numpy as np

from spc.drawing.sketch import Point, Sketch, View
from spc.drawing.theme import theme
from spc.geometry import NominalLead

__all__ = ["groove_drawing", "groove_on_part"]

_WIDTH_PX, _PART_PX, _BELOW_PX = 620, 150, 62
_A_TURN = 48
_LEAST_PX, _MOST_PX = 1.5, 9.0


def groove_drawing(
    nominal: NominalLead, outside_mm: float, theme_name: str, depth_at: Callable[[float], float] | None = None
) -> str:
    """Draw a groove on its part as the table asks for it.

    Parameters
    ----------
    nominal : NominalLead
        From `nominal_lead`.
    outside_mm : float
        Outside diameter of the part, above 0.
    theme_name : {"light", "dark"}
    depth_at : callable, optional
        Nominal depth, mm, at a position, mm; the deeper the groove, the wider its stroke.

    Returns
    -------
    str
        SVG; length and diameter in one scale.
    """
    colours = theme(theme_name)
    start, end = float(nominal.position_mm[0]), float(nominal.position_mm[-1])
    scale = min((_WIDTH_PX - 16) / (end - start), (_PART_PX - 8) / outside_mm)
    high = max(outside_mm * scale + 8, 44.0)
    about = f"a groove of changing lead over {end - start:g} mm of the part"
    sketch = Sketch(_WIDTH_PX, round(high + _BELOW_PX), colours, about)
    view = View(0, 2, _WIDTH_PX, high, ((start + end) / 2, 0.0), scale)
    half = outside_mm / 2
    box = [(start, half), (end, half), (end, -half), (start, -half), (start, half)]
    sketch.stroke(view, box, colours.quiet, 1.6, fill=colours.plate)
    sketch.stroke(view, [(start, 0.0), (end, 0.0)], colours.quiet, 1.0, dash="12 4 2 4")
    for way in groove_on_part(nominal, outside_mm):
        sketch.stroke(view, way, colours.size, _stroke_px(way, nominal, depth_at))
    turns = float(nominal.turns([end])[0])
    first, last = float(nominal.lead_mm[0]), float(nominal.lead_mm[-1])
    at = high + 20
    sketch.words(8, at, f"{start:g} mm: lead {first:g} mm{_depth_words(start, depth_at)}")
    says = f"{end:g} mm: lead {last:g} mm{_depth_words(end, depth_at)}"
    sketch.words(_WIDTH_PX - 8, at, says, anchor="end")
    aside = "" if depth_at is None else " The deeper, the wider the stroke."
    sketch.words(8, at + 22, f"{turns:.2f} turns as the table asks.{aside}", colour=colours.quiet)
    return sketch.svg()


def groove_on_part(nominal: NominalLead, outside_mm: float) -> list[list[Point]]:
    """Return the visible stretches of the groove: (along the part, above its axis), one list for each half turn."""
    start, end = float(nominal.position_mm[0]), float(nominal.position_mm[-1])
    total = float(nominal.turns([end])[0])
    places = np.linspace(start, end, max(200, math.ceil(total * _A_TURN)))
    turns = nominal.turns(places)
    ways: list[list[Point]] = []
    for turn in range(math.floor(total) + 1):
        seen = np.linspace(turn, min(turn + 0.5, total), _A_TURN // 2)
        along = np.interp(seen, turns, places)
        high = outside_mm / 2 * np.cos(2 * math.pi * seen)
        ways.append(list(zip(along.tolist(), high.tolist(), strict=True)))
    return ways


def _stroke_px(way: list[Point], nominal: NominalLead, depth_at: Callable[[float], float] | None) -> float:
    """Return a stroke as wide as the groove is deep, beside the deepest of its table."""
    if depth_at is None:
        return 3.0
    deepest = max(abs(depth_at(float(x))) for x in nominal.position_mm) or 1.0
    return max(_LEAST_PX, _MOST_PX * abs(depth_at(way[len(way) // 2][0])) / deepest)


def _depth_words(at_mm: float, depth_at: Callable[[float], float] | None) -> str:
    return "" if depth_at is None else f", depth {depth_at(at_mm):g} mm"
