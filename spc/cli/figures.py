"""Numbers as a person reads them in a terminal: as many digits as the spread makes worth printing."""

from math import floor, isfinite, log10

__all__ = ["decimals_for", "fixed", "span"]


def decimals_for(sigma: float) -> int:
    """Decimals that show a standard deviation in three digits, and so a mean to a hundredth of it.

    Examples
    --------
    >>> decimals_for(0.00979), decimals_for(2.4)
    (5, 2)
    """
    if not (isfinite(sigma) and sigma > 0.0):
        return 6
    return max(0, 2 - floor(log10(sigma)))


def fixed(value: float | None, decimals: int) -> str:
    """Write a number with its decimals; a missing one as a dash."""
    if value is None or not isfinite(value):
        return "–"
    return f"{value:.{decimals}f}"


def span(low: float | tuple[float, ...], high: float | tuple[float, ...], decimals: int) -> str:
    """Write two limits; where they differ from subgroup to subgroup, the narrowest and say so.

    Examples
    --------
    >>> span(9.0, 11.0, 1)
    '9.0 … 11.0'
    >>> span((9.0, 9.5), (11.0, 10.5), 1)
    '9.5 … 10.5 at the narrowest, 9.0 … 11.0 at the widest'
    """
    if not isinstance(low, tuple) and not isinstance(high, tuple):
        return f"{fixed(low, decimals)} … {fixed(high, decimals)}"
    lows, highs = (each if isinstance(each, tuple) else (each,) for each in (low, high))
    inner = f"{fixed(max(lows), decimals)} … {fixed(min(highs), decimals)}"
    return f"{inner} at the narrowest, {fixed(min(lows), decimals)} … {fixed(max(highs), decimals)} at the widest"
