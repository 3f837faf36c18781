"""For the quality lead: means with the limits in force, and beneath them the ranges with their limit."""

from typing import Any

from spc.drawing.checks import NOT_COUNTED, Row, check_rows, decimals_of, plain_name, with_unit
from spc.drawing.frame import Axis, Panel, heading, picture, sentence
from spc.drawing.hourly import axis_of
from spc.drawing.kept import kept
from spc.drawing.marks_key import marks_key
from spc.drawing.size_panel import limits_layers, marks_layers, span_of
from spc.drawing.theme import Theme, theme
from spc.shop import Characteristic
from spc.station.views import CharacteristicHistory

__all__ = ["xbar_r_picture"]

Layer = dict[str, Any]
_TOP_PX, _MEANS_PX, _BETWEEN_PX, _RANGES_PX = 56.0, 260.0, 52.0, 140.0


@kept(64)
def xbar_r_picture(history: CharacteristicHistory, theme_name: str) -> dict[str, Any]:
    """Draw the chart of means and ranges of one characteristic on one machine.

    Parameters
    ----------
    history : CharacteristicHistory
        With the limits that stood when each check was judged.
    theme_name : {"light", "dark"}

    Returns
    -------
    dict
        A Vega-Lite picture with its data inside. The tolerance is left out on purpose: it says what one piece
        may be, and means are not pieces. With one piece a check there is no range, and a sentence says so.
    """
    colours, rows, axis = theme(theme_name), check_rows(history), axis_of(history)
    name = plain_name(history.characteristic)
    if not rows:
        return picture([sentence(16, [f"No check of {name} yet."], colours)], 32, colours, name)
    means = _means(rows, history.characteristic, axis, colours)
    ranges, bottom = _ranges(rows, history.characteristic, axis, colours)
    about = f"means and ranges of {name} on {history.machine}: {len(history.points)} checks"
    return picture([{"layer": means}, {"layer": ranges}], bottom, colours, about)


def _means(rows: list[Row], characteristic: Characteristic, axis: Axis, colours: Theme) -> list[Layer]:
    panel = _panel(rows, ("y", "lower", "upper"), _TOP_PX, _MEANS_PX, characteristic)
    singles = all(row["n"] == "1" for row in rows)
    words = plain_name(characteristic) + (", one piece a check" if singles else ", mean of the pieces")
    return [
        marks_key(12, [{**row, "n": "1"} for row in rows], colours),
        heading(_TOP_PX - 16, with_unit(words, characteristic), "", colours),
        *limits_layers(rows, ("lower", "centre", "upper"), panel, axis, colours),
        *marks_layers(rows, "y", panel, axis, colours),
    ]


def _ranges(
    rows: list[Row], characteristic: Characteristic, axis: Axis, colours: Theme
) -> tuple[list[Layer], float]:
    top = _TOP_PX + _MEANS_PX + _BETWEEN_PX
    several = [row for row in rows if row["n"] != "1"]
    if not several:
        line = "One piece a check has no range; its spread is judged from check to check."
        return [sentence(top - 16, [line], colours)], top
    panel = _panel(several, ("range", "spread_upper"), top, _RANGES_PX, characteristic, floor=0.0)
    head = heading(top - 16, with_unit("range of the pieces", characteristic), "", colours)
    limits = limits_layers(several, ("spread_upper",), panel, axis, colours)
    return [head, *limits, *marks_layers(several, "range", panel, axis, colours)], panel.bottom_px


def _panel(
    rows: list[Row],
    fields: tuple[str, ...],
    top: float,
    height: float,
    characteristic: Characteristic,
    floor: float | None = None,
) -> Panel:
    believed = [row for row in rows if row["look"] not in NOT_COUNTED] or rows
    digits = decimals_of(characteristic)
    values = [row[field] for row in believed for field in fields]
    low, high = span_of(values, least=4 * 10.0**-digits, air=0.16)
    return Panel(top, top + height, low if floor is None else floor, high, digits)
