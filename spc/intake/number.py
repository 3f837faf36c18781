"""The only place that turns text into a Decimal: for files, the entry page and gauges alike."""

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Final, Literal

from spc.errors import Refusal, Refused
from spc.intake.direction import as_direction
from spc.shop.plan import Characteristic

__all__ = [
    "AS_ALLOWED", "ExactText", "Fits", "NumberStyle", "both_readings", "exact_text", "plan_fits", "read_between",
    "read_decimal", "read_typed", "read_whole", "why_unreadable",
]  # fmt: skip

NumberStyle = Literal["point", "comma"]
"""Which mark begins the decimals; the other one may then only group thousands."""

Fits = Callable[[Decimal], bool]
"""Whether a reading lies where the plan expects it."""

_POINT: Final = re.compile(r"[+-]?(?:[0-9]+|[1-9][0-9]{0,2}(?:,[0-9]{3})+)(?:\.[0-9]+)?|[+-]?\.[0-9]+")
_COMMA: Final = re.compile(r"[+-]?(?:[0-9]+|[1-9][0-9]{0,2}(?:\.[0-9]{3})+)(?:,[0-9]+)?|[+-]?,[0-9]+")
_SMALL: Final = re.compile(r"[+-]?[0-9](?:\.[0-9]+)?[eE]-[0-9]{1,2}")
_LONGEST: Final = 40
AS_ALLOWED: Final = "a number such as 31.250, -0.004 or 31,25"


class ExactText(str):
    """Text of a number that a sheet or a program gave as a number: its point is the decimal point."""

    __slots__ = ()


def exact_text(number: float | int) -> ExactText:
    """Write a number as the shortest text that reads back to it, without exponent.

    Examples
    --------
    >>> exact_text(1e-05), exact_text(5.0), exact_text(12)
    ('0.00001', '5', '12')
    """
    if isinstance(number, int):
        return ExactText(int(number))
    text = repr(float(number))
    if "e" in text:
        text = format(Decimal(text), "f")
    return ExactText(text.removesuffix(".0"))


def both_readings(text: str) -> tuple[Decimal | None, Decimal | None]:
    """Read a text once with a decimal point and once with a decimal comma.

    Returns
    -------
    tuple of (Decimal or None, Decimal or None)
        None where the text cannot be read that way; both None: not a number. The two are equal where the
        text has no mark, and differ only for one mark before exactly three digits.

    Notes
    -----
    Scientific notation is taken only with a negative exponent, as programs write small numbers (1e-05).

    Examples
    --------
    >>> both_readings("31,25")
    (None, Decimal('31.25'))
    >>> both_readings("31,250")
    (Decimal('31250'), Decimal('31.250'))
    >>> both_readings("3.1.")
    (None, None)
    """
    exact = isinstance(text, ExactText)
    text = text.strip().replace("\u2212", "-")
    if len(text) > _LONGEST and not exact:
        return None, None
    point = comma = None
    if _POINT.fullmatch(text) or _SMALL.fullmatch(text):
        point = Decimal(text.replace(",", ""))
    if not exact and _COMMA.fullmatch(text):
        comma = Decimal(text.replace(".", "").replace(",", "."))
    return point, comma


def read_decimal(text: str, style: NumberStyle = "point") -> Decimal:
    """Read a number of a known style exactly.

    Parameters
    ----------
    text : str
        As typed; blanks around it are ignored.
    style : {"point", "comma"}
        The decimal mark; the other mark may group thousands.

    Returns
    -------
    Decimal
        Exactly what the text says.

    Raises
    ------
    Refused
        Letters, NaN, nothing, two signs, two decimal marks, or the other style.

    Examples
    --------
    >>> read_decimal("+031.250"), read_decimal("31,25", "comma")
    (Decimal('31.250'), Decimal('31.25'))
    >>> read_decimal("3.1.")
    Traceback (most recent call last):
    ...
    spc.errors.Refused: this is not a number (got '3.1.'). Allowed: a number such as 31.250, -0.004 or 31,25.
    """
    point, comma = both_readings(text)
    value = point if style == "point" else comma
    if value is not None:
        return value
    if point is None and comma is None:
        raise Refused([Refusal(why_unreadable(text), text, allowed=AS_ALLOWED)])
    mark = "comma" if style == "point" else "point"
    raise Refused([Refusal(f"its decimal mark is a {mark}", text, allowed=f"a decimal {style}")])


def why_unreadable(text: str) -> str:
    """Say in one sentence why a text is no number."""
    bare = text.strip().lower().lstrip("+-")
    if not bare:
        return "the value is missing"
    if bare in {"nan", "inf", "infinity", "n/a", "na", "null", "none"}:
        return "this stands for no number"
    if any(letter.isalpha() for letter in bare):
        return "a number holds no letters"
    return "this is not a number"


def read_between(text: str, style: NumberStyle | None, fits: Fits | None = None) -> Decimal | str:
    """Read a number of a file whose style is settled, or None where it is still open.

    Parameters
    ----------
    text : str
    style : {"point", "comma"} or None
        As `number_style.settle_style` found it for the whole file.
    fits : callable or None
        Whether the plan expects such a value; decides where both readings remain.

    Returns
    -------
    Decimal or str
        The number, or the sentence that says why there is none.
    """
    point, comma = both_readings(text)
    if point is None or comma is None or point == comma:
        value = comma if point is None else point
        return why_unreadable(text) if value is None else value
    if "." in text and style != "comma":
        return point
    if "," in text and style is not None:
        return comma if style == "comma" else point
    fitting = [] if fits is None else [value for value in (point, comma) if fits(value)]
    if len(fitting) == 1:
        return fitting[0]
    return f"this could be {point} or {comma}, and nothing in the file or the plan says which"


def plan_fits(characteristic: Characteristic, factor: Decimal = Decimal(1)) -> Fits:
    """Make the plan's test between two readings of one text.

    Within ±20 % of the nominal; where the nominal is 0, within ten tolerances. A direction near the nominal
    counts as such whatever its turn.

    Parameters
    ----------
    factor : Decimal
        From the unit of the text to the plan's unit.
    """
    nominal = characteristic.nominal
    if nominal:
        reach = abs(nominal) / 5
        return lambda value: abs(as_direction(value * factor, characteristic) - nominal) <= reach
    limits = characteristic.tolerance
    sides = [abs(limit) for limit in (limits.lower, limits.upper) if limit is not None]
    width = limits.width if limits.width is not None else max(sides, default=Decimal(0))
    return lambda value: abs(as_direction(value * factor, characteristic)) <= 10 * width


def read_typed(text: str, characteristic: Characteristic) -> Decimal:
    """Read what somebody typed for a characteristic, in the plan's unit; point or comma.

    Raises
    ------
    Refused
        Not a number, or one with two readings of which the plan does not favour exactly one.
    """
    value = read_between(text, None, plan_fits(characteristic))
    if isinstance(value, Decimal):
        return value
    raise Refused([Refusal(value, text, column=characteristic.name, allowed=AS_ALLOWED)])


def read_whole(text: str, style: NumberStyle | None = "point", least: int = 0) -> int | None:
    """Read a count of pieces; None where it is no whole number of at least `least`.

    Examples
    --------
    >>> read_whole("310"), read_whole("310.0"), read_whole("3.5"), read_whole("-1")
    (310, 310, None, None)
    """
    value = read_between(text, style)
    if isinstance(value, str) or value != value.to_integral_value() or value < least or value > 10**12:
        return None
    return int(value)
