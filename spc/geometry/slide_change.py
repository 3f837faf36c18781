"""What a move of the slide does to each size of a part, with its sign and the reason."""

import math
from dataclasses import dataclass

from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.over_pins import over_pins
from spc.geometry.slide_gain import chosen, first_slide_gain

__all__ = ["SlideChange", "over_pin_change_mm", "slide_changes"]

KINDS = {
    "spline": ("over_pin_diameter", "diameter", "crest_diameter", "groove_depth"),
    "thread": ("over_wire_diameter", "diameter", "crest_diameter", "groove_depth"),
    "worm": ("over_wire_diameter", "diameter", "crest_diameter", "groove_depth"),
    "groove": ("over_ball_diameter", "diameter", "crest_diameter", "groove_depth", "wall_thickness"),
}
REASONS = {
    "over_pin_diameter": "the flanks move in and the pin rides out on their slope",
    "over_wire_diameter": "the groove is carried inward as it is, and the wires with it",
    "over_ball_diameter": "the groove is carried inward as it is, and the balls with it",
    "diameter": "the die's crest forms the root",
    "crest_diameter": "what is pressed out of the groove rises, until the die is full",
    "groove_depth": "a depth counts one side of the part",
    "wall_thickness": "what the groove gains the wall under it loses",
}
CREST_CARRIED = "the plain die carries the crests and keeps them where they are"


@dataclass(frozen=True, slots=True)
class SlideChange:
    """What one size does when the slide moves.

    Attributes
    ----------
    kind : str
        Kind of characteristic.
    change_um : float
        Change of the size, signed; a first guess without machine spring.
    gain : float
        Millimetres smaller per millimetre deeper, as the plan's `penetration_gain`.
    says : str
        Why, in words.
    """

    kind: str
    change_um: float
    gain: float
    says: str


def slide_changes(
    deeper_um: float,
    *,
    form: str,
    slides: str = "one",
    opposite_die: str = "profiled",
    over_pin_gain: float | None = None,
) -> tuple[SlideChange, ...]:
    """Tell the operator what a move of the slide does to every size of the part.

    Parameters
    ----------
    deeper_um : float
        Move of the displayed slide, positive deeper.
    form : {"spline", "thread", "worm", "groove"}
        What is rolled.
    slides : {"one", "two"}
        One moving slide, or two opposed ones.
    opposite_die : {"profiled", "plain"}
        Two profiled dies, or one against a plain support die.
    over_pin_gain : float, optional
        For splines: what the geometry of the teeth gives (`OverPins.slide_gain`).

    Returns
    -------
    tuple of SlideChange

    Raises
    ------
    Refused
        A word isn't known.

    Examples
    --------
    >>> for change in slide_changes(4.0, form="groove", opposite_die="plain")[:2]:
    ...     print(change.kind, change.change_um)
    over_ball_diameter -8.0
    diameter -8.0
    """
    found = []
    for kind in chosen("form that is rolled", form, KINDS):
        gain = first_slide_gain(
            kind, slides=slides, opposite_die=opposite_die, over_pin_gain=over_pin_gain
        ).gain
        carried = kind == "crest_diameter" and opposite_die == "plain"
        change = -gain * deeper_um + 0.0  # no minus zero
        found.append(SlideChange(kind, change, gain, CREST_CARRIED if carried else REASONS[kind]))
    return tuple(found)


def over_pin_change_mm(
    teeth: InvoluteTeeth, tooth_thickness_mm: float, pin_mm: float, closing_mm: float
) -> float:
    """Exact change over pins when the centres of two profiled dies close, by contact before and after.

    Parameters
    ----------
    teeth : InvoluteTeeth
    tooth_thickness_mm : float
        Before the move.
    pin_mm : float
    closing_mm : float
        Way by which the centres close, positive deeper.

    Returns
    -------
    float
        Millimetres, negative for a move deeper.

    Raises
    ------
    Refused
        As `over_pins`, before or after the move.

    Notes
    -----
    Each die moves in by half the way, and each flank of the part by that times tan α.

    Examples
    --------
    >>> teeth = InvoluteTeeth(module_mm=2.0, teeth=25, pressure_angle_deg=30.0)
    >>> round(1000 * over_pin_change_mm(teeth, teeth.thickness_mm(), 3.75, closing_mm=0.010), 2)
    -9.03
    """
    thinner = tooth_thickness_mm - closing_mm * math.tan(math.radians(teeth.pressure_angle_deg))
    before = over_pins(teeth, tooth_thickness_mm, pin_mm).over_pin_mm
    return over_pins(teeth, thinner, pin_mm).over_pin_mm - before
