"""Worms over wires: the exact size for involute and for straight axial flanks, and what the simple form misses."""

import math
from dataclasses import dataclass

from spc.errors import Refused
from spc.geometry.involute import inverse_involute, involute
from spc.geometry.over_wires import best_wire_mm, over_wires, pitch_diameter_over_wires, textbook_rise_mm
from spc.geometry.worm import Worm

__all__ = ["WormOverWires", "worm_over_wires", "worm_thickness_over_wires"]


@dataclass(frozen=True, slots=True)
class WormOverWires:
    """A size over three wires and the worm it stands for.

    Attributes
    ----------
    over_wire_mm : float
        What the gauge shows.
    simple_mm : float
        Textbook size without the lead, good only for small lead angles.
    axial_thickness_mm : float
        Thickness of the thread along the axis at the reference diameter.
    wire_mm, best_wire_mm : float
        Wires used, and the wires π m / (2 cos α) of the textbook.
    contact_diameter_mm : float or None
        Diameter the wire touches on, for involute flanks.
    change_factor : float
        Millimetres more over the wires per millimetre of axial thickness.
    flanks : str
        "ZI" or "ZA".
    """

    over_wire_mm: float
    simple_mm: float
    axial_thickness_mm: float
    wire_mm: float
    best_wire_mm: float
    contact_diameter_mm: float | None
    change_factor: float
    flanks: str


def worm_over_wires(
    worm: Worm, axial_thickness_mm: float | None = None, wire_mm: float | None = None
) -> WormOverWires:
    """Work out what the gauge shows over three wires (or two balls) for a worm of this thickness.

    Parameters
    ----------
    worm : Worm
    axial_thickness_mm : float, optional
        Thickness along the axis at the reference diameter; without it half the axial pitch.
    wire_mm : float, optional
        Diameter of the wires; without it the textbook's best wire.

    Returns
    -------
    WormOverWires

    Raises
    ------
    Refused
        No such thread, or the wire finds no place on its flanks.

    Notes
    -----
    Involute flanks are those of a helical gear whose teeth are the starts: exact, by the angle at the wire's
    centre. Two wires on one side carry the anvil, so an odd count of starts takes nothing off. Straight axial
    flanks go through the contact itself, see `spc.geometry.wire_contact`. At a lead angle of 18° the simple
    form is half a millimetre low on a worm of 21 mm.

    Examples
    --------
    >>> worm = Worm(2.0, 1, 20.0, 31.0)
    >>> found = worm_over_wires(worm, wire_mm=3.3)
    >>> round(found.simple_mm, 4), round(found.over_wire_mm, 4)
    (35.3171, 35.3343)
    """
    thickness = worm.axial_pitch_mm / 2 if axial_thickness_mm is None else axial_thickness_mm
    wire = worm_best_wire_mm(worm) if wire_mm is None else wire_mm
    refuse_no_thread(worm, thickness, wire)
    exact = (
        over_involute(worm, thickness, wire) if worm.flanks == "ZI" else over_straight(worm, thickness, wire)
    )
    size, contact, factor = exact
    half_angle = math.radians(worm.pressure_angle_deg)
    return WormOverWires(
        over_wire_mm=size,
        simple_mm=straight_pitch_diameter_mm(worm, thickness)
        + textbook_rise_mm(worm.axial_pitch_mm, half_angle, wire),
        axial_thickness_mm=thickness,
        wire_mm=wire,
        best_wire_mm=worm_best_wire_mm(worm),
        contact_diameter_mm=contact,
        change_factor=factor,
        flanks=worm.flanks,
    )


def worm_thickness_over_wires(worm: Worm, over_wire_mm: float, wire_mm: float | None = None) -> WormOverWires:
    """Work out the axial thread thickness behind a reading over three wires.

    Parameters
    ----------
    worm : Worm
    over_wire_mm : float
        Reading over the wires.
    wire_mm : float, optional
        Diameter of the wires; without it the textbook's best wire.

    Returns
    -------
    WormOverWires

    Raises
    ------
    Refused
        No thread of this pitch can give this reading.

    Examples
    --------
    >>> worm = Worm(2.0, 1, 20.0, 31.0)
    >>> round(worm_thickness_over_wires(worm, 35.3343, wire_mm=3.3).axial_thickness_mm, 4)
    3.1416
    """
    wire = worm_best_wire_mm(worm) if wire_mm is None else wire_mm
    refuse_no_thread(worm, worm.axial_pitch_mm / 2, wire)
    if worm.flanks == "ZA":
        thread = pitch_diameter_over_wires(
            worm.axial_pitch_mm, 2 * worm.pressure_angle_deg, over_wire_mm, wire, worm.starts
        )
        wider = thread.pitch_diameter_mm - worm.reference_diameter_mm
        thickness = worm.axial_pitch_mm / 2 + wider * math.tan(math.radians(worm.pressure_angle_deg))
        return worm_over_wires(worm, thickness, wire)
    base, _, rest = involute_numbers(worm, wire)
    centres = over_wire_mm - wire
    if not base < centres < math.inf:
        raise Refused.one(
            "no wire of this diameter can give this reading: its axis would lie inside the base cylinder",
            value=f"{over_wire_mm:g} mm over {wire:g} mm wires",
            allowed=f"above {base + wire:.3f} mm",
        )
    polar = involute(math.acos(base / centres)) - rest
    return worm_over_wires(worm, polar * worm.module_mm * worm.starts, wire)


def worm_best_wire_mm(worm: Worm) -> float:
    """Diameter of the textbook's best wire: π m / (2 cos α) in the axial plane."""
    return best_wire_mm(worm.axial_pitch_mm, 2 * worm.pressure_angle_deg)


def over_involute(worm: Worm, thickness_mm: float, wire_mm: float) -> tuple[float, float, float]:
    """Size over wires, contact diameter and change factor of involute flanks."""
    base, base_helix, rest = involute_numbers(worm, wire_mm)
    per_thickness = 1 / (worm.module_mm * worm.starts)  # polar angle at the reference diameter per axial mm
    polar = thickness_mm * per_thickness + rest
    if polar <= 0.0:
        raise Refused.one(
            "the wire falls through: it is too thin to rest on both flanks", value=f"{wire_mm:g} mm"
        )
    angle = inverse_involute(polar)
    touching = math.tan(angle) - wire_mm * base_helix / base
    if touching <= 0.0:
        raise Refused.one(
            "the wire sinks too deep: it would touch below the base cylinder, where there is no flank",
            value=f"{wire_mm:g} mm wire",
        )
    size = base / math.cos(angle) + wire_mm
    return size, base * math.hypot(1.0, touching), base * per_thickness / math.sin(angle)


def over_straight(worm: Worm, thickness_mm: float, wire_mm: float) -> tuple[float, None, float]:
    """Size over wires and change factor of flanks that are straight in the axial plane."""

    def size(diameter: float) -> float:
        angle = 2 * worm.pressure_angle_deg
        return over_wires(worm.axial_pitch_mm, angle, diameter, wire_mm, worm.starts).over_wire_exact_mm

    diameter, step = straight_pitch_diameter_mm(worm, thickness_mm), 1e-5 * worm.reference_diameter_mm
    slope = (size(diameter + step) - size(diameter - step)) / (2 * step)
    return size(diameter), None, slope / math.tan(math.radians(worm.pressure_angle_deg))


def straight_pitch_diameter_mm(worm: Worm, thickness_mm: float) -> float:
    """Diameter on which thread and groove would be equally wide, were the axial flanks straight."""
    wider = thickness_mm - worm.axial_pitch_mm / 2
    return worm.reference_diameter_mm + wider / math.tan(math.radians(worm.pressure_angle_deg))


def involute_numbers(worm: Worm, wire_mm: float) -> tuple[float, float, float]:
    """Base diameter, cosine of the base helix angle, and what the angle at the wire has beyond the half thread."""
    lead_angle, normal = math.radians(worm.lead_angle_deg), math.radians(worm.normal_angle_deg)
    transverse = math.atan(math.tan(normal) / math.sin(lead_angle))
    base = worm.reference_diameter_mm * math.cos(transverse)
    normal_turn = (
        worm.normal_module_mm * worm.starts * math.cos(normal)
    )  # base diameter times cos of base helix
    rest = involute(transverse) + wire_mm / normal_turn - math.pi / worm.starts
    return base, normal_turn / base, rest


def refuse_no_thread(worm: Worm, thickness_mm: float, wire_mm: float) -> None:
    """Refuse a thread without a thickness or a groove, and a wire without a diameter."""
    if not 0.0 < thickness_mm < worm.axial_pitch_mm:
        raise Refused.one(
            f"the thread would be {thickness_mm:.4f} mm thick on a pitch of {worm.axial_pitch_mm:.4f} mm",
            column="axial thickness",
            allowed=f"above 0 and below {worm.axial_pitch_mm:.4f} mm",
        )
    if not 0.0 < wire_mm < math.inf:
        raise Refused.one("a wire needs a diameter", value=f"{wire_mm:g} mm", allowed="above 0 mm")
