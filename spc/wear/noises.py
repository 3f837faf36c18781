"""How much a level wanders by itself: learned from how checks of earlier sets differ, near and far apart."""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made

__all__ = ["LAGS", "LevelMoves", "Noises", "RecentLevels", "Seen", "learn_moves", "noises_from"]

LAGS = (1, 2, 4, 8)
"""Distances, in checks, at which levels are compared."""
_GUESS_MOVES = 12.0
"""How many squared moves the first guess counts as."""
_FEWEST = 4.0
_CLIP = 9.0
"""A squared move counts at most as so many times what is expected of it: a step nobody logged is no noise."""
_LEAST = 0.01
"""Share of the guess below which no variance is believed."""


@quickly_made
@dataclass(frozen=True, slots=True)
class Noises:
    """Variances of one characteristic's level, µm²: from check to check, of the slow wander, from batch to batch."""

    between_checks: float
    wander: float
    batch: float


@quickly_made
@dataclass(frozen=True, slots=True)
class RecentLevels:
    """The last levels within one bar batch and mounting, newest last: age in pieces, level in µm."""

    ages: tuple[int, ...] = ()
    levels_um: tuple[float, ...] = ()


@quickly_made
@dataclass(frozen=True, slots=True)
class LevelMoves:
    """Sums of squared level moves: what a set's checks said of noise, wander and batches.

    Attributes
    ----------
    squares_um2, shares, counts : tuple of 4 floats
        By lag: half squared moves; the share 1 − exp(−Δ/L) of the wander's variance to be found in them; how
        many.
    white_um2 : float
        Sum, over the moves to the check before, of the variance that the pieces alone explain, σ²/n.
    batch_um2, batch_shares, batches : float
        Half squared moves across a change of bars, their shares, and how many.
    """

    squares_um2: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    shares: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    counts: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    white_um2: float = 0.0
    batch_um2: float = 0.0
    batch_shares: float = 0.0
    batches: float = 0.0


@quickly_made
@dataclass(frozen=True, slots=True)
class Seen:
    """One check's level.

    Attributes
    ----------
    age_pieces : int
    level_um : float
        Mean minus target with the slide moves taken out.
    rate_um_per_1000 : float
        Growth to take out of moves.
    white_um2 : float
        σ²/n of the check.
    is_new_batch : bool
        Whether the bars changed since the check before.
    """

    age_pieces: int
    level_um: float
    rate_um_per_1000: float
    white_um2: float
    is_new_batch: bool


def learn_moves(
    moves: LevelMoves, recent: RecentLevels, seen: Seen, wander_pieces: float, expected: Noises
) -> tuple[LevelMoves, RecentLevels]:
    """Take one check's level in.

    Parameters
    ----------
    moves : LevelMoves
        Of the set so far.
    recent : RecentLevels
    seen : Seen
    wander_pieces : float
        Correlation length L of the wander.
    expected : Noises
        As believed now: a move far beyond them is cut.

    Returns
    -------
    tuple
        The sums and the recent levels with this check in them.

    Notes
    -----
    Against the levels 1, 2, 4 and 8 checks back within a bar batch, Δ pieces ago, it adds ½·(move − rate·Δ/1,000)²
    and the share 1 − e^(−Δ/L); a half square above nine times σ²/n + σ_c² + share·s² (and σ_b² across a change of
    bars) is cut there, for a step nobody logged is no noise. A new batch is compared with the last check before it
    alone.
    """
    if not recent.ages:
        return moves, RecentLevels((seen.age_pieces,), (seen.level_um,))
    white = seen.white_um2 + expected.between_checks
    if seen.is_new_batch:
        half, share = _half_square(recent, seen, 1, wander_pieces)
        most = _CLIP * (white + share * expected.wander + expected.batch)
        moves = changed(
            moves,
            batch_um2=moves.batch_um2 + min(half, most),
            batch_shares=moves.batch_shares + share,
            batches=moves.batches + 1.0,
        )
        return moves, RecentLevels((seen.age_pieces,), (seen.level_um,))
    squares, shares, counts = list(moves.squares_um2), list(moves.shares), list(moves.counts)
    for i, lag in enumerate(LAGS[: bisect_right(LAGS, len(recent.ages))]):
        half, share = _half_square(recent, seen, lag, wander_pieces)
        squares[i] += min(half, _CLIP * (white + share * expected.wander))
        shares[i] += share
        counts[i] += 1.0
    moves = changed(
        moves,
        squares_um2=tuple(squares),
        shares=tuple(shares),
        counts=tuple(counts),
        white_um2=moves.white_um2 + seen.white_um2,
    )
    ages, levels = (*recent.ages, seen.age_pieces), (*recent.levels_um, seen.level_um)
    return moves, RecentLevels(ages[-LAGS[-1] :], levels[-LAGS[-1] :])


def noises_from(evidence: Sequence[LevelMoves], guess: Noises) -> Noises:
    """Pool what earlier sets said with a first guess.

    Parameters
    ----------
    evidence : sequence of LevelMoves
        One characteristic on sets that came off.
    guess : Noises
        Counts as a dozen squared moves.

    Returns
    -------
    Noises
        Never below a hundredth of the guess.

    Notes
    -----
    Half the mean squared move between checks Δ pieces apart (the variogram) is white + wander·(1 − e^(−Δ/L)):
    a straight line over the share, whose slope is the wander's variance and whose beginning is the noise of
    a check. What the pieces do not explain of that beginning comes from check to check. Across a change of
    bars it is larger by the variance from batch to batch. With v(lag), p(lag) the means of half squares and shares
    and m(lag) how many there are,

        wander = Σ m(lag)·(v(lag) − v(1))·(p(lag) − p(1)) / Σ m(lag)·(p(lag) − p(1))²,  lags of 2, 4, 8 checks,
        between checks = v(1) − p(1)·wander − white,    batch = v(bars) − white − between − p(bars)·wander,

    each pooled with its guess, which counts as twelve: (12·guess + m·found)/(12 + m). m is a sixth of the moves for
    the wander and a third for the noise of a check, for moves that overlap tell less than as many apart (own
    estimate, no source), and the changes of bars for the batch. Fewer than four moves leave the guess.

    References
    ----------
    N. Cressie (1993), *Statistics for Spatial Data*, section 2.4, the classical variogram estimator (from memory).
    """
    squares, shares, counts = (
        [math.fsum(getattr(each, of)[i] for each in evidence) for i in range(len(LAGS))]
        for of in ("squares_um2", "shares", "counts")
    )
    near = counts[0]
    if near < _FEWEST:
        return guess
    white = math.fsum(each.white_um2 for each in evidence) / near
    wander = _wander(squares, shares, counts, guess.wander)
    rest = squares[0] / near - shares[0] / near * wander - white
    between = _pooled(max(rest, 0.0), near / 3.0, guess.between_checks)
    batches = math.fsum(each.batches for each in evidence)
    if batches == 0.0:
        return Noises(between, wander, guess.batch)
    step = math.fsum(each.batch_um2 for each in evidence) / batches
    step -= white + between + math.fsum(each.batch_shares for each in evidence) / batches * wander
    return Noises(between, wander, _pooled(max(step, 0.0), batches, guess.batch))


def _wander(squares: list[float], shares: list[float], counts: list[float], guess: float) -> float:
    """Slope of the variogram over the share: farther lags against the nearest, by how often they were seen."""
    far = [i for i in range(1, len(LAGS)) if counts[i] >= _FEWEST]
    if not far:
        return guess
    mean = [squares[i] / counts[i] if counts[i] else 0.0 for i in range(len(LAGS))]
    share = [shares[i] / counts[i] if counts[i] else 0.0 for i in range(len(LAGS))]
    rises = math.fsum(counts[i] * (mean[i] - mean[0]) * (share[i] - share[0]) for i in far)
    runs = math.fsum(counts[i] * (share[i] - share[0]) ** 2 for i in far)
    if runs <= 0.0:
        return guess
    return _pooled(max(rises / runs, 0.0), math.fsum(counts[i] for i in far) / 6.0, guess)


def _half_square(recent: RecentLevels, seen: Seen, lag: int, wander_pieces: float) -> tuple[float, float]:
    gap = seen.age_pieces - recent.ages[-lag]
    move = seen.level_um - recent.levels_um[-lag] - seen.rate_um_per_1000 * gap / 1000.0
    return move * move / 2.0, 1.0 - math.exp(-max(gap, 0) / wander_pieces)


def _pooled(found: float, weight: float, guess: float) -> float:
    return max((_GUESS_MOVES * guess + weight * found) / (_GUESS_MOVES + weight), _LEAST * guess)
