"""A start angle is a direction: 359.6° and −0.4° are one reading, whatever the gauge calls it."""

from decimal import Decimal
from typing import Final

from spc.geometry import near_nominal_deg
from spc.shop.plan import Characteristic

__all__ = ["as_direction", "is_direction"]

_CIRCLE: Final = 360


def is_direction(characteristic: Characteristic) -> bool:
    """Whether its values come again after a full circle."""
    return characteristic.kind == "start_angle" and characteristic.unit == "deg"


def as_direction(value: Decimal, characteristic: Characteristic) -> Decimal:
    """Return a value that limits, means and spreads can be held to: a direction is named near the nominal.

    Parameters
    ----------
    value : Decimal
        In the plan's unit, as gauged.
    characteristic : Characteristic
        With k starts in its thread or worm the same direction comes again after 360°/k.

    Returns
    -------
    Decimal
        The value itself for everything that is no direction, and where it is more than a whole circle from the
        nominal: no gauge shows that, so it is a slip and stays one.

    Examples
    --------
    >>> from spc.shop.limits import ToleranceLimits
    >>> start = Characteristic("start", "start_angle", "deg", Decimal(0),
    ...                        ToleranceLimits(Decimal("-1.5"), Decimal("1.5")))
    >>> as_direction(Decimal("359.6"), start)
    Decimal('-0.4')
    """
    if not is_direction(characteristic) or abs(value - characteristic.nominal) > _CIRCLE:
        return value
    return near_nominal_deg(value, characteristic.nominal, starts=_starts(characteristic))


def _starts(characteristic: Characteristic) -> int:
    """Return the starts that the plan's geometry names, all alike; 1 where it names none."""
    geometry = characteristic.geometry
    form = None if geometry is None else geometry.thread or geometry.worm
    return 1 if form is None else form.starts
