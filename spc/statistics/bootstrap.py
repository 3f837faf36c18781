"""Intervals where no formula exists: refit the model to make-believe samples, or redraw whole checks."""

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from spc.errors import Refused
from spc.statistics.fitted_model import FittedModel
from spc.statistics.index_intervals import Estimate, tail_share
from spc.statistics.readings import Floats
from spc.statistics.subgroups import summarise_subgroups

__all__ = ["bootstrap_checks", "refitted", "reverse_interval", "sample_blocks"]

_BUDGET = 2_000_000
"""Make-believe pieces in all; fewer samples are drawn where each is long."""
_BLOCK = 200_000
_CURVE = 4.5**0.5
"""The spread of an index grows like the root of 1/9 + index^2/2 (Bissell), so asinh(4.5^0.5 index) has a steady one."""


def bootstrap_checks(
    subgroups: Sequence[Sequence[float]],
    index: Callable[[Sequence[Sequence[float]]], float],
    *,
    seed: int,
    confidence: float = 0.95,
    draws: int = 1000,
) -> Estimate:
    """Interval of any index by redrawing whole checks, for indices without a formula.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings, 5 or more subgroups; pieces of one check stay together, so a wandering mean counts.
    index : callable
        Subgroups to one number.
    seed : int
        Same seed, same interval.
    confidence : float
        Between 0 and 1.
    draws : int
        Redrawn histories, 200 or more.

    Returns
    -------
    Estimate
        Reverse percentiles on a scale where indices have a steady spread.

    Raises
    ------
    Refused
        Fewer than 5 checks, too few draws, confidence out of range, a missing reading.

    Notes
    -----
    Too short from fewer than about 20 checks, as every redrawing of few things is.

    References
    ----------
    Efron & Tibshirani, An Introduction to the Bootstrap (1993), chapter 13 (from memory).

    Examples
    --------
    >>> checks = [[9.9, 10.0], [10.2, 10.3], [9.7, 9.8], [10.1, 10.0], [10.0, 9.9]]
    >>> found = bootstrap_checks(checks, lambda some: max(map(max, some)), seed=1)
    >>> found.low <= found.estimate
    True
    """
    summaries = summarise_subgroups(subgroups, least_subgroups=5, chart="redrawing checks")
    _want_draws(draws)
    checks = summaries.readings
    random = np.random.default_rng(seed)
    picks = random.integers(len(checks), size=(draws, len(checks)))
    redrawn = np.array([index([checks[each] for each in row]) for row in picks.tolist()])
    estimate = index(checks)
    low, high = reverse_interval(estimate, redrawn, confidence)
    method = f"{draws} redrawings of {len(checks)} whole checks, seed {seed}"
    return Estimate(estimate, low, high, summaries.pieces, confidence, method)


def refitted(model: FittedModel, *, seed: int, draws: int) -> tuple[Floats, ...]:
    """Parameters of the same model fitted to make-believe samples drawn from it, one array a parameter."""
    if model.family is None:
        raise Refused.one(
            "the empirical model cannot be drawn beyond its readings",
            value=model.name,
            allowed="a model with a formula",
        )
    found = [model.family.fit(block) for block in sample_blocks(model, seed=seed, draws=draws, least=400)]
    return tuple(np.concatenate(each) for each in zip(*found, strict=True))


def sample_blocks(model: FittedModel, *, seed: int, draws: int, least: int = 200) -> Iterator[Floats]:
    """Make-believe samples of the model's own size, shape (some, n): `draws`, of long ones fewer, but `least`."""
    _want_draws(draws)
    family = model.family
    if family is None:
        raise Refused.one(
            "the empirical model cannot be drawn beyond its readings",
            value=model.name,
            allowed="a model with a formula",
        )
    random = np.random.default_rng(seed)
    values = tuple(np.float64(value) for value in model.values)
    left = max(min(draws, _BUDGET // model.n), min(draws, least))
    while left > 0:
        rows = min(left, max(1, _BLOCK // model.n))
        yield family.draw(random, (rows, model.n), values)  # type: ignore[arg-type]  # scalars broadcast as arrays
        left -= rows


def reverse_interval(estimate: float, resampled: Floats, confidence: float) -> tuple[float, float]:
    """Reverse percentile interval on the asinh scale: exact for Pp of a normal model, near Bissell's for Ppk."""
    tail = tail_share(confidence, 2)
    centre = np.arcsinh(_CURVE * estimate)
    below, above = np.quantile(np.arcsinh(_CURVE * resampled), [tail, 1.0 - tail])
    return tuple(float(np.sinh(2.0 * centre - each) / _CURVE) for each in (above, below))  # type: ignore[return-value]  # two ends give two numbers


def _want_draws(draws: int) -> None:
    if draws < 200:
        raise Refused.one("too few draws for an interval", value=str(draws), allowed="200 or more")
