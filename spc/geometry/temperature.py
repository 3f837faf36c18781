"""A warm reading brought to 20 °C: what counts is how differently part and setting master have grown."""

import math
from dataclasses import dataclass

from spc.errors import Refusal, Refused

__all__ = ["SizeAt20", "STEEL_PER_K", "size_at_20"]

REFERENCE_C = 20.0
STEEL_PER_K = 11.5e-6


@dataclass(frozen=True, slots=True)
class SizeAt20:
    """A reading brought to 20 °C.

    Attributes
    ----------
    size_mm : float
        The size at 20 °C (of a deviation: the deviation at 20 °C).
    taken_off_mm : float
        What was taken off the reading; negative where something was added.
    length_mm : float
        Length that was taken to grow.
    part_c, master_c : float
        Temperatures of part and setting master.
    part_per_k, master_per_k : float
        Their coefficients of expansion.
    """

    size_mm: float
    taken_off_mm: float
    length_mm: float
    part_c: float
    master_c: float
    part_per_k: float
    master_per_k: float


def size_at_20(
    reading_mm: float,
    *,
    part_c: float,
    master_c: float,
    length_mm: float | None = None,
    part_per_k: float = STEEL_PER_K,
    master_per_k: float = STEEL_PER_K,
) -> SizeAt20:
    """Bring a reading of a warm part, on a gauge set on a master, to 20 °C.

    Parameters
    ----------
    reading_mm : float
        What the gauge said, an absolute size or a deviation.
    part_c, master_c : float
        Temperatures of the part and of the setting master when it was used, −20 to 120 °C. Both are needed:
        a master as warm as the part makes the reading right by itself.
    length_mm : float, optional
        Length that grows. Without it the reading itself; a deviation needs it.
    part_per_k, master_per_k : float
        Coefficients of linear expansion per kelvin, 0 to 50e-6; without them ordinary steel.

    Returns
    -------
    SizeAt20

    Raises
    ------
    Refused
        A temperature is missing or can't be that of a part in hand, a coefficient isn't per kelvin.

    Notes
    -----
    From the reading is taken L [α_part (T_part − 20) − α_master (T_master − 20)]; the term of second order,
    α² ΔT² L, is below 0.01 µm on any rolled part. 20 °C is the reference temperature of ISO 1. Steel of
    gauge blocks: 11.5e-6 ± 1e-6 per kelvin (from memory); hardened and stainless steels run from 10e-6 to
    18e-6. Angles and forms are never corrected.

    Examples
    --------
    >>> round(1000 * size_at_20(300.0, part_c=28.0, master_c=20.0).taken_off_mm, 1)
    27.6
    >>> size_at_20(31.2526, part_c=31.0, master_c=31.0).size_mm
    31.2526
    """
    length = reading_mm if length_mm is None else length_mm
    refuse_out_of_range(reading_mm, length, (part_c, master_c), (part_per_k, master_per_k))
    part = part_per_k * (part_c - REFERENCE_C)
    master = master_per_k * (master_c - REFERENCE_C)
    taken_off = length * (part - master)
    return SizeAt20(
        size_mm=reading_mm - taken_off,
        taken_off_mm=taken_off,
        length_mm=length,
        part_c=part_c,
        master_c=master_c,
        part_per_k=part_per_k,
        master_per_k=master_per_k,
    )


def refuse_out_of_range(
    reading_mm: float, length_mm: float, warm_c: tuple[float, float], per_k: tuple[float, float]
) -> None:
    """Refuse what cannot be the temperature, the expansion or the length of a part, all at once."""
    said = []
    for name, celsius in zip(("part", "master"), warm_c, strict=True):
        if not -20.0 <= celsius <= 120.0:
            said.append(
                Refusal(
                    f"this can't be the temperature of the {name} in hand",
                    f"{celsius:g} °C",
                    column=f"{name} temperature",
                    allowed="−20 to 120 °C, in degrees Celsius",
                )
            )
    for name, coefficient in zip(("part", "master"), per_k, strict=True):
        if not 0.0 <= coefficient <= 50e-6:
            said.append(
                Refusal(
                    f"this can't be the expansion of the {name}",
                    f"{coefficient:g}",
                    column=f"{name} expansion",
                    allowed="0 to 50e-6 per kelvin (steel is near 11.5e-6)",
                )
            )
    if not (math.isfinite(reading_mm) and 0.0 <= length_mm < math.inf):
        said.append(Refusal("a length that grows is 0 mm or more", f"{length_mm:g} mm", column="length"))
    if said:
        raise Refused(said)
