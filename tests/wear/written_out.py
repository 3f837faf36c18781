"""The wear model of one size as the docstring of `spc.wear` tells it: full matrices, Kalman's plain equations.

Written from that text alone, so that it can be held against the package: nothing of the package is in it. Without
finished sets; µm minus target, pieces, and µm per 1,000 pieces.
"""

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

OFFSET, WEAR, RATE, GAIN, SHIFT, BATCH = range(6)
Matrix = NDArray[np.float64]


@dataclass(frozen=True)
class Guess:
    """Prior: what the width of the tolerance and the gain of the plan say; no gain where no slide sets the size."""

    tolerance_um: float
    gain: float = 0.0
    life: float = 20_000.0

    def __post_init__(self) -> None:
        wide, rate = self.tolerance_um / 20.0, math.copysign(1.0, self.gain) * self.tolerance_um / 20.0
        self._is("rate", rate if self.gain else 0.0)
        self._is("w", 0.27 * math.sqrt(1000.0 / self.life) * max(abs(self.rate), wide / 3.0))
        offset, shift, batch = (
            max(self.tolerance_um, 20.0),
            0.035 * self.tolerance_um,
            0.06 * self.tolerance_um,
        )
        self._is("variances", np.square([offset, 0.0, wide, self.gain / 5.0, shift, batch]))
        self._is("check_var", (0.01 * self.tolerance_um) ** 2)

    def _is(self, name: str, value: object) -> None:
        object.__setattr__(self, name, value)

    rate: float = field(init=False)
    w: float = field(init=False)
    variances: Matrix = field(init=False)
    check_var: float = field(init=False)


@dataclass
class OnMachine:
    """What one size keeps on one machine, whatever dies are on: spread of a piece, and what a cold start does."""

    guess: Guess
    squares: float = 0.0
    df: float = 0.0
    last_single: float | None = None
    start: float = 0.0
    start_var: float = field(init=False)
    odd_var: float = 0.0

    def __post_init__(self) -> None:
        self.start_var = (self.guess.tolerance_um / 20.0) ** 2

    @property
    def piece_var(self) -> float:
        return (self.squares + 4.0 * (self.guess.tolerance_um / 12.0) ** 2) / (self.df + 4.0)

    def learn_pieces(self, values: Matrix, approach: float) -> None:
        if len(values) > 1:
            self.squares += float(((values - values.mean()) ** 2).sum())
            self.df += len(values) - 1
            return
        single = float(values[0]) + self.guess.gain * approach
        if self.last_single is not None:
            self.squares += (single - self.last_single) ** 2 / 2.0
            self.df += 1
        self.last_single = single

    def learn_start(self, cold: float, off: float, var: float) -> None:
        if self.odd_var == 0.0:
            weight = cold * self.start_var / var
            self.start += weight * off
            self.start_var *= 1.0 - weight * cold
        if cold == 0.0:
            self.odd_var = 0.0


@dataclass
class OnDieSet:
    """State and covariance of one size on one die set."""

    guess: Guess
    x: Matrix | None = None
    p: Matrix = field(default_factory=lambda: np.zeros((6, 6)))
    age: int = 0
    reference: float | None = None

    def begin(self, age: int) -> None:
        self.x = np.array([0.0, 0.0, self.guess.rate, self.guess.gain, 0.0, 0.0])
        self.p = np.diag(self.guess.variances)
        self.age = age
        self.settle(age, math.inf)

    def settle(self, a: float, b: float) -> None:
        """Opens the rate while dies settle, B = 0.04 lives."""
        left = [math.exp(-each / (0.04 * self.guess.life)) for each in (a, b)]
        if left[0] - left[1] > 1e-6:
            self.p[RATE, RATE] += self.guess.rate**2 * (left[0] - left[1])

    def make_pieces(self, age: int) -> None:
        assert self.x is not None
        if age <= self.age:
            return
        k, phi = (age - self.age) / 1000.0, math.exp(-(age - self.age) / (self.guess.life / 8.0))
        move, noise = np.eye(6), np.zeros((6, 6))
        move[WEAR, RATE], move[SHIFT, SHIFT] = k, phi
        noise[1:3, 1:3] = self.guess.w**2 * np.array([[k**3 / 3.0, k**2 / 2.0], [k**2 / 2.0, k]])
        noise[SHIFT, SHIFT] = (1.0 - phi**2) * self.guess.variances[SHIFT]
        self.settle(self.age, age)
        self.x, self.p, self.age = move @ self.x, move @ self.p @ move.T + noise, age

    def forget(self, i: int, mean: float) -> None:
        assert self.x is not None
        self.x[i] = mean
        self.p[i, :] = self.p[:, i] = 0.0
        self.p[i, i] = self.guess.variances[i]

    def change_bars(self) -> None:
        if self.x is not None:
            self.forget(BATCH, 0.0)

    def mount_again(self) -> None:
        if self.x is None:
            return
        if self.reference is None:
            self.reference = float(self.x[OFFSET])
            sums = np.eye(6)
            sums[WEAR, OFFSET] = 1.0  # wear's doubt is that of offset + wear from here on
            self.p = sums @ self.p @ sums.T
        self.forget(OFFSET, float(self.x[OFFSET]))
        self.forget(SHIFT, 0.0)
        self.change_bars()

    def open(self, variance: float) -> None:
        self.p[OFFSET, OFFSET] += variance / 2.0
        self.p[SHIFT, SHIFT] += variance / 2.0

    def set_gauge(self, off: float, *, is_named: bool) -> None:
        if self.x is None:
            return
        if is_named:
            self.x[OFFSET] -= off
        self.open((off / 4.0) ** 2 if is_named else off**2)


@dataclass(frozen=True)
class Check:
    """What one check brings."""

    age: int
    values: Matrix
    approach: float = 0.0
    since_start: int | None = None
    another_setting: bool = False

    @property
    def cold(self) -> float:
        share = 0.0 if self.since_start is None else math.exp(-self.since_start / 150.0)
        return share if share > 0.03 else 0.0


@dataclass(frozen=True)
class Expected:
    """One check against its forecast: h, the noise r, and how far off the mean is, with its variance S."""

    h: Matrix
    r: float
    off: float
    var: float


def ahead(dies: OnDieSet, machine: OnMachine, check: Check) -> Expected:
    """Carry the belief on to a check and forecast it."""
    if dies.x is None:
        dies.begin(check.age)
    dies.make_pieces(check.age)
    assert dies.x is not None
    if check.another_setting:
        dies.open(float(dies.guess.variances[BATCH]))
    h = np.array([1.0, 1.0, 0.0, -check.approach, 1.0, 1.0])
    r = machine.piece_var / len(check.values) + dies.guess.check_var
    r += check.cold**2 * (machine.start_var + machine.odd_var)
    off = float(check.values.mean() - check.cold * machine.start - h @ dies.x)
    return Expected(h, r, off, float(h @ dies.p @ h + r))


def take_in(
    dies: OnDieSet, machine: OnMachine, check: Check, said: Expected, told: str = "", slope: float = 0.0
) -> None:
    """Let a check teach; `told` is the story a surprise nobody logged was told by, with the slope of a slow one."""
    assert dies.x is not None
    if told == "warm_up":
        machine.odd_var = said.off**2
        return
    if told:
        dies.open(said.off**2)
        dies.p[RATE, RATE] += slope**2 if told in ("wear", "drift") else 0.0
    else:
        machine.learn_start(check.cold, said.off, said.var)
    weight = dies.p @ said.h / (said.h @ dies.p @ said.h + said.r)
    dies.x = dies.x + weight * said.off
    dies.p = dies.p - np.outer(weight, said.h @ dies.p)
