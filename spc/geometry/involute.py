"""The involute function and its inverse, good to the last digits for every angle a flank can have."""

import math

from spc.errors import Refused

__all__ = ["involute", "inverse_involute"]

SMALL = 0.03  # below it tan x − x loses digits and its series is exact to the last one


def involute(angle_rad: float) -> float:
    """Polar angle of an involute at a pressure angle: inv x = tan x − x.

    Parameters
    ----------
    angle_rad : float
        Pressure angle in radians, 0 ≤ angle < π/2.

    Returns
    -------
    float
        The polar angle in radians.

    Raises
    ------
    Refused
        The angle is no pressure angle: negative, a right angle or more, or not a number.

    Examples
    --------
    >>> round(involute(math.radians(20.0)), 13)
    0.0149043838673
    """
    if not 0.0 <= angle_rad < math.pi / 2:
        raise Refused.one(
            "this is no pressure angle of a flank",
            value=f"{math.degrees(angle_rad):g}°",
            allowed="0° up to less than 90°",
        )
    if angle_rad > SMALL:
        return math.tan(angle_rad) - angle_rad
    square = angle_rad * angle_rad
    series = 1 / 3 + square * (2 / 15 + square * (17 / 315 + square * (62 / 2835 + square * 1382 / 155925)))
    return angle_rad * square * series


def inverse_involute(polar_rad: float) -> float:
    """Pressure angle whose involute is `polar_rad`.

    Parameters
    ----------
    polar_rad : float
        tan x − x in radians, 0 or more.

    Returns
    -------
    float
        The pressure angle x in radians, 0 ≤ x ≤ π/2.

    Raises
    ------
    Refused
        The argument is negative or not a number: no involute goes through such a point.

    Notes
    -----
    Solved in t = tan x, where t − atan t is convex for t > 0: after its first step Newton's method comes down
    to the root from above and cannot miss it, whatever the argument. It starts at the cube root that is exact
    for small arguments, and at y + π/2, which no root exceeds, for large ones.

    Examples
    --------
    >>> round(math.degrees(inverse_involute(2.0)), 10)
    73.0173209715
    """
    if not 0.0 <= polar_rad < math.inf:
        raise Refused.one(
            "no involute flank goes through this point: its involute is negative or no number",
            value=f"{polar_rad:g}",
            allowed="0 or more",
        )
    if polar_rad == 0.0:
        return 0.0
    tangent = math.cbrt(3.0 * polar_rad) if polar_rad < 1.0 else polar_rad + math.pi / 2
    for _ in range(60):
        step = (unrolled(tangent) - polar_rad) * (1.0 + tangent**-2)
        tangent -= step
        if abs(step) <= 4e-16 * tangent:
            break
    return math.atan(tangent)


def unrolled(tangent: float) -> float:
    """Return t − atan t without losing digits for small t."""
    if tangent > SMALL:
        return tangent - math.atan(tangent)
    square = tangent * tangent
    return tangent * square * (1 / 3 - square * (1 / 5 - square * (1 / 7 - square * (1 / 9 - square / 11))))
