"""Where a straight wire comes to rest in the groove of a thread with straight axial flanks, lead and all."""

import math

import numpy as np
from numpy.typing import NDArray

from spc.errors import Refused

__all__ = ["resting_radius_mm"]


def resting_radius_mm(
    pitch_mm: float, half_angle_rad: float, pitch_diameter_mm: float, wire_mm: float, lead_mm: float
) -> float:
    """Distance from the thread's axis to the axis of a wire pressed into the groove.

    Parameters
    ----------
    pitch_mm : float
        Axial distance from groove to groove.
    half_angle_rad : float
        Half the included angle of the thread, in the axial plane.
    pitch_diameter_mm : float
        Diameter on which groove and ridge are equally wide.
    wire_mm : float
        Diameter of the wire.
    lead_mm : float
        Axial way of one turn: pitch times starts.

    Returns
    -------
    float
        Radius of the wire's axis in mm.

    Raises
    ------
    Refused
        The wire finds no place to rest: it would touch beyond the sharp crest or root of the thread.

    Notes
    -----
    The thread's axis is z; the wire's axis crosses the x axis and is tilted by δ in the y–z plane. At a
    tilt δ the wire rests at the largest x + √(w²/4 − q²) over the points of a flank, q being a point's
    distance from the plane through x and the wire's axis. Pressed by the anvil it tilts until that height
    is least, which is where it touches both flanks at its own middle: y cos δ + z sin δ = 0. A half turn
    about x maps one flank on the other, so one flank is enough. Left in r and θ are the two conditions of
    the largest height.
    """
    from scipy.optimize import root

    lead_per_rad = lead_mm / (2 * math.pi)
    slope = math.tan(half_angle_rad)

    def flank_point(radius: float, turn: float) -> tuple[float, float, float]:
        """Return one point of the flank above the middle of the groove."""
        half_groove = pitch_mm / 4 + (radius - pitch_diameter_mm / 2) * slope
        return radius * math.cos(turn), radius * math.sin(turn), lead_per_rad * turn + half_groove

    def off_contact(unknown: NDArray[np.float64], /) -> list[float]:
        """Return how far a point is from touching: the slopes of the height, times its root."""
        turn = float(unknown[1])
        x, y, z = flank_point(float(unknown[0]), turn)
        aside = math.hypot(y, z)
        tilt = math.atan2(-y, z)
        up = math.sqrt(max((wire_mm / 2) ** 2 - aside**2, 0.0))
        along_radius = slope * math.cos(tilt) - math.sin(turn) * math.sin(tilt)
        along_turn = lead_per_rad * math.cos(tilt) - x * math.sin(tilt)
        return [up * math.cos(turn) - aside * along_radius, -up * y - aside * along_turn]

    start = first_guess(pitch_mm, half_angle_rad, pitch_diameter_mm, wire_mm, lead_mm)
    found = root(off_contact, start, tol=1e-13)
    radius, turn = float(found.x[0]), float(found.x[1])
    x, y, z = flank_point(radius, turn)
    up_squared = (wire_mm / 2) ** 2 - y * y - z * z
    touching = up_squared > 0.0 and max(map(abs, off_contact(found.x))) < 1e-9 * wire_mm
    sharp_mm = pitch_mm / 4 / slope  # from the pitch line to where the flanks would meet
    if not touching or radius <= 0.0 or abs(radius - pitch_diameter_mm / 2) > sharp_mm:
        raise Refused.one(
            "the wire finds no place in this groove: it would touch beyond the sharp crest or root",
            value=f"wire {wire_mm:g} mm, lead {lead_mm:g} mm on pitch diameter {pitch_diameter_mm:g} mm",
            do="Check pitch, angle and wire",
        )
    return x + math.sqrt(up_squared)


def first_guess(
    pitch_mm: float, half_angle_rad: float, pitch_diameter_mm: float, wire_mm: float, lead_mm: float
) -> list[float]:
    """Return radius and turn of the touching point as a groove without curvature would have them."""
    lead_angle = math.atan(lead_mm / (math.pi * pitch_diameter_mm))
    normal_half_angle = math.atan(math.tan(half_angle_rad) * math.cos(lead_angle))
    aside = wire_mm / 2 * math.cos(normal_half_angle)
    turn = -2 * aside * math.sin(lead_angle) / pitch_diameter_mm
    half_groove = aside * math.cos(lead_angle) - lead_mm / (2 * math.pi) * turn
    return [pitch_diameter_mm / 2 + (half_groove - pitch_mm / 4) / math.tan(half_angle_rad), turn]
