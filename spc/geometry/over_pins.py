"""Size over pins or balls of external involute teeth, the tooth thickness behind it, and what moves both."""

import math
from contextlib import suppress
from dataclasses import dataclass

from spc.errors import Refused
from spc.geometry.best_pin import best_pin_mm
from spc.geometry.involute import inverse_involute, involute
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.slide_gain import involute_gain

__all__ = ["OverPins", "over_pins", "thickness_from_over_pins"]


@dataclass(frozen=True, slots=True)
class OverPins:
    """A size over two pins or balls and the tooth it stands for.

    Attributes
    ----------
    over_pin_mm : float
        Size over the pins.
    tooth_thickness_mm : float
        Normal circular tooth thickness at the reference diameter.
    pin_mm : float
        Diameter of the pins.
    pin_angle_deg : float
        Pressure angle at the centre of the pin, in the transverse plane.
    contact_diameter_mm : float
        Diameter on which the pin touches the flanks.
    change_factor : float
        Millimetres more over the pins per millimetre of normal tooth thickness.
    slide_gain : float
        Millimetres less over the pins per millimetre the die centres close.
    best_pin_mm : float or None
        Pin that would touch in the middle of the flank; None where that middle lies below the base circle.
    """

    over_pin_mm: float
    tooth_thickness_mm: float
    pin_mm: float
    pin_angle_deg: float
    contact_diameter_mm: float
    change_factor: float
    slide_gain: float
    best_pin_mm: float | None


def over_pins(teeth: InvoluteTeeth, tooth_thickness_mm: float, pin_mm: float) -> OverPins:
    """Work out what the gauge shows over two pins for a tooth of this thickness.

    Parameters
    ----------
    teeth : InvoluteTeeth
        The spline or gear.
    tooth_thickness_mm : float
        Normal circular thickness at the reference diameter, above 0 and below the pitch.
    pin_mm : float
        Diameter of pins or balls, above 0.

    Returns
    -------
    OverPins

    Raises
    ------
    Refused
        The tooth leaves no space, or the pin cannot rest on both active flanks: it falls through, touches
        below the base circle, below the form diameter or above the tip, stands on the root or doesn't reach
        out of the teeth.

    Notes
    -----
    inv φ = s_t/d + inv α_t + d_p/(d_b cos β_b) − π/z; M = d_b/cos φ + d_p for an even tooth count and
    (d_b/cos φ)·cos(90°/z) + d_p for an odd one. The relations stand in every gear handbook; they were read on
    public pages on measurement over pins and agree with a pin pressed numerically against the flank.

    Helical teeth of an odd count: this is the size over balls held in one plane across the axis. Straight pins
    between flat anvils shift along the axis until they lie opposite each other and show d_b/cos φ + d_p
    (DIN 3960, from memory).

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=1.0, teeth=20, pressure_angle_deg=20.0)
    >>> round(over_pins(teeth, teeth.thickness_mm(), pin_mm=1.7).over_pin_mm, 4)
    22.2941
    """
    refuse_impossible(teeth, tooth_thickness_mm, pin_mm)
    half_tooth = tooth_thickness_mm / (teeth.module_mm * teeth.teeth)  # s_t/d: the helix cancels
    polar = half_tooth + rest_of_pin_angle(teeth, pin_mm)
    if polar <= 0.0:
        raise Refused.one(
            "the pin falls through: it is too thin to rest on both flanks",
            value=f"{pin_mm:g} mm",
            do="Take a thicker pin; see the best pin",
        )
    return described(teeth, tooth_thickness_mm, pin_mm, inverse_involute(polar))


def thickness_from_over_pins(teeth: InvoluteTeeth, over_pin_mm: float, pin_mm: float) -> OverPins:
    """Work out the tooth thickness behind a reading over two pins.

    Parameters
    ----------
    teeth : InvoluteTeeth
        The spline or gear.
    over_pin_mm : float
        Reading over the pins.
    pin_mm : float
        Diameter of the pins or balls.

    Returns
    -------
    OverPins

    Raises
    ------
    Refused
        Such a reading is impossible: the pin centres would lie inside the base circle, or the thickness would
        be nothing or more than the pitch; or the pin cannot rest on both flanks (see `over_pins`).

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=1.0, teeth=21, pressure_angle_deg=30.0)
    >>> round(thickness_from_over_pins(teeth, over_pin_mm=23.9, pin_mm=1.92).tooth_thickness_mm, 6)
    1.566777
    """
    refuse_impossible(teeth, teeth.half_pitch_mm, pin_mm)
    centres = (over_pin_mm - pin_mm) / teeth.opposite_share
    if not teeth.base_diameter_mm < centres < math.inf:
        smallest = teeth.base_diameter_mm * teeth.opposite_share + pin_mm
        raise Refused.one(
            "no pin of this diameter can give this reading: its centre would lie inside the base circle",
            value=f"{over_pin_mm:g} mm over {pin_mm:g} mm pins",
            allowed=f"above {smallest:.3f} mm",
            do="Check module, tooth count and pin",
        )
    pin_angle = math.acos(teeth.base_diameter_mm / centres)
    half_tooth = involute(pin_angle) - rest_of_pin_angle(teeth, pin_mm)
    thickness = half_tooth * teeth.module_mm * teeth.teeth
    refuse_impossible(teeth, thickness, pin_mm, reading=f"{over_pin_mm:g} mm over {pin_mm:g} mm pins")
    return described(teeth, thickness, pin_mm, pin_angle)


def rest_of_pin_angle(teeth: InvoluteTeeth, pin_mm: float) -> float:
    """Return what the involute at the pin's centre has beyond the half tooth angle."""
    pin = pin_mm / (teeth.base_diameter_mm * teeth.base_helix_cosine)
    return involute(teeth.transverse_angle_rad) + pin - math.pi / teeth.teeth


def refuse_impossible(teeth: InvoluteTeeth, thickness_mm: float, pin_mm: float, reading: str = "") -> None:
    """Refuse a pin without a diameter, a tooth without a thickness and a space without a width."""
    if not 0.0 < pin_mm < math.inf:
        raise Refused.one("a pin needs a diameter", value=f"{pin_mm:g} mm", allowed="above 0 mm")
    pitch = 2 * teeth.half_pitch_mm
    if not 0.0 < thickness_mm < pitch:
        raise Refused.one(
            f"the tooth would be {thickness_mm:.4f} mm thick on a pitch of {pitch:.4f} mm",
            value=reading,
            column="tooth thickness",
            allowed=f"above 0 and below {pitch:.4f} mm",
        )


def described(teeth: InvoluteTeeth, thickness_mm: float, pin_mm: float, pin_angle: float) -> OverPins:
    """Put the record together once the angle at the pin's centre is known."""
    alpha_t, odd = teeth.transverse_angle_rad, teeth.opposite_share
    best: float | None = None
    with suppress(Refused):
        best = best_pin_mm(teeth, thickness_mm)
    helix_cosine = math.cos(math.radians(teeth.helix_angle_deg))
    centres_mm = teeth.base_diameter_mm / math.cos(pin_angle)
    return OverPins(
        over_pin_mm=centres_mm * odd + pin_mm,
        tooth_thickness_mm=thickness_mm,
        pin_mm=pin_mm,
        pin_angle_deg=math.degrees(pin_angle),
        contact_diameter_mm=contact_diameter_mm(teeth, pin_mm, pin_angle, centres_mm),
        change_factor=math.cos(alpha_t) / (math.sin(pin_angle) * helix_cosine) * odd,
        slide_gain=involute_gain(teeth, math.degrees(pin_angle)),
        best_pin_mm=best,
    )


def contact_diameter_mm(teeth: InvoluteTeeth, pin_mm: float, pin_angle: float, centres_mm: float) -> float:
    """Find the diameter the pin touches on, and refuse a pin that doesn't rest on two flanks there.

    The flank's normal runs along the base tangent, inclined by the base helix angle, so the touching point
    lies half a pin times cos β_b nearer to the base circle than the pin's centre.
    """
    tangent = math.tan(pin_angle) - pin_mm * teeth.base_helix_cosine / teeth.base_diameter_mm
    diameter = teeth.base_diameter_mm * math.hypot(1.0, tangent)
    tip, root, form = teeth.tip_diameter_mm, teeth.root_diameter_mm, teeth.form_diameter_mm
    said = ""
    if tangent <= 0.0:
        said = "the pin sinks too deep: it would touch below the base circle, where there is no flank"
    elif root is not None and centres_mm - pin_mm <= root:
        said = f"the pin stands on the root ({root:g} mm) before it touches the flanks"
    elif form is not None and diameter <= form:
        said = f"the pin would touch at {diameter:.3f} mm, below the active flank (from {form:g} mm)"
    elif tip is not None and diameter >= tip:
        said = f"the pin would touch at {diameter:.3f} mm, above the tip ({tip:g} mm): it rides on the edges"
    elif tip is not None and centres_mm + pin_mm <= tip:
        said = f"the pin doesn't reach out of the teeth: the gauge would touch the tips ({tip:g} mm)"
    if said:
        raise Refused.one(said, value=f"{pin_mm:g} mm pin", do="Take another pin; see the best pin")
    return diameter
