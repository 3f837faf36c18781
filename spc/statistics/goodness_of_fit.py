"""Whether readings can come from a fitted model: Anderson-Darling, p from refitted make-believe samples."""

from dataclasses import dataclass

import numpy as np

from spc.errors import Refused
from spc.statistics.bootstrap import sample_blocks
from spc.statistics.distribution_family import DistributionFamily
from spc.statistics.fitted_model import FittedModel
from spc.statistics.normality import anderson_darling
from spc.statistics.readings import Floats

__all__ = ["GoodnessOfFit", "goodness_of_fit"]

_LEAST, _MOST = 1e-300, 1.0 - 1e-16


@dataclass(frozen=True, slots=True)
class GoodnessOfFit:
    """How well a fitted model describes its readings.

    Attributes
    ----------
    model : str
        Its word.
    statistic : float
        Anderson-Darling A squared with the fitted parameters.
    p : float or None
        Chance of a statistic this large if the model holds; None below 8 pieces.
    n : int
        Pieces.
    method : str
        Where p comes from.
    """

    model: str
    statistic: float
    p: float | None
    n: int
    method: str


def goodness_of_fit(model: FittedModel, *, seed: int, draws: int = 999) -> GoodnessOfFit:
    """Test a fitted model against its own readings, before anyone quotes its quantiles.

    Parameters
    ----------
    model : FittedModel
        Any but the empirical one, which fits itself.
    seed : int
        Same seed, same p.
    draws : int
        Make-believe samples, 200 or more; the normal and lognormal model need none.

    Returns
    -------
    GoodnessOfFit
        A small p speaks against the model; a large one proves nothing.

    Raises
    ------
    Refused
        The empirical model, or too few draws.

    Notes
    -----
    Every make-believe sample is fitted anew, so p knows that the parameters were estimated. Equal readings from
    coarse gauge steps make p small by themselves. p is exact for models with only a unit and a power (Rayleigh,
    half-normal, Weibull); a folded normal model near its fold gives somewhat large p from few pieces.

    References
    ----------
    D'Agostino & Stephens, Goodness-of-Fit Techniques (1986), chapter 4 (from memory).

    Examples
    --------
    >>> from spc.statistics.fitted_model import fit_model
    >>> lives = [17.88, 28.92, 33.0, 41.52, 42.12, 45.6, 48.4, 51.84, 51.96, 54.12, 55.56, 67.8,
    ...          68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4]
    >>> goodness_of_fit(fit_model(lives, "weibull"), seed=1).p > 0.25
    True
    """
    if model.family is None:
        raise Refused.one(
            "the empirical model is the readings themselves, so it cannot be tested against them",
            value=model.name,
            allowed="a model with a formula",
        )
    if model.name in ("normal", "lognormal"):
        values = model.readings if model.name == "normal" else np.log(model.readings)
        test = anderson_darling(values.tolist())
        return GoodnessOfFit(model.name, test.statistic, test.p, test.n, test.method)
    statistic = float(_statistics(model.family, model.readings[None, :])[0])
    if model.n < 8:
        return GoodnessOfFit(model.name, statistic, None, model.n, "too few pieces for a p")
    drawn = [_statistics(model.family, block) for block in sample_blocks(model, seed=seed, draws=draws)]
    pool = np.concatenate(drawn)
    p = (1.0 + float(np.sum(pool >= statistic))) / (pool.size + 1.0)
    method = f"Anderson-Darling, p from {pool.size} refitted make-believe samples, seed {seed}"
    return GoodnessOfFit(model.name, statistic, p, model.n, method)


def _statistics(family: DistributionFamily, samples: Floats) -> Floats:
    """A squared of each row, the model fitted to each."""
    rows = np.sort(samples, axis=-1)
    parameters = tuple(each[:, None] for each in family.fit(rows))
    shares = np.clip(family.cdf(rows, *parameters), _LEAST, _MOST)
    n = rows.shape[-1]
    odd = 2.0 * np.arange(1, n + 1) - 1.0
    return np.asarray(-n - np.mean(odd * (np.log(shares) + np.log1p(-shares[:, ::-1])), axis=-1))
