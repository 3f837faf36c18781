"""Worms and other threads given by a module, as the drawing gives them."""

import math
from dataclasses import dataclass

from spc.errors import Refusal, Refused

__all__ = ["Worm"]

FLANKS = {"ZI": "involute helicoid", "ZA": "straight in the axial plane"}


@dataclass(frozen=True, slots=True)
class Worm:
    """A cylindrical worm, or any thread of one or more starts that is given by a module.

    Attributes
    ----------
    module_mm : float
        Axial module, above 0; a normal module divided by the cosine of the lead angle.
    starts : int
        Starts, 1 or more.
    pressure_angle_deg : float
        Flank angle in the axial plane, 5 to 45.
    reference_diameter_mm : float
        Reference diameter.
    flanks : {"ZI", "ZA"}
        Involute helicoid (as rolled by involute dies), or straight in the axial plane.

    Raises
    ------
    Refused
        The numbers describe no worm; all of them are named at once.

    Examples
    --------
    >>> worm = Worm(module_mm=2.0, starts=1, pressure_angle_deg=20.0, reference_diameter_mm=31.0)
    >>> round(worm.lead_angle_deg, 8)
    3.69138599
    """

    module_mm: float
    starts: int
    pressure_angle_deg: float
    reference_diameter_mm: float
    flanks: str = "ZI"

    def __post_init__(self) -> None:
        """Refuse numbers that describe no worm."""
        angle, diameter = self.pressure_angle_deg, self.reference_diameter_mm
        checks = [
            ("module", self.module_mm, 0.0 < self.module_mm < math.inf, "above 0 mm"),
            ("starts", self.starts, self.starts == int(self.starts) >= 1, "whole, 1 or more"),
            ("pressure angle", angle, 5.0 <= angle <= 45.0, "5° to 45°"),
            ("reference diameter", diameter, 0.0 < diameter < math.inf, "above 0 mm"),
        ]
        said = [
            Refusal(
                f"this is no worm: {name} is outside its range", f"{value:g}", column=name, allowed=domain
            )
            for name, value, allowed, domain in checks
            if not allowed
        ]
        if self.flanks not in FLANKS:
            said.append(Refusal("unknown flanks of a worm", self.flanks, column="flanks", allowed="ZI or ZA"))
        if not said and self.starts * self.module_mm > self.reference_diameter_mm:
            said.append(
                Refusal(
                    "flanks as steep as these are teeth: measure them over pins, as helical teeth",
                    f"{self.lead_angle_deg:.1f}°",
                    column="lead angle",
                    allowed="up to 45°",
                )
            )
        if said:
            raise Refused(said)

    @property
    def axial_pitch_mm(self) -> float:
        """Axial distance from thread to thread."""
        return math.pi * self.module_mm

    @property
    def lead_mm(self) -> float:
        """Axial way of one turn."""
        return self.starts * self.axial_pitch_mm

    @property
    def lead_angle_deg(self) -> float:
        """Lead angle on the reference diameter."""
        return math.degrees(math.atan(self.starts * self.module_mm / self.reference_diameter_mm))

    @property
    def normal_module_mm(self) -> float:
        """Module across the thread."""
        return self.module_mm * math.cos(math.radians(self.lead_angle_deg))

    @property
    def normal_angle_deg(self) -> float:
        """Pressure angle across the thread."""
        axial = math.tan(math.radians(self.pressure_angle_deg))
        return math.degrees(math.atan(axial * math.cos(math.radians(self.lead_angle_deg))))
