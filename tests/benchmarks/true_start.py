"""Mountings that leave copies of themselves behind, and how high a die's size stands as well as checks can tell.

Told the growth, the gain, the wander and the warm-up, each check shows the size of the new die plus what its bars
add plus the mean of its pieces' noise. With the variance of bars, the sizes of new dies and the pieces' spread known
too, the best linear reading of the first size weighs a bar batch by 1/(variance of bars + noise of its checks).
"""

import copy
import math
from dataclasses import dataclass, field, replace
from decimal import Decimal

import numpy as np

from spc.shop import CheckGauged
from tests.benchmarks.floor import Book, Desk, Mounting, Nature
from tests.benchmarks.truth import Change, SetTruth

_DRAWS = 2000


@dataclass(frozen=True, slots=True)
class Stood:
    """A mounting at one check as it truly was, and its die's first size as best read by then, µm."""

    mounting: Mounting
    start_um: float
    start_sd_um: float


@dataclass(slots=True)
class Kept:
    """How each die set stood at each check; `dice` are those of the onlooker, never the shop's.

    `calm` holds the checks with bars, wander and warm-up taken out of the sizes over pins.
    """

    dice: np.random.Generator
    by_set: dict[str, list[Stood]] = field(default_factory=dict)
    calm: list[CheckGauged] = field(default_factory=list)

    def mount(
        self, nature: Nature, desk: Desk, book: Book, die_set: str, changes: tuple[Change, ...]
    ) -> Mounting:
        """Stand in for `Mounting` in a fleet."""
        return _Watched(nature, desk, book, die_set, changes, self)


class _Watched(Mounting):
    def __init__(
        self, nature: Nature, desk: Desk, book: Book, die_set: str, changes: tuple[Change, ...], kept: Kept
    ) -> None:
        super().__init__(nature, desk, book, die_set, changes)
        self.kept, self.stood = kept, kept.by_set.setdefault(die_set, [])
        self.starts = Starts.of(nature, desk, kept.dice)

    def _gauge(self) -> None:
        desk, machine, slide_mm = self.desk, self.desk.machine, self.desk.slide_mm
        wanders, wander_um = [0.0], machine.wander_um

        def noted(age: int) -> float:
            wanders.append(wander_um(age))
            return wanders[-1]

        machine.wander_um = noted  # type: ignore[method-assign]
        super()._gauge()
        machine.wander_um = wander_um  # type: ignore[method-assign]
        check, passing = self.book.checks[-1], wanders[-1] + machine.warm_um(self.age - self.started)
        self.kept.calm.append(_without(check, passing + desk.bars_um))
        sizes = [float(each.value or 0) for each in check.readings[: self.drawing.pieces]]
        seen_um = 1000.0 * (float(np.mean(sizes)) - float(self.drawing.target_mm)) - passing
        seen_um += machine.gain * (slide_mm - self.zero_mm) * 1000.0 - self.die.wear_um
        self.starts.see(
            desk.bars_um, seen_um, (machine.sigma_um * self.die.spread) ** 2 / self.drawing.pieces
        )
        self.stood.append(Stood(copied(self), *self.starts.read()))


def _without(check: CheckGauged, passing_um: float) -> CheckGauged:
    """The check as it would have been without what passes: its sizes over pins so much smaller."""
    less = Decimal(f"{passing_um / 1000.0:.5f}")
    readings = tuple(
        replace(each, value=each.value - less) if each.characteristic == "over_pin" and each.value else each
        for each in check.readings
    )
    return replace(check, readings=readings)


def copied(mounting: Mounting, dice: np.random.Generator | None = None) -> Mounting:
    """The same die at the same age, to be worn on by dice of its own."""
    one = Mounting.__new__(Mounting)
    one.__dict__.update(mounting.__dict__)
    one.die = copy.copy(mounting.die)
    one.truth = SetTruth(mounting.truth.die_set, mounting.truth.machine)
    one.check = max(mounting.check, 1)
    if dice is not None:
        one.dice = dice
        one.die.dice = dice  # type: ignore[attr-defined]
    return one


class Starts:
    """The size of a new die in µm, read from checks of several bar batches."""

    def __init__(self, bars_var_um2: float, mean_um: float, var_um2: float) -> None:
        self.bars_var, self.mean, self.var = bars_var_um2, mean_um, var_um2
        self.batches: dict[float, list[tuple[float, float]]] = {}

    @classmethod
    def of(cls, nature: Nature, desk: Desk, dice: np.random.Generator) -> "Starts":
        """Draw bars and dies of this shop, by dice of the onlooker's."""
        other, machine = copy.copy(nature), copy.copy(desk.machine)
        other.dice = dice
        machine.dice = dice  # type: ignore[attr-defined]
        bars = [machine.bars()[1] for _ in range(_DRAWS)]
        starts = [other.die(machine).start_um for _ in range(_DRAWS)]
        return cls(float(np.var(bars)), float(np.mean(starts)), float(np.var(starts)))

    def see(self, bars_um: float, start_um: float, noise_var_um2: float) -> None:
        """Take a check in; what its bars add is not looked at, it only tells batches apart."""
        self.batches.setdefault(bars_um, []).append((start_um, noise_var_um2))

    def read(self) -> tuple[float, float]:
        """Mean and standard deviation of the first size, µm."""
        told, weight = self.mean / self.var, 1.0 / self.var
        for checks in self.batches.values():
            sure = math.fsum(1.0 / var for _, var in checks)
            mean = math.fsum(um / var for um, var in checks) / sure
            here = 1.0 / (self.bars_var + 1.0 / sure)
            told, weight = told + here * mean, weight + here
        return told / weight, 1.0 / math.sqrt(weight)
