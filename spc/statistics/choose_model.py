"""Which distribution a characteristic gets: by its kind first, by goodness of fit second, with the reason."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from spc.errors import Refused
from spc.shop.layouts import KINDS, MAGNITUDES
from spc.statistics.distribution_words import distribution_words
from spc.statistics.fitted_model import FittedModel, fit_model
from spc.statistics.goodness_of_fit import GoodnessOfFit, goodness_of_fit

__all__ = ["ModelChoice", "choose_model", "model_of_kind"]

_DOUBT = 0.05
_RADIAL = ("runout",)
_OTHERS = ("folded_normal", "rayleigh", "weibull", "lognormal")


@dataclass(frozen=True, slots=True, eq=False)
class ModelChoice:
    """A model, why it was taken, and what else was tried.

    Attributes
    ----------
    model : FittedModel
        The one to use.
    fit : GoodnessOfFit
        How well it describes the readings.
    tried : tuple of GoodnessOfFit
        Every model that was tested, the kind's own first.
    kind : str
        Kind of the characteristic; empty where none was given.
    n : int
        Pieces.
    why : str
        The reason, for a person.
    doubtful : bool
        Whether no tried model fits.
    """

    model: FittedModel
    fit: GoodnessOfFit
    tried: tuple[GoodnessOfFit, ...]
    kind: str
    n: int
    why: str
    doubtful: bool


def choose_model(readings: Sequence[float], kind: str = "", *, seed: int, draws: int = 499) -> ModelChoice:
    """Choose the distribution model of a characteristic and say why, for ``--model auto``.

    Parameters
    ----------
    readings : sequence of float, shape (n,)
        3 or more that differ; 0 or more for kinds that cannot be negative.
    kind : str
        Kind of the characteristic as in the plan; empty for a plain size.
    seed, draws : int
        Of the make-believe samples behind p.

    Returns
    -------
    ModelChoice
        The kind's model unless the readings contradict it and another one fits.

    Raises
    ------
    Refused
        Another kind, or readings that the kind cannot have.

    Notes
    -----
    Straightness, roundness and travel variation are sizes of deviations (folded normal); run-out is a length in
    two directions (Rayleigh); sizes and signed deviations are normal: the usual convention in published
    capability guidance (from memory). A size that is not normal has usually moved while it was gauged, so no
    other model is tried for it. Of several models that fit, the one with the least AIC is taken.

    Examples
    --------
    >>> choice = choose_model([2.0, 3.1, 1.2, 4.0, 2.6, 3.3, 5.1, 1.9, 2.8, 0.9], "runout", seed=1)
    >>> choice.model.name, choice.doubtful
    ('rayleigh', False)
    """
    own = model_of_kind(kind)
    first = fit_model(readings, own)
    tried = [(first, goodness_of_fit(first, seed=seed, draws=draws))]
    if _fits(tried[0][1]) or kind not in MAGNITUDES:
        return _choice(tried, 0, kind)
    zero = bool(np.min(first.readings) <= 0.0)
    for name in _OTHERS:
        if name != own and not (zero and name in ("weibull", "lognormal")):
            model = fit_model(readings, name)
            tried.append((model, goodness_of_fit(model, seed=seed, draws=draws)))
    fitting = [number for number, (_, fit) in enumerate(tried) if _fits(fit)]
    return _choice(tried, min(fitting, key=lambda number: _aic(tried[number][0]), default=0), kind)


def model_of_kind(kind: str) -> str:
    """Word of the model that convention gives a kind; normal for none.

    Parameters
    ----------
    kind : str
        Kind of characteristic of a plan; empty for none.

    Returns
    -------
    str
        ``normal``, ``folded_normal`` or ``rayleigh``.

    Raises
    ------
    Refused
        A kind of another name, or a look, which has no readings.

    References
    ----------
    Usual convention in published capability guidance (from memory): form deviations folded normal, radial ones
    Rayleigh, sizes normal.

    Examples
    --------
    >>> model_of_kind("runout")
    'rayleigh'
    """
    if kind and kind not in KINDS:
        raise Refused.one("no such kind of characteristic", value=kind, allowed=", ".join(KINDS))
    if kind == "visual":
        raise Refused.one("a look has no distribution of readings", value=kind, allowed="gauged kinds")
    if kind in _RADIAL:
        return "rayleigh"
    return "folded_normal" if kind in MAGNITUDES else "normal"


def _fits(fit: GoodnessOfFit) -> bool:
    return fit.p is None or fit.p >= _DOUBT


def _aic(model: FittedModel) -> float:
    return 2.0 * len(model.parameters) - 2.0 * (model.log_likelihood or 0.0)


def _choice(tried: list[tuple[FittedModel, GoodnessOfFit]], taken: int, kind: str) -> ModelChoice:
    model, fit = tried[taken]
    fits = tuple(each for _, each in tried)
    return ModelChoice(model, fit, fits, kind, model.n, _why(fits, fit, kind), not _fits(fit))


def _why(tried: tuple[GoodnessOfFit, ...], taken: GoodnessOfFit, kind: str) -> str:
    what = kind.replace("_", " ") if kind else "a size"
    own, name = distribution_words(tried[0].model), distribution_words(taken.model)
    if taken.p is None:
        return f"{name} by convention for {what}; {taken.n} pieces are too few to test it."
    if taken is tried[0] and _fits(taken):
        return f"{name} by convention for {what}, and {taken.n} pieces do not contradict it ({_p(taken)})."
    if _fits(taken):
        return (
            f"{name} instead of {own}, the convention for {what}: {own} does not fit ({_p(tried[0])}), "
            f"{name} does ({_p(taken)})."
        )
    also = (
        "nor does any other model tried" if len(tried) > 1 else "look for a trend or a change over time first"
    )
    return (
        f"{name} by convention for {what}, but {taken.n} pieces contradict it ({_p(taken)}); {also}. "
        "Coarse gauge steps alone can do this; do not read fallout far out from it."
    )


def _p(fit: GoodnessOfFit) -> str:
    return "p not known" if fit.p is None else f"p = {fit.p:.2g}" if fit.p >= 1e-4 else "p under 0.0001"
