"""For the supervisor: the size with the slide moves taken out, its wear line, and earlier sets behind it."""

from typing import Any

from spc.drawing.checks import decimals_of, plain_name, with_unit
from spc.drawing.frame import Axis, Panel, fixed_text, halo_text, heading, picture, words_px, x_of
from spc.drawing.kept import kept
from spc.drawing.size_panel import span_of
from spc.drawing.theme import LABEL_PX, VALUE_PX, Theme, theme
from spc.station.views import WearStory

__all__ = ["wear_line_picture"]

Layer = dict[str, Any]
_TOP_PX, _BOTTOM_PX = 64.0, 264.0


@kept(32)
def wear_line_picture(story: WearStory, theme_name: str) -> dict[str, Any]:
    """Draw the way of a die set from new to its likeliest end.

    Parameters
    ----------
    story : WearStory
    theme_name : {"light", "dark"}

    Returns
    -------
    dict
        A Vega-Lite picture with its data inside. Dots are checks, the line is what the dies alone have made of the
        size, its band holds nine of ten; fine lines are earlier sets, laid on this set's way. Where the way ends the
        stroke of the board goes from early to late; it is broken before a set of the part has come to its end.
    """
    colours = theme(theme_name)
    axis, panel = _axis(story), _panel(story)
    name = plain_name(story.characteristic)
    moves = ", the slide moves taken out" if story.characteristic.is_set_by_slide else ""
    title = with_unit(f"{name}{moves}", story.characteristic)
    layers = [
        heading(14, title, "", colours),
        _key(story, colours),
        *_earlier(story, panel, axis, colours),
        *_end(story, panel, axis, colours),
        *_own(story, panel, axis, colours),
    ]
    about = f"wear of {story.die_set or 'the die set'} on {story.machine}: {len(story.points)} checks"
    return picture([{"layer": layers}], _BOTTOM_PX, colours, about)


def _axis(story: WearStory) -> Axis:
    """From new to a little beyond the late end, or to the longest earlier set."""
    age, left = story.age, story.left
    ahead = left.p95 if left.p95 is not None else left.p50 or 0
    lives = [points[-1][0] for points in (line.points for line in story.earlier)]
    furthest = max([1.05 * age, age + min(ahead, 3 * max(age, left.p50 or 0, 1)), *lives])
    return Axis(0.0, 1.04 * furthest, "pieces on the dies since new or reground")


def _panel(story: WearStory) -> Panel:
    shown: list[float | None] = [story.end_size, *(point.size for point in story.points)]
    shown += [each for point in story.points for each in (point.low, point.high)]
    shown += [size for line in story.earlier for _, size in line.points]
    digits = decimals_of(story.characteristic)
    low, high = span_of(shown, least=4 * 10.0**-digits)
    return Panel(_TOP_PX, _BOTTOM_PX, low, high, digits)


def _key(story: WearStory, colours: Theme) -> Layer:
    """What is what, in one line of words beside small strokes."""
    entries = [("this set", colours.size, 3.5)]
    if story.earlier:
        sets = len(story.earlier)
        entries.append(("1 earlier set" if sets == 1 else f"{sets} earlier sets", colours.quiet, 1.5))
    layers: list[Layer] = []
    x_px = 0.0
    for words, colour, wide in entries:
        stroke = {"type": "rule", "color": colour, "strokeWidth": wide}
        place = {"x": {"value": x_px}, "x2": {"value": x_px + 26}, "y": {"value": 40}}
        layers.append({"data": {"values": [{}]}, "mark": stroke, "encoding": place})
        layers.append(fixed_text(words, x_px + 34, 40, colours.quiet, VALUE_PX))
        x_px += 34 + words_px(words, VALUE_PX) * 1.06 + 28
    return {"layer": layers}


def _earlier(story: WearStory, panel: Panel, axis: Axis, colours: Theme) -> list[Layer]:
    """One fine line an earlier set; a set that was reground has one for each of its lives."""
    values = [
        {"x": age, "y": size, "life": f"{place}", "die": line.die_set}
        for place, line in enumerate(story.earlier)
        for age, size in line.points
    ]
    encoding = {
        "x": x_of(axis),
        "y": panel.y("y"),
        "detail": {"field": "life"},
        "order": {"field": "x"},
        "tooltip": [{"field": "die", "title": "die set"}],
    }
    mark = {"type": "line", "color": colours.quiet, "strokeWidth": 1.5, "opacity": 0.8}
    layer = {"name": "earlier", "data": {"values": values}, "mark": mark, "encoding": encoding}
    return [layer] if values else []


def _own(story: WearStory, panel: Panel, axis: Axis, colours: Theme) -> list[Layer]:
    x = x_of(axis)
    dots = [{"x": point.age, "y": point.size} for point in story.points]
    known = [
        {"x": point.age, "y": point.line, "low": point.low, "high": point.high}
        for point in story.points
        if point.line is not None
    ]
    area = 26 if len(dots) > 20 else 80
    dot = {"type": "point", "shape": "circle", "size": area, "fill": colours.size, "strokeWidth": 0}
    layers: list[Layer] = [
        {
            "name": "checks",
            "data": {"values": dots},
            "mark": {**dot, "opacity": 0.6},
            "encoding": {"x": x, "y": panel.y("y")},
        }
    ]
    if known:
        band = {"type": "area", "color": colours.size, "opacity": 0.22}
        line = {"type": "line", "color": colours.size, "strokeWidth": 3.5}
        along = {"x": x, "y": panel.y("y"), "order": {"field": "x"}}
        layers = [
            {
                "name": "band",
                "data": {"values": known},
                "mark": band,
                "encoding": {"x": x, "y": panel.y("low"), "y2": {"field": "high"}},
            },
            *layers,
            {"name": "wear line", "data": {"values": known}, "mark": line, "encoding": along},
        ]
    return layers


def _end(story: WearStory, panel: Panel, axis: Axis, colours: Theme) -> list[Layer]:
    """Where the way ends: a line across, and on it the pieces left from early to late."""
    y, digits = panel.at(story.end_size), panel.digits
    across = {"type": "rule", "color": colours.ink, "strokeWidth": 2.5}
    layers: list[Layer] = [
        {"name": "end", "data": {"values": [{}]}, "mark": across, "encoding": {"y": y}},
        _end_words(f"dies off at {story.end_size:.{digits}f}".replace("-", "−"), y, story, colours),
    ]
    left, age = story.left, story.age
    if left.p05 is None or left.p50 is None:
        return layers
    late = left.p95 if left.p95 is not None else axis.end
    value = {
        "x": age + left.p05,
        "to": min(age + late, axis.end),
        "middle": age + (left.p25 or left.p05),
        "middle_to": min(age + (left.p75 or late), axis.end),
        "likely": min(age + left.p50, axis.end),
    }
    is_first = not story.earlier  # before a set has come to its end, early to late is a guess
    dash = [3, 5] if is_first else [1, 0]
    strokes = (("x", "to", 3, 1.0), ("middle", "middle_to", 12, 0.55))
    for start, end, wide, opacity in strokes[: 1 if is_first else 2]:
        mark = {"type": "rule", "color": colours.size, "strokeWidth": wide, "opacity": opacity}
        mark |= {"strokeDash": dash}
        encoding = {"x": x_of(axis, start), "x2": {"field": end}, "y": y}
        layers.append({"data": {"values": [value]}, "mark": mark, "encoding": encoding})
    if is_first:
        return layers
    tick = {"type": "tick", "orient": "vertical", "color": colours.ink, "size": 26, "thickness": 4}
    likely = {"x": x_of(axis, "likely"), "y": y}
    layers.append({"name": "likely", "data": {"values": [value]}, "mark": tick, "encoding": likely})
    return layers


def _end_words(words: str, y: dict[str, Any], story: WearStory, colours: Theme) -> Layer:
    rises = story.end_size >= story.points[0].size
    mark = {
        "align": "left",
        "baseline": "top" if rises else "bottom",
        "dy": 8 if rises else -8,
        "fontSize": LABEL_PX,
    }
    encoding = {"x": {"value": 8}, "y": y, "text": {"field": "text"}}
    return {"data": {"values": [{"text": words}]}, **halo_text(mark, encoding, colours.ink, colours)}
