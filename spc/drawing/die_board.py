"""For the supervisor: how many pieces each machine's die set still has, as early, likely and late."""

from typing import Any

from spc.drawing.frame import SCHEMA, fixed_text, sentence
from spc.drawing.kept import kept
from spc.drawing.theme import LABEL_PX, TITLE_PX, VALUE_PX, Theme, theme, vega_config, verdict_look
from spc.shop import PiecesLeft
from spc.shop.layouts import VERDICTS
from spc.shop.two_digits import two_digits
from spc.station.die_words import clock_span, on_the_clock
from spc.station.views import DieBoardRow

__all__ = ["pieces_left_picture"]

Layer = dict[str, Any]
_ROW_PX, _LINE_PX, _LEFT_PX, _INFEED_PX = 106.0, 22.0, 290.0, 200.0
_UNKNOWN = "not enough known yet: about 2,000 to 25,000"


def pieces_left_picture(rows: tuple[DieBoardRow, ...], theme_name: str) -> dict[str, Any]:
    """Draw one line a machine: the die set, its age, the infeed it used, and the pieces it has left.

    Parameters
    ----------
    rows : tuple of DieBoardRow
        In the order to be shown.
    theme_name : {"light", "dark"}

    Returns
    -------
    dict
        A Vega-Lite picture with its data inside. The thin stroke goes from early to late (9 of 10), the thick
        one holds the middle half, the upright is the likely number. Without a finished die set of the part
        the stroke is broken and the words say that not enough is known yet.
    """
    return _drawn(tuple(rows), theme_name)


@kept(32)
def _drawn(rows: tuple[DieBoardRow, ...], theme_name: str) -> dict[str, Any]:
    colours = theme(theme_name)
    if not rows:
        return _picture([sentence(16, ["No die set is mounted."], colours)], 32, colours, "die board")
    x = _x(rows)
    layers: list[Layer] = []
    top_px = 0.0
    for row in rows:
        told = _told(row, x["scale"]["domain"][1])
        layers += _row(told, top_px, x, colours)
        top_px += _ROW_PX + (_LINE_PX if told["change"] else 0.0)
    return _picture(layers, top_px, colours, f"pieces left on {len(rows)} machines")


def _picture(layers: list[Layer], height_px: float, colours: Theme, description: str) -> dict[str, Any]:
    return {
        "$schema": SCHEMA, "description": description, "width": 1000, "height": height_px, "layer": layers,
        "autosize": {"type": "fit-x", "contains": "padding"},
        "padding": {"left": 4, "right": 24, "top": 6, "bottom": 6}, "config": vega_config(colours),
    }  # fmt: skip


def _x(rows: tuple[DieBoardRow, ...]) -> dict[str, Any]:
    sure = [row for row in rows if row.finished_sets > 0] or rows
    ends = [end for row in sure if row.life is not None for end in _known(row.life.pieces_left)]
    end = max(ends, default=25_000) * 1.08 or 1.0
    axis = {"format": ",.0f", "tickCount": 6, "grid": True, "orient": "bottom"}
    scale = {"domain": [0, end], "range": [_LEFT_PX, {"expr": "width"}], "nice": False}
    return {"field": "x", "type": "quantitative", "title": "pieces left", "scale": scale, "axis": axis}


def _known(left: PiecesLeft) -> list[int]:
    return [pieces for pieces in (left.p05, left.p25, left.p50, left.p75, left.p95) if pieces is not None]


def _told(row: DieBoardRow, end: float) -> dict[str, Any]:
    left = row.life.pieces_left if row.life is not None else None
    age = "" if row.age is None else f", {row.age:,} pieces old"
    used, travel = (row.life.correction_used_mm, row.life.correction_travel_mm) if row.life else (None, None)
    of_travel = "" if travel is None else f" of {travel:.3f}"
    infeed = (
        "" if row.infeed_left_mm is None else f"infeed left {max(row.infeed_left_mm, 0.0):.3f}{of_travel} mm"
    )
    return {
        "machine": f"{row.machine} · {row.part}",
        "die": "no die set mounted" if row.die_set is None else f"die set {row.die_set}{age}",
        "infeed": infeed,
        "share": None if used is None or not travel else min(max(1 - used / travel, 0.0), 1.0),
        "verdict": row.verdict,
        "is_first_set": row.finished_sets == 0,
        "reach": _reach(left, end),
        "words": _pieces_words(row, left),
        "clock": _clock_words(row),
        "change": _change_words(row),
    }


def _reach(left: PiecesLeft | None, end: float) -> dict[str, float] | None:
    """Return the stroke's ends; where no end can be seen, or only beyond the sure ones, it runs to the edge."""
    if left is None or not _known(left):
        return None
    early = left.p05 if left.p05 is not None else _known(left)[0]
    reach = {
        "p05": early,
        "p25": left.p25 if left.p25 is not None else early,
        "p50": left.p50 if left.p50 is not None else end,
        "p75": left.p75 if left.p75 is not None else end,
        "p95": left.p95 if left.p95 is not None else end,
    }
    return {name: min(pieces, end) for name, pieces in reach.items()}


def _pieces_words(row: DieBoardRow, left: PiecesLeft | None) -> str:
    if row.die_set is None:
        return ""
    if left is None or not _known(left):
        return _UNKNOWN if row.finished_sets == 0 else "no end in sight"
    early = "?" if left.p05 is None else two_digits(left.p05)
    late = "no end in sight" if left.p95 is None else two_digits(left.p95)
    if row.finished_sets == 0:
        return f"not enough known yet: about {early} to {late}"
    likely = "no end in sight" if left.p50 is None else two_digits(left.p50)
    return f"early {early} · likely {likely} · late {late}"


def _clock_words(row: DieBoardRow) -> str:
    """Say when that is, where enough is known; it runs round the clock from the last check on."""
    if row.hours is None or row.last_check is None or row.finished_sets == 0:
        return ""
    return clock_span(row.hours, row.last_check, row.zone)


def _change_words(row: DieBoardRow) -> str:
    """Say the moment at which a change costs least, where the plan's costs let it be weighed."""
    change = row.change
    if change is None or row.last_check is None:
        return ""
    rule = next(each for each in change.advice.rules if each.rule == change.advice.by)
    if rule.pieces is None or change.at is None:
        return "run to the end: no earlier change is cheaper"
    if rule.pieces == 0:
        return "change now: cheapest"
    at = on_the_clock(change.at, row.zone, row.last_check)
    if change.is_past:
        return f"change due since {at} if it ran on: check"
    return f"change by {at}: cheapest"


def _row(told: dict[str, Any], top_px: float, x: dict[str, Any], colours: Theme) -> list[Layer]:
    layers = [
        fixed_text(told["machine"], 40, top_px + 18, colours.ink, TITLE_PX, weight="bold"),
        fixed_text(told["die"], 40, top_px + 42, colours.ink, LABEL_PX),
        fixed_text(told["words"], _LEFT_PX + 4, top_px + 18, colours.ink, LABEL_PX, weight="bold"),
        *(
            [fixed_text(told["clock"], _LEFT_PX + 4, top_px + 82, colours.ink, LABEL_PX)]
            if told["clock"]
            else []
        ),
        *(
            [fixed_text(told["change"], _LEFT_PX + 4, top_px + 104, colours.adjust, LABEL_PX, weight="bold")]
            if told["change"]
            else []
        ),
        *_verdict(told["verdict"], top_px + 18, colours),
        *_infeed(told, top_px + 64, colours),
    ]
    if told["reach"] is not None:
        layers += _stroke(told, top_px + 50, x, colours)
    return layers


def _verdict(verdict: str, y_px: float, colours: Theme) -> list[Layer]:
    if verdict not in VERDICTS:
        return []
    look = verdict_look(verdict, colours.name)
    mark = {
        "type": "point", "shape": look.path, "size": 480, "fill": look.colour, "stroke": look.colour,
        "strokeWidth": 0, "opacity": 1,
    }  # fmt: skip
    encoding = {"x": {"value": 18}, "y": {"value": y_px}}
    return [{"data": {"values": [{}]}, "mark": mark, "encoding": encoding}]


def _infeed(told: dict[str, Any], y_px: float, colours: Theme) -> list[Layer]:
    """Return what the slide may still go deeper: words, and a bar that empties."""
    if not told["infeed"]:
        return []
    words = fixed_text(told["infeed"], 40, y_px, colours.quiet, VALUE_PX)
    if told["share"] is None:
        return [words]
    ends = ((_INFEED_PX, colours.faint), (_INFEED_PX * told["share"], colours.adjust))
    bars = [
        {
            "data": {"values": [{}]},
            "mark": {"type": "rule", "color": colour, "strokeWidth": 5},
            "encoding": {"x": {"value": 40}, "x2": {"value": 40 + px}, "y": {"value": y_px + 14}},
        }
        for px, colour in ends
        if px > 0
    ]
    return [words, *bars]


def _stroke(told: dict[str, Any], y_px: float, x: dict[str, Any], colours: Theme) -> list[Layer]:
    """Return early to late as a thin stroke, the middle half as a thick one, and the likely number upright."""
    reach, first = told["reach"], told["is_first_set"]
    data = {"data": {"values": [{"x": reach["p05"], "to": reach["p95"]}]}}
    encoding = {"x": x, "x2": {"field": "to"}, "y": {"value": y_px}}
    thin = {
        "type": "rule",
        "color": colours.size,
        "strokeWidth": 3,
        "strokeDash": [3, 5] if first else [1, 0],
    }
    layers: list[Layer] = [{**data, "mark": thin, "encoding": encoding}]
    if first:
        return layers
    middle = {"data": {"values": [{"x": reach["p25"], "to": reach["p75"]}]}}
    thick = {"type": "rule", "color": colours.size, "strokeWidth": 14, "opacity": 0.55}
    upright = {"type": "tick", "orient": "vertical", "color": colours.ink, "size": 30, "thickness": 4}
    upright |= {"opacity": 1}
    likely = {"data": {"values": [{"x": reach["p50"]}]}}
    layers += [
        {**middle, "mark": thick, "encoding": encoding},
        {**likely, "mark": upright, "encoding": {"x": x, "y": {"value": y_px}}},
    ]
    return layers
