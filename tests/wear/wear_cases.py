"""A shop of the tests' own: invented priors, and a simulated die whose truth is known."""

import math
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from spc.wear import WearBelief, WearPrior, advance, fresh_belief, observe
from spc.wear.belief import SIZE

PRIOR = WearPrior(
    offset_sd_um=15.0,
    rate_um_per_1000=1.2,
    rate_sd_um_per_1000=0.8,
    rate_wander_um_per_1000=0.05,
    gain=0.8,
    gain_sd=0.15,
    wander_sd_um=1.5,
    wander_pieces=2500.0,
    batch_sd_um=2.5,
)


def a_prior(**changes: float) -> WearPrior:
    return replace(PRIOR, **changes)


@dataclass
class Die:
    """One die set and its slide, with the truth at hand: straight wear, noise of a check's mean, no batches."""

    offset_um: float = 3.0
    rate_um_per_1000: float = 1.1
    gain: float = 0.8
    noise_sd_um: float = 1.0
    seed: int = 1
    dice: np.random.Generator = field(init=False)

    def __post_init__(self) -> None:
        self.dice = np.random.default_rng(self.seed)

    def mean_um(self, age_pieces: int, approach_um: float) -> float:
        truth = self.offset_um + self.rate_um_per_1000 * age_pieces / 1000.0 - self.gain * approach_um
        return float(truth + self.dice.normal(0.0, self.noise_sd_um))


def after_checks(die: Die, prior: WearPrior, ages: list[int], approaches_um: list[float]) -> WearBelief:
    belief = fresh_belief(prior)
    for age, approach in zip(ages, approaches_um, strict=True):
        belief = advance(belief, prior, age)
        belief = observe(belief, die.mean_um(age, approach), approach, die.noise_sd_um**2)
    return belief


def matrix(belief: WearBelief) -> NDArray[np.float64]:
    return np.array(belief.cov).reshape(SIZE, SIZE)


def sd(belief: WearBelief, i: int) -> float:
    return math.sqrt(belief.var(i))
