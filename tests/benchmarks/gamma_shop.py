"""A shop whose dies wear by a gamma process: quick at first, quicker again at the end, bars by Student's t."""

import math

import numpy as np

from tests.benchmarks.floor import Drawing

OPERATORS = {"full": (5.0, 1.0), "half": (4.0, 0.5), "lazy": (8.0, 1.0)}
"""Deviation of the mean, µm, from which an operator moves the slide, and the share of it that he takes out."""


class GammaShop:
    """One part: over pins 27.400 ± 0.018 mm, 60 µm of travel."""

    def __init__(self, seed: int, nuisance: float = 1.0, operator: str = "") -> None:
        self.dice = np.random.default_rng(seed)
        self.nuisance, self.operator = nuisance, operator
        self.drawing = Drawing("27.400", 18.0, 0.80, 60.0, 14.0, 5, 60, 4)
        self.pace = float(np.exp(self.dice.normal(0.0, 0.25)))

    def machine(self) -> "GammaMachine":
        return GammaMachine(self.dice, self.nuisance, self.operator)

    def die(self, machine: "GammaMachine") -> "GammaDie":  # noqa: ARG002 - the other shop's dies know it
        return GammaDie(self.dice, self.pace)


class GammaMachine:
    """A slide of its own gain, bars that last a few thousand pieces, a slow wander between knots."""

    def __init__(self, dice: np.random.Generator, nuisance: float, operator: str) -> None:
        self.dice, self.nuisance = dice, nuisance
        self.gain, self.sigma_um = dice.uniform(0.6, 1.0), dice.uniform(1.9, 2.9)
        self.pieces_a_check = int(dice.integers(180, 420))
        self.slide_start_mm = 12.0
        self._warm_um, self._warm_pieces = dice.normal(0.0, 2.0) * nuisance, dice.uniform(60, 250)
        self.from_um, self.to_um = OPERATORS[operator or str(dice.choice(list(OPERATORS)))]
        self._knots = [(0, 0.0), self._knot(0)]

    @property
    def day_um(self) -> float:
        return 0.0  # this shop knows no day

    def bars(self) -> tuple[int, float]:
        return int(self.dice.integers(2000, 9000)), float(self.dice.standard_t(5)) * 1.6 * self.nuisance

    def wander_um(self, age: int) -> float:
        if age < self._knots[0][0]:  # another die set
            self._knots = [(0, 0.0), self._knot(0)]
        while age > self._knots[1][0]:
            self._knots = [self._knots[1], self._knot(self._knots[1][0])]
        (a, x), (b, y) = self._knots
        return x + (y - x) * (age - a) / (b - a)

    def _knot(self, after: int) -> tuple[int, float]:
        return after + int(self.dice.uniform(1500, 6000)), self.dice.uniform(-3, 3) * self.nuisance

    def warm_um(self, pieces_since_start: int) -> float:
        return self._warm_um * math.exp(-pieces_since_start / self._warm_pieces)

    def stop_minutes(self) -> int:
        return int(self.dice.integers(30, 500)) if self.dice.random() < 0.06 else 0

    def move_um(self, off_um: list[float]) -> float:
        mean = sum(off_um) / len(off_um)
        return self.to_um * mean / 0.8 if abs(mean) > self.from_um else 0.0


class GammaDie:
    """Growth by gamma increments around a rate that falls from break-in and rises towards the end."""

    def __init__(self, dice: np.random.Generator, pace: float) -> None:
        self.dice, self.age = dice, 0
        self.rate = 1.25 * pace * float(np.exp(dice.normal(0.0, 0.3)))
        self.extra, self.settles = dice.uniform(0.5, 2.5), dice.uniform(600, 2500)
        self.late_from, self.late = dice.uniform(0.65, 0.95), dice.uniform(0.3, 2.5)
        self.grain_um = dice.uniform(0.1, 0.4)
        lead = 0.75 if dice.random() < 0.25 else 0.22
        self.lead_rate = lead * pace * float(np.exp(dice.normal(0.0, 0.25))) * dice.choice([-1.0, 1.0])
        self.start_um, self.wear_um, self.lead_um, self.spread = dice.normal(-2.0, 2.0), 0.0, 0.0, 1.0
        self.chip_age = dice.exponential(500_000.0)
        self.planned_share = dice.uniform(0.35, 0.95) if dice.random() < 0.15 else math.inf

    def grow(self, pieces: int, share: float, faster: float) -> None:
        late = max(0.0, (share - self.late_from) / (1.0 - self.late_from)) ** 1.5
        pace = (1.0 + self.extra * math.exp(-self.age / self.settles)) * (1.0 + self.late * late)
        k = pieces / 1000.0
        shape = self.rate * pace * faster * k / self.grain_um
        self.wear_um += float(self.dice.gamma(max(shape, 1e-3), self.grain_um))
        self.lead_um += self.lead_rate * (0.6 + 0.4 * pace) * k * float(self.dice.gamma(8.0, 1 / 8))
        self.spread = 1.0 + 0.5 * max(0.0, share - 0.8)
        self.age += pieces
