"""Pieces left until the die set must come off: the first of all its ends, as quantiles."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist

from scipy.special.cython_special import stdtr

from spc.shop.quickly_made import quickly_made
from spc.wear.learned import LeftLaw, PastWays, left_law
from spc.wear.way import Way

__all__ = ["CROSSING_LEVELS", "LifeForecast", "forecast_life"]

CROSSING_LEVELS = (0.05, 0.25, 0.50, 0.75, 0.95)
MOST_PIECES = 1_000_000.0
_CLOSE, _MOST_STEPS = 1e-8, 100
"""Chance within which a count is found, and steps after which it is near enough."""
_LN_MOST = math.log(MOST_PIECES)
_POINTS = tuple(NormalDist().inv_cdf(level) for level in CROSSING_LEVELS)
"""Of the standard normal law."""

End = tuple[float, float, float, float, float]
"""Degrees of freedom, centre, scale, `unsure` and height of the density in the middle, of the law of one end."""


@quickly_made
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
    [10000, 16700, 22000, 29000, 48400]
    """
    if not ways:
        return None
    laws = [left_law(way, past[way.characteristic]) for way in ways]
    ends = [_end(law) for law in laws]
    at_first_piece, _ = _standing(ends, 0.0)
    pieces = tuple(
        0.0 if at_first_piece <= 1.0 - level else math.exp(_ln_pieces_at(ends, level, point))
        for level, point in zip(CROSSING_LEVELS, _POINTS, strict=True)
    )
    middle = math.log(max(pieces[2], 1.0))
    first = min(range(len(ends)), key=lambda place: _standing(ends[place : place + 1], middle)[0])
    name = laws[first].characteristic
    return LifeForecast(tuple(map(round, pieces)), name, laws[first].limit, past[name].lives)


def _end(law: LeftLaw) -> End:
    of_middle = math.exp(math.lgamma((law.df + 1.0) / 2.0) - math.lgamma(law.df / 2.0))
    return law.df, law.centre, law.scale, law.unsure, of_middle / (math.sqrt(law.df * math.pi) * law.scale)


def _ln_pieces_at(ends: Sequence[End], level: float, point: float) -> float:
    """Find ln(pieces) by which the first end has come with this chance; it has not by the first piece.

    Parameters
    ----------
    point : float
        Of the standard normal law at that chance, to begin with.

    Notes
    -----
    Newton's steps on the log odds, nearly straight in ln(pieces), from the soonest of the ends' own quantiles as the
    first term of Cornish and Fisher's expansion has them; where a step leaves what is known of the place, one of
    halving.
    """
    low, high = 0.0, 2.0 * _LN_MOST
    now = high
    for df, centre, scale, _, _ in ends:
        now = min(now, centre + scale * point * (1.0 + (point * point + 1.0) / (4.0 * df)))
    now = max(now, low)
    for _ in range(_MOST_STEPS):
        standing, rate = _standing(ends, now)
        reached = 1.0 - standing
        if abs(reached - level) < _CLOSE or (reached < level and now >= _LN_MOST):
            break
        low, high = (now, high) if reached < level else (low, now)
        if rate > 0.0 and 0.0 < standing < 1.0:
            now += math.log(standing * level / (reached * (1.0 - level))) * reached / rate
        if not low < now < high:
            now = (low + high) / 2.0
    return min(now, _LN_MOST)


def _standing(ends: Sequence[End], ln_pieces: float) -> tuple[float, float]:
    """Chance that no end has come by so many pieces, and how fast its logarithm falls with ln(pieces) there.

    The rate is that of Student's density over what is left of each law; 0 where nothing is left.
    """
    pieces = math.exp(ln_pieces)
    standing, rate = 1.0, 0.0
    for df, centre, scale, unsure, height in ends:
        z = (centre - math.log(pieces + unsure)) / scale
        this = stdtr(df, z)
        if this == 0.0:
            return 0.0, 0.0
        standing *= this
        density = height * (1.0 + z * z / df) ** (-0.5 * (df + 1.0))
        rate += density * pieces / ((pieces + unsure) * this)
    return standing, rate
