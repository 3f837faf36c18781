"""Pieces left until the die set must come off: when the belief, carried forward, crosses what limits it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from spc.wear.belief import GAIN, OFFSET, RATE, SIZE, WEAR, WearBelief, WearPrior
from spc.wear.prior import FinishedSet

__all__ = ["CROSSING_LEVELS", "Crossing", "LifeForecast", "forecast_life", "size_crossing", "travel_crossing"]

CROSSING_LEVELS = (0.05, 0.25, 0.50, 0.75, 0.95)
_GRID = np.geomspace(1.0, 1_000_000.0, 480)
_LONGEST_PIECES = 200_000.0
"""Median life assumed where nothing is known; the spread below makes it say almost nothing."""
_UNKNOWN_LIFE_SD = 1.5

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Crossing:
    """One thing that can end the set: the chance, piece by piece ahead, that it has been reached.

    Attributes
    ----------
    characteristic : str
    limit : {"travel", "upper", "lower"}
    reached : array, shape (480,)
        Chance that the limit is reached by each count of a fixed grid of pieces ahead; not decreasing.
    """

    characteristic: str
    limit: str
    reached: Array


@dataclass(frozen=True, slots=True)
class LifeForecast:
    """Pieces left as quantiles at `CROSSING_LEVELS`, and what most likely ends the set.

    Attributes
    ----------
    pieces : tuple of 5 int
    characteristic, limit : str
        The crossing that is most likely the first.
    finished_sets : int
        Ended and cut-short sets that the forecast leaned on.
    """

    pieces: tuple[int, ...]
    characteristic: str
    limit: str
    finished_sets: int


def travel_crossing(belief: WearBelief, prior: WearPrior, name: str, travel_um: float) -> Crossing:
    """When holding the size at its target needs more than the allowed slide travel, moved or not.

    Parameters
    ----------
    travel_um : float
        Allowed approach beyond the reference setting, µm.

    Notes
    -----
    With a reading y = reference + wear − gain·approach, holding y = 0 needs approach = (reference + wear)/gain.
    The need exceeds the travel where (reference + wear(t)) − gain·travel, times the sign of the gain, is at
    least 0: a linear form of the state, so its mean and variance at any count ahead are exact.
    """
    sign = 1.0 if belief.mean[GAIN] >= 0 else -1.0
    mean, variance = _ahead(belief, prior, travel_um)
    reached = ndtr(sign * mean / np.sqrt(variance))
    return Crossing(name, "travel", np.maximum.accumulate(reached))


def size_crossing(
    belief: WearBelief,
    prior: WearPrior,
    name: str,
    low_um: float | None,
    high_um: float | None,
    now_um: float,
) -> list[Crossing]:
    """When the mean of a characteristic that wears with the die reaches a limit.

    Parameters
    ----------
    low_um, high_um : float or None
        Limits minus target, µm.
    now_um : float
        What the slide and the present mounting take off or add now, µm.
    """
    mean, variance = _ahead(belief, prior, 0.0)
    mean = mean - belief.reference_um + belief.mean[OFFSET] - now_um
    crossings = []
    if high_um is not None:
        reached = ndtr((mean - high_um) / np.sqrt(variance))
        crossings.append(Crossing(name, "upper", np.maximum.accumulate(reached)))
    if low_um is not None:
        reached = ndtr((low_um - mean) / np.sqrt(variance))
        crossings.append(Crossing(name, "lower", np.maximum.accumulate(reached)))
    return crossings


def forecast_life(
    crossings: Sequence[Crossing], finished: Sequence[FinishedSet], age_pieces: int
) -> LifeForecast | None:
    """Combine all that can end the set with how long earlier sets lasted.

    Parameters
    ----------
    crossings : sequence of Crossing
        From the functions above; none gives None.
    finished : sequence of FinishedSet
        Sets of the same part that came off before now. Chipped ones count as cut short here: sudden ends
        stand outside the forecast of wear.
    age_pieces : int

    Notes
    -----
    The set lasts until the first crossing: survivals multiply. The density of that is multiplied by the
    density of lives of earlier sets, given that this one has reached its age, and brought back to a total of
    one: two independent opinions about the same count.
    """
    if not crossings:
        return None
    survival = np.ones_like(_GRID)
    for crossing in crossings:
        survival = survival * (1.0 - crossing.reached)
    steps = -np.diff(survival, prepend=1.0)
    steps = np.maximum(steps, 0.0) * _life_density(finished, age_pieces)
    total = float(steps.sum())
    if total <= 0.0:
        return None
    reached = np.cumsum(steps) / total
    places = [int(np.searchsorted(reached, level)) for level in CROSSING_LEVELS]
    pieces = tuple(
        max(0, round(_between(reached, place, level)))
        for place, level in zip(places, CROSSING_LEVELS, strict=True)
    )
    middle = min(places[2], len(_GRID) - 1)
    first = max(crossings, key=lambda crossing: float(crossing.reached[middle]))
    return LifeForecast(pieces, first.characteristic, first.limit, len(finished))


def _ahead(belief: WearBelief, prior: WearPrior, approach_um: float) -> tuple[Array, Array]:
    """Mean and variance, over the grid, of reference + wear(t) − gain·approach."""
    k = _GRID / 1000.0
    cov = belief.cov

    def c(i: int, j: int) -> float:
        return cov[SIZE * i + j]

    mean = belief.reference_um + belief.mean[WEAR] + k * belief.mean[RATE] - belief.mean[GAIN] * approach_um
    variance = c(WEAR, WEAR) + 2 * k * c(WEAR, RATE) + k * k * c(RATE, RATE)
    variance = variance + approach_um**2 * c(GAIN, GAIN)
    variance = variance - 2 * approach_um * (c(WEAR, GAIN) + k * c(RATE, GAIN))
    variance = variance + prior.rate_wander_um_per_1000**2 * k**3 / 3.0
    if belief.first_offset_um is None:
        variance = variance + c(OFFSET, OFFSET) + 2 * c(OFFSET, WEAR) + 2 * k * c(OFFSET, RATE)
        variance = variance - 2 * approach_um * c(OFFSET, GAIN)
    else:
        variance = variance + belief.first_offset_var
    return mean, np.maximum(variance, 1e-9)


def _life_density(finished: Sequence[FinishedSet], age_pieces: int) -> Array:
    """Density of the life over ln(pieces) at age + grid, up to a constant, times the grid's own spacing.

    Lognormal by maximum likelihood of ended and cut-short lives, the wide guess mixed in as one life.
    """
    worn = [math.log(each.age_pieces) for each in finished if each.reason == "worn" and each.age_pieces > 0]
    cut = [math.log(each.age_pieces) for each in finished if each.reason != "worn" and each.age_pieces > 0]
    lives = age_pieces + _GRID
    share = _GRID / lives  # d ln(life) for one step of the grid, which is even in ln(pieces ahead)
    if not worn:
        lowest = max([math.log(2000.0), *cut])
        centre, spread = max(math.log(_LONGEST_PIECES) / 2 + lowest / 2, lowest), _UNKNOWN_LIFE_SD
    else:
        centre, spread = _lognormal(worn, cut)
    density: Array = np.exp(-0.5 * ((np.log(lives) - centre) / spread) ** 2) * share / share.max()
    return density


def _lognormal(worn: Sequence[float], cut: Sequence[float]) -> tuple[float, float]:
    """Centre and predictive spread of ln(life); a cut-short life counts where it is the longer."""
    centre = sum(worn) / len(worn)
    longer = [each for each in cut if each > centre]
    known = [*worn, *longer]
    centre = sum(known) / len(known)
    squares = sum((each - centre) ** 2 for each in known) + 0.5**2
    m = len(known)
    return centre, math.sqrt(squares / m * (1.0 + 1.0 / m))


def _between(reached: Array, place: int, level: float) -> float:
    if place <= 0 or place >= len(_GRID):
        return float(_GRID[min(place, len(_GRID) - 1)])
    low, high = reached[place - 1], reached[place]
    share = 0.0 if high <= low else (level - low) / (high - low)
    return float(_GRID[place - 1] + share * (_GRID[place] - _GRID[place - 1]))
