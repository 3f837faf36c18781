"""Weibull, lognormal and exponential lives by greatest likelihood, with lives that are not over."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np
from scipy.special import log_ndtr, ndtr, ndtri

from spc.errors import Refused
from spc.statistics.fitted_model import wanted_share
from spc.statistics.index_intervals import Estimate, tail_share
from spc.statistics.kaplan_meier import paired_lives
from spc.statistics.readings import Floats

__all__ = ["LifeModel", "life_model"]

_MODELS = ("weibull", "lognormal", "exponential")


@dataclass(frozen=True, slots=True)
class LifeModel:
    """A fitted life distribution.

    Attributes
    ----------
    model : str
        ``weibull``, ``lognormal`` or ``exponential``.
    parameters : tuple of (str, float)
        shape and scale; log_mean and log_sd; rate.
    log_likelihood : float
        Of the lives, in their own unit.
    location, spread : float
        Of log lives: the quantile of a share is location + spread times its standard quantile.
    covariance : tuple of float
        Variance of location, covariance, variance of spread, from the observed information.
    n, failures : int
        Lives, and how many of them ended in failure.
    method : str
        Greatest likelihood.
    """

    model: str
    parameters: tuple[tuple[str, float], ...]
    log_likelihood: float
    location: float
    spread: float
    covariance: tuple[float, float, float]
    n: int
    failures: int
    method: str

    def quantile(self, share: float, confidence: float = 0.95) -> Estimate:
        """Life by which the given share has failed (0.1 gives B10), with an interval normal in log lives."""
        wanted_share(share)
        z = float(np.log(-np.log1p(-share))) if self.model != "lognormal" else float(ndtri(share))
        middle = self.location + self.spread * z
        first, mixed, second = self.covariance
        reach = float(ndtri(1.0 - tail_share(confidence, max(self.n, 2)))) * sqrt(
            first + 2.0 * z * mixed + z * z * second
        )
        ends = exp(middle), exp(middle - reach), exp(middle + reach)
        return Estimate(
            *ends, self.n, confidence, f"{self.model} lives, {self.failures} failures, log-normal interval"
        )

    def survival(self, life: float) -> float:
        """Share that lives longer."""
        z = (log(life) - self.location) / self.spread
        return float(ndtr(-z)) if self.model == "lognormal" else exp(-exp(z))


def life_model(
    lives: Sequence[float], failed: Sequence[bool] | None = None, model: str = "weibull"
) -> LifeModel:
    """Fit a life distribution, for how many pieces a die set lasts.

    Parameters
    ----------
    lives : sequence of float, shape (n,)
        Pieces or hours reached, above 0.
    failed : sequence of bool, shape (n,), optional
        False where the life goes on or was ended for another reason; all failed without it.
    model : {"weibull", "lognormal", "exponential"}
        Which distribution.

    Returns
    -------
    LifeModel
        By greatest likelihood; spreads of the lognormal model have n in the divisor where nothing goes on.

    Raises
    ------
    Refused
        Another model, no failure, or all failures at one life where two parameters are wanted.

    References
    ----------
    Lawless, Statistical Models and Methods for Lifetime Data (from memory).

    Examples
    --------
    >>> found = life_model([6, 7, 10, 13, 16, 20], [True, True, False, True, True, False])
    >>> round(found.quantile(0.5).estimate, 1)
    13.4
    """
    if model not in _MODELS:
        raise Refused.one("no such life model", value=model, allowed=", ".join(_MODELS))
    pairs = paired_lives(lives, [True] * len(lives) if failed is None else failed)
    logs = np.log([life for life, _ in pairs])
    ends = np.array([over for _, over in pairs])
    if model == "exponential":
        return _exponential(logs, ends)
    if len(set(logs[ends].tolist())) < 2:
        raise Refused.one(
            f"the {model} model wants failures at two different lives",
            value=f"{int(ends.sum())} failures",
            allowed="2 or more that differ",
            do="Wait for another failure, or use the exponential model",
        )
    return _two_parameters(logs, ends, model)


def _exponential(logs: Floats, ends: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> LifeModel:
    failures, total = int(ends.sum()), float(np.exp(logs).sum())
    rate = failures / total
    likelihood = failures * log(rate) - failures
    return LifeModel(
        model="exponential",
        parameters=(("rate", rate),),
        log_likelihood=likelihood,
        location=-log(rate),
        spread=1.0,
        covariance=(1.0 / failures, 0.0, 0.0),
        n=logs.size,
        failures=failures,
        method="greatest likelihood: failures over the sum of all lives",
    )


def _two_parameters(
    logs: Floats, ends: np.ndarray[tuple[int, ...], np.dtype[np.bool_]], model: str
) -> LifeModel:
    """Newton on a = location/spread and b = 1/spread, in which the log likelihood is concave."""
    middle, unit = float(logs.mean()), float(logs.std()) or 1.0
    y, failures = (logs - middle) / unit, int(ends.sum())
    a, b = 0.0, 1.0
    value, slope, bend = _likelihood(a, b, y, ends, model)
    for _ in range(200):
        step = np.linalg.solve(-bend, slope)
        scale = 1.0
        while b + scale * step[1] <= 0.0 or _likelihood(
            a + scale * step[0], b + scale * step[1], y, ends, model
        )[0] < value - 1e-12 * abs(value):
            scale /= 2.0
            if scale < 1e-12:
                break
        a, b = a + scale * float(step[0]), b + scale * float(step[1])
        value, slope, bend = _likelihood(a, b, y, ends, model)
        if float(np.max(np.abs(step))) < 1e-13 * (1.0 + abs(a) + b):
            break
    location, spread = middle + unit * a / b, unit / b
    turn = unit * np.array([[1.0 / b, -a / b**2], [0.0, -1.0 / b**2]])
    spread_of = turn @ np.linalg.inv(-bend) @ turn.T
    named = (("shape", 1.0 / spread), ("scale", exp(location)))
    return LifeModel(
        model=model,
        parameters=named if model == "weibull" else (("log_mean", location), ("log_sd", spread)),
        log_likelihood=value - failures * log(unit) - float(logs[ends].sum()),
        location=location,
        spread=spread,
        covariance=(float(spread_of[0, 0]), float(spread_of[0, 1]), float(spread_of[1, 1])),
        n=logs.size,
        failures=failures,
        method="greatest likelihood, lives that go on counted as longer",
    )


def _likelihood(
    a: float, b: float, y: Floats, ends: np.ndarray[tuple[int, ...], np.dtype[np.bool_]], model: str
) -> tuple[float, Floats, Floats]:
    """Log likelihood of b y - a with its two slopes and their bends."""
    z = b * y - a
    height: Floats
    first: Floats
    second: Floats
    if model == "weibull":
        power = np.exp(np.minimum(z, 700.0))
        height, first, second = np.where(ends, z, 0.0) - power, ends.astype(float) - power, -power
    else:
        over = np.exp(-0.5 * z**2 - 0.5 * np.log(2.0 * np.pi) - log_ndtr(-z))
        height = np.where(ends, -0.5 * z**2 - 0.5 * np.log(2.0 * np.pi), log_ndtr(-z))
        first, second = np.where(ends, -z, -over), np.where(ends, -1.0, -over * (over - z))
    failures = float(ends.sum())
    value = float(height.sum()) + failures * log(b)
    slope = np.array([-first.sum(), (first * y).sum() + failures / b])
    mixed = -(second * y).sum()
    bend = np.array([[second.sum(), mixed], [mixed, (second * y**2).sum() - failures / b**2]])
    return value, slope, bend
