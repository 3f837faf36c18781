"""A typed temperature of a part or a setting master."""

from decimal import Decimal
from typing import Final

from spc.intake.number import read_between

__all__ = ["CELSIUS_ALLOWED", "read_celsius"]

COLDEST_C: Final = Decimal(-20)
WARMEST_C: Final = Decimal(120)
CELSIUS_ALLOWED: Final = f"{COLDEST_C} to {WARMEST_C} °C, such as 21.5"


def read_celsius(text: str) -> Decimal | str:
    """Read a temperature for the entry page and for programs.

    Returns
    -------
    Decimal or str
        °C, or the sentence that says why it cannot be one.

    Examples
    --------
    >>> read_celsius("31,5"), read_celsius("310")
    (Decimal('31.5'), 'no part or master in the hand has this temperature')
    """
    value = read_between(text, None)
    if isinstance(value, str):
        return value
    if not COLDEST_C <= value <= WARMEST_C:
        return "no part or master in the hand has this temperature"
    return value
