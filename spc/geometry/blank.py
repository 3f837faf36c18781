"""Diameter of the blank that holds as much metal as the rolled form, and what an error of it does to the outside."""

import math
from dataclasses import dataclass

from spc.errors import Refused
from spc.geometry.involute import involute
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.worm import Worm

__all__ = ["Blank", "spline_blank", "thread_blank", "worm_blank"]


@dataclass(frozen=True, slots=True)
class Blank:
    """The constant-volume blank of a rolled form.

    Attributes
    ----------
    blank_mm : float
        Its diameter; springs and stretch along the axis are left to trial.
    tip_diameter_mm, root_diameter_mm : float
        The form it is for.
    outside_gain : float
        Millimetres more outside per millimetre more blank, between dies that stay where they are and aren't full.
    method : str
        What was taken for the form, in words for a report.
    """

    blank_mm: float
    tip_diameter_mm: float
    root_diameter_mm: float
    outside_gain: float
    method: str


def thread_blank(
    pitch_mm: float, included_angle_deg: float, pitch_diameter_mm: float, tip_mm: float, root_mm: float
) -> Blank:
    """Work out the blank of a thread with straight flanks, flat crest and flat root.

    Parameters
    ----------
    pitch_mm : float
        Axial distance from thread to thread.
    included_angle_deg : float
        Angle between the flanks in the axial plane.
    pitch_diameter_mm : float
        Diameter on which thread and groove are equally wide.
    tip_mm, root_mm : float
        Outside and root diameter; rounded roots lie between a flat at the sharper and one at the blunter end.

    Returns
    -------
    Blank

    Raises
    ------
    Refused
        The diameters don't enclose the pitch diameter, or the flanks meet before the crest or root.

    Notes
    -----
    π d_0²/4 · P = the metal of one pitch, root cylinder and ridge; closed form. Shift it by the mean of the
    tolerances to be rolled to.

    Examples
    --------
    >>> blank = thread_blank(2.0, 60.0, 14.70, tip_mm=16.0, root_mm=13.55)
    >>> round(blank.blank_mm, 3), round(blank.outside_gain, 1)
    (14.749, 7.4)
    """
    slope = math.tan(math.radians(included_angle_deg / 2))
    outside, inside, middle = tip_mm / 2, root_mm / 2, pitch_diameter_mm / 2
    at_middle = pitch_mm / 2
    crest = at_middle - 2 * (outside - middle) * slope
    root_flat = at_middle - 2 * (middle - inside) * slope
    refuse_no_form(tip_mm, pitch_diameter_mm, root_mm, min(crest, root_flat))
    squares = (outside**2 - inside**2) / 2
    cubes = (outside**3 - inside**3) / 3
    ridge = 2 * math.pi * ((at_middle + 2 * middle * slope) * squares - 2 * slope * cubes)
    blank = 2 * math.sqrt((math.pi * inside**2 * pitch_mm + ridge) / (math.pi * pitch_mm))
    return Blank(
        blank, tip_mm, root_mm, blank * pitch_mm / (tip_mm * crest), "straight flanks, flat crest and root"
    )


def worm_blank(worm: Worm, tip_mm: float, root_mm: float, axial_thickness_mm: float | None = None) -> Blank:
    """Work out the blank of a worm, its flanks taken as straight in the axial plane.

    Examples
    --------
    >>> worm = Worm(module_mm=1.5, starts=2, pressure_angle_deg=20.0, reference_diameter_mm=18.0)
    >>> round(worm_blank(worm, tip_mm=21.0, root_mm=14.4).blank_mm, 3)
    18.053
    """
    thickness = worm.axial_pitch_mm / 2 if axial_thickness_mm is None else axial_thickness_mm
    wider = thickness - worm.axial_pitch_mm / 2
    middle = worm.reference_diameter_mm + wider / math.tan(math.radians(worm.pressure_angle_deg))
    return thread_blank(worm.axial_pitch_mm, 2 * worm.pressure_angle_deg, middle, tip_mm, root_mm)


def spline_blank(teeth: InvoluteTeeth, tooth_thickness_mm: float, tip_mm: float, root_mm: float) -> Blank:
    """Work out the blank of a spline or gear with involute flanks down to the root.

    Parameters
    ----------
    teeth : InvoluteTeeth
    tooth_thickness_mm : float
        Normal circular thickness at the reference diameter.
    tip_mm, root_mm : float
        Outside and root diameter. Below the base circle the flanks are taken as radial.

    Returns
    -------
    Blank

    Raises
    ------
    Refused
        The diameters don't enclose the reference diameter, or the teeth are pointed below the tip or grow
        together above the root.

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=1.25, teeth=24, pressure_angle_deg=30.0)
    >>> blank = spline_blank(teeth, teeth.thickness_mm(), tip_mm=31.25, root_mm=28.0)
    >>> round(blank.blank_mm, 3), round(blank.outside_gain, 2)
    (29.808, 3.12)
    """
    from scipy.integrate import quad

    base, count = teeth.base_diameter_mm / 2, teeth.teeth
    at_base = tooth_thickness_mm / (teeth.module_mm * count) + involute(teeth.transverse_angle_rad)

    def half_angle(radius: float) -> float:
        return at_base - involute(math.acos(min(base / radius, 1.0)))

    outside, inside = tip_mm / 2, root_mm / 2
    narrowest = min(half_angle(outside), math.pi / count - half_angle(inside)) if inside > 0.0 else 0.0
    refuse_no_form(tip_mm, teeth.reference_diameter_mm, root_mm, narrowest)
    split = [base] if inside < base < outside else None
    ridge, _ = quad(
        lambda radius: 2 * radius * half_angle(radius), inside, outside, points=split, epsabs=1e-12
    )
    blank = 2 * math.sqrt(inside**2 + count * ridge / math.pi)
    tip_thickness = 2 * outside * half_angle(outside)
    gain = math.pi * blank / (count * tip_thickness)
    return Blank(blank, tip_mm, root_mm, gain, "involute flanks down to the root")


def refuse_no_form(tip_mm: float, middle_mm: float, root_mm: float, narrowest: float) -> None:
    """Refuse diameters in the wrong order and flanks that meet."""
    if not 0.0 < root_mm < middle_mm < tip_mm < math.inf:
        raise Refused.one(
            "root, middle of the flanks and outside don't follow each other",
            value=f"{root_mm:g}, {middle_mm:g}, {tip_mm:g} mm",
            allowed="root below the pitch or reference diameter below outside diameter",
        )
    if narrowest <= 0.0:
        raise Refused.one(
            "the flanks meet before the outside or the root diameter is reached",
            value=f"{root_mm:g} to {tip_mm:g} mm",
            do="Check outside and root diameter",
        )
