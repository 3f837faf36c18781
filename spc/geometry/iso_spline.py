"""External 30° splines by ISO 4156 (as ANSI B92.2M): from module, teeth, class and fit to sizes and tolerances."""

import math

from spc.errors import Refusal, Refused
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.known import FROM_MEMORY, READ, Known
from spc.geometry.spline_limits import SplineLimits

__all__ = ["iso_spline", "iso_total_tolerance_um"]

ANGLE_DEG = 30.0
TOTAL = {4: (10.0, 40.0), 5: (16.0, 64.0), 6: (25.0, 100.0), 7: (40.0, 160.0)}
PITCH = {4: (2.5, 6.3), 5: (3.55, 9.0), 6: (5.0, 12.5), 7: (7.1, 18.0)}
PROFILE = {4: (1.6, 10.0), 5: (2.5, 16.0), 6: (4.0, 25.0), 7: (6.3, 40.0)}
FLANK_LINE = {4: (0.8, 4.0), 5: (1.0, 5.0), 6: (1.25, 6.3), 7: (2.0, 10.0)}
FITS_UP_TO_MM = (3, 6, 10, 18, 30, 50, 80, 120)
FITS_UM = {
    "d": (20, 30, 40, 50, 65, 80, 100, 120),
    "e": (14, 20, 25, 32, 40, 50, 60, 72),
    "f": (6, 10, 13, 16, 20, 25, 30, 36),
    "h": (0, 0, 0, 0, 0, 0, 0, 0),
}
ROOTS = {"flat": 1.5, "fillet": 1.8}
NOTES = (
    "tolerances: read in two open transcriptions of ISO 4156-1, and from memory of ANSI B92.2M",
    "fits d, e, f, h: read in one transcription",
)


def iso_spline(
    module_mm: float,
    teeth: int,
    *,
    spline_class: int,
    fit: str = "h",
    root: str = "fillet",
    length_mm: float | None = None,
) -> SplineLimits:
    """Work out sizes and tolerances of an external 30° spline from its class.

    Parameters
    ----------
    module_mm : float
        Module, above 0.
    teeth : int
        Tooth count, 6 or more.
    spline_class : {4, 5, 6, 7}
        Tolerance class.
    fit : {"h", "f", "e", "d"}
        Fundamental deviation; h leaves no clearance.
    root : {"fillet", "flat"}
        Shape of the root.
    length_mm : float, optional
        Length of the spline, for the flank-line error; without it half the reference diameter.

    Returns
    -------
    SplineLimits

    Raises
    ------
    Refused
        A number or word outside what the standard has, all of them at once; or a fit above 120 mm, where the
        figures aren't known here.

    Notes
    -----
    T + λ = a i_D + b i_S with i_D = 0.45 ∛D + 0.001 D (above 500 mm 0.004 D + 2.1), i_S likewise of πm/2;
    λ = 0.6 √(F_p² + F_α² + F_β²). Largest effective thickness = πm/2 − es, largest actual λ below it, smallest
    T below that. The form diameter is where a rack of depth 0.6 m ends its straight flank (from memory).

    References
    ----------
    ISO 4156-1:2005 and :2021, clause 9 and table 5, as two open transcriptions restate them (read); diameters
    from a public help page on ANSI B92.2M (read).

    Examples
    --------
    >>> spline = iso_spline(1.0, 20, spline_class=5)
    >>> round(spline.total_um, 3), round(spline.variation_um, 3)
    (53.443, 21.361)
    """
    refuse_unknown(module_mm, teeth, spline_class, fit, root, length_mm)
    reference = module_mm * teeth
    total = iso_total_tolerance_um(module_mm, teeth, spline_class)
    parts = errors_um(module_mm, teeth, spline_class, reference / 2 if length_mm is None else length_mm)
    variation = 0.6 * math.hypot(*(error for _, error in parts))
    basic, clearance = math.pi * module_mm / 2, clearance_mm(reference, fit)
    effective = basic - clearance
    tip, others = diameters_mm(module_mm, teeth, clearance, root)
    return SplineLimits(
        standard="ISO 4156-1, 30°",
        spline_class=spline_class,
        fit=fit,
        teeth=InvoluteTeeth(module_mm, teeth, ANGLE_DEG, 0.0, tip, *others.values()),
        thickness_basic_mm=basic,
        thickness_effective_max_mm=effective,
        thickness_max_mm=effective - variation / 1000,
        thickness_min_mm=effective - total / 1000,
        total_um=total,
        machining_um=total - variation,
        variation_um=variation,
        parts_um=parts,
        diameters_mm=(
            ("tip max", Known(tip, READ)),
            ("tip min", Known(tip - (0.2 * module_mm**0.667 - 0.01 * module_mm**-0.5), READ)),
            ("root max", Known(others["root max"], READ)),
            ("form max", Known(others["form max"], FROM_MEMORY)),
        ),
        notes=NOTES,
    )


def iso_total_tolerance_um(module_mm: float, teeth: int, spline_class: int) -> float:
    """Total tolerance T + λ of space width or tooth thickness, in µm.

    Examples
    --------
    >>> round(iso_total_tolerance_um(1.5, 28, 6), 3)
    100.271
    """
    by_diameter, by_width = TOTAL[spline_class]
    return by_diameter * unit_um(module_mm * teeth) + by_width * unit_um(math.pi * module_mm / 2)


def unit_um(length_mm: float) -> float:
    """Tolerance unit of a diameter or a width."""
    if length_mm > 500.0:
        return 0.004 * length_mm + 2.1
    return 0.45 * math.cbrt(length_mm) + 0.001 * length_mm


def errors_um(
    module_mm: float, teeth: int, spline_class: int, length_mm: float
) -> tuple[tuple[str, float], ...]:
    """Return the allowed errors of pitch (cumulative), profile and flank line."""
    root_of_half_round = math.sqrt(math.pi * module_mm * teeth / 2)
    size = module_mm + 0.0125 * module_mm * teeth
    return tuple(
        (name, factor * figure + constant)
        for name, (factor, constant), figure in (
            ("cumulative pitch", PITCH[spline_class], root_of_half_round),
            ("profile", PROFILE[spline_class], size),
            ("flank line", FLANK_LINE[spline_class], math.sqrt(length_mm)),
        )
    )


def clearance_mm(reference_mm: float, fit: str) -> float:
    """How much the fit thins the tooth."""
    step = next(place for place, limit in enumerate(FITS_UP_TO_MM) if fit == "h" or reference_mm <= limit)
    return FITS_UM[fit][step] / 1000


def diameters_mm(module_mm: float, teeth: int, clearance: float, root: str) -> tuple[float, dict[str, float]]:
    """Return the largest tip diameter, and the largest root and form diameters by name."""
    alpha = math.radians(ANGLE_DEG)
    drop = clearance / math.tan(alpha)
    reference = module_mm * teeth
    rolled = reference / 2 * math.sin(alpha) - (0.6 * module_mm + drop / 2) / math.sin(alpha)
    form = 2 * math.hypot(reference / 2 * math.cos(alpha), max(rolled, 0.0))
    lowest = module_mm * (teeth - ROOTS[root]) - drop
    return module_mm * (teeth + 1) - drop, {"root max": lowest, "form max": max(form, lowest)}


def refuse_unknown(
    module_mm: float, teeth: int, spline_class: int, fit: str, root: str, length_mm: float | None
) -> None:
    """Refuse what ISO 4156 has no figures for, all of it at once."""
    checks = [
        ("module", f"{module_mm:g}", 0.0 < module_mm < math.inf, "above 0 mm"),
        ("teeth", f"{teeth:g}", teeth == int(teeth) >= 6, "whole, 6 or more"),
        ("class", f"{spline_class}", spline_class in TOTAL, "4, 5, 6 or 7"),
        ("fit", fit, fit in FITS_UM, "h, f, e or d"),
        ("root", root, root in ROOTS, "fillet or flat"),
        ("length", f"{length_mm}", length_mm is None or 0.0 < length_mm < math.inf, "above 0 mm"),
    ]
    said = [
        Refusal(f"no spline of ISO 4156 has this {name}", value, column=name, allowed=domain)
        for name, value, allowed, domain in checks
        if not allowed
    ]
    if not said and fit != "h" and module_mm * teeth > FITS_UP_TO_MM[-1]:
        said = [
            Refusal(
                "the figures of this fit aren't known here above 120 mm",
                f"{fit} at {module_mm * teeth:g} mm",
                column="fit",
                allowed="h, or a reference diameter up to 120 mm",
                do="Give the limits of the tooth thickness from the drawing instead",
            )
        ]
    if said:
        raise Refused(said)
