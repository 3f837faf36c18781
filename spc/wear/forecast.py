"""Pieces left until the die set must come off: the first of all its ends, as quantiles."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from scipy.special import stdtr, stdtrit

from spc.wear.learned import LeftLaw, PastWays, left_law
from spc.wear.way import Way

__all__ = ["CROSSING_LEVELS", "LifeForecast", "forecast_life"]

CROSSING_LEVELS = (0.05, 0.25, 0.50, 0.75, 0.95)
MOST_PIECES = 1_000_000.0
_CLOSE, _MOST_STEPS = 1e-6, 100
"""Chance within which a count is found, and steps after which it is near enough."""


@dataclass(frozen=True, slots=True)
class LifeForecast:
    """Pieces left as quantiles at `CROSSING_LEVELS`, and what most likely ends the set.

    Attributes
    ----------
    pieces : tuple of 5 int
    characteristic, limit : str
        The end that most likely comes first.
    finished_sets : int
        Earlier sets that the forecast of that end leaned on.
    """

    pieces: tuple[int, ...]
    characteristic: str
    limit: str
    finished_sets: int


def forecast_life(ways: Sequence[Way], past: Mapping[str, PastWays]) -> LifeForecast | None:
    """Combine all that can end the set.

    Parameters
    ----------
    ways : sequence of Way
        One for each thing that can end it; none gives None.
    past : mapping characteristic -> PastWays
        From earlier sets of the part; one for each way.

    Returns
    -------
    LifeForecast or None
        Pieces left; 0 where a limit has been reached, 1,000,000 stands for that many or more.

    Notes
    -----
    The set lasts until the first end: survivals multiply, as if the ends knew nothing of each other. For the laws of
    `learned.left_law`, ln(R + q) = centre + scale·t_f of each end, the quantile at the level p is the n with

        1 − p = Π F_f((centre − ln(n + q))/scale),   F_f Student's distribution,

    in whole pieces. The end named first is the one with the least survival at the median. Sudden ends (chips) stand
    outside.

    References
    ----------
    Competing risks as a series system, e.g. W. Nelson, *Applied Life Data Analysis* (1982), ch. 5 (from memory).

    Examples
    --------
    >>> from spc.wear import past_ways
    >>> way = Way("over_pin", "travel", 50.0, 25.0, 0.8, 1.0, 0.15, 22_000)
    >>> said = forecast_life([way], {"over_pin": past_ways([])})
    >>> [round(each, -2) for each in said.pieces]
    [9900, 16600, 21900, 28800, 48200]
    """
    if not ways:
        return None
    laws = [left_law(way, past[way.characteristic]) for way in ways]
    pieces = tuple(_pieces_at(laws, level) for level in CROSSING_LEVELS)
    first = min(range(len(laws)), key=lambda i: _standing(laws[i], max(pieces[2], 1.0)))
    name = laws[first].characteristic
    return LifeForecast(tuple(map(round, pieces)), name, laws[first].limit, past[name].lives)


def _pieces_at(laws: Sequence[LeftLaw], level: float) -> float:
    """Pieces by which the first end has come with this chance; 0 where it has by the first piece.

    Notes
    -----
    Alone, each end has a quantile in closed form. Together they come sooner than the soonest of these, and no
    sooner than the soonest at 1 − (1 − level)^(1/m), m the number of ends. Between the two the crossing is found
    in ln(pieces) by false position with the Illinois correction.

    References
    ----------
    M. Dowell & P. Jarratt (1971), BIT 11, 168–174 (from memory).
    """
    high = min(_soonest(laws, level), MOST_PIECES)
    if high < 1.0:
        return 0.0
    above = _reached(laws, high) - level
    if above < _CLOSE:  # the soonest end alone decides
        return high
    low = max(_soonest(laws, 1.0 - (1.0 - level) ** (1.0 / len(laws))), 1.0)
    below = _reached(laws, low) - level
    if below >= 0.0:
        return 0.0 if low == 1.0 else low
    low, high = math.log(low), math.log(high)
    middle, kept = high, ""
    for _ in range(_MOST_STEPS):
        middle = (low * above - high * below) / (above - below)
        now = _reached(laws, math.exp(middle)) - level
        if abs(now) < _CLOSE:
            break
        if now < 0.0:
            low, below, above, kept = middle, now, above / 2.0 if kept == "high" else above, "high"
        else:
            high, above, below, kept = middle, now, below / 2.0 if kept == "low" else below, "low"
    return math.exp(middle)


def _reached(laws: Sequence[LeftLaw], pieces: float) -> float:
    """Chance that the first end has come by so many pieces."""
    standing = 1.0
    for law in laws:
        standing *= _standing(law, pieces)
    return 1.0 - standing


def _standing(law: LeftLaw, pieces: float) -> float:
    """Chance that this end has not come by so many pieces."""
    return float(stdtr(law.df, (law.centre - math.log(pieces + law.unsure)) / law.scale))


def _soonest(laws: Sequence[LeftLaw], level: float) -> float:
    return min(
        math.exp(min(law.centre - law.scale * _student(law.df, 1.0 - level), 100.0)) - law.unsure
        for law in laws
    )


@cache
def _student(df: float, level: float) -> float:
    return float(stdtrit(df, level))
