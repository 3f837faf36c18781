"""Normal and lognormal model: sizes and deviations, and what grows by factors."""

import numpy as np
from scipy.special import ndtr, ndtri

from spc.statistics.distribution_family import DistributionFamily, Parameters
from spc.statistics.readings import Floats

__all__ = ["LOGNORMAL", "NORMAL"]

_LOG_ROOT_TAU = 0.5 * float(np.log(2.0 * np.pi))


def _fit_normal(samples: Floats) -> Parameters:
    return samples.mean(axis=-1), samples.std(axis=-1, ddof=1)


def _log_density_normal(x: Floats, mean: Floats, sigma: Floats) -> Floats:
    return np.asarray(-0.5 * ((x - mean) / sigma) ** 2 - np.log(sigma) - _LOG_ROOT_TAU)


def _cdf_normal(x: Floats, mean: Floats, sigma: Floats) -> Floats:
    return np.asarray(ndtr((x - mean) / sigma))


def _beyond_normal(x: Floats, mean: Floats, sigma: Floats) -> Floats:
    return np.asarray(ndtr((mean - x) / sigma))


def _quantile_normal(share: Floats, mean: Floats, sigma: Floats) -> Floats:
    return np.asarray(mean + sigma * ndtri(share))


def _fit_lognormal(samples: Floats) -> Parameters:
    logs = np.log(samples)
    return logs.mean(axis=-1), logs.std(axis=-1)


def _log_density_lognormal(x: Floats, log_mean: Floats, log_sd: Floats) -> Floats:
    logs = np.log(x)
    return np.asarray(_log_density_normal(logs, log_mean, log_sd) - logs)


def _cdf_lognormal(x: Floats, log_mean: Floats, log_sd: Floats) -> Floats:
    with np.errstate(divide="ignore"):  # at 0 the logarithm is minus infinity and the share rightly 0
        return np.asarray(ndtr((np.log(np.maximum(x, 0.0)) - log_mean) / log_sd))


def _beyond_lognormal(x: Floats, log_mean: Floats, log_sd: Floats) -> Floats:
    with np.errstate(divide="ignore"):
        return np.asarray(ndtr((log_mean - np.log(np.maximum(x, 0.0))) / log_sd))


def _quantile_lognormal(share: Floats, log_mean: Floats, log_sd: Floats) -> Floats:
    return np.asarray(np.exp(log_mean + log_sd * ndtri(share)))


NORMAL = DistributionFamily(
    name="normal",
    parameter_names=("mean", "sigma"),
    at_least=None,
    above=None,
    fit=_fit_normal,
    log_density=_log_density_normal,
    cdf=_cdf_normal,
    beyond=_beyond_normal,
    quantile=_quantile_normal,
    piece=_quantile_normal,
    method="mean and s (n-1, as on every other sheet; the greatest likelihood has n)",
)
"""The normal model; its sigma is s with n-1, so that its Pp is the Pp of the review."""

LOGNORMAL = DistributionFamily(
    name="lognormal",
    parameter_names=("log_mean", "log_sd"),
    at_least=None,
    above=0.0,
    fit=_fit_lognormal,
    log_density=_log_density_lognormal,
    cdf=_cdf_lognormal,
    beyond=_beyond_lognormal,
    quantile=_quantile_lognormal,
    piece=_quantile_lognormal,
    method="greatest likelihood: mean and standard deviation (n) of the natural logarithms",
)
"""The lognormal model with its start at 0."""
