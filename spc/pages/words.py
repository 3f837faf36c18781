"""For every page: values and times as the shop says them."""

from datetime import datetime
from decimal import Decimal
from typing import Final

from spc.shop import Characteristic, DieLife, PiecesLeft
from spc.shop.moment import to_local
from spc.shop.names import shop_name
from spc.shop.two_digits import two_digits

__all__ = [
    "PURPOSE_WORDS", "REMOVAL_WORDS", "clock_words", "due_words", "life_words", "limit_words", "pieces_words",
    "plain", "signed", "size_words", "unit_words", "used_words",
]  # fmt: skip

PURPOSE_WORDS: Final = {
    "hourly": "hourly",
    "setup": "set-up",
    "first_off": "first-off",
    "after_move": "after a slide move",
    "confirm": "to confirm a find",
    "last_off": "last-off",
    "sort": "sorting",
    "trial": "trial",
}
REMOVAL_WORDS: Final = {
    "worn": "worn out",
    "chipped": "chipped or broken",
    "planned": "as planned, not at its end",
    "part_change": "another part comes on, this set returns",
    "other": "another reason",
}
_UNKNOWN: Final = "not enough known yet: about 2,000 to 25,000"


def plain(name: str) -> str:
    """Say a characteristic of the plan where a heading or a sentence begins.

    Examples
    --------
    >>> plain("crest_diameter"), plain("runout")
    ('Crest diameter', 'Run-out')
    """
    said = shop_name(name)
    return said[:1].upper() + said[1:]


def unit_words(unit: str) -> str:
    """Say a unit of the plan.

    Examples
    --------
    >>> unit_words("um"), unit_words("deg"), unit_words("mm")
    ('µm', '°', 'mm')
    """
    return {"um": "µm", "deg": "°"}.get(unit, unit)


def clock_words(moment: datetime, zone: str, today: datetime | None = None) -> str:
    """Say a moment on the plant's clock, with its date where that is not today's."""
    local = to_local(moment, zone)
    is_today = today is not None and to_local(today, zone).date() == local.date()
    return f"{local:%H:%M}" if is_today else f"{local:%a %d %b, %H:%M}"


def due_words(due: datetime | None, minutes_late: float) -> str:
    """Say when the next check is due, or how late it is.

    Examples
    --------
    >>> due_words(datetime(2026, 3, 28), -12.2), due_words(datetime(2026, 3, 28), 95.0)
    ('in 12 min', '1 h 35 min late')
    """
    if due is None:
        return "no time set"
    minutes = round(abs(minutes_late))
    if minutes == 0:
        return "now"
    span = _span(minutes)
    return f"{span} late" if minutes_late > 0 else f"in {span}"


def _span(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    if hours == 0:
        return f"{rest} min"
    if hours >= 48:
        return f"{hours // 24} days"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def size_words(value: float | Decimal, characteristic: Characteristic, more: int = 0) -> str:
    """Say a size to the plan's decimals, and `more` of them for a mean."""
    text = f"{value:.{max(0, -int(characteristic.nominal.as_tuple().exponent)) + more}f}"
    return text.replace("-", "−")


def limit_words(characteristic: Characteristic) -> str:
    """Say the tolerance of a characteristic with its unit."""
    lower, upper = characteristic.tolerance.lower, characteristic.tolerance.upper
    unit = unit_words(characteristic.unit)
    if lower is not None and upper is not None:
        return f"{lower} to {upper} {unit}".replace("-", "−")
    if upper is not None:
        return f"at most {upper} {unit}".replace("-", "−")
    return f"at least {lower} {unit}".replace("-", "−") if lower is not None else "no limits"


def pieces_words(left: PiecesLeft | None, finished_sets: int) -> str:
    """Say the pieces left as early, likely and late, in two digits.

    Examples
    --------
    >>> pieces_words(PiecesLeft(5616, 6824, 7923, 9335, 11514), 4)
    'early 5,600 · likely 7,900 · late 12,000'
    >>> pieces_words(None, 0)
    'not enough known yet: about 2,000 to 25,000'
    """
    if left is None or all(each is None for each in (left.p05, left.p50, left.p95)):
        return _UNKNOWN if finished_sets == 0 else "no end in sight"
    early, likely, late = (
        "no end in sight" if each is None else two_digits(each) for each in (left.p05, left.p50, left.p95)
    )
    if finished_sets == 0:
        return f"not enough known yet: about {early} to {late}"
    return f"early {early} · likely {likely} · late {late}"


def life_words(life: DieLife) -> str:
    """Say growth, of which size, and infeed left of the die set that is on."""
    rate, of = life.wear_um_per_1000, shop_name(life.limited_by)
    says = f"growth of {of} {signed(rate.estimate)} µm per 1,000 pieces"
    says += f" ({signed(rate.low90)} to {signed(rate.high90)})"
    used = used_words(life)
    return f"{says} · {used}" if used else says


def signed(number: float) -> str:
    """Say a rate with one decimal and a true minus, none before a zero.

    Examples
    --------
    >>> signed(-1.26), signed(-0.02)
    ('−1.3', '0.0')
    """
    return f"{round(number, 1) + 0.0:.1f}".replace("-", "−")


def used_words(life: DieLife) -> str:
    """Say how much deeper the slide may still go for this set; nothing where it went too far already."""
    if life.correction_travel_mm is None or life.correction_used_mm is None:
        return ""
    left = max(life.correction_travel_mm - life.correction_used_mm, 0.0)
    return f"infeed left {left:.3f} of {life.correction_travel_mm:.3f} mm"
