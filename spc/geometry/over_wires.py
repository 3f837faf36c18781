"""Size of a thread over three wires, the pitch diameter behind it, and what the lead adds."""

import math
from dataclasses import dataclass

from spc.errors import Refusal, Refused
from spc.geometry.wire_contact import resting_radius_mm

__all__ = ["OverWires", "best_wire_mm", "over_wires", "pitch_diameter_over_wires", "refuse_hidden_wires"]


@dataclass(frozen=True, slots=True)
class OverWires:
    """A size over three wires and the thread it stands for.

    Attributes
    ----------
    over_wire_mm : float
        Textbook size over the wires, lead left out.
    over_wire_exact_mm : float
        What the gauge shows: the wires at rest in a groove with straight axial flanks, lead and all.
    pitch_diameter_mm : float
        Pitch diameter.
    wire_mm, best_wire_mm : float
        Wires used, and the wires that touch on the pitch diameter.
    lead_angle_deg : float
        Lead angle on the pitch diameter.
    lead_correction_mm : float
        Textbook correction for the lead, to be added to `over_wire_mm`.
    """

    over_wire_mm: float
    over_wire_exact_mm: float
    pitch_diameter_mm: float
    wire_mm: float
    best_wire_mm: float
    lead_angle_deg: float
    lead_correction_mm: float


def over_wires(
    pitch_mm: float,
    included_angle_deg: float,
    pitch_diameter_mm: float,
    wire_mm: float | None = None,
    starts: int = 1,
) -> OverWires:
    """Work out what the gauge shows over three wires for a thread of this pitch diameter.

    Parameters
    ----------
    pitch_mm : float
        Axial distance from groove to groove, above 0 (a thread with several starts: not its lead).
    included_angle_deg : float
        Angle between the flanks in the axial plane, 10 to 120; both flanks lean the same.
    pitch_diameter_mm : float
        Pitch diameter, above 0.
    wire_mm : float, optional
        Diameter of the wires; without it the best wire.
    starts : int
        Starts of the thread, 1 or more.

    Returns
    -------
    OverWires

    Raises
    ------
    Refused
        The numbers describe no thread, or the wire touches above the sharp crest or finds no place in the
        groove.

    Notes
    -----
    Textbook: M = E + w (1 + 1/sin a) − (p/2) cot a, a half the included angle. Its lead correction is
    (w/2) tan²λ cos a cot a with tan λ = lead/(π E) (ASME B1.2 and NBS Handbook H28, from memory); against the
    true contact it is good to 0.1 µm at a lead angle of 3°, to 3 µm at 8° and useless at 18°. The exact value
    comes from the contact itself, see `spc.geometry.wire_contact`.

    Examples
    --------
    >>> thread = over_wires(1.5, 60, pitch_diameter_mm=9.026, wire_mm=0.866025)
    >>> round(thread.over_wire_mm, 6), round(thread.lead_correction_mm, 6)
    (10.325037, 0.001818)
    """
    refuse_no_thread(pitch_mm, included_angle_deg, pitch_diameter_mm, wire_mm, starts)
    wire = best_wire_mm(pitch_mm, included_angle_deg) if wire_mm is None else wire_mm
    half_angle, lead = math.radians(included_angle_deg / 2), starts * pitch_mm
    lead_tangent = lead / (math.pi * pitch_diameter_mm)
    radius = resting_radius_mm(pitch_mm, half_angle, pitch_diameter_mm, wire, lead)
    return OverWires(
        over_wire_mm=pitch_diameter_mm + textbook_rise_mm(pitch_mm, half_angle, wire),
        over_wire_exact_mm=2 * radius + wire,
        pitch_diameter_mm=pitch_diameter_mm,
        wire_mm=wire,
        best_wire_mm=best_wire_mm(pitch_mm, included_angle_deg),
        lead_angle_deg=math.degrees(math.atan(lead_tangent)),
        lead_correction_mm=wire / 2 * lead_tangent**2 * math.cos(half_angle) / math.tan(half_angle),
    )


def pitch_diameter_over_wires(
    pitch_mm: float,
    included_angle_deg: float,
    over_wire_mm: float,
    wire_mm: float | None = None,
    starts: int = 1,
    *,
    textbook: bool = False,
) -> OverWires:
    """Work out the pitch diameter behind a reading over three wires.

    Parameters
    ----------
    pitch_mm, included_angle_deg, wire_mm, starts
        As in `over_wires`.
    over_wire_mm : float
        Reading over the wires.
    textbook : bool
        Read it by the textbook formula without lead, instead of by the true contact.

    Returns
    -------
    OverWires
        With a pitch diameter whose exact (or textbook) size over the wires is the reading.

    Raises
    ------
    Refused
        As `over_wires`; and a reading smaller than the wires and the groove allow.

    Examples
    --------
    >>> thread = pitch_diameter_over_wires(1.5, 60, over_wire_mm=10.324962, wire_mm=0.866, textbook=True)
    >>> round(thread.pitch_diameter_mm, 4)
    9.026
    """
    wire = best_wire_mm(pitch_mm, included_angle_deg) if wire_mm is None else wire_mm
    start = over_wire_mm - textbook_rise_mm(pitch_mm, math.radians(included_angle_deg / 2), wire)
    if not 0.0 < start < math.inf:
        raise Refused.one(
            "this reading leaves no pitch diameter: the wires alone stand further out",
            value=f"{over_wire_mm:g} mm over {wire:g} mm wires",
            do="Check pitch, angle and wires",
        )
    thread = over_wires(pitch_mm, included_angle_deg, start, wire, starts)
    for _ in range(0 if textbook else 60):
        too_much = thread.over_wire_exact_mm - over_wire_mm
        if abs(too_much) < 1e-12 * over_wire_mm:
            break
        diameter = thread.pitch_diameter_mm - too_much
        thread = over_wires(pitch_mm, included_angle_deg, diameter, wire, starts)
    return thread


def refuse_hidden_wires(thread: OverWires, outside_diameter_mm: float) -> None:
    """Refuse wires that lie below the crests of a thread, where the gauge would touch the crests instead.

    Parameters
    ----------
    thread : OverWires
    outside_diameter_mm : float
        Major diameter of the thread, above 0.

    Raises
    ------
    Refused
        The pitch diameter is not inside the thread, or the wires do not reach out of it.

    Examples
    --------
    >>> refuse_hidden_wires(over_wires(1.5, 60, 9.026, wire_mm=0.866), outside_diameter_mm=9.968)
    """
    if not thread.pitch_diameter_mm < outside_diameter_mm < math.inf:
        raise Refused.one(
            f"the pitch diameter {thread.pitch_diameter_mm:g} mm lies outside the thread",
            column="pitch diameter",
            allowed=f"below the major diameter {outside_diameter_mm:g} mm",
        )
    if thread.over_wire_exact_mm <= outside_diameter_mm:
        raise Refused.one(
            "the wires do not reach out of the thread: the gauge would touch the crests "
            f"({outside_diameter_mm:g} mm)",
            value=f"wire {thread.wire_mm:g} mm",
            column="wire",
            do="Take thicker wires",
        )


def best_wire_mm(pitch_mm: float, included_angle_deg: float) -> float:
    """Diameter of the wire that touches the flanks on the pitch diameter: p / (2 cos a), lead left out.

    Examples
    --------
    >>> round(best_wire_mm(1.0, 60), 5)
    0.57735
    """
    return pitch_mm / (2 * math.cos(math.radians(included_angle_deg / 2)))


def textbook_rise_mm(pitch_mm: float, half_angle_rad: float, wire_mm: float) -> float:
    """How much further out than the pitch diameter the textbook sees the wires."""
    return wire_mm * (1 + 1 / math.sin(half_angle_rad)) - pitch_mm / 2 / math.tan(half_angle_rad)


def refuse_no_thread(
    pitch_mm: float, included_angle_deg: float, pitch_diameter_mm: float, wire_mm: float | None, starts: int
) -> None:
    """Refuse numbers that describe no thread, all of them at once."""
    checks = [
        ("pitch", pitch_mm, 0.0 < pitch_mm < math.inf, "above 0 mm"),
        ("angle", included_angle_deg, 10.0 <= included_angle_deg <= 120.0, "10° to 120° between the flanks"),
        ("pitch diameter", pitch_diameter_mm, 0.0 < pitch_diameter_mm < math.inf, "above 0 mm"),
        ("starts", starts, starts >= 1 and starts == int(starts), "whole, 1 or more"),
    ]
    said = [
        Refusal(f"this is no thread: {name} is outside its range", f"{value:g}", column=name, allowed=domain)
        for name, value, allowed, domain in checks
        if not allowed
    ]
    if not said and starts * pitch_mm > math.pi * pitch_diameter_mm:
        steep = math.degrees(math.atan(starts * pitch_mm / (math.pi * pitch_diameter_mm)))
        said = [
            Refusal(
                "flanks as steep as these are teeth: measure them over pins, as helical teeth",
                f"{steep:.1f}°",
                column="lead angle",
                allowed="up to 45°",
            )
        ]
    if not said and wire_mm is not None:
        widest = 2 * best_wire_mm(pitch_mm, included_angle_deg)
        if not 0.0 < wire_mm < widest:
            said = [
                Refusal(
                    "a wire of this diameter touches no flank: it would ride on the crests",
                    f"{wire_mm:g} mm",
                    column="wire",
                    allowed=f"above 0 and below {widest:.3f} mm",
                )
            ]
    if said:
        raise Refused(said)
