"""External splines as a standard's class gives them, and the limits over pins that a plan can be written with."""

from dataclasses import dataclass

from spc.errors import Refused
from spc.geometry.best_pin import best_pin_mm
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.known import Known
from spc.geometry.over_pins import OverPins, over_pins

__all__ = ["SplineLimits", "OverPinLimits", "over_pin_limits"]


@dataclass(frozen=True, slots=True)
class SplineLimits:
    """Sizes and tolerances of an external spline.

    Attributes
    ----------
    standard, spline_class, fit : str
        Where the figures come from, in words for a report.
    teeth : InvoluteTeeth
        Module, teeth and angle, with the largest tip and, where known, the largest root and the form diameter.
    thickness_basic_mm : float
        Half a pitch.
    thickness_effective_max_mm : float
        Largest thickness that still enters the mating space, form and pitch errors included.
    thickness_max_mm, thickness_min_mm : float
        Limits of the thickness as pins see it.
    total_um, machining_um, variation_um : float
        Total tolerance T + λ, its part for machining T, and its part λ for the errors of form.
    parts_um : tuple of (name, µm)
        Pitch, profile and flank-line errors that λ is made of, where the standard works them out.
    diameters_mm : tuple of (name, Known)
        Tip, root and form diameters, each with how it is known.
    notes : tuple of str
        How firmly the tolerances are known.
    """

    standard: str
    spline_class: int
    fit: str
    teeth: InvoluteTeeth
    thickness_basic_mm: float
    thickness_effective_max_mm: float
    thickness_max_mm: float
    thickness_min_mm: float
    total_um: float
    machining_um: float
    variation_um: float
    parts_um: tuple[tuple[str, float], ...]
    diameters_mm: tuple[tuple[str, Known], ...]
    notes: tuple[str, ...]

    def diameter(self, name: str) -> Known:
        """Look up one of the diameters by its name."""
        return dict(self.diameters_mm)[name]


@dataclass(frozen=True, slots=True)
class OverPinLimits:
    """Limits over pins of a spline class.

    Attributes
    ----------
    upper_mm, lower_mm : float
        Limits of the size over pins.
    effective_mm : float
        Size over pins of a perfect spline that just enters.
    pin_mm : float
        Pins they hold for.
    at_upper, at_lower : OverPins
        The two sizes with contact, change factor and slide gain.
    """

    upper_mm: float
    lower_mm: float
    effective_mm: float
    pin_mm: float
    at_upper: OverPins
    at_lower: OverPins


def over_pin_limits(spline: SplineLimits, pin_mm: float | None = None) -> OverPinLimits:
    """Turn a spline class into limits over pins, for a plan written from a drawing.

    Parameters
    ----------
    spline : SplineLimits
        From `iso_spline` or `inch_spline`.
    pin_mm : float, optional
        Diameter of the pins; without it the best pin for a tooth of half a pitch.

    Returns
    -------
    OverPinLimits

    Raises
    ------
    Refused
        The pin doesn't rest on the active flanks at both limits, or the class leaves no tooth.

    Examples
    --------
    >>> from spc.geometry import iso_spline
    >>> limits = over_pin_limits(iso_spline(2.0, 25, spline_class=6), pin_mm=3.75)
    >>> round(limits.lower_mm, 3), round(limits.upper_mm, 3)
    (55.429, 55.536)
    """
    if spline.thickness_min_mm <= 0.0:
        raise Refused.one("this class leaves no tooth: its tolerance is wider than the tooth is thick")
    pin = best_pin_mm(spline.teeth, spline.thickness_basic_mm) if pin_mm is None else pin_mm
    upper = over_pins(spline.teeth, spline.thickness_max_mm, pin)
    lower = over_pins(spline.teeth, spline.thickness_min_mm, pin)
    effective = over_pins(spline.teeth, spline.thickness_effective_max_mm, pin)
    return OverPinLimits(
        upper_mm=upper.over_pin_mm,
        lower_mm=lower.over_pin_mm,
        effective_mm=effective.over_pin_mm,
        pin_mm=pin,
        at_upper=upper,
        at_lower=lower,
    )
