"""Numbers as paper says them: two decimals with interval and n, sizes in the plan's decimals, times of the plant."""

from datetime import datetime
from html import escape
from math import isfinite

from spc.drawing.checks import decimals_of, plain_name
from spc.shop import Characteristic
from spc.shop.moment import to_local
from spc.statistics import Estimate

__all__ = [
    "PURPOSE_WORDS", "begun", "chance_words", "clock", "fallout_words", "index_words", "interval_words", "named",
    "one_or_many", "safe", "share_words", "size", "unit_words",
]  # fmt: skip

PURPOSE_WORDS = {
    "hourly": "hourly", "setup": "set-up", "first_off": "first-off", "after_move": "after a move",
    "confirm": "value to confirm", "last_off": "last-off", "sort": "sorting", "trial": "trial",
}  # fmt: skip


def safe(words: object) -> str:
    """Return words for HTML."""
    return escape(str(words))


def begun(words: str) -> str:
    """Return words that begin a sentence or a heading."""
    return words[:1].upper() + words[1:]


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
    return f"{estimate.estimate:.2f} ({interval_words(estimate)}, n = {estimate.n:,})".replace("-", "−")


def interval_words(estimate: Estimate | None) -> str:
    """Return the two ends of an interval in two decimals; "not known" for an end that nothing bounds."""
    if estimate is None:
        return "–"
    low, high = (f"{end:.2f}" if isfinite(end) else "not known" for end in (estimate.low, estimate.high))
    return f"{low} to {high}".replace("-", "−")


def fallout_words(ppm: float, n: int, model: str = "normal") -> str:
    """Return the share of pieces that the model expects outside, no finer than n pieces can tell.

    Examples
    --------
    >>> fallout_words(0.0157, 2320)
    'under 1 ppm, cannot be told from 2,320 pieces'
    >>> fallout_words(566.6, 2300)
    'about 570 ppm by the normal model'
    >>> fallout_words(20.0, 220)
    'about 20 ppm by the normal model, which 220 pieces cannot confirm'
    """
    if ppm < 1.0:
        return f"under 1 ppm, cannot be told from {n:,} pieces"
    rounded = float(f"{ppm:.2g}")
    told = f"about {rounded:,.1f} ppm" if rounded < 10 else f"about {rounded:,.0f} ppm"
    unsure = f", which {n:,} pieces cannot confirm" if ppm < 1e6 / n else ""
    return f"{told} by the {model} model{unsure}"


def chance_words(p: float) -> str:
    """Return the chance behind a test's answer, no finer than it is worth.

    Examples
    --------
    >>> chance_words(8.3e-8), chance_words(0.037), chance_words(0.55)
    ('p under 0.001', 'p = 0.037', 'p = 0.55')
    """
    if p < 0.001:
        return "p under 0.001"
    return f"p = {p:.3f}" if p < 0.1 else f"p = {p:.2f}"


def share_words(share: float) -> str:
    """Return a share in whole percent.

    Examples
    --------
    >>> share_words(0.95)
    '95 %'
    """
    return f"{share * 100:.0f} %"


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
