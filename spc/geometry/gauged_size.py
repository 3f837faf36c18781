"""From the geometry a plan names: what the gauge shows for a size of the drawing, and the size behind a reading."""

import math

from spc.errors import Refused
from spc.geometry.best_pin import best_pin_mm
from spc.geometry.gauged_groove import groove_from_gauge, groove_on_gauge
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.over_pins import OverPins, over_pins, thickness_from_over_pins
from spc.geometry.over_wires import (
    OverWires,
    best_wire_mm,
    over_wires,
    pitch_diameter_over_wires,
    refuse_hidden_wires,
)
from spc.geometry.worm import Worm
from spc.geometry.worm_over_wires import WormOverWires, worm_over_wires, worm_thickness_over_wires
from spc.shop.form_geometry import FormGeometry, GaugedSize, SplineForm, ThreadForm, WormForm

__all__ = ["best_element_mm", "gauge_from_size", "size_from_gauge"]

_STEP_MM = 1e-4


def gauge_from_size(geometry: FormGeometry, size_mm: float) -> GaugedSize:
    """Work out what the gauge shows for a size of the drawing.

    Parameters
    ----------
    geometry : FormGeometry
        With the pins, wires or balls that are used.
    size_mm : float
        Normal tooth thickness, pitch diameter, axial thread thickness or diameter of the ball circle.

    Returns
    -------
    GaugedSize

    Raises
    ------
    Refused
        No such form, or pin, wire or ball find no place on its flanks, with what is geometrically wrong.

    Examples
    --------
    >>> spline = SplineForm(1.0, 20, 20.0, pin_mm=1.7)
    >>> found = gauge_from_size(FormGeometry("spline", spline=spline), math.pi / 2)
    >>> round(found.gauge_mm, 4), round(found.per_closing, 3)
    (22.2941, 0.836)
    """
    if geometry.spline is not None:
        teeth, pin = _teeth(geometry.spline), geometry.spline.pin_mm or 0.0
        return _of_pins(teeth, over_pins(teeth, size_mm, pin))
    if geometry.thread is not None:
        return _of_wires(geometry.thread, size_mm)
    if geometry.worm is not None:
        worm = _worm(geometry.worm)
        return _of_worm(worm, worm_over_wires(worm, size_mm, geometry.worm.wire_mm))
    return groove_on_gauge(_needed(geometry), size_mm)


def size_from_gauge(geometry: FormGeometry, gauge_mm: float) -> GaugedSize:
    """Work out the size behind a reading of the gauge, for whoever compares it with the drawing.

    Parameters
    ----------
    geometry : FormGeometry
    gauge_mm : float
        Reading over pins, wires or balls.

    Returns
    -------
    GaugedSize

    Raises
    ------
    Refused
        No part of this form can give this reading.

    Examples
    --------
    >>> thread = FormGeometry("thread", thread=ThreadForm(1.5, wire_mm=0.866))
    >>> round(size_from_gauge(thread, 10.326695).size_mm, 4)
    9.026
    """
    if geometry.spline is not None:
        teeth, pin = _teeth(geometry.spline), geometry.spline.pin_mm or 0.0
        return _of_pins(teeth, thickness_from_over_pins(teeth, gauge_mm, pin))
    if geometry.thread is not None:
        form = geometry.thread
        found = pitch_diameter_over_wires(
            form.pitch_mm, form.included_angle_deg, gauge_mm, form.wire_mm, form.starts
        )
        return _of_wires(form, found.pitch_diameter_mm)
    if geometry.worm is not None:
        worm = _worm(geometry.worm)
        return _of_worm(worm, worm_thickness_over_wires(worm, gauge_mm, geometry.worm.wire_mm))
    return groove_from_gauge(_needed(geometry), gauge_mm)


def best_element_mm(geometry: FormGeometry) -> float | None:
    """Return the pin or wire that touches in the middle of the flank of a standard tooth; None for balls."""
    if geometry.spline is not None:
        teeth = _teeth(geometry.spline)
        return best_pin_mm(teeth, teeth.half_pitch_mm)
    if geometry.thread is not None:
        return best_wire_mm(geometry.thread.pitch_mm, geometry.thread.included_angle_deg)
    if geometry.worm is not None:
        return best_wire_mm(math.pi * geometry.worm.module_mm, 2 * geometry.worm.pressure_angle_deg)
    return None


def _needed(geometry: FormGeometry) -> FormGeometry:
    if geometry.groove is None:
        raise Refused.one("no form is given that a gauge could touch")
    return geometry


def _teeth(form: SplineForm) -> InvoluteTeeth:
    if form.pressure_angle_deg is None:
        raise Refused.one("a tooth needs its pressure angle", column="pressure angle", allowed="5° to 60°")
    teeth = InvoluteTeeth(
        form.module_mm,
        form.teeth,
        form.pressure_angle_deg,
        form.helix_deg,
        form.tip_diameter_mm,
        form.root_diameter_mm,
        form.form_diameter_mm,
    )
    base, begins = teeth.base_diameter_mm, form.form_diameter_mm
    if begins is not None and begins < base:
        raise Refused.one(
            "the active flank cannot begin inside the base circle: there is no involute, the foot is undercut",
            value=f"{begins:g} mm",
            column="form diameter",
            allowed=f"from {base:.3f} mm outwards",
        )
    return teeth


def _of_pins(teeth: InvoluteTeeth, found: OverPins) -> GaugedSize:
    tip = teeth.tip_diameter_mm
    if tip is not None and teeth.thickness_at_mm(tip, found.tooth_thickness_mm) <= 0.0:
        raise Refused.one(
            "the tooth would be pointed before it reaches the tip",
            value=f"{tip:g} mm",
            column="tip diameter",
            do="Check tip diameter and tooth thickness",
        )
    return GaugedSize(
        found.over_pin_mm,
        found.tooth_thickness_mm,
        found.change_factor,
        found.slide_gain,
        found.contact_diameter_mm,
    )


def _of_wires(form: ThreadForm, pitch_diameter_mm: float) -> GaugedSize:
    def seen(diameter: float) -> OverWires:
        """Work out the thread over the wires, lead and all."""
        return over_wires(form.pitch_mm, form.included_angle_deg, diameter, form.wire_mm, form.starts)

    found = seen(pitch_diameter_mm)
    if form.major_diameter_mm is not None:
        refuse_hidden_wires(found, form.major_diameter_mm)
    thicker, thinner = (seen(pitch_diameter_mm + step).over_wire_exact_mm for step in (_STEP_MM, -_STEP_MM))
    slope = (thicker - thinner) / (2 * _STEP_MM)
    return GaugedSize(found.over_wire_exact_mm, pitch_diameter_mm, slope, slope)


def _worm(form: WormForm) -> Worm:
    return Worm(
        form.module_mm, form.starts, form.pressure_angle_deg, form.reference_diameter_mm, form.profile
    )


def _of_worm(worm: Worm, found: WormOverWires) -> GaugedSize:
    """Put the record together; closing by 1 moves each flank by half of tan α along the axis."""
    thinner = math.tan(math.radians(worm.pressure_angle_deg))
    return GaugedSize(
        found.over_wire_mm,
        found.axial_thickness_mm,
        found.change_factor,
        found.change_factor * thinner,
        found.contact_diameter_mm,
    )
