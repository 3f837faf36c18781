"""External involute teeth as the drawing gives them: a spline or gear before anything is measured on it."""

import math
from dataclasses import dataclass

from spc.errors import Refusal, Refused
from spc.geometry.involute import involute

__all__ = ["InvoluteTeeth"]


@dataclass(frozen=True, slots=True)
class InvoluteTeeth:
    """External involute teeth, spur or helical.

    Attributes
    ----------
    module_mm : float
        Normal module, above 0; for diametral pitch P it is 25.4/P.
    teeth : int
        Tooth count, 3 or more.
    pressure_angle_deg : float
        Normal pressure angle at the reference diameter, 5 to 60.
    helix_angle_deg : float
        Helix angle at the reference diameter, from the axis; 0 for spur, below 90.
    tip_diameter_mm, root_diameter_mm : float or None
        Where given, pins that don't reach out of the teeth, touch above the flank or stand on the root are
        refused.
    form_diameter_mm : float or None
        Diameter from which the flank is an involute, where the drawing gives it: what touches below it is
        refused, because it doesn't touch the active flank.

    Raises
    ------
    Refused
        The numbers describe no tooth; all of them are named at once.

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=1.0, teeth=20, pressure_angle_deg=20.0)
    >>> round(teeth.base_diameter_mm, 4)
    18.7939
    """

    module_mm: float
    teeth: int
    pressure_angle_deg: float
    helix_angle_deg: float = 0.0
    tip_diameter_mm: float | None = None
    root_diameter_mm: float | None = None
    form_diameter_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse numbers that describe no tooth."""
        refusals = [refusal for refusal in (*self._wrong_numbers(), *self._wrong_diameters()) if refusal]
        if refusals:
            raise Refused(refusals)

    def _wrong_numbers(self) -> list[Refusal | None]:
        """Check the numbers that each stand alone."""
        return [
            outside("module", self.module_mm, 0.0 < self.module_mm < math.inf, "above 0 mm"),
            outside("teeth", self.teeth, self.teeth == int(self.teeth) >= 3, "whole, 3 or more"),
            outside(
                "pressure angle", self.pressure_angle_deg, 5.0 <= self.pressure_angle_deg <= 60.0, "5° to 60°"
            ),
            outside(
                "helix angle", self.helix_angle_deg, 0.0 <= abs(self.helix_angle_deg) < 90.0, "below 90°"
            ),
        ]

    def _wrong_diameters(self) -> list[Refusal | None]:
        """Check tip above form above root, each where it is given."""
        tip, root, form = self.tip_diameter_mm, self.root_diameter_mm, self.form_diameter_mm
        wrong = []
        if tip is not None and root is not None:
            wrong.append(outside("tip diameter", tip, tip > root, f"above the root diameter {root:g} mm"))
        if form is not None and tip is not None:
            wrong.append(outside("form diameter", form, form < tip, f"below the tip diameter {tip:g} mm"))
        if form is not None and root is not None:
            wrong.append(
                outside("form diameter", form, form >= root, f"the root diameter {root:g} mm or more")
            )
        return wrong

    @property
    def lowest_flank_mm(self) -> float | None:
        """Diameter below which nothing touches the active flank: of the form, else of the root, else unknown."""
        return self.root_diameter_mm if self.form_diameter_mm is None else self.form_diameter_mm

    @property
    def transverse_angle_rad(self) -> float:
        """Pressure angle at the reference diameter in the plane across the axis."""
        normal = math.tan(math.radians(self.pressure_angle_deg))
        return math.atan(normal / math.cos(math.radians(self.helix_angle_deg)))

    @property
    def reference_diameter_mm(self) -> float:
        """Diameter at which module, pressure angle and helix angle hold."""
        return self.module_mm * self.teeth / math.cos(math.radians(self.helix_angle_deg))

    @property
    def base_diameter_mm(self) -> float:
        """Diameter of the circle the involutes unroll from."""
        return self.reference_diameter_mm * math.cos(self.transverse_angle_rad)

    @property
    def base_helix_cosine(self) -> float:
        """Cosine of the helix angle on the base cylinder."""
        normal = self.module_mm * self.teeth * math.cos(math.radians(self.pressure_angle_deg))
        return normal / self.base_diameter_mm

    @property
    def opposite_share(self) -> float:
        """Share of the pins' distance that a gauge sees: cos(90°/z) for an odd count, else all."""
        return math.cos(math.pi / (2 * self.teeth)) if self.teeth % 2 else 1.0

    @property
    def half_pitch_mm(self) -> float:
        """Normal tooth thickness without profile shift: half the normal circular pitch."""
        return math.pi * self.module_mm / 2

    def thickness_mm(self, profile_shift: float = 0.0) -> float:
        """Normal circular tooth thickness at the reference diameter, from the profile shift in modules.

        s = m (π/2 + 2 x tan α), as in the "Elements of Metric Gear Technology", section 10.
        """
        return self.half_pitch_mm + 2 * profile_shift * self.module_mm * math.tan(
            math.radians(self.pressure_angle_deg)
        )

    def thickness_at_mm(self, diameter_mm: float, tooth_thickness_mm: float) -> float:
        """Transverse circular thickness at another diameter, from the normal one at the reference diameter.

        Parameters
        ----------
        diameter_mm : float
            From the base circle outwards.
        tooth_thickness_mm : float
            Normal circular thickness at the reference diameter.

        Returns
        -------
        float
            0 where the tooth is pointed, below 0 beyond.

        Raises
        ------
        Refused
            The diameter lies inside the base circle.
        """
        if not self.base_diameter_mm <= diameter_mm < math.inf:
            raise Refused.one(
                "there is no involute at this diameter",
                value=f"{diameter_mm:g} mm",
                column="diameter",
                allowed=f"from {self.base_diameter_mm:.3f} mm outwards",
            )
        half = tooth_thickness_mm / (self.module_mm * self.teeth) + involute(self.transverse_angle_rad)
        return diameter_mm * (half - involute(math.acos(self.base_diameter_mm / diameter_mm)))


def outside(name: str, value: float, allowed: bool, domain: str) -> Refusal | None:
    """Refuse a number outside its domain."""
    if allowed:
        return None
    return Refusal(
        f"these are no teeth: {name} is outside its range", f"{value:g}", column=name, allowed=domain
    )
