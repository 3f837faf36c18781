"""Units of files and plans, converted exactly."""

from decimal import Decimal

from spc.shop.layouts import LENGTH_UNITS, UNITS

__all__ = ["converted", "read_unit"]


def read_unit(text: str) -> str | None:
    """Return the unit a text names, None where nobody knows it.

    Examples
    --------
    >>> read_unit("MM"), read_unit("µm"), read_unit("cm")
    ('mm', 'um', None)
    """
    small = text.strip().lower().replace("\u00b5", "u").replace("\u03bc", "u")
    return small if small in UNITS else None


def converted(value: Decimal, unit: str, to: str) -> Decimal | None:
    """Turn a value into another unit; None where one is a length and the other an angle.

    Exact wherever the result has a finite decimal form; else rounded at 28 digits.

    Examples
    --------
    >>> converted(Decimal("1.25"), "in", "mm"), converted(Decimal("31.75"), "mm", "in")
    (Decimal('31.750'), Decimal('1.25'))
    >>> converted(Decimal(1), "deg", "mm") is None
    True
    """
    if unit == to:
        return value
    if unit not in LENGTH_UNITS or to not in LENGTH_UNITS:
        return None
    return value * Decimal(LENGTH_UNITS[unit]) / Decimal(LENGTH_UNITS[to])
