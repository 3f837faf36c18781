"""External 30° splines by ANSI B92.1: from diametral pitch, teeth and class to sizes and tolerances, in mm."""

import math

from spc.errors import Refusal, Refused
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.known import FROM_MEMORY, NOT_KNOWN, READ, Known
from spc.geometry.spline_limits import SplineLimits

__all__ = ["inch_spline", "inch_pin_mm", "inch_tolerances"]

INCH_MM = 25.4
PINS = 1.92
CLASS_FACTORS = {4: 0.71, 5: 1.00, 6: 1.40, 7: 2.00}
# diametral pitches: machining (factor of N, constant), effective variation (factor of N, constant), in 0.0001 inch
CLASS_5 = {
    (2.5, 3): ((0.18, 15), (0.35, 20)),
    (4, 5): ((0.15, 13), (0.23, 18)),
    (6, 8): ((0.15, 11), (0.20, 15)),
    (10, 12): ((0.10, 11), (0.17, 14)),
    (16, 20): ((0.07, 11), (0.12, 13)),
    (24, 32, 40, 48): ((0.07, 11), (0.12, 11)),
    (64, 80): ((0.06, 9), (0.10, 10)),
    (128,): ((0.05, 9), (0.08, 9)),
}
PITCHES = tuple(pitch for row in CLASS_5 for pitch in row)
NOTES = (
    "tolerances: read in an open transcription of ANSI B92.1-1996, table 106; classes from memory as well",
)
COARSE_NOTE = "machining constant of pitches 2.5 and 3: 15 read, 14 from memory of a handbook; 15 is used"


def inch_spline(diametral_pitch: float, teeth: int, *, spline_class: int, root: str = "flat") -> SplineLimits:
    """Work out sizes and tolerances of an external 30° side-fit spline from its class.

    Parameters
    ----------
    diametral_pitch : float
        Teeth per inch of diameter, one of the standard's (the 32 of 32/64).
    teeth : int
        Tooth count, 6 or more.
    spline_class : {4, 5, 6, 7}
        Tolerance class.
    root : {"flat", "fillet"}
        Shape of the root.

    Returns
    -------
    SplineLimits
        In millimetres and µm.

    Raises
    ------
    Refused
        A number or word outside what the standard has, all of them at once.

    Notes
    -----
    Side fit: largest effective thickness = π/(2P), largest actual λ below it, smallest T below that. Form
    diameter (N − 1)/P − 2 c_F with c_F = 0.001 D, not under 0.002 nor over 0.010 inch. The root of fillet
    splines stands differently in the two texts at hand, so it is not known here.

    References
    ----------
    ANSI B92.1-1996, tables 2, 106 and 107, in an open transcription (read).

    Examples
    --------
    >>> spline = inch_spline(12, 24, spline_class=5)
    >>> round(spline.total_um / 2.54, 2)
    31.48
    """
    refuse_unknown(diametral_pitch, teeth, spline_class, root)
    machining, variation = inch_tolerances(diametral_pitch, teeth, spline_class)
    basic = math.pi / 2 / diametral_pitch * INCH_MM
    known = diameters_mm(diametral_pitch, teeth, root, (machining + variation) / 1000)
    return SplineLimits(
        standard="ANSI B92.1, 30° side fit",
        spline_class=spline_class,
        fit="side",
        teeth=InvoluteTeeth(
            INCH_MM / diametral_pitch, teeth, 30.0, 0.0, known[0][1].value, None, known[1][1].value
        ),
        thickness_basic_mm=basic,
        thickness_effective_max_mm=basic,
        thickness_max_mm=basic - variation / 1000,
        thickness_min_mm=basic - (machining + variation) / 1000,
        total_um=machining + variation,
        machining_um=machining,
        variation_um=variation,
        parts_um=(),
        diameters_mm=known,
        notes=(*NOTES, COARSE_NOTE) if diametral_pitch < 4 else NOTES,
    )


def inch_tolerances(diametral_pitch: float, teeth: int, spline_class: int) -> tuple[float, float]:
    """Machining tolerance T and effective variation λ, in µm.

    Examples
    --------
    >>> machining, variation = inch_tolerances(16, 20, 5)
    >>> round(machining / 2.54, 2), round(variation / 2.54, 2)
    (12.4, 15.4)
    """
    row = next(figures for pitches, figures in CLASS_5.items() if diametral_pitch in pitches)
    to_um = CLASS_FACTORS[spline_class] * 1e-4 * INCH_MM * 1000
    (per_tooth, constant), (varying, fixed) = row
    return to_um * (per_tooth * teeth + constant), to_um * (varying * teeth + fixed)


def inch_pin_mm(diametral_pitch: float) -> float:
    """Diameter of the usual pins of external 30° splines: 1.92/P inch.

    Examples
    --------
    >>> round(inch_pin_mm(24), 3)
    2.032
    """
    return PINS / diametral_pitch * INCH_MM


def diameters_mm(
    diametral_pitch: float, teeth: int, root: str, total_mm: float
) -> tuple[tuple[str, Known], ...]:
    """Return tip, form and root diameters with how each is known."""
    clearance = min(max(0.001 * teeth / diametral_pitch, 0.002), 0.010)
    form = (teeth - 1) / diametral_pitch - 2 * clearance
    lowest = Known(None, NOT_KNOWN)
    if root == "flat":
        thinned = 2 * total_mm / math.tan(math.radians(30.0))
        flat = ((teeth - 1.35) / diametral_pitch - 0.004) * INCH_MM - thinned
        lowest = Known(flat, FROM_MEMORY if diametral_pitch < 4 else READ)
    return (
        ("tip max", Known((teeth + 1) / diametral_pitch * INCH_MM, READ)),
        ("form max", Known(form * INCH_MM, READ)),
        ("root min", lowest),
    )


def refuse_unknown(diametral_pitch: float, teeth: int, spline_class: int, root: str) -> None:
    """Refuse what ANSI B92.1 has no figures for, all of it at once."""
    listed = ", ".join(f"{pitch:g}" for pitch in PITCHES)
    checks = [
        ("diametral pitch", f"{diametral_pitch:g}", diametral_pitch in PITCHES, listed),
        ("teeth", f"{teeth:g}", teeth == int(teeth) >= 6, "whole, 6 or more"),
        ("class", f"{spline_class}", spline_class in CLASS_FACTORS, "4, 5, 6 or 7"),
        ("root", root, root in ("flat", "fillet"), "flat or fillet"),
    ]
    said = [
        Refusal(f"no spline of ANSI B92.1 has this {name}", value, column=name, allowed=domain)
        for name, value, allowed, domain in checks
        if not allowed
    ]
    if said:
        raise Refused(said)
