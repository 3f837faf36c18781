"""For the pictures of checks: one line above them that says what each mark on them means."""

from typing import Any

from spc.drawing.checks import Row
from spc.drawing.frame import words_px
from spc.drawing.theme import LOOKS, VALUE_PX, Look, Theme, look_stroke

__all__ = ["marks_key"]


def marks_key(y_px: float, rows: list[Row], colours: Theme) -> dict[str, Any]:
    """Return the key: only the marks that occur, the plain one first."""
    layers: list[dict[str, Any]] = []
    x_px = 8.0
    if any(row["n"] != "1" for row in rows):
        layers += _entry(x_px, y_px, "piece", None, colours)
        x_px += 20 + words_px("piece", VALUE_PX) + 18
    for name, look in LOOKS.items():
        if any(row["look"] == name for row in rows):
            layers += _entry(x_px, y_px, look.word, look, colours)
            x_px += 20 + words_px(look.word, VALUE_PX) + 18
    return {"layer": layers}


def _entry(x_px: float, y_px: float, word: str, look: Look | None, colours: Theme) -> list[dict[str, Any]]:
    place = {"x": {"value": x_px}, "y": {"value": y_px}}
    mark: dict[str, Any] = {
        "type": "point",
        "shape": "stroke",
        "size": 150,
        "stroke": colours.size,
        "opacity": 0.6,
    }
    if look is not None:
        mark = {"type": "point", "shape": look.path, "size": min(look.area_px, 150), "opacity": 1}
        mark |= look_stroke(look, colours)
    text = {
        "type": "text", "text": word, "align": "left", "baseline": "middle", "dx": 14, "fontSize": VALUE_PX,
        "color": colours.quiet,
    }  # fmt: skip
    return [{"data": {"values": [{}]}, "mark": shown, "encoding": place} for shown in (mark, text)]
