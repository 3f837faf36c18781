"""Weibull and Rayleigh model: radial deviations such as run-out, and lives."""

import numpy as np

from spc.statistics.distribution_family import DistributionFamily, Parameters
from spc.statistics.readings import Floats

__all__ = ["RAYLEIGH", "WEIBULL"]

_STEPS = 60  # Newton has settled long before; each step is guarded by a bracket


def _fit_rayleigh(samples: Floats) -> Parameters:
    return (np.sqrt(np.mean(samples**2, axis=-1) / 2.0),)


def _log_density_rayleigh(x: Floats, sigma: Floats) -> Floats:
    with np.errstate(divide="ignore"):  # a reading of 0 is impossible, log density minus infinity
        return np.asarray(np.log(x) - 2.0 * np.log(sigma) - 0.5 * (x / sigma) ** 2)


def _cdf_rayleigh(x: Floats, sigma: Floats) -> Floats:
    return np.asarray(-np.expm1(-0.5 * (np.maximum(np.asarray(x), 0.0) / sigma) ** 2))


def _beyond_rayleigh(x: Floats, sigma: Floats) -> Floats:
    return np.asarray(np.exp(-0.5 * (np.maximum(np.asarray(x), 0.0) / sigma) ** 2))


def _quantile_rayleigh(share: Floats, sigma: Floats) -> Floats:
    return np.asarray(sigma * np.sqrt(-2.0 * np.log1p(-np.asarray(share))))


def _fit_weibull(samples: Floats) -> Parameters:
    """Newton on the shape; for each shape the scale follows.

    Score of the shape k: 1/k + mean(log x) - sum(x^k log x)/sum(x^k), falling in k, so one root.
    """
    logs = np.log(samples)
    top = logs.max(axis=-1, keepdims=True)
    logs = logs - top  # the largest reading becomes 1, so powers stay in range
    mean = logs.mean(axis=-1)
    shape = np.pi / np.sqrt(6.0) / logs.std(axis=-1, ddof=1)
    for _ in range(_STEPS):
        powers = np.exp(shape[..., None] * logs)
        total = powers.sum(axis=-1)
        first = (powers * logs).sum(axis=-1) / total
        second = (powers * logs**2).sum(axis=-1) / total
        score = 1.0 / shape + mean - first
        step = score / (1.0 / shape**2 + second - first**2)
        shape = np.clip(shape + step, shape / 2.0, shape * 2.0)
        if np.all(np.abs(step) < 1e-13 * shape):
            break
    scale = np.exp(top[..., 0]) * np.mean(np.exp(shape[..., None] * logs), axis=-1) ** (1.0 / shape)
    return shape, scale


def _log_density_weibull(x: Floats, shape: Floats, scale: Floats) -> Floats:
    ratio = np.log(x) - np.log(scale)
    return np.asarray(np.log(shape) - np.log(scale) + (shape - 1.0) * ratio - np.exp(shape * ratio))


def _cdf_weibull(x: Floats, shape: Floats, scale: Floats) -> Floats:
    return np.asarray(-np.expm1(-((np.maximum(np.asarray(x), 0.0) / scale) ** shape)))


def _beyond_weibull(x: Floats, shape: Floats, scale: Floats) -> Floats:
    return np.asarray(np.exp(-((np.maximum(np.asarray(x), 0.0) / scale) ** shape)))


def _quantile_weibull(share: Floats, shape: Floats, scale: Floats) -> Floats:
    return np.asarray(scale * (-np.log1p(-np.asarray(share))) ** (1.0 / shape))


RAYLEIGH = DistributionFamily(
    name="rayleigh",
    parameter_names=("sigma",),
    at_least=0.0,
    above=None,
    fit=_fit_rayleigh,
    log_density=_log_density_rayleigh,
    cdf=_cdf_rayleigh,
    beyond=_beyond_rayleigh,
    quantile=_quantile_rayleigh,
    piece=_quantile_rayleigh,
    method="greatest likelihood: root of half the mean square",
)
"""Length of a normal deviation in two directions; run-out from eccentricity is twice such a radius."""

WEIBULL = DistributionFamily(
    name="weibull",
    parameter_names=("shape", "scale"),
    at_least=None,
    above=0.0,
    fit=_fit_weibull,
    log_density=_log_density_weibull,
    cdf=_cdf_weibull,
    beyond=_beyond_weibull,
    quantile=_quantile_weibull,
    piece=_quantile_weibull,
    method="greatest likelihood",
)
"""The Weibull model with its start at 0; shape 2 is the Rayleigh model."""
