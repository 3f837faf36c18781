"""A shop for the closed-loop race: dies that wear by a random path, and a slide that a policy sets.

Nothing here is shared with the wear filter: growth is a gamma process along a curve, wander is broken lines,
batches have heavy tails, the gauge jumps. Every die set is drawn from its own seed, so that all policies meet
the same sets. The amounts are invented, of the order that `README.md` uses (common practice, no source).
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["DieSet", "Part", "STRIDE", "TRAVEL_UM", "draw_part", "draw_set"]

Array = NDArray[np.float64]

STRIDE = 20
"""Pieces between two points of a path."""
TRAVEL_UM = 60.0
LEAD_LIMIT_UM = 14.0
LEAD_SIGMA_UM = 0.7


@dataclass(frozen=True)
class Part:
    """One part on one machine: what its plan does not know, and the half width of its tolerance."""

    seed: int
    gain: float
    sigma_um: float
    half_um: float
    pace: float
    pieces_per_check: int
    warm_um: float
    warm_pieces: float


@dataclass(frozen=True)
class DieSet:
    """One die set's whole life, drawn beforehand; arrays stand at every `STRIDE` pieces.

    Attributes
    ----------
    level_um : array
        Size minus target at the reference setting: start, growth, wander and bar batch.
    wear_um, lead_um : array
    sigma_um : array
        Spread of a piece.
    batches, stops : tuples
        (age, effect or minutes) of what is logged.
    slips : tuple of (age, µm)
        Slide stops that slip; nobody logs them.
    gauge : tuple of (check, µm)
        Checks from which the gauge reads so much too large.
    end_age : int
        First age at which the set must come off.
    broken_age : int
        Where the dies break, by chance or some way after the end.
    """

    level_um: Array
    wear_um: Array
    lead_um: Array
    sigma_um: Array
    batches: tuple[tuple[int, float], ...]
    stops: tuple[tuple[int, int], ...]
    slips: tuple[tuple[int, float], ...]
    gauge: tuple[tuple[int, float], ...]
    end_age: int
    broken_age: int


def draw_part(seed: int) -> Part:
    """Draw a part: gain, spread, tolerance and how hard it wears its dies."""
    dice = np.random.default_rng([seed, 0])
    sigma = float(dice.uniform(1.9, 2.9))
    return Part(
        seed=seed,
        gain=float(dice.uniform(0.6, 1.0)),
        sigma_um=sigma,
        half_um=float(round(3.0 * sigma * dice.uniform(1.5, 2.4))),
        pace=float(np.exp(dice.normal(0.0, 0.25))),
        pieces_per_check=int(dice.integers(180, 420)),
        warm_um=float(dice.normal(0.0, 2.0)),
        warm_pieces=float(dice.uniform(60, 250)),
    )


def draw_set(part: Part, number: int) -> DieSet:
    """Draw one die set of a part, its batches, stops, slips and gauge errors."""
    dice = np.random.default_rng([part.seed, 1, number])
    ages = np.arange(0, 200_000, STRIDE, dtype=float)
    growth = _growth(dice, part, ages)
    toward = 1.0 if dice.random() < 0.5 else -1.0
    share = 0.75 if dice.random() < 0.25 else 0.22
    lead = toward * share / 1.25 * float(np.exp(dice.normal(0.0, 0.2))) * growth
    start = float(dice.normal(-2.0, 2.0))
    need = (start + growth) / (part.gain * TRAVEL_UM)
    over = (need >= 1.0) | (np.abs(lead) >= LEAD_LIMIT_UM)
    end = int(ages[int(np.argmax(over))])
    last = int(1.3 * end) + 3000
    shown = ages <= last
    batches = _batches(dice, last)
    level = start + growth + _wander(dice, ages) + _batch_effect(batches, ages)
    return DieSet(
        level_um=level[shown],
        wear_um=growth[shown],
        lead_um=lead[shown],
        sigma_um=(part.sigma_um * (1.0 + 0.5 * np.clip(ages / end - 0.8, 0.0, 0.5)))[shown],
        batches=batches,
        stops=_rare(dice, last, 5000, lambda: int(dice.integers(30, 500))),
        slips=_rare(dice, last, 120_000, lambda: float(dice.choice([-1, 1]) * dice.uniform(4, 9))),
        gauge=_rare(dice, last // part.pieces_per_check, 60, lambda: float(dice.normal(0.0, 5.0))),
        end_age=end,
        broken_age=int(min(dice.exponential(250_000), end + dice.exponential(1500))),
    )


def _growth(dice: np.random.Generator, part: Part, ages: Array) -> Array:
    """Growth in µm: faster at first, steady, faster again late; a gamma process along that curve."""
    rate = 1.25 * part.pace * float(np.exp(dice.normal(0.0, 0.3)))
    extra, settle = dice.uniform(0.5, 2.5), dice.uniform(600, 2500)
    late, quicker = dice.uniform(0.65, 0.95), dice.uniform(0.3, 2.5)
    life = part.gain * TRAVEL_UM / rate * 1000.0
    speed = (
        1.0 + extra * np.exp(-ages / settle) + quicker * np.clip(ages / life - late, 0.0, 1.0) / (1 - late)
    )
    steps = rate * speed * STRIDE / 1000.0
    lump = dice.uniform(0.1, 0.4)
    return np.concatenate([[0.0], np.cumsum(dice.gamma(steps / lump, lump))[:-1]])


def _wander(dice: np.random.Generator, ages: Array) -> Array:
    knots = np.cumsum(np.concatenate([[0.0], dice.uniform(1500, 6000, 140)]))
    return np.asarray(np.interp(ages, knots, np.concatenate([[0.0], dice.uniform(-3.0, 3.0, 140)])))


def _batches(dice: np.random.Generator, last: int) -> tuple[tuple[int, float], ...]:
    found, age = [], 0
    while age < last:
        found.append((age, float(dice.standard_t(5)) * 1.6))
        age += int(dice.integers(2000, 9000))
    return tuple(found)


def _batch_effect(batches: tuple[tuple[int, float], ...], ages: Array) -> Array:
    places = np.searchsorted([age for age, _ in batches], ages, side="right") - 1
    return np.array([effect for _, effect in batches])[places]


def _rare(dice, last, every, amount):  # type: ignore[no-untyped-def]  # one closure over the dice, two kinds of amount
    found, at = [], dice.exponential(every)
    while at < last:
        found.append((int(at), amount()))
        at += dice.exponential(every)
    return tuple(found)


def warm_effect(part: Part, pieces_since_start: float) -> float:
    """How far a machine that is not warm yet throws the size, µm."""
    return part.warm_um * math.exp(-pieces_since_start / part.warm_pieces)
