"""Pieces left until the die set must come off: when the belief, carried forward, crosses what limits it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from spc.errors import Refused
from spc.wear.belief import GAIN, OFFSET, RATE, SIZE, WEAR, WearBelief, WearPrior
from spc.wear.lives import life_weights
from spc.wear.prior import FinishedSet

__all__ = ["CROSSING_LEVELS", "Crossing", "LifeForecast", "forecast_life", "size_crossing", "travel_crossing"]

CROSSING_LEVELS = (0.05, 0.25, 0.50, 0.75, 0.95)
_GRID = np.geomspace(1.0, 1_000_000.0, 480)
_GRID.flags.writeable = False

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
    """Say when holding the size at its target needs more than the allowed slide travel, moved or not.

    Parameters
    ----------
    belief : WearBelief
        As it stands after the last check.
    prior : WearPrior
        For how far the growth rate wanders on the way.
    name : str
        The characteristic.
    travel_um : float
        Allowed approach beyond the reference setting, µm, above 0.

    Returns
    -------
    Crossing
        With limit "travel".

    Raises
    ------
    Refused
        Where the travel is not above 0, or is not a number.

    Notes
    -----
    With a reading y = reference + wear − gain·approach, holding y = 0 needs approach = (reference + wear)/gain.
    The need exceeds the travel where (reference + wear(t)) − gain·travel, times the sign of the gain, is at
    least 0: a linear form of the state, so its mean and variance at any count ahead are exact. The chance of
    having been there by a count is taken as the largest chance of being there at any count up to it.

    Examples
    --------
    Growth of 1 µm in 1,000 pieces, known well, against 0.060 mm of travel at a gain of 1:

    >>> from spc.wear import WearPrior, forecast_life, fresh_belief
    >>> prior = WearPrior(0.5, 1.0, 0.05, 0.0, 1.0, 0.0, 0.0, 2500.0, 0.0)
    >>> ends = travel_crossing(fresh_belief(prior), prior, "over_pin", 60.0)
    >>> left = forecast_life([ends], [], 0)
    >>> left.limit, round(left.pieces[2], -4)
    ('travel', 60000)
    """
    if not 0.0 < travel_um < np.inf:
        raise Refused.one(
            "the travel is not above 0", value=str(travel_um), column=name, allowed="above 0 µm"
        )
    sign = 1.0 if belief.mean[GAIN] >= 0 else -1.0
    mean = belief.reference_um + _wear_ahead(belief) - belief.mean[GAIN] * travel_um
    return _crossing(
        name, "travel", sign * mean / np.sqrt(_variance(belief, prior, _need_row(belief, travel_um)))
    )


def size_crossing(
    belief: WearBelief,
    prior: WearPrior,
    name: str,
    low_um: float | None,
    high_um: float | None,
    now_um: float,
) -> list[Crossing]:
    """Say when the mean of a characteristic that wears with the die reaches a limit.

    Parameters
    ----------
    belief, prior, name
        As for `travel_crossing`.
    low_um, high_um : float or None
        Limits minus target, µm; None where there is none.
    now_um : float
        What the slide, as it stands now in this mounting, takes off the size: gain · approach, µm; 0 where the
        slide does not set it.

    Returns
    -------
    list of Crossing
        One for each limit there is, "upper" first.

    Raises
    ------
    Refused
        Where a limit or `now_um` is not a number.

    Notes
    -----
    The mean is offset + wear(t) − now_um with the offset of the present mounting; the passing shift and
    the present bar batch are left out, and `now_um` is taken as known.
    """
    given = [each for each in (low_um, high_um, now_um) if each is not None]
    if not np.all(np.isfinite(given)):
        raise Refused.one("a limit or the present size is not a number", value=str(given), column=name)
    mean = belief.mean[OFFSET] + _wear_ahead(belief) - now_um
    sd = np.sqrt(_variance(belief, prior, (1.0, 1.0, 0.0, 0.0, 0.0, 0.0)))
    crossings = []
    if high_um is not None:
        crossings.append(_crossing(name, "upper", (mean - high_um) / sd))
    if low_um is not None:
        crossings.append(_crossing(name, "lower", (low_um - mean) / sd))
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
        Age of this set now, 0 or more.

    Returns
    -------
    LifeForecast or None
        Pieces left; 0 where a limit has been reached, 1,000,000 stands for that many or more.

    Raises
    ------
    Refused
        Where the age is below 0.

    Notes
    -----
    The set lasts until the first crossing: survivals multiply. The mass of that in each step of the grid is
    weighted by how plausible such a life is after those of earlier sets, given that this one has reached its
    age, and brought back to a total of one: two independent opinions about the same count. The weight is a
    density over ln(life), so that where lives say nothing (few pieces left, against their spread) the
    crossing alone speaks.

    A die does not heal, but a growth rate that wanders may turn round in the model, and some of the chance
    would never arrive. Past its median a crossing is therefore at least as far along as its early half
    mirrored in ln(pieces): twice as late as the median is no less likely than twice as early.
    """
    if age_pieces < 0:
        raise Refused.one("the age of a die set is below 0", value=str(age_pieces), allowed="0 or more")
    if not crossings:
        return None
    survival = np.prod([1.0 - _arriving(crossing.reached) for crossing in crossings], axis=0)
    mass = np.maximum(-np.diff(survival, prepend=1.0), 0.0)
    mass[-1] += survival[-1]
    mass *= life_weights(finished, age_pieces + _GRID, mass > 0.0)
    reached = np.cumsum(mass) / mass.sum()
    places = [int(np.searchsorted(reached, level)) for level in CROSSING_LEVELS]
    pieces = tuple(
        round(_between(reached, place, level)) for place, level in zip(places, CROSSING_LEVELS, strict=True)
    )
    first = max(crossings, key=lambda crossing: float(crossing.reached[places[2]]))
    return LifeForecast(pieces, first.characteristic, first.limit, len(finished))


def _wear_ahead(belief: WearBelief) -> Array:
    return belief.mean[WEAR] + _GRID / 1000.0 * belief.mean[RATE]


def _need_row(belief: WearBelief, travel_um: float) -> tuple[float, ...]:
    """What the need for travel depends on; after a re-mounting the reference stands fixed (see `remount`)."""
    return (1.0 if belief.first_offset_um is None else 0.0, 1.0, 0.0, -travel_um, 0.0, 0.0)


def _variance(belief: WearBelief, prior: WearPrior, row: tuple[float, ...]) -> Array:
    """Variance, over the grid, of a linear form of the state in which wear has the weight 1."""
    k = _GRID / 1000.0
    cov = np.array(belief.cov).reshape(SIZE, SIZE)
    now = np.array(row)
    variance = now @ cov @ now + 2.0 * k * (cov[RATE] @ now) + k * k * cov[RATE, RATE]
    variance = variance + prior.rate_wander_um_per_1000**2 * k**3 / 3.0
    floored: Array = np.maximum(variance, 1e-9)
    return floored


def _crossing(name: str, limit: str, standing: Array) -> Crossing:
    """Chance of having been beyond the limit, from how many standard deviations beyond it the mean is."""
    reached = ndtr(np.maximum.accumulate(standing))
    reached.flags.writeable = False
    return Crossing(name, limit, reached)


def _arriving(reached: Array) -> Array:
    """Let the late half of a crossing arrive at least as surely as the early half, in ln(pieces)."""
    middle = int(np.searchsorted(reached, 0.5))
    if middle == 0 or middle == len(reached):
        return reached
    low, high = reached[middle - 1], reached[middle]
    centre = middle - 1 + (0.5 - low) / (high - low)
    places = np.arange(len(reached), dtype=float)
    mirrored = 1.0 - np.interp(2.0 * centre - places, places, reached)
    return np.where(places > centre, np.maximum(reached, mirrored), reached)


def _between(reached: Array, place: int, level: float) -> float:
    """Pieces at a level, straight between two places of the grid; 0 where it is reached at its beginning."""
    if place == 0:
        return 0.0
    low, high = reached[place - 1], reached[place]
    return float(_GRID[place - 1] + (level - low) / (high - low) * (_GRID[place] - _GRID[place - 1]))
