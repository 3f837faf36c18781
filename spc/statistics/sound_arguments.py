"""Single numbers that a method is asked with, checked before any arithmetic."""

from math import isfinite

from spc.errors import Refusal, Refused

__all__ = ["want_above_zero", "want_finite"]


def want_finite(**numbers: float | None) -> None:
    """Refuse numbers that are missing or infinite, all at once; a keyword names each, None is left out.

    Examples
    --------
    >>> want_finite(mean=float("nan"))
    Traceback (most recent call last):
    ...
    spc.errors.Refused: mean: the number is missing or not finite (got 'nan'). Allowed: a finite number.
    """
    found = [
        Refusal(
            "the number is missing or not finite", str(value), column=_named(name), allowed="a finite number"
        )
        for name, value in numbers.items()
        if value is not None and not isfinite(value)
    ]
    if found:
        raise Refused(found)


def want_above_zero(**numbers: float) -> None:
    """Refuse numbers that are not finite and above 0, all at once; a keyword names each.

    Examples
    --------
    >>> want_above_zero(sigma=0.0)
    Traceback (most recent call last):
    ...
    spc.errors.Refused: sigma: the number is not above 0 (got '0.0'). Allowed: a finite number above 0.
    """
    found = [
        Refusal(
            "the number is not above 0", str(value), column=_named(name), allowed="a finite number above 0"
        )
        for name, value in numbers.items()
        if not (isfinite(value) and value > 0.0)
    ]
    if found:
        raise Refused(found)


def _named(name: str) -> str:
    return name.replace("_", " ")
