"""Straightness of a profile: the narrowest zone that holds it, and what two simpler lines say."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from spc.geometry.trace import checked_trace

__all__ = ["Straightness", "straightness"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Straightness:
    """How straight a profile is; every width is measured vertically, in µm, and is 0 or more.

    Attributes
    ----------
    minimum_zone_um : float
        Distance of the two parallel lines that hold the profile most closely.
    least_squares_um, least_squares_peak_um, least_squares_valley_um : float
        Width about the least-squares line, and its parts above and below that line.
    end_points_um : float
        Width about the line through first and last point.
    zone_slope_um_per_mm, zone_bottom_um : float
        The lower line of the minimum zone: its slope, and its height at position 0.
    n : int
        Points of the profile.
    """

    minimum_zone_um: float
    least_squares_um: float
    least_squares_peak_um: float
    least_squares_valley_um: float
    end_points_um: float
    zone_slope_um_per_mm: float
    zone_bottom_um: float
    n: int


def straightness(position_mm: ArrayLike, height_um: ArrayLike) -> Straightness:
    """Judge how straight a measured profile is.

    Parameters
    ----------
    position_mm : array of shape (n,)
        Positions along the part, strictly increasing, at least two.
    height_um : array of shape (n,)
        Heights at these positions.

    Returns
    -------
    Straightness

    Raises
    ------
    Refused
        Fewer than two points, not as many heights as positions, no number, or positions that repeat or go
        back.

    Notes
    -----
    The reference is the minimum zone where a drawing says nothing else (ISO 12780-1 for the terms; the
    default from memory). The narrowest zone is as wide as the longest vertical chord of the profile's
    convex hull, which stands on a corner of the hull; so it is exact. Widths are vertical; across the zone
    they are smaller by the cosine of its slope, 5e-9 of them at 0.1 µm per mm. The heights are taken as
    they come: filter a dense trace first.

    Examples
    --------
    >>> found = straightness([0, 1, 2, 3, 4], [0, 3, 1, 4, 2])
    >>> found.minimum_zone_um, found.least_squares_um, found.end_points_um
    (2.5, 2.5, 2.5)
    """
    x, y = checked_trace(position_mm, height_um, "profile", "height")
    zone, slope, bottom = minimum_zone(x, y)
    centred = x - x.mean()
    fitted = y.mean() + centred * (centred @ y) / (centred @ centred)
    ends = y[0] + (x - x[0]) * (y[-1] - y[0]) / (x[-1] - x[0])
    return Straightness(
        minimum_zone_um=zone,
        least_squares_um=float(np.ptp(y - fitted)),
        least_squares_peak_um=float(np.max(y - fitted)),
        least_squares_valley_um=float(np.max(fitted - y)),
        end_points_um=float(np.ptp(y - ends)),
        zone_slope_um_per_mm=slope,
        zone_bottom_um=bottom,
        n=len(x),
    )


def minimum_zone(x: Floats, y: Floats) -> tuple[float, float, float]:
    """Return the width of the narrowest zone, its slope, and the height of its lower line at position 0."""
    top, bottom = -1 * lower_hull(x, -y), lower_hull(x, y)
    top[:, 0] *= -1
    corners = np.union1d(top[:, 0], bottom[:, 0])
    chords = np.interp(corners, *top.T) - np.interp(corners, *bottom.T)
    at = corners[int(np.argmax(chords))]
    slope = max(slope_after(top, at), slope_before(bottom, at))
    above = y - slope * x
    return float(np.ptp(above)), slope, float(above.min())


def lower_hull(x: Floats, y: Floats) -> Floats:
    """Corners of the hull's lower side from left to right, shape (k, 2) (Andrew 1979)."""
    corners: list[tuple[float, float]] = []
    for right in zip(x.tolist(), y.tolist(), strict=True):
        while len(corners) > 1 and not turns_up(corners[-2], corners[-1], right):
            corners.pop()
        corners.append(right)
    return np.array(corners)


def turns_up(left: tuple[float, float], middle: tuple[float, float], right: tuple[float, float]) -> bool:
    """Tell whether the way over three points from left to right bends upwards at the middle one."""
    return (middle[0] - left[0]) * (right[1] - left[1]) > (right[0] - left[0]) * (middle[1] - left[1])


def slope_after(side: Floats, at: float) -> float:
    """Slope of a side of the hull just right of a position; at its end, lower than any."""
    after = int(np.searchsorted(side[:, 0], at, side="right"))
    return -np.inf if after == len(side) else slope_of(side[after - 1], side[after])


def slope_before(side: Floats, at: float) -> float:
    """Slope of a side of the hull just left of a position; at its beginning, lower than any."""
    after = int(np.searchsorted(side[:, 0], at, side="left"))
    return -np.inf if after == 0 else slope_of(side[after - 1], side[after])


def slope_of(left: Floats, right: Floats) -> float:
    """Slope of the line through two corners."""
    return float((right[1] - left[1]) / (right[0] - left[0]))
