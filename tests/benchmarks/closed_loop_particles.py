"""What readings can tell at best: a particle filter that knows how the shop of the race draws its dies.

Growth is drawn along each particle as the shop draws it; start, wander, bars, slips and gauge are normal given that,
so each particle carries a Kalman filter of them (Rao-Blackwell: Doucet, de Freitas, Murphy & Russell 2000, memory).
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from tests.benchmarks.closed_loop_shop import LEAD_LIMIT_UM, LEAD_SIGMA_UM, TRAVEL_UM, Part

__all__ = ["Cloud"]

Array = NDArray[np.float64]

START, WANDER, KNOT, BATCH, SLIP, GAUGE = range(6)
MANY = 400
BREAKS_AFTER, BREAKS_BY_CHANCE = 1500.0, 250_000.0
SLIP_EVERY, GAUGE_EVERY = 120_000.0, 60.0
KNOT_VAR = 3.0
"""Of a knot of the wander, which is level between −3 and 3."""
BATCH_UM = 1.6
_JITTER = 0.1
"""Share of their spread by which what a particle holds for constant is shaken when particles are drawn anew (Liu & West
2001, from memory)."""


@dataclass
class Cloud:
    """What is believed of the mounted set: so many possible growths, each with a normal law of the rest."""

    part: Part
    dice: np.random.Generator
    age: int = 0
    log_weight: Array = field(init=False)

    def __post_init__(self) -> None:
        """Draw sets as the shop does."""
        dice, part = self.dice, self.part
        self.log_weight = np.zeros(MANY)
        share = np.where(dice.random(MANY) < 0.25, 0.75, 0.22) / 1.25
        self.lead = np.where(dice.random(MANY) < 0.5, 1.0, -1.0) * share
        self.lead_var = (0.2 * share) ** 2
        self.constant = np.stack([
            np.log(1.25 * part.pace) + 0.3 * dice.standard_normal(MANY), dice.uniform(0.5, 2.5, MANY),
            dice.uniform(600, 2500, MANY), dice.uniform(0.65, 0.95, MANY), dice.uniform(0.3, 2.5, MANY),
            dice.uniform(0.1, 0.4, MANY),
        ])  # fmt: skip
        self.grown = np.zeros(MANY)
        self.knot_at = dice.uniform(1500, 6000, MANY)
        self.mean = np.zeros((MANY, 6))
        self.mean[:, START] = -2.0
        self.cov = np.zeros((MANY, 6, 6))
        self.cov[:, START, START], self.cov[:, KNOT, KNOT] = 4.0, KNOT_VAR

    def new_bars(self) -> None:
        """Another bar batch: a t law of five degrees of freedom, as a normal law whose variance each particle draws."""
        self._reset(BATCH, BATCH_UM**2 * 5.0 / self.dice.chisquare(5, MANY))

    def gauge_set(self, off_um: float) -> None:
        """The gauge was found so much off and set on its master."""
        self._take(GAUGE, off_um, np.full(MANY, 0.03**2))
        self._reset(GAUGE, np.zeros(MANY))

    def on_to(self, age: int) -> None:
        """Make pieces: growth by its own law, the wander along its broken line."""
        before = self.growth_at(self.age)
        self.log_weight -= np.clip(age - np.maximum(self._end(), self.age), 0.0, None) / BREAKS_AFTER
        lump = self.constant[5]
        self.grown += lump * self.dice.gamma((self.growth_at(age) - before) / lump)
        to_knot = np.minimum(self.knot_at, age) - self.age
        self._along(to_knot / (self.knot_at - self.age))
        over = self.knot_at <= age
        if over.any():
            self.mean[over, WANDER] = self.mean[over, KNOT]
            self.cov[over, WANDER, :] = self.cov[over, KNOT, :]
            self.cov[over, :, WANDER] = self.cov[over, :, KNOT]
            self._reset(KNOT, np.full(MANY, KNOT_VAR), over)
            old = np.where(over, self.knot_at, age)
            self.knot_at = np.where(over, old + self.dice.uniform(1500, 6000, MANY), self.knot_at)
            self._along(np.where(over, (age - old) / (self.knot_at - old), 0.0))
        self.gap, self.age = age - self.age, age

    def see(self, sizes_um: Array, known_um: float, lead_um: float) -> None:
        """Take a check in; `known_um` is what slide and warm-up add."""
        sigma = self.sigma()
        self.log_weight += -4.0 * np.log(sigma) - 2.0 * float(np.var(sizes_um, ddof=1)) / sigma**2
        said, noise = float(np.mean(sizes_um)) - known_um, sigma**2 / len(sizes_um)
        self._jumped(said, noise)
        self._take(None, said, noise)
        var = self.lead_var * self.grown**2 + LEAD_SIGMA_UM**2
        off = lead_um - self.lead * self.grown
        self.log_weight -= 0.5 * (off**2 / var + np.log(var))
        gain = self.lead_var * self.grown / var
        self.lead, self.lead_var = self.lead + gain * off, self.lead_var * (1.0 - gain * self.grown)
        weights = self.weights()
        if 1.0 / float(weights @ weights) < MANY / 2.0:
            self._anew(weights)

    def weights(self) -> Array:
        """How likely each particle is; they sum to 1."""
        found = np.exp(self.log_weight - self.log_weight.max())
        return np.asarray(found / found.sum())

    def level(self) -> tuple[Array, Array]:
        """True size minus target without slide and warm-up: mean and variance, particle by particle."""
        of = [START, WANDER, BATCH, SLIP]
        return self.grown + self.mean[:, of].sum(axis=1), self.cov[:, of][:, :, of].sum(axis=(1, 2))

    def sigma(self) -> Array:
        """Spread of a piece, which grows in the last fifth."""
        share = self.age / np.maximum(self._end(), 1.0)
        return self.part.sigma_um * (1.0 + 0.5 * np.clip(share - 0.8, 0.0, 0.5))

    def growth_at(self, age: float | Array) -> Array:
        """Growth to expect of a set from its first piece, µm."""
        log_rate, extra, settle, late, quicker, _ = self.constant
        rate = np.exp(log_rate) / 1000.0
        life = self.part.gain * TRAVEL_UM / rate
        beyond = np.clip(age / life - late, 0.0, None)
        faster = quicker / (1.0 - late) * life * 0.5 * beyond**2
        return np.asarray(rate * (age + extra * settle * -np.expm1(-age / settle) + faster))

    def ahead(self, pieces: Array) -> tuple[Array, Array]:
        """After so many more pieces: how far past their end the sets would be, in pieces, and their share of bad leads.

        Both of shape (len(pieces), MANY).
        """
        at = self.age + pieces[:, None]
        past = np.clip(at - np.maximum(self._end(), self.age), 0.0, None)
        grown = self.grown + self.growth_at(at) - self.growth_at(self.age)
        lead_sd = np.sqrt(LEAD_SIGMA_UM**2 + self.lead_var * grown**2)
        return past, np.asarray(ndtr((np.abs(self.lead) * grown - LEAD_LIMIT_UM) / lead_sd))

    def _end(self) -> Array:
        """Age at the end, drawn once for each particle from what it leaves open."""
        dice = np.random.default_rng(self.age)
        first, second, third = dice.standard_normal((3, MANY))
        start = self.mean[:, START] + np.sqrt(np.maximum(self.cov[:, START, START], 0.0)) * first
        lead = np.maximum(np.abs(self.lead) + np.sqrt(self.lead_var) * second, 1e-3)
        need = np.minimum(self.part.gain * TRAVEL_UM - start, LEAD_LIMIT_UM / lead) - self.grown
        need = need + np.sqrt(self.constant[5] * np.maximum(need, 0.0)) * third
        base, low, high = self.growth_at(self.age), np.full(MANY, -5000.0), np.full(MANY, 200_000.0)
        for _ in range(14):
            middle = 0.5 * (low + high)
            short = self.growth_at(self.age + middle) - base < need
            low, high = np.where(short, middle, low), np.where(short, high, middle)
        return np.asarray(self.age + 0.5 * (low + high))

    def _along(self, share: Array) -> None:
        """Go so much of the way to the next knot."""
        keep = 1.0 - share
        self.mean[:, WANDER] = keep * self.mean[:, WANDER] + share * self.mean[:, KNOT]
        self.cov[:, WANDER, :] = (
            keep[:, None] * self.cov[:, WANDER, :] + share[:, None] * self.cov[:, KNOT, :]
        )
        self.cov[:, :, WANDER] = (
            keep[:, None] * self.cov[:, :, WANDER] + share[:, None] * self.cov[:, :, KNOT]
        )

    def _reset(self, i: int, variance: Array, where: NDArray[np.bool_] | None = None) -> None:
        chosen = np.ones(MANY, dtype=bool) if where is None else where
        self.mean[chosen, i] = 0.0
        self.cov[chosen, i, :] = 0.0
        self.cov[chosen, :, i] = 0.0
        self.cov[chosen, i, i] = variance[chosen]

    def _jumped(self, said: float, noise: Array) -> None:
        """Draw what may have jumped from how well each explains the reading: nothing, the gauge, the slide stop."""
        read = [START, WANDER, BATCH, SLIP, GAUGE]
        off = said - self.grown - self.mean[:, read].sum(axis=1)
        var = self.cov[:, read][:, :, read].sum(axis=(1, 2)) + noise
        slip = 0.5 * self.gap / SLIP_EVERY
        stories = ((GAUGE, 1.0 / GAUGE_EVERY, 0.0, 25.0), (SLIP, slip, 6.5, 2.1), (SLIP, slip, -6.5, 2.1))
        chances = [np.exp(-0.5 * off**2 / var) / np.sqrt(var)]
        chances += [
            c * np.exp(-0.5 * (off - m) ** 2 / (var + v)) / np.sqrt(var + v) for _, c, m, v in stories
        ]
        total = np.maximum(np.sum(chances, axis=0), 1e-300)
        plain = np.maximum(chances[0], 1e-300)
        drawn, reached = self.dice.random(MANY) * total, plain
        chosen_weight = plain.copy()
        for (i, _, moved, variance), chance in zip(stories, chances[1:], strict=True):
            here = (drawn >= reached) & (drawn < reached + chance)
            self.mean[here, i] += moved
            self.cov[here, i, i] += variance
            chosen_weight = np.where(
                here,
                np.exp(-0.5 * (off - moved) ** 2 / (var + variance)) / np.sqrt(var + variance),
                chosen_weight,
            )
            reached = reached + chance
        self.log_weight += np.log(total) - np.log(np.maximum(chosen_weight, 1e-300))

    def _take(self, only: int | None, said: float, noise: Array) -> None:
        """Take one number in: a reading of the size, or of one component."""
        read = [START, WANDER, BATCH, SLIP, GAUGE] if only is None else [only]
        ph = self.cov[:, :, read].sum(axis=2)
        var = ph[:, read].sum(axis=1) + noise
        off = said - self.mean[:, read].sum(axis=1) - (self.grown if only is None else 0.0)
        self.log_weight -= 0.5 * (off**2 / var + np.log(var))
        gain = ph / var[:, None]
        self.mean += gain * off[:, None]
        self.cov -= gain[:, :, None] * ph[:, None, :]

    def _anew(self, weights: Array) -> None:
        """Draw particles anew by their weight, and shake their constants a little."""
        places = (np.arange(MANY) + self.dice.random()) / MANY
        chosen = np.minimum(np.searchsorted(np.cumsum(weights), places), MANY - 1)
        middle = self.constant @ weights
        spread = np.sqrt(np.maximum((self.constant**2) @ weights - middle**2, 0.0))
        keep = np.sqrt(1.0 - _JITTER**2)
        shaken = middle[:, None] + keep * (self.constant[:, chosen] - middle[:, None])
        shaken += _JITTER * spread[:, None] * self.dice.standard_normal((6, MANY))
        lows = np.array([-5.0, 0.3, 300.0, 0.5, 0.1, 0.05])[:, None]
        highs = np.array([5.0, 3.0, 3000.0, 0.97, 3.0, 0.5])[:, None]
        self.constant = np.clip(shaken, lows, highs)
        self.grown, self.knot_at = self.grown[chosen], self.knot_at[chosen]
        self.mean, self.cov = self.mean[chosen], self.cov[chosen]
        self.lead, self.lead_var = self.lead[chosen], self.lead_var[chosen]
        self.log_weight = np.zeros(MANY)
