"""What changed, as the docstring of `spc.wear` tells it: densities of the last levels with and without a story.

A Bayes factor is taken here as the quotient of two normal densities, each with its whole covariance, and a height
as a normal expectation; the package has the short form that follows from them.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.stats import multivariate_normal
from written_out import BATCH, SHIFT, Guess, Matrix


@dataclass(frozen=True)
class Seen:
    """One check: age, mean with slide moves and the usual start out, noise, growth believed; what was logged."""

    age: int
    level: float
    noise: float
    rate: float
    rate_var: float
    bars: int
    cold: float = 0.0
    logged: str = ""
    gauge_off: float = 0.0


@dataclass(frozen=True)
class Tale:
    cause: str
    weight: float
    height: float


def best_tale(seen: Sequence[Seen], guess: Guess, slow: str) -> Tale:
    """The weightiest cause; `slow` is what a slope is called."""
    first = seen[0]
    k = np.array([each.age - first.age for each in seen]) / 1000.0
    early, late = np.minimum.outer(k, k), np.maximum.outer(k, k)
    same = np.equal.outer([each.bars for each in seen], [each.bars for each in seen])
    wander = guess.variances[SHIFT]
    plain = wander * np.exp(-1000.0 * (late - early) / (guess.life / 8.0)) + first.rate_var * np.outer(k, k)
    plain += guess.w**2 * early**2 * (3.0 * late - early) / 6.0 + guess.variances[BATCH] * same
    plain += np.diag([each.noise for each in seen]) + 1e4 * max(wander, 1.0)
    plain += 1e-12 * plain.diagonal().max() * np.eye(len(seen))
    residual = np.array([each.level for each in seen]) - first.rate * k
    without = multivariate_normal.logpdf(residual, cov=plain)
    weights: dict[str, float] = {"": 1.0}
    likeliest: dict[str, tuple[float, float]] = {}
    for cause, chance, sd, shape in stories(seen, guess, slow):
        told = plain + sd**2 * np.outer(shape, shape)
        weight = chance * math.exp(multivariate_normal.logpdf(residual, cov=told) - without)
        weights[cause] = weights.get(cause, 0.0) + weight
        height = sd**2 * float(shape @ np.linalg.solve(told, residual))
        likeliest[cause] = max(likeliest.get(cause, (0.0, 0.0)), (weight, height))
    best = max(likeliest, key=lambda cause: weights[cause])
    return Tale(best, weights[best] / sum(weights.values()), likeliest[best][1])


def stories(seen: Sequence[Seen], guess: Guess, slow: str) -> Iterator[tuple[str, float, float, Matrix]]:
    """Cause, chance, standard deviation of its height, and shape."""
    ages, last = np.array([each.age for each in seen], dtype=float), len(seen) - 1
    usual = guess.tolerance_um / 6.0
    slope = max(4.0 * abs(seen[0].rate), guess.tolerance_um / 10.0)
    for place in range(1, len(seen)):
        since, now = np.arange(len(seen)) >= place, seen[place]
        yield "step", 1.0 / last, usual, 1.0 * since
        yield slow, 0.5 / last, slope, since * (ages - ages[place - 1]) / 1000.0
        if now.logged:
            batch_sd = math.sqrt(guess.variances[BATCH])
            sds = {"batch": 2.0 * batch_sd, "gauge_zero": abs(now.gauge_off) or usual, "setting": usual}
            yield now.logged, 0.5, sds[now.logged], 1.0 * since
        if now.cold > seen[place - 1].cold:
            yield "warm_up", 0.5, usual, since * np.array([each.cold for each in seen])
    yield "entry", 0.05 / last, guess.tolerance_um / 3.0, 1.0 * (np.arange(len(seen)) == last)
