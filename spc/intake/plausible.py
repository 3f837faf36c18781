"""Readable values that can hardly be meant: said with a number, never repaired."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from typing import Final

from spc.intake.direction import as_direction
from spc.shop.layouts import MAGNITUDES
from spc.shop.plan import Characteristic

__all__ = ["doubt", "plausible_window"]

_INCH: Final = Decimal("25.4")
_FAR: Final = 5
"""Windows from the target beyond which a value is doubted even where no slip explains it."""
_SURE: Final = 5.0
"""Sigmas from the expected size beyond which a swap of two digits inside the window is looked for."""
_NEAR: Final = 3.0

Guess = tuple[str, Decimal]


def doubt(
    value: Decimal, characteristic: Characteristic, expected: float | None = None, sigma: float | None = None
) -> str | None:
    """Say why a readable value is probably a slip of entry, for the signal and for the question on the page.

    Parameters
    ----------
    value : Decimal
        In the plan's unit.
    characteristic : Characteristic
    expected : float or None
        Size the record expects now, in the plan's unit.
    sigma : float or None
        Spread of one piece, in the plan's unit, positive.

    Returns
    -------
    str or None
        One sentence with the value and the one probably meant; None where the value is plausible.

    Notes
    -----
    The plausible window is target ± max(2 tolerances, 8 sigma), as shops use it (common practice, no
    source); where a tolerance is one-sided its width runs from the natural limit 0, else sigma alone counts.
    Outside the window a factor of 10, 100, 1000 or 25.4, a deviation in place of a size or the reverse, a
    sign, two swapped digits, a missing and a doubled digit are tried; slips are ranked by how near they land.
    Inside it only swapped digits are, and only where `expected` and `sigma` are known: a value more
    than 5 sigma off that a swap brings within 3 sigma (it is then off by a multiple of 9 in that place).
    A value that no slip explains is doubted from 5 windows away: a gross step of the process is no slip.

    Examples
    --------
    >>> from spc.shop.limits import ToleranceLimits
    >>> over_pin = Characteristic("over_pin", "over_pin_diameter", "mm", Decimal("31.250"),
    ...                           ToleranceLimits(Decimal("31.232"), Decimal("31.268")))
    >>> doubt(Decimal("312.51"), over_pin)
    '312.51 mm looks like a slip, 31.251 would fit: the decimal mark is one place off'
    >>> doubt(Decimal("31.290"), over_pin) is None
    True
    """
    centre = characteristic.aim
    unit = characteristic.unit
    if characteristic.kind in MAGNITUDES and value < 0:
        return f"{value} {unit} looks like a slip: a {characteristic.kind} is never below 0"
    half = _half_window(characteristic, sigma)
    if half is None:
        return None
    off = abs(as_direction(value, characteristic) - centre)
    if off <= half:
        return _swap_inside(value, characteristic, expected, sigma)
    middle = centre if expected is None else Decimal(repr(float(expected)))
    # A value around 0 can be scaled into any window: there the guess must lie inside the tolerance.
    near = half if characteristic.nominal else half / 4
    fitting = [
        guess
        for guess in _slips(value, characteristic, half)
        if abs(as_direction(guess[1], characteristic) - centre) <= near
    ]
    if fitting:
        slip, meant = min(fitting, key=lambda guess: (_rank(guess[0]), abs(guess[1] - middle)))
        return f"{value} {unit} looks like a slip, {_plain(meant)} would fit: {slip}"
    if off > _FAR * half:
        return f"{value} {unit} lies {_plain(off)} {unit} from the target {centre}: gauge this piece again"
    return None


def plausible_window(
    characteristic: Characteristic, sigma: float | None = None
) -> tuple[float, float] | None:
    """Return the window of plausible values as floats, in the plan's unit; None where nothing bounds it.

    For callers with many values: inside it, and within 5 sigma of the expected size, `doubt` says nothing.
    """
    half = _half_window(characteristic, sigma)
    if half is None:
        return None
    low = characteristic.aim - half
    if characteristic.kind in MAGNITUDES:
        low = max(low, Decimal(0))
    return float(low), float(characteristic.aim + half)


def _half_window(characteristic: Characteristic, sigma: float | None) -> Decimal | None:
    limits = characteristic.tolerance
    width = limits.width
    if width is None and characteristic.nominal == 0:
        width = limits.upper if limits.upper is not None else limits.lower
    by_tolerance = Decimal(0) if width is None else 2 * abs(width)
    if sigma is None or 8 * sigma <= by_tolerance:
        return by_tolerance or None
    return Decimal(repr(8 * float(sigma)))


_RANKS: Final = (
    "the decimal mark is one place off", "it was read in another unit, thousandths or thousands",
    "it was read in inches or millimetres", "the deviation was typed for the size",
    "the size was typed for the deviation", "the sign is turned", "the decimal mark is two places off",
    "two digits are swapped", "a digit is doubled", "a digit is missing",
)  # fmt: skip


def _rank(slip: str) -> int:
    return _RANKS.index(slip)


def _slips(value: Decimal, characteristic: Characteristic, half: Decimal) -> Iterator[Guess]:
    """Yield what might have been meant, each with its slip."""
    for power in (1, -1):
        yield _RANKS[0], value.scaleb(power)
        yield _RANKS[1], value.scaleb(3 * power)
        yield _RANKS[6], value.scaleb(2 * power)
    yield _RANKS[2], value * _INCH
    yield _RANKS[2], value / _INCH
    if characteristic.nominal:
        yield from _deviation_for_size(value, characteristic, half)
        yield from ((_RANKS[7], swapped) for swapped in _swaps(value))
        yield from ((_RANKS[8], shorter) for shorter in _without_doubled(value))
        yield from ((_RANKS[9], longer) for longer in _with_one_more(value))
    else:
        yield _RANKS[5], -value
        if characteristic.master_size:
            yield _RANKS[4], value - characteristic.master_size


def _deviation_for_size(value: Decimal, characteristic: Characteristic, half: Decimal) -> Iterator[Guess]:
    """Yield the size that a small number typed in its place would be the deviation of."""
    master = characteristic.master_size if characteristic.master_size is not None else characteristic.nominal
    per_unit = Decimal(repr(characteristic.um_per_unit))
    if abs(value) <= half:
        yield _RANKS[3], master + value
    if value == round(value, 1) and abs(value) <= half * per_unit:  # µm are read to a tenth at most
        yield _RANKS[3], master + value / per_unit


def _swap_inside(
    value: Decimal, characteristic: Characteristic, expected: float | None, sigma: float | None
) -> str | None:
    """Look for two swapped digits in a value that lies inside the window but far from the expected size."""
    if expected is None or not sigma:
        return None

    def off_by(number: Decimal) -> float:
        return abs(float(as_direction(number, characteristic)) - expected)

    off = off_by(value)
    if off <= _SURE * sigma:
        return None
    fitting = [swapped for swapped in _swaps(value) if off_by(swapped) <= _NEAR * sigma]
    if not fitting:
        return None
    meant = min(fitting, key=off_by)
    unit = characteristic.unit
    return f"{value} {unit} lies {off:.4g} {unit} from the expected size; {meant} would fit: {_RANKS[7]}"


def _swaps(value: Decimal) -> Iterator[Decimal]:
    """Yield the value with each two neighbouring digits swapped."""
    digits = list(format(value, "f"))
    places = [place for place, digit in enumerate(digits) if digit.isdigit()]
    for first, second in pairwise(places):
        if digits[first] != digits[second]:
            other = digits.copy()
            other[first], other[second] = other[second], other[first]
            yield Decimal("".join(other))


def _without_doubled(value: Decimal) -> Iterator[Decimal]:
    """Yield the value with one of two equal neighbouring digits left out."""
    text = format(value, "f")
    for place, (left, right) in enumerate(pairwise(text)):
        if left == right and left.isdigit():
            yield Decimal(text[:place] + text[place + 1 :])


def _with_one_more(value: Decimal) -> Iterator[Decimal]:
    """Yield the value with one more digit before the decimal mark."""
    text = format(value, "f")
    whole = text.partition(".")[0].lstrip("-")
    start = len(text) - len(text.lstrip("-"))
    for place in range(start, start + len(whole) + 1):
        for digit in "0123456789":
            yield Decimal(text[:place] + digit + text[place:])


def _plain(value: Decimal) -> str:
    """Write a number without exponent and without the tail of zeros and digits that a conversion leaves."""
    text = format(round(value, 6), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
