"""Over pins by another way: a ball pressed on a flank that is unrolled from its base cylinder, point by point.

Nothing here knows an involute function or the formula of the angle at the pin's centre.
"""

import math

import numpy as np
import pytest
from scipy.optimize import brentq, minimize

from spc.geometry import InvoluteTeeth, over_pins


def flank(teeth: InvoluteTeeth, thickness_mm: float, unrolled: float, along: float) -> np.ndarray:
    """Point of the flank on the left of a space whose middle lies on the x axis, `along` the axis of the part.

    `unrolled` is the angle of string let off the base circle; the whole section turns with the helix.
    """
    reference = teeth.reference_diameter_mm / 2
    helix = math.radians(teeth.helix_angle_deg)
    arc_space = math.pi * reference * 2 / teeth.teeth - thickness_mm / math.cos(helix)
    at_reference = math.tan(teeth.transverse_angle_rad)
    turned = arc_space / 2 / reference - direction_of(string_end(at_reference))
    turned += along * math.tan(helix) / reference
    x, y = string_end(unrolled)
    cosine, sine = math.cos(turned), math.sin(turned)
    base = teeth.base_diameter_mm / 2
    return np.array([base * (x * cosine - y * sine), base * (x * sine + y * cosine), along])


def string_end(unrolled: float) -> tuple[float, float]:
    """End of a string let off the unit circle by an angle."""
    cosine, sine = math.cos(unrolled), math.sin(unrolled)
    return cosine + unrolled * sine, sine - unrolled * cosine


def direction_of(point: tuple[float, float]) -> float:
    return math.atan2(point[1], point[0])


def gap(teeth: InvoluteTeeth, thickness_mm: float, ball_radius_mm: float, centre_mm: float) -> float:
    """Room between a ball on the x axis and the flank: sampled first, then searched out."""

    def distance(where) -> float:
        return float(np.linalg.norm(flank(teeth, thickness_mm, *where) - (centre_mm, 0.0, 0.0)))

    start = min(((unrolled, 0.0) for unrolled in np.linspace(0.0, 1.5, 151)), key=distance)
    found = minimize(
        distance, start, method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-14, "maxiter": 2000}
    )
    return found.fun - ball_radius_mm


def over_pins_by_contact(teeth: InvoluteTeeth, thickness_mm: float, pin_mm: float) -> float:
    """Find where the ball rests, and measure from ball to the most opposite ball across the part."""
    low = teeth.base_diameter_mm / 2
    centre = brentq(lambda at: gap(teeth, thickness_mm, pin_mm / 2, at), low, low + 3 * pin_mm, xtol=1e-10)
    opposite = 2 * math.pi / teeth.teeth * (teeth.teeth // 2)
    return math.hypot(centre - centre * math.cos(opposite), centre * math.sin(opposite)) + pin_mm


@pytest.mark.parametrize(
    ("teeth", "profile_shift", "pin"),
    [
        (InvoluteTeeth(1.0, 20, 20.0), 0.0, 1.7),
        (InvoluteTeeth(1.0, 7, 20.0), 0.0, 1.728),
        (InvoluteTeeth(1.0, 21, 30.0), -0.05, 1.92),
        (InvoluteTeeth(2.5, 12, 37.5), 0.1, 5.0),
        (InvoluteTeeth(1.0, 20, 20.0, helix_angle_deg=15.0), 0.4, 2.0),
        (InvoluteTeeth(1.5, 13, 25.0, helix_angle_deg=-30.0), 0.0, 3.0),
    ],
)
def test_a_ball_pressed_on_the_flank_stands_where_the_formula_says(
    teeth: InvoluteTeeth, profile_shift: float, pin: float
) -> None:
    thickness = teeth.thickness_mm(profile_shift)
    found = over_pins(teeth, thickness, pin)
    assert found.over_pin_mm == pytest.approx(over_pins_by_contact(teeth, thickness, pin), abs=2e-8)


def test_the_contact_diameter_is_where_the_ball_touches() -> None:
    teeth = InvoluteTeeth(1.0, 20, 20.0, helix_angle_deg=15.0)
    thickness = teeth.thickness_mm(0.4)
    found = over_pins(teeth, thickness, 2.0)
    centre = (found.over_pin_mm - 2.0) / 2

    def distance(where) -> float:
        return float(np.linalg.norm(flank(teeth, thickness, *where) - (centre, 0.0, 0.0)))

    start = min(((unrolled, 0.0) for unrolled in np.linspace(0.0, 1.5, 151)), key=distance)
    touching = minimize(distance, start, method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-15})
    radius = np.hypot(*flank(teeth, thickness, *touching.x)[:2])
    assert found.contact_diameter_mm == pytest.approx(2 * radius, abs=1e-6)
