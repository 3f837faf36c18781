"""For drawings of a part to scale: one scale for both directions, points in mm, strokes in the house's colours."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise

from spc.drawing.theme import FONT, LABEL_PX, VALUE_PX, Theme

__all__ = ["Point", "Sketch", "View", "nearest_point"]

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class View:
    """A window of a sketch.

    Attributes
    ----------
    left_px, top_px, width_px, height_px : float
        Where it stands.
    middle_mm : (float, float)
        What stands in its middle; y counts upwards.
    per_mm : float
        Pixels a millimetre, both ways.
    """

    left_px: float
    top_px: float
    width_px: float
    height_px: float
    middle_mm: Point
    per_mm: float

    def px(self, point: Point) -> Point:
        """Return where a point of the part stands."""
        x = self.left_px + self.width_px / 2 + (point[0] - self.middle_mm[0]) * self.per_mm
        y = self.top_px + self.height_px / 2 - (point[1] - self.middle_mm[1]) * self.per_mm
        return x, y


class Sketch:
    """Strokes, circles and words, in the order in which they were drawn.

    Parameters
    ----------
    width_px, height_px : int
    colours : Theme
    about : str
        What it shows, for whoever cannot see it.
    """

    def __init__(self, width_px: int, height_px: int, colours: Theme, about: str) -> None:
        self.width_px, self.height_px, self.colours, self.about = width_px, height_px, colours, about
        self._parts: list[str] = []
        self._windows: list[View] = []

    def stroke(
        self,
        view: View,
        points: Sequence[Point],
        colour: str,
        width_px: float = 1.5,
        *,
        dash: str = "",
        fill: str = "none",
    ) -> None:
        """Draw a line through points of the part; with a fill, the area within."""
        shown = " ".join(f"{x:.2f},{y:.2f}" for x, y in map(view.px, points))
        self._add(view, f'<polyline points="{shown}" {_pen(colour, width_px, dash, fill)}/>')

    def ellipse(
        self,
        view: View,
        centre: Point,
        radius_mm: float,
        colour: str,
        width_px: float = 1.5,
        *,
        stretch: float = 1.0,
        dash: str = "",
        fill: str = "none",
    ) -> None:
        """Draw a circle of the part, or one that stands `stretch` times as wide as high."""
        x, y = view.px(centre)
        high = radius_mm * view.per_mm
        shape = f'cx="{x:.2f}" cy="{y:.2f}" rx="{high * stretch:.2f}" ry="{high:.2f}"'
        self._add(view, f"<ellipse {shape} {_pen(colour, width_px, dash, fill)}/>")

    def dot(self, view: View, point: Point, colour: str) -> None:
        """Mark one point with a rim in the ground's colour."""
        x, y = view.px(point)
        pen = _pen(self.colours.ground, 1.5, "", colour)
        self._add(view, f'<circle cx="{x:.2f}" cy="{y:.2f}" r="4.5" {pen}/>')

    def upright(self, view: View, x_mm: float, low_mm: float, high_mm: float, says: str) -> None:
        """Draw a measured size upright, an arrow at both ends, and say it beside, turned along it."""
        (x, bottom), (_, top) = view.px((x_mm, low_mm)), view.px((x_mm, high_mm))
        ink = self.colours.ink
        heads = f"M{x - 4:.1f},{top + 9:.1f}L{x:.1f},{top:.1f}L{x + 4:.1f},{top + 9:.1f}"
        heads += f"M{x - 4:.1f},{bottom - 9:.1f}L{x:.1f},{bottom:.1f}L{x + 4:.1f},{bottom - 9:.1f}"
        path = f"M{x:.1f},{top:.1f}L{x:.1f},{bottom:.1f}{heads}"
        self._parts.append(f'<path d="{path}" {_pen(ink, 1.4, "", "none")}/>')
        middle = (top + bottom) / 2
        turned = f'transform="rotate(-90 {x - 8:.1f} {middle:.1f})"'
        self._parts.append(
            f'<text x="{x - 8:.1f}" y="{middle:.1f}" text-anchor="middle" font-size="{LABEL_PX}" '
            f'font-weight="600" fill="{ink}" {turned}>{escape(says)}</text>'
        )

    def words(self, x_px: float, y_px: float, says: str, *, colour: str = "", anchor: str = "start") -> None:
        """Write words at a fixed place."""
        fill = colour or self.colours.ink
        self._parts.append(
            f'<text x="{x_px:.1f}" y="{y_px:.1f}" font-size="{VALUE_PX}" fill="{fill}" '
            f'text-anchor="{anchor}" dominant-baseline="middle">{escape(says)}</text>'
        )

    def key(self, left_px: float, top_px: float, lines: Sequence[tuple[str, str, str]]) -> None:
        """Explain strokes below a picture: (shape: line, dash, dot or ring; colour; words), one a line."""
        for place, (shape, colour, says) in enumerate(lines):
            x, y = left_px + 11, top_px + 22 * place
            if shape == "dot":
                self._parts.append(f'<circle cx="{x}" cy="{y}" r="4.5" {_pen("none", 0, "", colour)}/>')
            elif shape == "ring":
                self._parts.append(f'<circle cx="{x}" cy="{y}" r="6.5" {_pen(colour, 2.0, "", "none")}/>')
            else:
                dash = "5 4" if shape == "dash" else ""
                pen = _pen(colour, 1.5 if dash else 3.5, dash, "none")
                self._parts.append(f'<path d="M{x - 11},{y}h22" {pen}/>')
            self.words(x + 19, y, says)

    def svg(self) -> str:
        """Return the sketch as SVG text that stands alone."""
        clips = "".join(
            f'<clipPath id="w{place}"><rect x="{view.left_px}" y="{view.top_px}" width="{view.width_px}" '
            f'height="{view.height_px}"/></clipPath>'
            for place, view in enumerate(self._windows)
        )
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width_px} {self.height_px}" '
            f'width="{self.width_px}" height="{self.height_px}" role="img" font-family="{FONT}">'
            f"<title>{escape(self.about)}</title><defs>{clips}</defs>"
            f'<rect width="100%" height="100%" fill="{self.colours.ground}"/>{"".join(self._parts)}</svg>'
        )

    def _add(self, view: View, drawn: str) -> None:
        if view not in self._windows:
            self._windows.append(view)
        self._parts.append(f'<g clip-path="url(#w{self._windows.index(view)})">{drawn}</g>')


def nearest_point(to: Point, line: Sequence[Point]) -> Point:
    """Return the point of a line through points that lies nearest to another.

    Examples
    --------
    >>> nearest_point((1.0, 2.0), [(0.0, 0.0), (4.0, 0.0)])
    (1.0, 0.0)
    """
    found, least = line[0], float("inf")
    for (ax, ay), (bx, by) in pairwise(line):
        along = (bx - ax) ** 2 + (by - ay) ** 2
        share = 0.0 if along == 0.0 else ((to[0] - ax) * (bx - ax) + (to[1] - ay) * (by - ay)) / along
        share = min(max(share, 0.0), 1.0)
        point = (ax + share * (bx - ax), ay + share * (by - ay))
        off = (point[0] - to[0]) ** 2 + (point[1] - to[1]) ** 2
        if off < least:
            found, least = point, off
    return found


def _pen(colour: str, width_px: float, dash: str, fill: str) -> str:
    pen = f'stroke="{colour}" stroke-width="{width_px:g}" fill="{fill}" stroke-linejoin="round"'
    return f'{pen} stroke-dasharray="{dash}"' if dash else pen
