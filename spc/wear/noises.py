"""How much the level wanders by itself: learned from how checks of finished sets differ, near and far apart."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

__all__ = ["LAGS", "LevelMoves", "Noises", "Recent", "learn_moves", "noises_from"]

LAGS = (1, 2, 4, 8)
"""Distances, in checks, at which levels are compared."""
_GUESS_MOVES = 12.0
"""How many squared moves the first guess counts as."""
_CLIP = 9.0
"""A squared move counts at most as so many times what is expected of it: a step nobody logged is no noise."""


@dataclass(frozen=True, slots=True)
class Recent:
    """The last levels of one bar batch on one mounting, newest last.

    Attributes
    ----------
    ages, levels_um : tuple
        Age in pieces; mean minus target with slide moves and growth taken out.
    """

    ages: tuple[int, ...] = ()
    levels_um: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class LevelMoves:
    """Sums of squared level moves: what a set's checks said of noise, wander and batches.

    Attributes
    ----------
    squares_um2, shares, counts : tuple of 4 floats
        By lag: half squared moves; the share 1 − exp(−Δ/L) of the wander's variance expected in them;
        and how many.
    white_um2 : float
        Sum over the counted moves of the lag 1 of σ²/n, the noise the pieces alone explain.
    batch_um2, batch_noise_um2, batches : float
        The same across a change of bars.
    """

    squares_um2: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    shares: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    counts: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    white_um2: float = 0.0
    batch_um2: float = 0.0
    batch_share: float = 0.0
    batches: float = 0.0


@dataclass(frozen=True, slots=True)
class Noises:
    """Variances of one characteristic's level, µm²."""

    between_checks: float
    wander: float
    batch: float


def learn_moves(
    moves: LevelMoves,
    recent: Recent,
    age: int,
    level_um: float,
    rate_um_per_1000: float,
    white_um2: float,
    wander_pieces: float,
    is_new_batch: bool,
    guess: Noises,
) -> tuple[LevelMoves, Recent]:
    """Take one check's level in."""
    if not recent.ages:
        return moves, Recent((age,), (level_um,))
    if is_new_batch:
        gap = age - recent.ages[-1]
        move = level_um - recent.levels_um[-1] - rate_um_per_1000 * gap / 1000.0
        share = 1.0 - math.exp(-gap / wander_pieces)
        expected = white_um2 + guess.between_checks + share * guess.wander + guess.batch
        half = min(move * move / 2.0, _CLIP * expected)
        moves = replace(
            moves,
            batch_um2=moves.batch_um2 + half,
            batch_share=moves.batch_share + share,
            batches=moves.batches + 1.0,
        )
        return moves, Recent((age,), (level_um,))
    squares, shares, counts = list(moves.squares_um2), list(moves.shares), list(moves.counts)
    white = moves.white_um2
    for i, lag in enumerate(LAGS):
        if lag > len(recent.ages):
            break
        gap = age - recent.ages[-lag]
        move = level_um - recent.levels_um[-lag] - rate_um_per_1000 * gap / 1000.0
        share = 1.0 - math.exp(-gap / wander_pieces)
        expected = white_um2 + guess.between_checks + share * guess.wander
        squares[i] += min(move * move / 2.0, _CLIP * expected)
        shares[i] += share
        counts[i] += 1.0
        if lag == 1:
            white += white_um2
    moves = replace(moves, squares_um2=tuple(squares), shares=tuple(shares), counts=tuple(counts), white_um2=white)
    return moves, Recent((*recent.ages, age)[-LAGS[-1]:], (*recent.levels_um, level_um)[-LAGS[-1]:])


def noises_from(evidence: Sequence[LevelMoves], guess: Noises, typical_share: float = 0.6) -> Noises:
    """Pool what sets said with a first guess: variances never below a hundredth of the guess."""
    sums = [[sum(getattr(e, f)[i] for e in evidence) for i in range(4)] for f in ("squares_um2", "shares", "counts")]
    squares, shares, counts = sums
    n = counts[0]
    if n < 4:
        return guess
    white = sum(e.white_um2 for e in evidence) / n
    mean = [squares[i] / counts[i] if counts[i] else 0.0 for i in range(4)]
    share = [shares[i] / counts[i] if counts[i] else 0.0 for i in range(4)]
    # straight line of half squared move over the share: slope is the wander, rest the noise of a check
    far = [i for i in (1, 2, 3) if counts[i] >= 4]
    wander = guess.wander
    if far:
        top = sum(counts[i] * (mean[i] - mean[0]) * (share[i] - share[0]) for i in far)
        low = sum(counts[i] * (share[i] - share[0]) ** 2 for i in far)
        found, weight = max(top / low, 0.0), sum(counts[i] for i in far) / 6.0
        wander = _pooled(found, weight, guess.wander)
    between = _pooled(max(mean[0] - share[0] * wander - white, 0.0), n / 3.0, guess.between_checks)
    batches = sum(e.batches for e in evidence)
    batch = guess.batch
    if batches:
        mean_b = sum(e.batch_um2 for e in evidence) / batches
        share_b = sum(e.batch_share for e in evidence) / batches
        batch = _pooled(max(mean_b - white - between - share_b * wander, 0.0), batches, guess.batch)
    return Noises(between, wander, batch)


def _pooled(found: float, weight: float, guess: float) -> float:
    return max((_GUESS_MOVES * guess + weight * found) / (_GUESS_MOVES + weight), 0.01 * guess)
