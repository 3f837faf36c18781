"""Span over several teeth with flat faces, the tooth thickness behind it, and over how many teeth to span."""

import math
from dataclasses import dataclass

from spc.errors import Refused
from spc.geometry.involute import involute
from spc.geometry.involute_teeth import InvoluteTeeth

__all__ = ["Span", "span_over_teeth", "thickness_from_span", "best_span_teeth"]


@dataclass(frozen=True, slots=True)
class Span:
    """A span over several teeth and the tooth it stands for.

    Attributes
    ----------
    span_mm : float
        Distance of the two flat faces, along the normal of the flanks.
    teeth_spanned : int
        Teeth between the faces.
    tooth_thickness_mm : float
        Normal circular tooth thickness at the reference diameter.
    contact_diameter_mm : float
        Diameter on which the faces touch.
    change_factor : float
        Millimetres more of span per millimetre of normal tooth thickness.
    slide_gain : float
        Millimetres less of span per millimetre the die centres close.
    """

    span_mm: float
    teeth_spanned: int
    tooth_thickness_mm: float
    contact_diameter_mm: float
    change_factor: float
    slide_gain: float


def span_over_teeth(teeth: InvoluteTeeth, tooth_thickness_mm: float, teeth_spanned: int) -> Span:
    """Work out the span over a number of teeth of this thickness.

    Parameters
    ----------
    teeth : InvoluteTeeth
        The spline or gear.
    tooth_thickness_mm : float
        Normal circular thickness at the reference diameter, above 0 and below the pitch.
    teeth_spanned : int
        2 up to one less than half the teeth of the part allow.

    Returns
    -------
    Span

    Raises
    ------
    Refused
        So many teeth cannot be spanned, or the faces would touch below the base circle's reach, below the
        active flank or above the tip.

    Notes
    -----
    W = cos α [(k − 1) π m + s + m z inv α_t], which for s = m (π/2 + 2 x tan α) is the W of every gear
    handbook. A face touches where the base tangent leaves it: d_c² = d_b² + (W cos β_b)². Closing the die
    centres by 1 thins the tooth by tan α, so the span follows by sin α.

    Examples
    --------
    The gear technical reference of KHK has m 3, 24 teeth, x = 0.4, k = 4: 32.8266 (from memory).

    >>> teeth = InvoluteTeeth(module_mm=3.0, teeth=24, pressure_angle_deg=20.0)
    >>> round(span_over_teeth(teeth, teeth.thickness_mm(0.4), teeth_spanned=4).span_mm, 4)
    32.8266
    """
    refuse_no_span(teeth, tooth_thickness_mm, teeth_spanned)
    cosine = math.cos(math.radians(teeth.pressure_angle_deg))
    span = cosine * (tooth_thickness_mm + rest_of_span_mm(teeth, teeth_spanned))
    return Span(
        span_mm=span,
        teeth_spanned=teeth_spanned,
        tooth_thickness_mm=tooth_thickness_mm,
        contact_diameter_mm=touching_mm(teeth, span, teeth_spanned),
        change_factor=cosine,
        slide_gain=math.sin(math.radians(teeth.pressure_angle_deg)),
    )


def thickness_from_span(teeth: InvoluteTeeth, span_mm: float, teeth_spanned: int) -> Span:
    """Work out the tooth thickness behind a span over a number of teeth.

    Parameters
    ----------
    teeth : InvoluteTeeth
        The spline or gear.
    span_mm : float
        Span as measured.
    teeth_spanned : int
        Teeth between the faces.

    Returns
    -------
    Span

    Raises
    ------
    Refused
        As `span_over_teeth`; mostly a wrong count of the teeth spanned.

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=3.0, teeth=24, pressure_angle_deg=20.0)
    >>> round(thickness_from_span(teeth, span_mm=32.8266, teeth_spanned=4).tooth_thickness_mm, 3)
    5.586
    """
    cosine = math.cos(math.radians(teeth.pressure_angle_deg))
    thickness = span_mm / cosine - rest_of_span_mm(teeth, teeth_spanned)
    return span_over_teeth(teeth, thickness, teeth_spanned)


def best_span_teeth(teeth: InvoluteTeeth, tooth_thickness_mm: float) -> int:
    """Over how many teeth to span, so that the faces touch nearest to the middle of the flanks.

    "Middle" is the reference diameter moved out by twice the profile shift, as for the best pin; among the
    counts the one that touches nearest to it.

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=3.0, teeth=24, pressure_angle_deg=20.0)
    >>> best_span_teeth(teeth, teeth.thickness_mm(0.4))
    4
    """
    tangent = math.tan(math.radians(teeth.pressure_angle_deg))
    middle = teeth.reference_diameter_mm + (tooth_thickness_mm - teeth.half_pitch_mm) / tangent
    chord_squared = middle**2 - teeth.base_diameter_mm**2
    if chord_squared <= 0.0:
        return 2
    span = math.sqrt(chord_squared) / teeth.base_helix_cosine
    cosine = math.cos(math.radians(teeth.pressure_angle_deg))
    exact = (span / cosine - tooth_thickness_mm - rest_of_span_mm(teeth, 1)) / (2 * teeth.half_pitch_mm) + 1
    return max(2, round(exact))


def rest_of_span_mm(teeth: InvoluteTeeth, teeth_spanned: int) -> float:
    """Return what a span has beyond the tooth thickness, before the cosine of the pressure angle."""
    rolled = teeth.module_mm * teeth.teeth * involute(teeth.transverse_angle_rad)
    return (teeth_spanned - 1) * 2 * teeth.half_pitch_mm + rolled


def refuse_no_span(teeth: InvoluteTeeth, thickness_mm: float, teeth_spanned: int) -> None:
    """Refuse a count that cannot be spanned and a tooth without a thickness or a space."""
    most = teeth.teeth // 2
    if not (teeth_spanned == int(teeth_spanned) and 2 <= teeth_spanned <= max(2, most)):
        raise Refused.one(
            f"a span over {teeth_spanned:g} of {teeth.teeth} teeth finds no two flanks that face each other",
            value=f"{teeth_spanned:g}",
            column="teeth spanned",
            allowed=f"whole, 2 to {max(2, most)}",
        )
    pitch = 2 * teeth.half_pitch_mm
    if not 0.0 < thickness_mm < pitch:
        raise Refused.one(
            f"the tooth would be {thickness_mm:.4f} mm thick on a pitch of {pitch:.4f} mm",
            value=f"{teeth_spanned} teeth spanned",
            column="tooth thickness",
            allowed=f"above 0 and below {pitch:.4f} mm",
            do="Count the teeth between the faces again",
        )


def touching_mm(teeth: InvoluteTeeth, span_mm: float, teeth_spanned: int) -> float:
    """Find the diameter the faces touch on, and refuse faces that don't touch the active flanks."""
    diameter = math.hypot(teeth.base_diameter_mm, span_mm * teeth.base_helix_cosine)
    tip, form = teeth.tip_diameter_mm, teeth.lowest_flank_mm
    said = ""
    if tip is not None and diameter >= tip:
        said = f"the faces would touch at {diameter:.3f} mm, above the tip ({tip:g} mm)"
    elif form is not None and diameter <= form:
        said = f"the faces would touch at {diameter:.3f} mm, below the active flank (from {form:g} mm)"
    if said:
        raise Refused.one(said, value=f"{teeth_spanned} teeth spanned", do="Span fewer or more teeth")
    return diameter
