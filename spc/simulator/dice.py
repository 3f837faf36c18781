"""Chance that falls the same on every machine: uniforms of PCG64, inverted with the standard library."""

from collections.abc import Sequence
from statistics import NormalDist
from typing import TypeVar
from zlib import crc32

from numpy.random import PCG64, Generator

__all__ = ["Dice"]

Choice = TypeVar("Choice")
STANDARD_NORMAL = NormalDist()
SMALLEST = 2.0**-54


class Dice:
    """One named cup of dice: the same seed and words always roll the same numbers.

    Parameters
    ----------
    seed : int
        Seed of the whole history, at least 0.
    *words : object
        What the dice are rolled for, for example ``"check", "R1", "2026-03-02T07:10:00"``. Naming them keeps
        a die set, a bar batch or a check the same whatever somebody decided at the slide before it.

    Examples
    --------
    >>> Dice(1, "check", "R1").uniform() == Dice(1, "check", "R1").uniform()
    True
    """

    def __init__(self, seed: int, *words: object) -> None:
        self._generator = Generator(PCG64([seed, *(crc32(str(word).encode()) for word in words)]))

    def uniform(self) -> float:
        """Roll a number in (0, 1)."""
        return max(float(self._generator.random()), SMALLEST)

    def between(self, low: float, high: float) -> float:
        """Roll a number between `low` and `high`, evenly."""
        return low + (high - low) * self.uniform()

    def normal(self, mean: float = 0.0, sd: float = 1.0) -> float:
        """Roll a normal number by inverting one uniform."""
        return mean + sd * STANDARD_NORMAL.inv_cdf(self.uniform())

    def pick(self, choices: Sequence[Choice]) -> Choice:
        """Pick one of `choices`, evenly."""
        return choices[int(self.uniform() * len(choices))]
