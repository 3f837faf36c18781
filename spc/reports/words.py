"""Numbers as paper says them: two decimals with interval and n, sizes in the plan's decimals, times of the plant."""

from datetime import datetime
from html import escape

from spc.drawing.checks import decimals_of, plain_name
from spc.shop import Characteristic
from spc.shop.moment import to_local
from spc.statistics import Capability, Estimate

__all__ = [
    "PURPOSE_WORDS", "clock", "fallout_words", "index_words", "interval_words", "named", "one_or_many", "safe",
    "size", "steady_words", "unit_words",
]  # fmt: skip

PURPOSE_WORDS = {
    "hourly": "hourly", "setup": "set-up", "first_off": "first-off", "after_move": "after a move",
    "confirm": "value to confirm", "last_off": "last-off", "sort": "sorting", "trial": "trial",
}  # fmt: skip


def safe(words: object) -> str:
    """Return words for HTML."""
    return escape(str(words))


def named(characteristic: Characteristic) -> str:
    """Return the plan's name as words, with the rolled form where the part has several."""
    name = plain_name(characteristic)
    return f"{name} ({characteristic.form})" if characteristic.form else name


def unit_words(characteristic: Characteristic) -> str:
    """Return the unit as people write it."""
    return {"um": "µm", "deg": "°"}.get(characteristic.unit, characteristic.unit)


def size(value: float | None, characteristic: Characteristic, more: int = 0) -> str:
    """Return a size in the decimals of the plan, `more` of them for means and limits; a dash where there is none."""
    if value is None:
        return "–"
    return f"{value:.{decimals_of(characteristic) + more}f}".replace("-", "−")


def index_words(estimate: Estimate | None) -> str:
    """Return an index in two decimals with its interval and the number of pieces.

    Examples
    --------
    >>> index_words(Estimate(1.629, 1.404, 1.853, 125, 0.95, "Bissell"))
    '1.63 (1.40 to 1.85, n = 125)'
    """
    if estimate is None:
        return "–"
    return f"{estimate.estimate:.2f} ({interval_words(estimate)}, n = {estimate.n:,})"


def interval_words(estimate: Estimate | None) -> str:
    """Return the two ends of an interval in two decimals."""
    return "–" if estimate is None else f"{estimate.low:.2f} to {estimate.high:.2f}"


def fallout_words(ppm: float, n: int) -> str:
    """Return the share of pieces that the normal model expects outside, no finer than n pieces can tell.

    Examples
    --------
    >>> fallout_words(0.0157, 2320)
    'under 1 ppm, cannot be told from 2,320 pieces'
    >>> fallout_words(566.6, 2300)
    'about 570 ppm by the normal model of 2,300 pieces'
    """
    if ppm < 1.0:
        return f"under 1 ppm, cannot be told from {n:,} pieces"
    rounded = float(f"{ppm:.2g}")
    told = f"about {rounded:,.1f} ppm" if rounded < 10 else f"about {rounded:,.0f} ppm"
    if ppm < 1e6 / n:
        return f"{told} if the normal model holds, which {n:,} pieces cannot tell"
    return f"{told} by the normal model of {n:,} pieces"


def steady_words(characteristic: Characteristic, found: Capability) -> str:
    """Say that the checks of a period do not lie around one mean; "" where they do.

    Limits that follow the die are not meant here: a die that wears must leave every fixed mean.
    """
    if not found.beyond:
        return ""
    if characteristic.judged_by == "with_die_wear":
        return (
            f"Around one fixed mean {found.beyond:,} of {found.subgroups:,} checks would lie outside, because the "
            "dies wear: Cp and Cpk promise nothing, Ppk counts."
        )
    return (
        f"{found.beyond:,} of {found.subgroups:,} checks lie beyond the limits that all of them give together, more "
        "than chance explains: the process was not steady, so Cp and Cpk promise nothing for the next pieces."
    )


def clock(moment: datetime | None, zone: str) -> str:
    """Return a moment as the plant's calendar and clock show it, the year first; a dash where there is none."""
    return "–" if moment is None else f"{to_local(moment, zone):%Y-%m-%d %H:%M}"


def one_or_many(count: int, one: str, many: str) -> str:
    """Return a count with its noun.

    Examples
    --------
    >>> one_or_many(1, "check", "checks"), one_or_many(1200, "check", "checks")
    ('1 check', '1,200 checks')
    """
    return f"{count:,} {one if count == 1 else many}"
