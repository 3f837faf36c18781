"""What the lives of finished die sets say of the next: how they scatter, and how often one ends suddenly."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp, log

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaincc, gammaincinv

from spc.statistics import AgeReplacement, age_replacement
from spc.wear.finished import FinishedSet

__all__ = ["SAFE_ENDS", "PlannedAge", "SetLives", "SuddenEnds", "planned_age", "set_lives", "sudden_ends"]

SAFE_ENDS = 10
"""Ends below which the scatter of lives leans on the guess (process knowledge, 2.3)."""
_SHAPE_LOW, _SHAPE_HIGH = 1.5, 5.0
"""Nine of ten shapes are guessed to lie here: chipping 1.5 to 2.5, wear 3 to 5 (handbook, from memory)."""
_LOG_MIDDLE = 0.5 * log(_SHAPE_LOW * _SHAPE_HIGH)
_LOG_SD = 0.5 * log(_SHAPE_HIGH / _SHAPE_LOW) / 1.6448536269514722
_LOG_SHAPES = np.linspace(log(0.3), log(20.0), 121)
_SHAPES = np.exp(_LOG_SHAPES)

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class SetLives:
    """How long die sets of a part last, as a Weibull law of which neither number is known exactly.

    Attributes
    ----------
    shape, scale : float
        The law to reckon with: the middle of what the shape may be, and the likeliest scale with it, pieces.
    sets, ends : int
        Finished sets, and how many of them came to their end.
    weights : array, shape (121,)
        How likely each shape is.
    totals : array, shape (121,)
        Sum of (age/`unit`)^shape over all sets, for each shape.
    unit : float
        Pieces that the totals count in.
    """

    shape: float
    scale: float
    sets: int
    ends: int
    weights: Array
    totals: Array
    unit: float

    @property
    def is_guessed(self) -> bool:
        """Whether the scatter leans on the guess more than is safe."""
        return self.ends < SAFE_ENDS

    def shape_90(self) -> tuple[float, float]:
        """Ends of the nine tenths of likely shapes."""
        reached = np.cumsum(self.weights) - 0.5 * self.weights
        low, high = np.interp((0.05, 0.95), reached, _LOG_SHAPES)
        return exp(float(low)), exp(float(high))


@dataclass(frozen=True, slots=True)
class PlannedAge:
    """The age for a planned change, and how sure it is.

    Attributes
    ----------
    best : AgeReplacement
        By the law to reckon with.
    low90, high90 : float or None
        Nine of ten: the age that would be best lies between; None where there may be no such age.
    """

    best: AgeReplacement
    low90: float | None
    high90: float | None


@dataclass(frozen=True, slots=True)
class SuddenEnds:
    """How often a set ended by a chip or a crack.

    Attributes
    ----------
    chipped, sets, pieces : int
        Sets that did, all finished sets, and the pieces that all of them made.
    per_1000, low90, high90 : float
        Such ends in 1,000 pieces.
    """

    chipped: int
    sets: int
    pieces: int
    per_1000: float
    low90: float
    high90: float


def set_lives(finished: tuple[FinishedSet, ...]) -> SetLives | None:
    """Learn the law of lives from the finished sets of a part.

    Parameters
    ----------
    finished : tuple of FinishedSet
        Worn and chipped sets are ends; the others lived longer than the age at which they came off.

    Returns
    -------
    SetLives or None
        None before the first end.

    Notes
    -----
    The greatest likelihood of fewer than about ten ends is not safe. So ln shape has a normal prior with 90 % between
    1.5 and 5, ln scale a flat one. Given a shape β, with r ends and S = Σ t^β over all sets, scale^β is inverse
    gamma (r, S); the scale integrates out, and p(ln β) ∝ prior β^(r−1) Π t_end^(β−1) S^−r is summed over a
    grid. With many ends the prior no longer counts. There is no simulation in it.

    References
    ----------
    H. Martz & R. Waller, *Bayesian Reliability Analysis* (1982), Weibull lives with a known shape (from memory);
    W. Nelson, *Applied Life Data Analysis* (1982), planned removals as lives that go on (from memory).
    """
    ages = np.array([each.age_pieces for each in finished], dtype=np.float64)
    ended = np.array([each.ended for each in finished], dtype=bool)
    r = int(ended.sum())
    if r == 0:
        return None
    unit = float(ages[ended].max())
    logs = np.log(ages / unit)
    totals = np.exp(np.multiply.outer(_SHAPES, logs)).sum(axis=1)
    height = -0.5 * ((_LOG_SHAPES - _LOG_MIDDLE) / _LOG_SD) ** 2
    height += (r - 1.0) * _LOG_SHAPES + (_SHAPES - 1.0) * float(logs[ended].sum()) - r * np.log(totals)
    weights = np.exp(height - height.max())
    weights /= weights.sum()
    shape = exp(float(weights @ _LOG_SHAPES))
    total = float(np.exp(shape * logs).sum())
    return SetLives(shape, unit * (total / r) ** (1.0 / shape), len(finished), r, weights, totals, unit)


def planned_age(
    finished: tuple[FinishedSet, ...], planned_cost: float, unplanned_cost: float
) -> PlannedAge | None:
    """Find the age at which a planned change of this part's dies costs least a piece.

    Parameters
    ----------
    finished : tuple of FinishedSet
    planned_cost, unplanned_cost : float
        Of one change, above 0.

    Returns
    -------
    PlannedAge or None
        None before the first end. The interval is where the best age of the true law lies with nine in ten: for each
        shape the best age is a fixed multiple of the scale, whose law is known, so its law is summed exactly.

    References
    ----------
    As for `age_replacement` and `set_lives`.
    """
    lives = set_lives(finished)
    if lives is None:
        return None
    best = age_replacement(lives.shape, lives.scale, planned_cost, unplanned_cost)
    multiples = _multiples(planned_cost / unplanned_cost)
    low, high = (_age_at(lives, multiples, level) for level in (0.05, 0.95))
    return PlannedAge(best, low, high)


def sudden_ends(finished: tuple[FinishedSet, ...]) -> SuddenEnds | None:
    """Say how often sets of this part chip or crack.

    Parameters
    ----------
    finished : tuple of FinishedSet
        Chipped ones count as such ends; the pieces of all of them count.

    Returns
    -------
    SuddenEnds or None
        None before the first set came off. Where none has chipped, `high90` says how rare it must be.

    Notes
    -----
    k such ends in N pieces, one as likely at any piece: with Jeffreys' prior the rate is gamma (k + ½, N), whose
    mean is (k + ½)/N.

    References
    ----------
    A. Gelman et al., *Bayesian Data Analysis*, 3rd ed., ch. 2, the Poisson model (from memory).
    """
    pieces = sum(each.age_pieces for each in finished)
    if pieces == 0:
        return None
    chipped = sum(1 for each in finished if each.reason == "chipped")
    low, high = (float(gammaincinv(chipped + 0.5, level)) * 1000.0 / pieces for level in (0.05, 0.95))
    return SuddenEnds(chipped, len(finished), pieces, (chipped + 0.5) * 1000.0 / pieces, low, high)


@lru_cache(maxsize=64)
def _multiples(cost_share: float) -> tuple[float | None, ...]:
    """Best age over scale for every shape of the grid; planned cost over unplanned cost is all it depends on."""
    return tuple(age_replacement(float(shape), 1.0, cost_share, 1.0).age for shape in _SHAPES)


def _age_at(lives: SetLives, multiples: Sequence[float | None], level: float) -> float | None:
    """Age below which the best one lies with this chance; None where so much of it has no such age at all."""
    known = np.array([each is not None for each in multiples])
    if not known.any():
        return None
    shapes, weights = _SHAPES[known], lives.weights[known]
    if float(weights.sum()) <= level:
        return None
    times = np.array([each for each in multiples if each is not None])
    scaled = lives.totals[known] * times**shapes

    def reached(log_age: float) -> float:
        rest = np.exp(np.minimum(np.log(scaled) - shapes * log_age, 700.0))
        return float(weights @ gammaincc(lives.ends, rest)) - level

    return lives.unit * exp(_root(reached))


def _root(rising: Callable[[float], float]) -> float:
    from scipy.optimize import brentq

    low, high = -1.0, 1.0
    while rising(low) > 0.0:
        low *= 2.0
    while rising(high) < 0.0:
        high *= 2.0
    return float(brentq(rising, low, high, xtol=1e-6))
