"""Which pin to buy: the one that touches external involute teeth in the middle of their flanks."""

import math

from spc.errors import Refused
from spc.geometry.involute import involute
from spc.geometry.involute_teeth import InvoluteTeeth

__all__ = ["best_pin_mm"]


def best_pin_mm(teeth: InvoluteTeeth, tooth_thickness_mm: float) -> float:
    """Diameter of the pin that touches in the middle of the flank.

    Parameters
    ----------
    teeth : InvoluteTeeth
        The spline or gear.
    tooth_thickness_mm : float
        Normal circular tooth thickness at the reference diameter.

    Returns
    -------
    float
        Pin diameter in mm.

    Raises
    ------
    Refused
        So thin a tooth has its mid-flank below the base circle: no pin touches an involute there.

    Notes
    -----
    "Middle" is the reference diameter moved out by twice the profile shift that the thickness stands for;
    for a tooth of half a pitch it is the reference diameter itself. So the answer hardly changes over a
    tolerance of the thickness. The other common choice, the reference diameter whatever the thickness,
    gives a thicker pin for a thinner tooth. Helical teeth are taken through their virtual spur teeth,
    z/cos³β, as in the gear technical reference of KHK (from memory).

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=1.0, teeth=20, pressure_angle_deg=20.0)
    >>> round(best_pin_mm(teeth, teeth.thickness_mm()), 6)
    1.724449
    """
    alpha = math.radians(teeth.pressure_angle_deg)
    count = teeth.teeth / math.cos(math.radians(teeth.helix_angle_deg)) ** 3
    reference = teeth.module_mm * count
    shift_mm = (tooth_thickness_mm - teeth.half_pitch_mm) / (2 * math.tan(alpha))
    cosine = reference * math.cos(alpha) / (reference + 2 * shift_mm)
    if not 0.0 < cosine < 1.0:
        raise Refused.one(
            "no pin touches the middle of this flank: it lies below the base circle",
            value=f"{tooth_thickness_mm:g} mm thick",
            column="tooth thickness",
        )
    touching = math.acos(cosine)
    half_space = math.pi / count - tooth_thickness_mm / reference - involute(alpha) + involute(touching)
    return reference * math.cos(alpha) * (math.tan(touching + half_space) - math.tan(touching))
