"""What changed, as the docstring of `spc.wear` tells it: densities of the last levels with and without a story.

A Bayes factor is taken here as the quotient of two normal densities, each with its whole covariance, and a height
as a normal expectation; the package has the short form that follows from them.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.stats import multivariate_normal
from written_out import BATCH, SHIFT, Guess, Matrix


@dataclass
class Seen:
    """One check: age, mean with slide moves and the usual start out, noise, growth believed; what was logged.

    `told` is the variance of what was told to begin there, by shape.
    """

    age: int
    level: float
    noise: float
    rate: float
    rate_var: float
    bars: int
    cold: float = 0.0
    logged: str = ""
    gauge_off: float = 0.0
    told: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Tale:
    cause: str
    weight: float
    height: float
    place: int = -1


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
    for place, each in enumerate(seen):
        known = dict(each.told)
        if each.logged in ("gauge_zero", "setting") and place < len(seen) - 1:
            variance = each.gauge_off**2 if each.logged == "gauge_zero" else guess.variances[BATCH]
            known["step"] = known.get("step", 0.0) + variance
        for shape, variance in known.items():
            plain += variance * np.outer(shape_of(shape, seen, place), shape_of(shape, seen, place))
    plain += 1e-12 * plain.diagonal().max() * np.eye(len(seen))
    residual = np.array([each.level for each in seen]) - first.rate * k
    without = multivariate_normal.logpdf(residual, cov=plain)
    weights: dict[str, float] = {"": 1.0}
    likeliest: dict[str, tuple[float, float, int]] = {}
    for cause, place, chance, sd in stories(seen, guess, slow):
        shape = shape_of({slow: "slope", "warm_up": "start"}.get(cause, "step"), seen, place)
        told = plain + sd**2 * np.outer(shape, shape)
        weight = chance * math.exp(multivariate_normal.logpdf(residual, cov=told) - without)
        weights[cause] = weights.get(cause, 0.0) + weight
        height = sd**2 * float(shape @ np.linalg.solve(told, residual))
        likeliest[cause] = max(likeliest.get(cause, (0.0, 0.0, 0)), (weight, height, place))
    best = max(likeliest, key=lambda cause: weights[cause])
    return Tale(best, weights[best] / sum(weights.values()), *likeliest[best][1:])


def shape_of(kind: str, seen: Sequence[Seen], place: int) -> Matrix:
    since = np.arange(len(seen)) >= place
    if kind == "slope":
        return since * np.array([each.age - seen[max(place - 1, 0)].age for each in seen]) / 1000.0
    if kind == "start":
        cold = np.array([each.cold for each in seen])
        later = np.flatnonzero(np.diff(cold[place:]) > 0.0)
        return cold * since * (np.arange(len(seen)) <= place + (later[0] if len(later) else len(seen)))
    return 1.0 * since


def remember(seen: Sequence[Seen], tale: Tale) -> None:
    """What was told is part of the plain run from then on."""
    begun = seen[tale.place]
    if tale.cause == "entry":
        begun.noise += tale.height**2
        return
    shape = {"wear": "slope", "drift": "slope", "warm_up": "start"}.get(tale.cause, "step")
    begun.told[shape] = begun.told.get(shape, 0.0) + tale.height**2


def stories(seen: Sequence[Seen], guess: Guess, slow: str) -> Iterator[tuple[str, int, float, float]]:
    """Cause, the check it begins at, chance, and standard deviation of its height."""
    last, usual = len(seen) - 1, guess.tolerance_um / 6.0
    slope = max(4.0 * abs(seen[0].rate), guess.tolerance_um / 10.0)
    for place in range(1, len(seen)):
        now = seen[place]
        yield "step", place, 1.0 / last, usual
        yield slow, place, 0.5 / last, slope
        gauge_held = now.logged == "gauge_zero" and now.gauge_off**2 < now.noise
        if now.logged and not gauge_held:
            batch_sd = math.sqrt(guess.variances[BATCH])
            sds = {"batch": 2.0 * batch_sd, "gauge_zero": abs(now.gauge_off), "setting": usual}
            yield now.logged, place, 0.5, sds[now.logged]
        if now.cold > seen[place - 1].cold:
            yield "warm_up", place, 0.5, usual
    yield "entry", last, 0.05 / last, guess.tolerance_um / 3.0
