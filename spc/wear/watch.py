"""Watching one characteristic against its forecast: single surprises, slow ones, and the spread, with memory."""

import math
from dataclasses import dataclass

from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made

__all__ = ["MEAN_LIMIT", "Finding", "Watch", "from_here", "lone_spread", "watch_mean", "watch_spread"]

MEAN_LIMIT = 3.2
"""Standard deviations of the forecast beyond which one mean is a surprise: once in 728 checks by chance."""
_SLACK, _DECISION = 0.5, 8.0
"""Tabular CUSUM on standardised surprises: once in about 9,500 checks by chance, both sides together."""
_SPREAD_FACTOR, _SPREAD_DECISION = 1.5, 6.0
"""Log-likelihood CUSUM for a spread grown so many times: with five pieces a check and σ known, once in about
3,300 checks by chance; a doubled spread in 3.1 checks, one that grows evenly by half over 40 checks within those 40
in nine of ten rows (own simulation)."""
_SPREAD_EVEN = 2.5
"""Where a grown spread is as likely as not: so far three checks in a hundred stand by chance."""
_SPREAD_SUSPECTED = 3.0
"""The same where something that may do it was logged as the sum began to rise: by chance in 1.5 of 100 such rows,
a spread 1.9 times as large in 2.3 checks instead of 3.6 (own simulation, five pieces a check)."""


@quickly_made
@dataclass(frozen=True, slots=True)
class Watch:
    """What the watch remembers.

    Attributes
    ----------
    high, low : float
        CUSUM of standardised surprises, up and down, each 0 or more.
    high_since, low_since : int
        Checks since each began to rise from 0.
    spread : float
        Log-likelihood ratio of a grown spread, 0 or more.
    spread_since : int
    spread_squares : float
        Sum of squares over σ² of the checks since then, and `spread_df` its degrees of freedom.
    spread_df : int
    """

    high: float = 0.0
    low: float = 0.0
    high_since: int = 0
    low_since: int = 0
    spread: float = 0.0
    spread_since: int = 0
    spread_squares: float = 0.0
    spread_df: int = 0


@dataclass(frozen=True, slots=True)
class Finding:
    """A surprise: whether one mean did it or many, and how many checks it has been growing."""

    single: bool
    up: bool
    checks: int


def watch_mean(watch: Watch, surprise: float) -> tuple[Watch, Finding | None]:
    """Take in one standardised surprise.

    Parameters
    ----------
    watch : Watch
        As it stood before this check.
    surprise : float
        z: mean minus forecast over the standard deviation of that, without unit.

    Returns
    -------
    (Watch, Finding or None)
        A finding where |z| > 3.2 or a sum passes 8.

    Notes
    -----
    C± ← max(0, C± ± z − 0.5) with z cut at ±3.2. The CUSUM restarts after a finding: it is told once, not at every
    check that follows. A single surprise counts in the sums at most as the limit, so that it alone does not ring
    there.

    References
    ----------
    E. S. Page (1954), Biometrika 41, 100–115 (from memory); run lengths by `statistics.cusum_law`.

    Examples
    --------
    >>> watch_mean(Watch(), 4.1)[1]
    Finding(single=True, up=True, checks=1)
    >>> watch_mean(Watch(), 2.0)[0].high
    1.5
    """
    counted = max(-MEAN_LIMIT, min(MEAN_LIMIT, surprise))
    high = max(0.0, watch.high + counted - _SLACK)
    low = max(0.0, watch.low - counted - _SLACK)
    high_since = watch.high_since + 1 if high > 0.0 else 0
    low_since = watch.low_since + 1 if low > 0.0 else 0
    if abs(surprise) <= MEAN_LIMIT and high <= _DECISION and low <= _DECISION:
        return changed(watch, high=high, low=low, high_since=high_since, low_since=low_since), None
    quiet = changed(watch, high=0.0, low=0.0, high_since=0, low_since=0)
    if abs(surprise) > MEAN_LIMIT:
        since = high_since if surprise > 0.0 else low_since
        return quiet, Finding(True, surprise > 0.0, max(since, 1))
    up = high > low
    return quiet, Finding(False, up, high_since if up else low_since)


def watch_spread(
    watch: Watch, squares: float, df: int, *, suspected: bool = False
) -> tuple[Watch, int, float]:
    """Take in a check's sum of squares around its own mean; say since how many checks the spread has grown.

    Parameters
    ----------
    watch : Watch
        As it stood before this check.
    squares : float
        The sum of squares over σ² of a piece, 0 or more.
    df : int
        Its degrees of freedom, n − 1, 1 or more.
    suspected : bool
        Whether something that may make pieces differ was logged since the sum began to rise: less evidence is
        enough then.

    Returns
    -------
    tuple
        The watch; 0 or the number of checks since the spread began to grow; how many times σ it was over them.

    Notes
    -----
    For df degrees of freedom the log-likelihood ratio of k·σ to σ is S(1 − 1/k²)/2 − df·ln k, with k = 1.5; it rings
    above 6.0. The sum rises from 0 where the growth most likely began, so the checks since then tell what the spread
    has grown to: √(ΣS/Σdf) times σ.

    References
    ----------
    D. M. Hawkins & D. H. Olwell (1998), *Cumulative Sum Charts*, ch. 4, CUSUM for a normal scale (from memory).
    """
    ratio = squares * (1.0 - _SPREAD_FACTOR**-2) / 2.0 - df * math.log(_SPREAD_FACTOR)
    total = watch.spread + ratio
    if total <= 0.0:
        return changed(watch, spread=0.0, spread_since=0, spread_squares=0.0, spread_df=0), 0, 1.0
    since, sum_df = watch.spread_since + 1, watch.spread_df + df
    sum_squares = watch.spread_squares + squares
    if total <= (_SPREAD_SUSPECTED if suspected else _SPREAD_DECISION):
        risen = changed(watch, spread=total, spread_since=since, spread_squares=sum_squares, spread_df=sum_df)
        return risen, 0, 1.0
    quiet = changed(watch, spread=0.0, spread_since=0, spread_squares=0.0, spread_df=0)
    return quiet, since, math.sqrt(sum_squares / sum_df)


def from_here(watch: Watch) -> Watch:
    """Count the spread from the next check on, where something that may change it was just logged.

    A growth that is more likely than not by then goes on being counted from where it began.
    """
    if watch.spread > _SPREAD_EVEN:
        return watch
    return changed(watch, spread=0.0, spread_since=0, spread_squares=0.0, spread_df=0)


def lone_spread(df: int) -> float:
    """Sum of squares, over σ² of a piece, that a single check must pass to ring without any before it.

    Parameters
    ----------
    df : int
        Degrees of freedom of the check, n − 1, 1 or more.

    Notes
    -----
    `watch_spread` solved for S: 2·(6.0 + df·ln 1.5)/(1 − 1/1.5²).

    Examples
    --------
    >>> round(lone_spread(4), 1)
    27.4
    """
    return 2.0 * (_SPREAD_DECISION + df * math.log(_SPREAD_FACTOR)) / (1.0 - _SPREAD_FACTOR**-2)
