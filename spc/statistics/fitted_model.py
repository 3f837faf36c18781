"""A distribution model fitted to readings: its parameters, shares and quantiles."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from spc.errors import Refused
from spc.statistics.distribution_family import DistributionFamily
from spc.statistics.distribution_words import distribution_words
from spc.statistics.folded_normal_families import FOLDED_NORMAL, HALF_NORMAL
from spc.statistics.normal_families import LOGNORMAL, NORMAL
from spc.statistics.readings import Floats, frozen, sound_readings
from spc.statistics.weibull_families import RAYLEIGH, WEIBULL

__all__ = ["EMPIRICAL", "FAMILIES", "FittedModel", "fit_model", "wanted_share"]

FAMILIES = {each.name: each for each in (NORMAL, HALF_NORMAL, FOLDED_NORMAL, RAYLEIGH, WEIBULL, LOGNORMAL)}
"""The models with a formula, by the word of the command line."""

EMPIRICAL = "empirical"
"""The model without a formula: the readings themselves."""


@dataclass(frozen=True, slots=True, eq=False)
class FittedModel:
    """A model and the readings it was fitted to.

    Attributes
    ----------
    name : str
        ``normal``, ``half_normal``, ``folded_normal``, ``rayleigh``, ``weibull``, ``lognormal`` or ``empirical``.
    parameters : tuple of (str, float)
        Name and value, in the unit of the readings (log units for the lognormal model).
    n : int
        Pieces.
    log_likelihood : float or None
        Of the readings under the fitted model; None for the empirical one.
    readings : ndarray of float, shape (n,)
        Sorted, smallest first.
    method : str
        How the parameters were estimated.
    """

    name: str
    parameters: tuple[tuple[str, float], ...]
    n: int
    log_likelihood: float | None
    readings: Floats
    method: str

    @property
    def family(self) -> DistributionFamily | None:
        """The family behind it; None for the empirical model."""
        return FAMILIES.get(self.name)

    @property
    def values(self) -> tuple[float, ...]:
        """Parameters without their names."""
        return tuple(value for _, value in self.parameters)

    def quantile(self, share: float) -> float:
        """Value below which the given share (0 to 1, ends excluded) of pieces lies."""
        wanted_share(share)
        if self.family is None:
            return float(np.quantile(self.readings, share, method="hazen"))
        return float(self.family.quantile(np.float64(share), *self.values))

    def cdf(self, value: float) -> float:
        """Share of pieces at or below a value."""
        if self.family is None:
            return float(np.searchsorted(self.readings, value, side="right")) / self.n
        return float(self.family.cdf(np.float64(value), *self.values))

    def beyond(self, value: float) -> float:
        """Share of pieces above a value."""
        if self.family is None:
            return 1.0 - self.cdf(value)
        return float(self.family.beyond(np.float64(value), *self.values))

    def outside(self, lower: float | None, upper: float | None) -> float:
        """Share of pieces outside two limits; a missing one loses nothing, a piece on a limit is inside."""
        if self.family is None:
            below = 0 if lower is None else int(np.searchsorted(self.readings, lower, side="left"))
            return below / self.n + (0.0 if upper is None else self.beyond(upper))
        return (0.0 if lower is None else self.cdf(lower)) + (0.0 if upper is None else self.beyond(upper))


def fit_model(readings: Sequence[float], name: str) -> FittedModel:
    """Fit one named distribution model, for capability of a characteristic that may not be normal.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        3 or more that differ, one unit, any order; 0 or more for half-normal, folded normal and Rayleigh,
        above 0 for Weibull and lognormal.
    name : str
        Which model; see `FittedModel`.

    Returns
    -------
    FittedModel
        By greatest likelihood, except that the normal sigma has n-1 in the divisor.

    Raises
    ------
    Refused
        Another word, too few, missing or equal readings, readings where the model cannot have any.

    Notes
    -----
    All models with a natural limit start at 0. The empirical quantiles interpolate between the readings (share
    (i - 0.5)/n at the i-th) and never go beyond the outermost ones.

    References
    ----------
    ISO 22514-2 for the models (from memory); lives of the example: Lieblein & Zelen, J. Research NBS 57 (1956)
    (from memory).

    Examples
    --------
    >>> lives = [17.88, 28.92, 33.0, 41.52, 42.12, 45.6, 48.4, 51.84, 51.96, 54.12, 55.56, 67.8,
    ...          68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4]
    >>> [(name, round(value, 2)) for name, value in fit_model(lives, "weibull").parameters]
    [('shape', 2.1), ('scale', 81.87)]
    """
    family = FAMILIES.get(name)
    if family is None and name != EMPIRICAL:
        raise Refused.one("no such distribution model", value=name, allowed=", ".join([*FAMILIES, EMPIRICAL]))
    asks = f"the {distribution_words(name)} model"
    if family is None:
        values = np.sort(sound_readings(readings, asks=asks, least=3))
        return FittedModel(name, (), values.size, None, frozen(values), "the readings themselves")
    values = np.sort(
        sound_readings(readings, asks=asks, least=3, at_least=family.at_least, above=family.above)
    )
    found = tuple(float(each) for each in family.fit(values))
    return FittedModel(
        name=name,
        parameters=tuple(zip(family.parameter_names, found, strict=True)),
        n=int(values.size),
        log_likelihood=float(np.sum(family.log_density(values, *found))),
        readings=frozen(values),
        method=family.method,
    )


def wanted_share(share: float) -> None:
    """Refuse a share that has no quantile."""
    if not 0.0 < share < 1.0:
        raise Refused.one(
            "the share is out of range", value=str(share), allowed="between 0 and 1, for instance 0.99865"
        )
