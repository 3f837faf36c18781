"""What a distribution model must be able to do: fit itself, give shares and quantiles."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from spc.statistics.readings import Floats

__all__ = ["DistributionFamily", "Parameters"]

Parameters = tuple[Floats, ...]
"""One array a parameter, each of the shape of the fitted samples without their last axis."""


@dataclass(frozen=True, slots=True)
class DistributionFamily:
    """One family of distributions; every function takes whole arrays.

    Attributes
    ----------
    name : str
        Word of the plan and of the command line.
    parameter_names : tuple of str
        In the order of the functions below.
    at_least, above : float or None
        Where the readings must lie; both None for any number.
    fit : callable
        Samples of shape (..., n) to parameters of shape (...), by greatest likelihood.
    log_density, cdf, beyond, quantile : callable
        Of a value (or share) and the parameters, in the unit of the readings; `beyond` is 1 - cdf and keeps its
        digits far out.
    piece : callable
        Of uniform random numbers and the parameters: make-believe readings.
    method : str
        How the parameters are estimated.
    """

    name: str
    parameter_names: tuple[str, ...]
    at_least: float | None
    above: float | None
    fit: Callable[[Floats], Parameters]
    log_density: Callable[..., Floats]
    cdf: Callable[..., Floats]
    beyond: Callable[..., Floats]
    quantile: Callable[..., Floats]
    piece: Callable[..., Floats]
    method: str

    def draw(self, random: np.random.Generator, shape: tuple[int, ...], parameters: Parameters) -> Floats:
        """Make-believe samples of the given shape, from uniform numbers."""
        uniform = random.random(shape)
        return self.piece(np.clip(uniform, 1e-16, 1.0 - 1e-16), *parameters)
