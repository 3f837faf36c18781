"""Ball grooves over balls: round or gothic, straight along the part or as a screw."""

import math
from dataclasses import dataclass

from spc.errors import Refusal, Refused

__all__ = ["BallGroove", "OverBalls", "over_balls", "groove_from_over_balls"]


@dataclass(frozen=True, slots=True)
class BallGroove:
    """A groove whose section is one or two circular arcs, all around a shaft or tube.

    Attributes
    ----------
    arc_radius_mm : float
        Radius of the arcs of the section across the groove.
    arc_offset_mm : float
        Distance of each arc's centre from the middle of the groove, beyond it: 0 for a round groove, above 0
        for a gothic one.
    centre_diameter_mm : float
        Diameter on which the arcs' centres lie.
    lead_mm : float or None
        Lead of a screw groove; None for straight grooves.
    grooves : int
        Straight grooves around the part (an odd count is gauged over the most opposite ones); for a screw its
        starts.

    Raises
    ------
    Refused
        The numbers describe no groove; all of them are named at once.
    """

    arc_radius_mm: float
    arc_offset_mm: float
    centre_diameter_mm: float
    lead_mm: float | None = None
    grooves: int = 2

    def __post_init__(self) -> None:
        """Refuse numbers that describe no groove."""
        radius, lead, screw = self.arc_radius_mm, self.lead_mm, self.lead_mm is not None
        fewest = 1 if screw else 2
        checks = [
            ("arc radius", radius, 0.0 < radius < math.inf, "above 0 mm"),
            ("arc offset", self.arc_offset_mm, 0.0 <= self.arc_offset_mm < radius, "0 to the arc radius"),
            (
                "centre diameter",
                self.centre_diameter_mm,
                self.centre_diameter_mm > 2 * radius,
                "above two radii",
            ),
            ("lead", lead or 0.0, lead is None or 0.0 < lead < math.inf, "above 0 mm"),
            (
                "grooves",
                self.grooves,
                self.grooves == int(self.grooves) >= fewest,
                f"whole, {fewest} or more",
            ),
        ]
        said = [
            Refusal(
                f"this is no ball groove: {name} is outside its range",
                f"{value:g}",
                column=name,
                allowed=domain,
            )
            for name, value, allowed, domain in checks
            if not allowed
        ]
        if said:
            raise Refused(said)

    @property
    def opposite_share(self) -> float:
        """Share of the balls' distance that a gauge sees: cos(90°/z) for an odd count of straight grooves."""
        straight_odd = self.lead_mm is None and self.grooves % 2 == 1
        return math.cos(math.pi / (2 * self.grooves)) if straight_odd else 1.0


@dataclass(frozen=True, slots=True)
class OverBalls:
    """A size over two balls and the groove it stands for.

    Attributes
    ----------
    over_ball_mm : float
        Size over the balls.
    ball_mm : float
        Diameter of the balls.
    ball_circle_mm : float
        Diameter on which the balls' centres lie.
    contact_angle_deg : float
        Angle of the touching points, from the bottom of the groove; 0 where the ball lies on the bottom.
    groove_bottom_mm : float
        Diameter over the bottom of the groove.
    centre_diameter_mm : float
        Diameter on which the arcs' centres lie.
    change_factor : float
        Millimetres more over the balls per millimetre of `centre_diameter_mm`.
    """

    over_ball_mm: float
    ball_mm: float
    ball_circle_mm: float
    contact_angle_deg: float
    groove_bottom_mm: float
    centre_diameter_mm: float
    change_factor: float


def over_balls(groove: BallGroove, ball_mm: float) -> OverBalls:
    """Work out what the gauge shows over two balls in this groove.

    Parameters
    ----------
    groove : BallGroove
    ball_mm : float
        Diameter of the balls, above 0 and below twice the arc radius.

    Returns
    -------
    OverBalls

    Raises
    ------
    Refused
        The ball is as wide as the arcs, or so wide in a gothic groove that it touches no arc within a quarter
        turn, only the edges.

    Notes
    -----
    The groove is the way of a ball of the arc's radius along each line of arc centres, so a gauge ball rests
    where its centre is (arc radius − ball radius) from both lines. Straight: √((r − r_b)² − e²) further in than
    the arcs' centres, e the offset. As a screw the nearest point of the line of centres is searched out, lead
    and all; a size over two balls of a screw is taken across the axis. Own derivation.

    Examples
    --------
    >>> groove = BallGroove(arc_radius_mm=2.0, arc_offset_mm=0.15, centre_diameter_mm=31.0)
    >>> found = over_balls(groove, ball_mm=3.6)
    >>> round(found.over_ball_mm, 4), round(found.contact_angle_deg, 2)
    (34.3354, 48.59)
    """
    apart = groove.arc_radius_mm - ball_mm / 2
    if not 0.0 < ball_mm < math.inf or apart <= groove.arc_offset_mm:
        widest = 2 * (groove.arc_radius_mm - groove.arc_offset_mm)
        raise Refused.one(
            "this ball touches no flank of the groove: it would ride on the edges",
            value=f"{ball_mm:g} mm",
            column="ball",
            allowed=f"above 0 and below {widest:.3f} mm",
        )
    circle, share = 2 * ball_radius_mm(groove, apart), groove.opposite_share
    sink = math.sqrt(groove.arc_radius_mm**2 - groove.arc_offset_mm**2)
    return OverBalls(
        over_ball_mm=circle * share + ball_mm,
        ball_mm=ball_mm,
        ball_circle_mm=circle,
        contact_angle_deg=math.degrees(math.asin(groove.arc_offset_mm / apart)),
        groove_bottom_mm=groove.centre_diameter_mm - 2 * sink,
        centre_diameter_mm=groove.centre_diameter_mm,
        change_factor=share,
    )


def groove_from_over_balls(groove: BallGroove, over_ball_mm: float, ball_mm: float) -> OverBalls:
    """Work out where the arcs of a groove lie from a reading over two balls.

    Parameters
    ----------
    groove : BallGroove
        Section and lead; its own centre diameter is only where the search starts.
    over_ball_mm : float
        Reading over the balls.
    ball_mm : float
        Diameter of the balls.

    Returns
    -------
    OverBalls
        With the centre diameter and the diameter over the bottom that give this reading.

    Raises
    ------
    Refused
        As `over_balls`; and a reading that leaves no groove around the axis.

    Examples
    --------
    >>> groove = BallGroove(arc_radius_mm=2.0, arc_offset_mm=0.15, centre_diameter_mm=31.0)
    >>> round(groove_from_over_balls(groove, 34.3354, ball_mm=3.6).centre_diameter_mm, 4)
    31.0
    """
    found = over_balls(groove, ball_mm)
    for _ in range(60):
        off = (over_ball_mm - found.over_ball_mm) / found.change_factor
        diameter = found.centre_diameter_mm + off
        if not diameter > 2 * groove.arc_radius_mm:
            raise Refused.one(
                "this reading leaves no groove around the axis: the balls alone are too wide",
                value=f"{over_ball_mm:g} mm over {ball_mm:g} mm balls",
                do="Check the balls and the groove's section",
            )
        moved = BallGroove(
            groove.arc_radius_mm, groove.arc_offset_mm, diameter, groove.lead_mm, groove.grooves
        )
        found = over_balls(moved, ball_mm)
        if abs(off) < 1e-12 * over_ball_mm:
            break
    return found


def ball_radius_mm(groove: BallGroove, apart_mm: float) -> float:
    """Distance of a resting ball's centre from the axis."""
    from scipy.optimize import brentq

    centres = groove.centre_diameter_mm / 2
    if groove.lead_mm is None:
        return centres - math.sqrt(apart_mm**2 - groove.arc_offset_mm**2)
    per_rad = groove.lead_mm / (2 * math.pi)
    along = groove.arc_offset_mm * math.hypot(1.0, per_rad / centres)  # the offset is across the groove
    low, high = centres - 1.5 * apart_mm, centres

    def too_far(radius: float) -> float:
        return nearest_mm(radius, centres, per_rad, along) - apart_mm

    return float(brentq(too_far, max(low, centres / 2), high, xtol=1e-13))


def nearest_mm(radius: float, centres: float, per_rad: float, along: float) -> float:
    """Distance of a point from the screw line of the arcs' centres, `along` the axis from it."""
    from scipy.optimize import brentq

    def slope(turn: float) -> float:
        return radius * centres * math.sin(turn) + per_rad * (along + per_rad * turn)

    reach = 1.1 * along * per_rad / (per_rad**2 + radius * centres * 0.6) + 1e-9
    turn = float(brentq(slope, -reach, 1e-9, xtol=1e-15))
    across = centres**2 + radius**2 - 2 * centres * radius * math.cos(turn)
    return math.sqrt(across + (along + per_rad * turn) ** 2)
