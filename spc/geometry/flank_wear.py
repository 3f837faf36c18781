"""What wear of the die flanks does to a reading: sizes taken on flanks are magnifiers of it."""

import math
from dataclasses import dataclass

from spc.errors import Refused
from spc.geometry.ball_groove import OverBalls
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.over_pins import OverPins

__all__ = ["FlankWear", "wear_over_balls", "wear_over_pins", "wear_over_wires"]


@dataclass(frozen=True, slots=True)
class FlankWear:
    """What wear of both die flanks, each along its normal, does to a reading.

    Attributes
    ----------
    change_um : float
        Change of the reading; a worn die leaves the part thicker, so it grows.
    per_wear : float
        µm of reading per µm of wear of each flank.
    hidden_per_slide : float
        µm of wear of each flank that one µm of slide covers up: the reading is back, the flank isn't.
    """

    change_um: float
    per_wear: float
    hidden_per_slide: float


def wear_over_pins(teeth: InvoluteTeeth, found: OverPins, wear_um: float) -> FlankWear:
    """Change over pins by wear of the die flanks: 2 / (sin φ cos β_b) of it, φ the angle at the pin.

    Parameters
    ----------
    teeth : InvoluteTeeth
    found : OverPins
        The size over pins, with its angle.
    wear_um : float
        Wear of each flank along its normal, 0 or more.

    Raises
    ------
    Refused
        A wear below 0.

    Examples
    --------
    >>> from spc.geometry import over_pins
    >>> teeth = InvoluteTeeth(module_mm=2.0, teeth=25, pressure_angle_deg=30.0)
    >>> found = over_pins(teeth, teeth.thickness_mm(), pin_mm=3.75)
    >>> round(wear_over_pins(teeth, found, wear_um=1.0).change_um, 2)
    3.61
    """
    slope = math.sin(math.radians(found.pin_angle_deg)) * teeth.base_helix_cosine
    return worn(wear_um, 2 * teeth.opposite_share / slope, found.slide_gain)


def wear_over_wires(included_angle_deg: float, wear_um: float) -> FlankWear:
    """Change over wires by wear of the die flanks: 2 / sin a of it, a half the included angle.

    For a worm take twice the normal pressure angle.

    Examples
    --------
    >>> round(wear_over_wires(60.0, wear_um=2.0).change_um, 6)
    8.0
    """
    if not 0.0 < included_angle_deg < 180.0:
        raise Refused.one(
            "flanks stand at an angle", value=f"{included_angle_deg:g}°", column="angle", allowed="0° to 180°"
        )
    return worn(wear_um, 2 / math.sin(math.radians(included_angle_deg / 2)), 1.0)


def wear_over_balls(found: OverBalls, wear_um: float) -> FlankWear:
    """Change over balls by wear of the die's arcs: 2 / cos(contact angle) of it.

    Examples
    --------
    >>> from spc.geometry import BallGroove, over_balls
    >>> groove = BallGroove(arc_radius_mm=2.0, arc_offset_mm=0.15, centre_diameter_mm=31.0)
    >>> round(wear_over_balls(over_balls(groove, ball_mm=3.6), wear_um=1.0).change_um, 2)
    3.02
    """
    slope = math.cos(math.radians(found.contact_angle_deg))
    return worn(wear_um, 2 * found.change_factor / slope, found.change_factor)


def worn(wear_um: float, per_wear: float, slide_gain: float) -> FlankWear:
    """Put the record together."""
    if not 0.0 <= wear_um < math.inf:
        raise Refused.one("wear takes off: it is 0 or more", value=f"{wear_um:g} µm", column="wear")
    return FlankWear(wear_um * per_wear, per_wear, slide_gain / per_wear)
