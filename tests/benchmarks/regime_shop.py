"""A shop of another kind: a power of the age beside two exponentials, in regimes; parts and people vary widely.

The life of a die set is 5,000 to 150,000 pieces by the part, tolerance, travel, gain, pieces a check and the
gauge's step differ, the machine breathes with the day, and the operator may go by a single piece.
"""

import math

import numpy as np

from tests.benchmarks.floor import Drawing


class RegimeShop:
    """One part, drawn anew by every seed."""

    def __init__(self, seed: int, nuisance: float = 1.0) -> None:
        self.dice = dice = np.random.default_rng(10_000 + seed)
        self.nuisance = nuisance
        half = float(dice.choice([12.0, 20.0, 30.0, 50.0]))
        self.grain = half / 18.0
        gain = float(dice.choice([0.6, 0.9, 1.0, 1.8]))
        travel = float(round(dice.uniform(2.0, 5.0) * half / gain))
        interval, pieces = int(dice.choice([30, 60, 120])), int(dice.choice([3, 4, 5]))
        decimals = 4 if half < 25.0 else 3
        self.drawing = Drawing("44.180", half, gain, travel, 0.8 * half, pieces, interval, decimals)
        self.life = math.exp(dice.uniform(math.log(5_000), math.log(150_000)))
        self.checks_a_life = dice.uniform(30.0, 90.0)

    def machine(self) -> "RegimeMachine":
        return RegimeMachine(self)

    def die(self, machine: "RegimeMachine") -> "RegimeDie":
        return RegimeDie(self, machine)


class RegimeMachine:
    """Breathes with the day and a slow random walk that is held back; bars differ evenly and drift within."""

    def __init__(self, shop: RegimeShop) -> None:
        self.shop, self.dice = shop, shop.dice
        dice, grain = shop.dice, shop.grain
        self.gain = shop.drawing.plan_gain * dice.uniform(0.7, 1.3)
        self.sigma_um = grain * dice.uniform(1.6, 2.6)
        self.pieces_a_check = max(int(shop.life / shop.checks_a_life * dice.uniform(0.7, 1.4)), 12)
        self.slide_start_mm = 30.0
        self._day_um = grain * shop.nuisance * dice.uniform(0.0, 1.5)
        self._day_checks = 1440.0 / shop.drawing.interval_minutes
        self._phase, self._checks, self._walk = dice.uniform(0.0, 2.0 * math.pi), 0, 0.0
        self._warm_um = grain * shop.nuisance * dice.uniform(-4.0, 4.0)
        self._warm_pieces = dice.uniform(0.1, 0.8) * self.pieces_a_check
        self.from_um, self.of_one = grain * dice.uniform(3.0, 9.0), dice.random() < 0.3
        self.takes, self.hand = dice.uniform(0.4, 1.1), dice.uniform(0.0, 0.3)

    def bars(self) -> tuple[int, float]:
        um = self.shop.grain * self.shop.nuisance * self.dice.uniform(-4.0, 4.0)
        return int(self.pieces_a_check * self.dice.uniform(4.0, 30.0)), um

    def wander_um(self, age: int) -> float:  # noqa: ARG002 - this shop goes by the clock
        self._checks += 1
        self._walk = 0.85 * self._walk + self.shop.grain * self.shop.nuisance * self.dice.normal(0.0, 0.45)
        return self._walk + self.day_um

    @property
    def day_um(self) -> float:
        return self._day_um * math.sin(2.0 * math.pi * self._checks / self._day_checks + self._phase)

    def warm_um(self, pieces_since_start: int) -> float:
        return self._warm_um / (1.0 + pieces_since_start / self._warm_pieces) ** 2

    def stop_minutes(self) -> int:
        return int(self.dice.integers(25, 900)) if self.dice.random() < 0.08 else 0

    def move_um(self, off_um: list[float]) -> float:
        seen = off_um[-1] if self.of_one else sum(off_um) / len(off_um)
        if abs(seen) <= self.from_um:
            return 0.0
        return self.takes * (1.0 + self.hand * self.dice.normal()) * seen / self.shop.drawing.plan_gain


class RegimeDie:
    """A power of the age, a quick beginning, and now and then a quick end; the steel's mood changes in regimes."""

    def __init__(self, shop: RegimeShop, machine: RegimeMachine) -> None:
        dice, drawing = shop.dice, shop.drawing
        self.dice, self.age = dice, 0.0
        way = machine.gain * drawing.travel_um
        self.life = shop.life * math.exp(dice.normal(0.0, 0.3))
        self.quick, self.settles = way * dice.uniform(0.0, 0.2), self.life * dice.uniform(0.01, 0.08)
        self.power = dice.uniform(0.75, 1.35)
        self.main = way - self.quick
        self.late = way * dice.uniform(0.0, 0.04) if dice.random() < 0.7 else 0.0
        self.mood, self.mood_left = 1.0, self.life * dice.exponential(0.3)
        lead = dice.uniform(0.8, 1.4) if dice.random() < 0.25 else dice.uniform(0.1, 0.6)
        self.lead_rate = lead * drawing.lead_limit_um / self.life * dice.choice([-1.0, 1.0])
        self.turns_at = self.life * dice.uniform(0.3, 0.7) if dice.random() < 0.1 else math.inf
        self.start_um = shop.grain * dice.normal(0.0, 3.0)
        self.wear_um, self.lead_um, self.spread = 0.0, 0.0, 1.0
        self.chip_age = dice.weibull(1.5) * 8.0 * self.life
        self.planned_share = dice.uniform(0.3, 0.9) if dice.random() < 0.15 else math.inf

    def grow(self, pieces: int, share: float, faster: float) -> None:
        was, self.age = self.age, self.age + pieces
        self.mood_left -= pieces
        if self.mood_left <= 0.0:
            self.mood = math.exp(self.dice.normal(0.0, 0.2))
            self.mood_left = self.life * self.dice.exponential(0.3)
        grown = max(self._path(self.age) - self._path(was), 0.0)
        self.wear_um += grown * self.mood * faster
        if was < self.turns_at <= self.age:
            self.lead_rate *= -1.0
        self.lead_um += self.lead_rate * pieces * self.mood * self.dice.uniform(0.5, 1.5)
        self.spread = 1.0 + 0.3 * max(share, 0.0) ** 3

    def _path(self, age: float) -> float:
        k = age / self.life
        early = self.quick * (1.0 - math.exp(-age / self.settles))
        return early + self.main * k**self.power + self.late * (math.exp(min(k, 3.0) / 0.25) - 1.0) / 50.0
