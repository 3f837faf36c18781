"""For whoever measured how straight a part is: the profile within its narrowest zone, and the two simpler lines."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from spc.drawing.along import along_part, key_row
from spc.drawing.frame import heading, picture
from spc.drawing.theme import theme
from spc.geometry import Straightness

__all__ = ["profile_picture"]


def profile_picture(
    position_mm: Sequence[float], height_um: Sequence[float], found: Straightness, theme_name: str
) -> dict[str, Any]:
    """Draw a profile in its zone.

    Parameters
    ----------
    position_mm, height_um : sequence of float
        The profile that was judged.
    found : Straightness
        From `straightness`.
    theme_name : {"light", "dark"}

    Returns
    -------
    dict
        A Vega-Lite picture with its data inside: the minimum zone shaded, the least-squares line dashed, the line
        through the end points dotted.
    """
    colours = theme(theme_name)
    rows = list(zip(position_mm, height_um, strict=True))
    ends = rows[0][0], rows[-1][0]
    bottom = [found.zone_bottom_um + found.zone_slope_um_per_mm * x for x in ends]
    top = [edge + found.minimum_zone_um for edge in bottom]
    squares = np.polyval(np.polyfit(np.asarray(position_mm), np.asarray(height_um), 1), ends)
    along = along_part([*height_um, *bottom, *top], ends, colours, high_px=260)
    edge = {"color": colours.watch}
    said = [
        ("shaded: narrowest zone", colours.watch),
        ("dashed: least squares", colours.ink),
        ("dotted: end points", colours.adjust),
    ]
    layers = [
        heading(12, "Profile, µm", "", colours),
        *key_row(said),
        along.band("zone", zip(ends, bottom, top, strict=True), colours.watch, 0.14),
        along.line("zone_bottom", zip(ends, bottom, strict=True), edge),
        along.line("zone_top", zip(ends, top, strict=True), edge),
        along.line(
            "least_squares",
            zip(ends, squares, strict=True),
            {"color": colours.ink, "strokeDash": [7, 4]},
        ),
        along.line("end_points", [rows[0], rows[-1]], {"color": colours.adjust, "strokeDash": [2, 3]}),
        *along.readings(rows),
    ]
    about = f"profile of {found.n} points in a zone of {found.minimum_zone_um:.2f} µm"
    return picture(layers, along.panel.bottom_px, colours, about)
