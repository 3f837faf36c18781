"""The size of the drawing behind what the gauge shows: tooth thickness, pitch diameter, ball circle."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from spc.errors import Refused
from spc.geometry import size_from_gauge
from spc.shop import Characteristic, FormGeometry
from spc.shop.layouts import LENGTH_UNITS

__all__ = ["SizeBehind", "size_behind"]


@dataclass(frozen=True, slots=True)
class SizeBehind:
    """What the pieces of one check measure where the drawing looks.

    Attributes
    ----------
    name : str
        Tooth thickness, pitch diameter, axial thread thickness or ball circle.
    mean_mm : float
        Behind the mean of the readings.
    smallest_mm, largest_mm : float
        Behind the smallest and the largest reading.
    lower_mm, upper_mm : float or None
        Limits, seen at the same place.
    n : int
        Readings.
    """

    name: str
    mean_mm: float
    smallest_mm: float
    largest_mm: float
    lower_mm: float | None
    upper_mm: float | None
    n: int


def size_behind(characteristic: Characteristic, values: Sequence[float]) -> SizeBehind | None:
    """Say for a quality lead what the drawing's own size is on these pieces.

    Parameters
    ----------
    characteristic : Characteristic
    values : sequence of float
        Readings of one check, in the plan's unit.

    Returns
    -------
    SizeBehind or None
        None where the plan names no geometry, without readings, and where no such part can show one of them.

    Notes
    -----
    For screens only: no verdict rests on it.
    """
    geometry = characteristic.geometry
    if geometry is None or not geometry.size_name or not values:
        return None
    per_unit = float(Decimal(LENGTH_UNITS[characteristic.unit]))
    mean = sum(values) / len(values)
    try:
        middle, small, large = (
            size_from_gauge(geometry, each * per_unit).size_mm for each in (mean, min(values), max(values))
        )
    except Refused:
        return None
    return SizeBehind(geometry.size_name, middle, small, large, *_limits(geometry), len(values))


def _limits(geometry: FormGeometry) -> tuple[float | None, float | None]:
    low, high = (None if each is None else each.size_mm for each in (geometry.at_lower, geometry.at_upper))
    return low, high
