"""For whoever measured a lead: the trace with its mean line, the band about it and the worst stretches."""

from collections.abc import Sequence
from typing import Any

from spc.drawing.along import ROW_PX, TOP_PX, along_part, key_row
from spc.drawing.frame import heading, picture
from spc.drawing.theme import theme
from spc.geometry import DepthDeviation, Travel

__all__ = ["band_edges", "depth_picture", "trace_picture"]

_DASHED = [7, 4]
_WINDOW_MM = 300.0


def trace_picture(
    position_mm: Sequence[float],
    deviation_um: Sequence[float],
    found: Travel,
    theme_name: str,
    *,
    turns: Sequence[float] | None = None,
    name: str = "Deviation of the travel, µm",
) -> dict[str, Any]:
    """Draw a trace of travel with its lines.

    Parameters
    ----------
    position_mm, deviation_um : sequence of float
        The trace that was judged; where a changing lead was taken off, what was left of it.
    found : Travel
        From `travel`.
    theme_name : {"light", "dark"}
    turns : sequence of float, optional
        Turns at each position, where turns were judged.
    name : str
        Heading.

    Returns
    -------
    dict
        A Vega-Lite picture with its data inside. The worst 300 mm are left out where they are the whole trace.
    """
    colours = theme(theme_name)
    rows = list(zip(position_mm, deviation_um, strict=True))
    ends = rows[0][0], rows[-1][0]
    whole = band_edges(rows, found, *ends)
    along = along_part(
        [*deviation_um, *whole[0][1:], *whole[1][1:]], ends, colours, high_px=250, top_px=TOP_PX + ROW_PX
    )
    said = [("dashed: mean line", colours.ink), ("shaded: band that holds the trace", colours.quiet)]
    stretches, marked = [], []
    if ends[1] - ends[0] > _WINDOW_MM:
        edges = band_edges(rows, found, found.from_300_mm, found.to_300_mm)
        stretches.append(along.band("worst_300", edges, colours.watch, 0.2))
        marked.append(("worst 300 mm", colours.watch))
    if turns is not None and found.from_2pi_mm is not None:
        first = turns[list(position_mm).index(found.from_2pi_mm)]
        last = max(x for x, turn in zip(position_mm, turns, strict=True) if turn <= first + 1 + 1e-9)
        edges = band_edges(rows, found, found.from_2pi_mm, last)
        stretches.append(along.band("worst_turn", edges, colours.adjust, 0.45))
        marked.append((f"worst turn, from {found.from_2pi_mm:g} mm", colours.adjust))
    mean = [(x, _mean(found, x)) for x in ends]
    layers = [
        heading(12, name, "", colours),
        *key_row(said),
        *key_row(marked, row=1),
        along.band("band", whole, colours.plate, 1.0),
        *stretches,
        along.line("mean_line", mean, {"color": colours.ink, "strokeDash": _DASHED}),
        *along.readings(rows),
    ]
    about = f"travel trace of {found.n} readings, mean deviation {found.mean_deviation_um:+.2f} µm"
    return picture(layers, along.panel.bottom_px, colours, about)


def band_edges(
    rows: Sequence[tuple[float, float]], found: Travel, start: float, end: float
) -> list[tuple[float, float, float]]:
    """Return (position, lower edge, upper edge) at both ends of a stretch: the band that holds its readings."""
    rim = 1e-9 * max(abs(start), abs(end), 1.0)
    inside = [y - _mean(found, x) for x, y in rows if start - rim <= x <= end + rim]
    low, high = min(inside), max(inside)
    return [(x, _mean(found, x) + low, _mean(found, x) + high) for x in (start, end)]


def depth_picture(found: DepthDeviation, theme_name: str) -> dict[str, Any]:
    """Draw how far a groove is deeper or shallower than its table asks; deeper is drawn downwards.

    Parameters
    ----------
    found : DepthDeviation
        From `depth_deviation`.
    theme_name : {"light", "dark"}
    """
    colours = theme(theme_name)
    rows = list(zip(found.position_mm.tolist(), found.deviation_um.tolist(), strict=True))
    ends = rows[0][0], rows[-1][0]
    along = along_part([0.0, *(y for _, y in rows)], ends, colours, high_px=150, is_turned=True)
    layers = [
        heading(12, "Depth less nominal depth, µm", "", colours),
        *key_row([("dashed: as the table asks; a deeper groove is drawn lower", colours.quiet)]),
        along.line(
            "nominal", [(ends[0], 0.0), (ends[1], 0.0)], {"color": colours.ink, "strokeDash": _DASHED}
        ),
        *along.readings(rows),
    ]
    about = f"depth of a groove against its table, {found.n} readings"
    return picture(layers, along.panel.bottom_px, colours, about)


def _mean(found: Travel, position_mm: float) -> float:
    return found.intercept_um + found.slope_um_per_mm * position_mm
