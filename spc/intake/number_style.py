"""Decimal point or decimal comma: settled once a file, from all its numbers."""

from collections.abc import Iterable

from spc.intake.number import ExactText, Fits, NumberStyle, both_readings

__all__ = ["settle_style"]


def settle_style(numbers: Iterable[tuple[str, Fits | None]], separator: str) -> NumberStyle | None:
    """Settle how a file writes its decimals.

    Parameters
    ----------
    numbers : iterable of (text, Fits or None)
        Every text that should be a number, with the plan's test for it where there is one.
    separator : str
        Between the cells: ",", ";", tab, or "" for a sheet.

    Returns
    -------
    {"point", "comma"} or None
        None where a comma before three digits leaves both readings open; such a number is then refused
        unless the plan favours one reading of it.

    Notes
    -----
    A comma before three digits is a decimal comma when the separator is ";" or tab, or when another number
    of the file can only have a decimal comma. Else the plan votes, and only a vote without dissent settles.

    Examples
    --------
    >>> settle_style([("31,250", None)], ";"), settle_style([("31,250", None)], ",")
    ('comma', None)
    >>> settle_style([("31,250", None), ("0,004", None)], ",")
    'comma'
    """
    either: list[tuple[str, Fits | None]] = []
    for text, fits in numbers:
        if "," not in text or isinstance(text, ExactText):
            continue
        point, comma = both_readings(text)
        if comma is None:
            continue
        if point is None:
            return "comma"
        either.append((text, fits))
    if not either:
        return "point"
    return "comma" if separator in (";", "\t") else _vote(either)


def _vote(either: list[tuple[str, Fits | None]]) -> NumberStyle | None:
    """Let the plan say which reading of the open numbers it expects."""
    votes: set[NumberStyle] = set()
    for text, fits in either:
        point, comma = both_readings(text)
        if fits is None or point is None or comma is None:
            continue
        as_point, as_comma = fits(point), fits(comma)
        if as_point != as_comma:
            votes.add("point" if as_point else "comma")
    return votes.pop() if len(votes) == 1 else None
