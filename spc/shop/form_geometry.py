"""The geometry a plan names for a characteristic: what is rolled, what the gauge touches, what lies behind its size."""

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "FormGeometry", "GainGuess", "GaugedSize", "GrooveForm", "RolledForm", "SplineForm", "ThreadForm", "WormForm",
]  # fmt: skip

RolledForm = Literal["spline", "thread", "worm", "groove"]


@dataclass(frozen=True, slots=True)
class SplineForm:
    """External involute teeth, spline or gear.

    Attributes
    ----------
    module_mm : float
        Normal module; for diametral pitch P it is 25.4/P.
    pressure_angle_deg : float or None
        Normal, at the reference diameter; None where the plan does not say.
    helix_deg : float
        From the axis; 0 for straight teeth.
    pin_mm : float or None
        Diameter of pins or balls.
    tip_diameter_mm, root_diameter_mm, form_diameter_mm : float or None
    """

    module_mm: float
    teeth: int
    pressure_angle_deg: float | None = None
    helix_deg: float = 0.0
    pin_mm: float | None = None
    tip_diameter_mm: float | None = None
    root_diameter_mm: float | None = None
    form_diameter_mm: float | None = None


@dataclass(frozen=True, slots=True)
class ThreadForm:
    """A thread with straight axial flanks that lean alike; `pitch_mm` from groove to groove, not the lead."""

    pitch_mm: float
    included_angle_deg: float = 60.0
    starts: int = 1
    wire_mm: float | None = None
    major_diameter_mm: float | None = None


@dataclass(frozen=True, slots=True)
class WormForm:
    """A worm given by its axial module; `profile` is ZI (involute helicoid) or ZA (straight in the axial plane)."""

    module_mm: float
    starts: int
    pressure_angle_deg: float
    reference_diameter_mm: float
    profile: str = "ZI"
    wire_mm: float | None = None


@dataclass(frozen=True, slots=True)
class GrooveForm:
    """A ball groove around a shaft or tube.

    Attributes
    ----------
    ball_mm : float or None
        Gauge balls.
    lead_mm : float or None
        Of a screw groove; None for straight ones.
    grooves : int
        Straight grooves around the part; for a screw its starts.
    arc_radius_mm, contact_angle_deg : float or None
        Section of the groove.
    nominal_lead, nominal_depth : tuple of (position mm, value mm)
        Where lead or depth change along the part on purpose; straight between the rows.
    """

    ball_mm: float | None = None
    lead_mm: float | None = None
    grooves: int = 2
    arc_radius_mm: float | None = None
    contact_angle_deg: float | None = None
    nominal_lead: tuple[tuple[float, float], ...] = ()
    nominal_depth: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class GaugedSize:
    """A size over pins, wires or balls and what lies behind it.

    Attributes
    ----------
    gauge_mm : float
        What the gauge shows, not rounded.
    size_mm : float
        Normal tooth thickness, pitch diameter, axial thread thickness, or diameter of the ball circle.
    change_factor : float
        Millimetres more on the gauge per millimetre of `size_mm`.
    per_closing : float
        Millimetres less on the gauge per millimetre that two profiled dies close.
    contact_diameter_mm : float or None
        Where pin or wire touch, where that is known.
    """

    gauge_mm: float
    size_mm: float
    change_factor: float
    per_closing: float
    contact_diameter_mm: float | None = None


@dataclass(frozen=True, slots=True)
class GainGuess:
    """First guess of the slide gain from geometry.

    Attributes
    ----------
    gain : float
        Millimetres smaller per millimetre that the dies approach; negative where deeper makes it larger.
    share_sd : float
        Standard deviation of the guess, as a share of it.
    says : str
        Where it comes from, in words.
    """

    gain: float
    share_sd: float
    says: str


@dataclass(frozen=True, slots=True)
class FormGeometry:
    """What a plan says of the geometry of a characteristic, with what was worked out when it was taken in.

    Attributes
    ----------
    form : {"spline", "thread", "worm", "groove"}
        Which one of the four forms below is given.
    opposite_die : {"profiled", "plain"}
        Two profiled dies, or one against a plain support die.
    size_name : str
        What lies behind the gauge's size, in words; "" where this characteristic is not gauged through it.
    element : {"pin", "wire", "ball", ""}
    element_mm, best_element_mm : float or None
        The pins, wires or balls used, and those that touch in the middle of the flank.
    at_lower, at_upper, at_aim : GaugedSize or None
        The tolerance limits and the aim, seen from both sides.
    limits_from : str
        What of the drawing gave the limits, in words; "" where the plan gave the gauge's own.
    notes : tuple of str
        How firmly a standard's figures are known.
    gain : GainGuess or None
        None where the geometry tells nothing of this kind of size.
    """

    form: RolledForm
    opposite_die: str = "profiled"
    spline: SplineForm | None = None
    thread: ThreadForm | None = None
    worm: WormForm | None = None
    groove: GrooveForm | None = None
    size_name: str = ""
    element: str = ""
    element_mm: float | None = None
    best_element_mm: float | None = None
    at_lower: GaugedSize | None = None
    at_upper: GaugedSize | None = None
    at_aim: GaugedSize | None = None
    limits_from: str = ""
    notes: tuple[str, ...] = ()
    gain: GainGuess | None = None
