"""Numbers that people believe: two digits of a forecast, and no more."""

import math

__all__ = ["two_digits"]


def two_digits(number: float) -> str:
    """Return a number of pieces or an amount of money in two digits.

    Examples
    --------
    >>> two_digits(12_345), two_digits(870), two_digits(4)
    ('12,000', '870', '4')
    """
    if abs(number) < 10:
        return str(round(number))
    size = 10 ** (math.floor(math.log10(abs(number))) - 1)
    return f"{round(number / size) * size:,}"
