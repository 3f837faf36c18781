"""How sure a tooth thickness is that was worked out from a reading over pins."""

import math
from dataclasses import dataclass

from spc.errors import Refusal, Refused
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.over_pins import OverPins

__all__ = ["ThicknessUncertainty", "thickness_uncertainty"]


@dataclass(frozen=True, slots=True)
class ThicknessUncertainty:
    """Standard uncertainty of a tooth thickness, µm.

    Attributes
    ----------
    total_um : float
        All of it.
    from_reading_um, from_pin_um : float
        Its parts.
    per_reading, per_pin : float
        Millimetres of thickness per millimetre of reading and per millimetre of the diameter of both pins.
    """

    total_um: float
    from_reading_um: float
    from_pin_um: float
    per_reading: float
    per_pin: float


def thickness_uncertainty(
    teeth: InvoluteTeeth, found: OverPins, *, reading_um: float, pin_um: float, pins_alike: bool = True
) -> ThicknessUncertainty:
    """Say how sure the tooth thickness behind a reading over pins is.

    Parameters
    ----------
    teeth : InvoluteTeeth
    found : OverPins
        From `thickness_from_over_pins`.
    reading_um, pin_um : float
        Standard uncertainties of the reading and of a pin's diameter, 0 or more.
    pins_alike : bool
        Both pins are off together, as two of one set; False: each by itself.

    Returns
    -------
    ThicknessUncertainty

    Raises
    ------
    Refused
        An uncertainty below 0.

    Notes
    -----
    From s = m z (inv φ − inv α_t − d_p/(d_b cos β_b) + π/z) with d_b/cos φ = (M − d_p)/cos(90°/z): ∂s/∂M is the
    change factor upside down, ∂s/∂d_p = −∂s/∂M − m z/(d_b cos β_b). Added in squares (GUM, clause 5).

    Examples
    --------
    >>> from spc.geometry import over_pins
    >>> teeth = InvoluteTeeth(module_mm=2.0, teeth=25, pressure_angle_deg=30.0)
    >>> found = over_pins(teeth, teeth.thickness_mm(), pin_mm=3.75)
    >>> round(thickness_uncertainty(teeth, found, reading_um=1.0, pin_um=0.5).total_um, 2)
    1.1
    """
    said = [
        Refusal(f"an uncertainty of the {name} is 0 or more", f"{value:g} µm", column=name)
        for name, value in (("reading", reading_um), ("pin", pin_um))
        if not 0.0 <= value < math.inf
    ]
    if said:
        raise Refused(said)
    per_reading = 1 / found.change_factor
    rolled = teeth.module_mm * teeth.teeth / (teeth.base_diameter_mm * teeth.base_helix_cosine)
    per_pin = -per_reading - rolled
    reading = per_reading * reading_um
    pin = abs(per_pin) * pin_um / (1.0 if pins_alike else math.sqrt(2.0))
    return ThicknessUncertainty(math.hypot(reading, pin), reading, pin, per_reading, per_pin)
