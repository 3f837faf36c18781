"""Where a thread starts, seen from a feature of the part: a direction, not a number."""

import math
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from spc.errors import Refused

__all__ = ["StartAngles", "angle_from", "near_nominal_deg", "start_angles"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class StartAngles:
    """Start angles of several pieces.

    Attributes
    ----------
    mean_deg : float
        Mean direction, 0 up to less than the full circle (or the part of it after which a start comes again).
    sigma_deg : float
        Standard deviation of the pieces about it, n − 1; 0 for a single piece.
    range_deg : float
        Narrowest arc that holds all pieces.
    agreement : float
        Length of the mean of unit arrows: 1 where all pieces agree, 0 where they point all round.
    deviations_deg : array of shape (n,)
        Each piece from the mean direction, shortest way, signed.
    full_circle_deg : float
        360 / starts.
    n : int
        Pieces.
    """

    mean_deg: float
    sigma_deg: float
    range_deg: float
    agreement: float
    deviations_deg: Floats
    full_circle_deg: float
    n: int


def start_angles(angle_deg: ArrayLike, *, starts: int = 1) -> StartAngles:
    """Find mean and spread of where a thread starts, without minding the jump from 360° to 0°.

    Parameters
    ----------
    angle_deg : array of shape (n,)
        Angle from the feature to the start, degrees, any turn.
    starts : int
        Starts of the thread: with k of them the same angle comes again after 360°/k.

    Returns
    -------
    StartAngles

    Raises
    ------
    Refused
        No angle, no number, or pieces that point all round, so that there is no mean direction.

    Notes
    -----
    The mean is the direction of the sum of unit arrows; the spread is taken of the shortest ways to it. For
    pieces within a few degrees both are those of ordinary arithmetic on angles that don't wrap.

    Examples
    --------
    >>> found = start_angles([359.0, 0.0, 4.0])
    >>> round(found.mean_deg, 2), round(found.range_deg, 2)
    (1.0, 5.0)
    """
    angles = np.array(angle_deg, dtype=np.float64)
    circle = 360.0 / whole(starts)
    if angles.ndim != 1 or not len(angles) or not np.isfinite(angles).all():
        raise Refused.one(
            "start angles are one number a piece", value=f"{angles.tolist()}", allowed="degrees"
        )
    turned = np.radians(angles * whole(starts))
    east, north = float(np.cos(turned).mean()), float(np.sin(turned).mean())
    agreement = math.hypot(east, north)
    if agreement < 1e-9:
        raise Refused.one(
            "these pieces start all round: there is no mean direction",
            value=", ".join(f"{angle:g}°" for angle in angles),
        )
    mean = math.degrees(math.atan2(north, east)) / starts
    deviations = shortest_way(angles - mean, circle)
    deviations.flags.writeable = False
    ordered = np.sort(np.mod(angles, circle))
    gaps = np.diff(np.append(ordered, ordered[0] + circle))
    return StartAngles(
        mean_deg=mean % circle % circle,  # a hair below 0 comes out as the full circle the first time
        sigma_deg=float(np.sqrt(deviations @ deviations / max(len(angles) - 1, 1))),
        range_deg=float(circle - gaps.max()),
        agreement=agreement,
        deviations_deg=deviations,
        full_circle_deg=circle,
        n=len(angles),
    )


def angle_from(angle_deg: float, nominal_deg: float, *, starts: int = 1) -> float:
    """Shortest way from the nominal start angle to a measured one, signed; what a plan's limits are held to.

    Examples
    --------
    >>> angle_from(1.0, 359.0)
    2.0
    >>> angle_from(179.0, 1.0, starts=2)
    -2.0
    """
    return float(shortest_way(np.array([angle_deg - nominal_deg]), 360.0 / whole(starts))[0])


def near_nominal_deg(angle_deg: Decimal, nominal_deg: Decimal, *, starts: int = 1) -> Decimal:
    """Name a direction by the angle nearest the nominal one, so that limits, means and spreads don't wrap.

    Parameters
    ----------
    angle_deg, nominal_deg : Decimal
        Degrees, any turn.
    starts : int
        With k starts the same direction comes again after 360°/k.

    Returns
    -------
    Decimal
        The same direction within half a circle (half of 360°/k) of the nominal. Whole circles are taken off
        exactly where 360/k ends after few decimals; an angle that lies near stays as it is, decimals and all.

    Examples
    --------
    >>> near_nominal_deg(Decimal("359.6"), Decimal(0)), near_nominal_deg(Decimal("0.30"), Decimal(0))
    (Decimal('-0.4'), Decimal('0.30'))
    >>> near_nominal_deg(Decimal("1.5"), Decimal("359.0"))
    Decimal('361.5')
    >>> near_nominal_deg(Decimal("239.8"), Decimal("120.0"), starts=3)
    Decimal('119.8')
    """
    circles = ((angle_deg - nominal_deg) * whole(starts) / 360).to_integral_value(ROUND_HALF_EVEN)
    return angle_deg - 360 * circles / starts if circles else angle_deg


def shortest_way(angles: Floats, circle: float) -> Floats:
    """Bring differences of directions between minus and plus half a circle."""
    return angles - circle * np.round(angles / circle)


def whole(starts: int) -> int:
    """Refuse a count of starts that is none."""
    if not starts == int(starts) >= 1:
        raise Refused.one(
            "a thread has whole starts", value=f"{starts:g}", column="starts", allowed="1 or more"
        )
    return int(starts)
