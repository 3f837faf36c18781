"""Half-normal and folded normal model: sizes of deviations, such as straightness and roundness."""

import numpy as np
from scipy.special import ndtr, ndtri

from spc.statistics.distribution_family import DistributionFamily, Parameters
from spc.statistics.readings import Floats

__all__ = ["FOLDED_NORMAL", "HALF_NORMAL"]

_LOG_ROOT_TAU = 0.5 * float(np.log(2.0 * np.pi))
_HALVINGS = 50  # of a bracket at most as wide as the readings: beyond double precision


def _fit_half(samples: Floats) -> Parameters:
    return (np.sqrt(np.mean(samples**2, axis=-1)),)


def _log_density_half(x: Floats, sigma: Floats) -> Floats:
    return np.asarray(np.log(2.0) - 0.5 * (x / sigma) ** 2 - np.log(sigma) - _LOG_ROOT_TAU)


def _cdf_half(x: Floats, sigma: Floats) -> Floats:
    return np.asarray(np.maximum(0.0, 2.0 * ndtr(np.asarray(x) / sigma) - 1.0))


def _beyond_half(x: Floats, sigma: Floats) -> Floats:
    return np.asarray(2.0 * ndtr(-np.maximum(np.asarray(x), 0.0) / sigma))


def _quantile_half(share: Floats, sigma: Floats) -> Floats:
    return np.asarray(-sigma * ndtri((1.0 - np.asarray(share)) / 2.0))


def _fit_folded(samples: Floats) -> Parameters:
    """Newton on the location inside a bracket; the squares fix sigma for each location.

    With m2 the mean square, sigma^2 = m2 - location^2, and the score of the location is the mean of
    x tanh(location x / sigma^2) minus the location. It rises from 0 only where m4 < 3 m2^2; otherwise the
    likeliest location is 0, the half-normal model. Rows that have settled are left alone.
    """
    rows = samples.reshape(-1, samples.shape[-1])
    squares = rows**2
    m2, m4 = np.mean(squares, axis=-1), np.mean(squares**2, axis=-1)
    inside = m4 < 3.0 * m2**2
    low, high = 1e-6 * np.sqrt(m2), np.sqrt(m2) * (1.0 - 1e-12)
    start = np.sqrt(np.sqrt(np.clip(3.0 * m2**2 - m4, 0.0, None) / 2.0))  # by the fourth moment
    location = np.clip(start, low, high)
    going = np.flatnonzero(inside)
    for _ in range(_HALVINGS):
        before = location[going]
        score, slope = _score_folded(rows[going], squares[going], m2[going], before)
        low[going] = np.where(score > 0.0, before, low[going])
        high[going] = np.where(score > 0.0, high[going], before)
        newton = before - score / np.where(slope < 0.0, slope, -1.0)
        usable = (slope < 0.0) & (newton > low[going]) & (newton < high[going])
        location[going] = np.where(usable, newton, (low[going] + high[going]) / 2.0)
        going = going[np.abs(location[going] - before) >= 1e-12 * np.sqrt(m2[going])]
        if going.size == 0:
            break
    location = np.where(inside, np.clip(location, low, high), 0.0)
    shape = samples.shape[:-1]
    return location.reshape(shape), np.sqrt(m2 - location**2).reshape(shape)


def _score_folded(rows: Floats, squares: Floats, m2: Floats, location: Floats) -> tuple[Floats, Floats]:
    """Score of the location and its slope, sigma following from the squares."""
    variance = m2 - location**2
    tanh = np.tanh(rows * (location / variance)[:, None])
    score = np.mean(rows * tanh, axis=-1) - location
    slope = np.mean(squares * (1.0 - tanh**2), axis=-1) * (m2 + location**2) / variance**2 - 1.0
    return np.asarray(score), np.asarray(slope)


def _log_density_folded(x: Floats, location: Floats, sigma: Floats) -> Floats:
    near = -0.5 * ((x - location) / sigma) ** 2
    far = -0.5 * ((x + location) / sigma) ** 2
    return np.asarray(np.logaddexp(near, far) - np.log(sigma) - _LOG_ROOT_TAU)


def _cdf_folded(x: Floats, location: Floats, sigma: Floats) -> Floats:
    ends = np.maximum(np.asarray(x), 0.0)
    return np.asarray(ndtr((ends - location) / sigma) - ndtr((-ends - location) / sigma))


def _beyond_folded(x: Floats, location: Floats, sigma: Floats) -> Floats:
    ends = np.maximum(np.asarray(x), 0.0)
    return np.asarray(ndtr((location - ends) / sigma) + ndtr((-ends - location) / sigma))


def _piece_folded(uniform: Floats, location: Floats, sigma: Floats) -> Floats:
    """Fold a normal piece: quicker than the quantile, and the same distribution."""
    return np.asarray(np.abs(location + sigma * ndtri(uniform)))


def _quantile_folded(share: Floats, location: Floats, sigma: Floats) -> Floats:
    """Halve between 0 and a point that surely lies beyond: the folded tail is at most twice a normal one."""
    share = np.asarray(share, dtype=np.float64)
    low = np.zeros(np.broadcast_shapes(share.shape, np.shape(location), np.shape(sigma)))
    high = location - sigma * ndtri((1.0 - share) / 2.0) + low
    for _ in range(_HALVINGS + 5):
        middle = (low + high) / 2.0
        below = _cdf_folded(middle, location, sigma) < share
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.asarray((low + high) / 2.0)


HALF_NORMAL = DistributionFamily(
    name="half_normal",
    parameter_names=("sigma",),
    at_least=0.0,
    above=None,
    fit=_fit_half,
    log_density=_log_density_half,
    cdf=_cdf_half,
    beyond=_beyond_half,
    quantile=_quantile_half,
    piece=_quantile_half,
    method="greatest likelihood: root of the mean square",
)
"""Size of a normal deviation around 0."""

FOLDED_NORMAL = DistributionFamily(
    name="folded_normal",
    parameter_names=("location", "sigma"),
    at_least=0.0,
    above=None,
    fit=_fit_folded,
    log_density=_log_density_folded,
    cdf=_cdf_folded,
    beyond=_beyond_folded,
    quantile=_quantile_folded,
    piece=_piece_folded,
    method="greatest likelihood, location 0 or more",
)
"""Size of a normal deviation around a location that need not be 0."""
