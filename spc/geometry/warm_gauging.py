"""How sure a size brought to 20 °C is; when to tell people that they gauge too warm is the station's."""

import math
from dataclasses import dataclass

from spc.errors import Refusal, Refused
from spc.geometry.temperature import REFERENCE_C, SizeAt20

__all__ = ["WarmUncertainty", "warm_uncertainty"]

EXPANSION_U = 1e-6  # of steel whose make is not known, per kelvin (common practice, no source)
TEMPERATURE_U = 0.5


@dataclass(frozen=True, slots=True)
class WarmUncertainty:
    """Standard uncertainty of a size at 20 °C from temperatures and expansions, mm.

    Attributes
    ----------
    total_mm : float
        All of it.
    temperatures_mm, expansions_mm : float
        Its parts.
    """

    total_mm: float
    temperatures_mm: float
    expansions_mm: float


def warm_uncertainty(
    size: SizeAt20,
    *,
    temperature_c: float = TEMPERATURE_U,
    expansion_per_k: float = EXPANSION_U,
    same_steel: bool = False,
) -> WarmUncertainty:
    """Say how sure a size brought to 20 °C is.

    Parameters
    ----------
    size : SizeAt20
    temperature_c : float
        Standard uncertainty of each of the two temperatures, K.
    expansion_per_k : float
        Standard uncertainty of each coefficient.
    same_steel : bool
        Part and master are of one steel: their coefficients are wrong together, and only the difference of
        their temperatures counts.

    Returns
    -------
    WarmUncertainty

    Raises
    ------
    Refused
        An uncertainty below 0.

    Notes
    -----
    The slopes of L [α_p (T_p − 20) − α_m (T_m − 20)] in its four quantities, added in squares (GUM, clause 5).

    Examples
    --------
    >>> from spc.geometry import size_at_20
    >>> warm = size_at_20(100.0, part_c=30.0, master_c=20.0)
    >>> round(1000 * warm_uncertainty(warm, temperature_c=0.0).total_mm, 6)
    1.0
    """
    said = [
        Refusal(f"an uncertainty of the {name} is 0 or more", f"{value:g}", column=name)
        for name, value in (("temperature", temperature_c), ("expansion", expansion_per_k))
        if not 0.0 <= value < math.inf
    ]
    if said:
        raise Refused(said)
    length, part, master = size.length_mm, size.part_c - REFERENCE_C, size.master_c - REFERENCE_C
    temperatures = length * temperature_c * math.hypot(size.part_per_k, size.master_per_k)
    apart = abs(part - master) if same_steel else math.hypot(part, master)
    expansions = length * expansion_per_k * apart
    return WarmUncertainty(
        total_mm=math.hypot(temperatures, expansions), temperatures_mm=temperatures, expansions_mm=expansions
    )
