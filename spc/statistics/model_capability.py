"""Capability of a characteristic by the distribution model that suits it, with everything a signer must know."""

from collections.abc import Sequence
from dataclasses import dataclass

from spc.shop.layouts import MAGNITUDES
from spc.statistics.capability import Capability, capability
from spc.statistics.capability_warnings import capability_warnings
from spc.statistics.choose_model import ModelChoice, choose_model
from spc.statistics.detrended_capability import DetrendedCapability, detrended_capability
from spc.statistics.distribution_words import distribution_words
from spc.statistics.fitted_model import FittedModel, fit_model
from spc.statistics.goodness_of_fit import GoodnessOfFit, goodness_of_fit
from spc.statistics.honest_capability import HonestCapability, honest_capability
from spc.statistics.honest_percentiles import HonestPercentiles, honest_percentiles
from spc.statistics.indices import check_tolerance
from spc.statistics.normality import NormalityTest, anderson_darling
from spc.statistics.order_seen import OrderSeen, order_seen
from spc.statistics.percentile_indices import PercentileIndices, percentile_indices
from spc.statistics.requirement import Requirement, requirement
from spc.statistics.spread_change import within_residuals
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.time_model import TimeModel, time_model

__all__ = ["ModelCapability", "model_capability"]

_Asked = tuple[float | None, float | None, float | None, float, str]
_Chosen = tuple[FittedModel, GoodnessOfFit | None, ModelChoice | None]


@dataclass(frozen=True, slots=True, eq=False)
class ModelCapability:
    """Indices of one characteristic by the model that suits it.

    Attributes
    ----------
    n, subgroups : int
        Pieces and checks.
    model : FittedModel
        Distribution model used; its name is the word of the answer.
    fit : GoodnessOfFit or None
        How well it describes the pieces; None for the empirical model.
    why : str
        Why this model.
    plain : Capability or None
        Indices and textbook intervals of the normal model; None for every other model, which has no Cp and Cpk.
    percentiles : PercentileIndices
        Pp and Ppk from the model's quantiles, and the fallout with its interval.
    honest : HonestCapability or HonestPercentiles or None
        Intervals that know checks; None for a model that is not normal with fewer than 5 checks.
    order : OrderSeen or None
        Order in time of the check means; None below 3 checks or where all are equal.
    over_time : TimeModel or None
        Model A1 to D; None below 8 checks, for single pieces, or where all means are equal.
    without_trend : DetrendedCapability or None
        What a process that moves in a system, or over several die lives, would hold without its slopes; else None.
    honest_first : bool
        The honest interval stands first: a trend, related neighbours, or a model over time that is not stable.
    words : str
        ``capability`` or ``performance``.
    within_normality : NormalityTest or None
        Of deviations within checks; None for single pieces or fewer than 3 deviations.
    total_normality : NormalityTest or None
        Of all pieces; None below 3.
    requirement : Requirement or None
        Answer to the required index, where one was given.
    level : float
        Confidence of the intervals.
    warnings : tuple of str
        What speaks against believing the indices, most important first.
    """

    n: int
    subgroups: int
    model: FittedModel
    fit: GoodnessOfFit | None
    why: str
    plain: Capability | None
    percentiles: PercentileIndices
    honest: HonestCapability | HonestPercentiles | None
    order: OrderSeen | None
    over_time: TimeModel | None
    without_trend: DetrendedCapability | None
    honest_first: bool
    words: str
    within_normality: NormalityTest | None
    total_normality: NormalityTest | None
    requirement: Requirement | None
    level: float
    warnings: tuple[str, ...]


def model_capability(
    subgroups: Sequence[Sequence[float]],
    lower: float | None = None,
    upper: float | None = None,
    target: float | None = None,
    *,
    kind: str = "",
    model: str = "auto",
    confidence: float = 0.95,
    sigma_from: str = "r_bar",
    minimum: float | None = None,
    seed: int = 0,
    lives: Sequence[str] | None = None,
) -> ModelCapability:
    """Capability by kind and model, for ``spc capability`` and the review.

    Parameters
    ----------
    subgroups, lower, upper, target, confidence, sigma_from
        As for `capability`; 3 or more pieces.
    kind : str
        Kind of the characteristic as in the plan; for one that cannot be negative a lower limit of 0 is none.
    model : str
        ``auto``, or a word of `fit_model`.
    minimum : float, optional
        Required index, judged on Cpk of a stable normal process and on Ppk otherwise, by the interval that
        stands first.
    seed : int
        Of all make-believe samples and shuffles: same seed, same answer.
    lives : sequence of str, optional
        Die life of each check, for the indices without trend; see `detrended_capability`.

    Returns
    -------
    ModelCapability
        Everything a sheet or a screen needs.

    Raises
    ------
    Refused
        What `capability`, `fit_model` and `choose_model` refuse.

    Examples
    --------
    >>> runout = [[2.0, 3.1, 1.2], [4.0, 2.6, 3.3], [5.1, 1.9, 2.8], [0.9, 2.2, 3.0]]
    >>> found = model_capability(runout, 0.0, 10.0, kind="runout")
    >>> found.model.name, found.plain is None, found.percentiles.pp is None
    ('rayleigh', True, True)
    """
    summaries = summarise_subgroups(subgroups, chart="capability")
    lower = None if kind in MAGNITUDES and lower is not None and lower <= 0.0 else lower
    check_tolerance(lower, upper, target)
    asked = (lower, upper, target, confidence, sigma_from)
    chosen = _model(summaries, kind, model, seed)
    return _judged(summaries, chosen, asked, kind=kind, minimum=minimum, seed=seed, lives=lives)


def _judged(
    summaries: SubgroupSummaries,
    chosen: _Chosen,
    asked: _Asked,
    *,
    kind: str,
    minimum: float | None,
    seed: int,
    lives: Sequence[str] | None,
) -> ModelCapability:
    """Indices by the chosen model, the order of the checks in time, and what both are worth."""
    fitted, fit, choice = chosen
    lower, upper, _, confidence, sigma_from = asked
    percentiles = percentile_indices(fitted, lower, upper, seed=seed, confidence=confidence)
    plain, honest = _intervals(summaries, fitted, asked, percentiles, seed)
    order, over_time = _over_time(summaries, kind, seed)
    first = honest is not None and _honest_first(order, over_time)
    words = over_time.words if over_time is not None else _words_without_model(order)
    within, total = _normality(summaries)
    return ModelCapability(
        n=summaries.pieces,
        subgroups=len(summaries.sizes),
        model=fitted,
        fit=fit,
        why=choice.why if choice is not None else f"{distribution_words(fitted.name)} as asked for.",
        plain=plain,
        percentiles=percentiles,
        honest=honest,
        order=order,
        over_time=over_time,
        without_trend=_without_trend(summaries, plain, over_time, sigma_from, lives),
        honest_first=first,
        words=words,
        within_normality=within,
        total_normality=total,
        requirement=_requirement(minimum, plain, percentiles, honest if first else None, words),
        level=confidence,
        warnings=capability_warnings(summaries, plain, percentiles, fit, choice, order, over_time),
    )


def _model(summaries: SubgroupSummaries, kind: str, model: str, seed: int) -> _Chosen:
    if model == "auto":
        choice = choose_model(summaries.all_readings, kind, seed=seed)
        return choice.model, choice.fit, choice
    fitted = fit_model(summaries.all_readings, model)
    return fitted, None if fitted.family is None else goodness_of_fit(fitted, seed=seed, draws=499), None


def _intervals(
    summaries: SubgroupSummaries,
    fitted: FittedModel,
    asked: _Asked,
    percentiles: PercentileIndices,
    seed: int,
) -> tuple[Capability | None, HonestCapability | HonestPercentiles | None]:
    """Indices of the normal model, and the intervals that know checks."""
    checks = summaries.readings
    if fitted.name == "normal":
        return capability(checks, *asked), honest_capability(checks, *asked)
    if len(checks) < 5:
        return None, None
    lower, upper, _, confidence, _ = asked
    honest = honest_percentiles(
        checks, fitted.name, lower, upper, seed=seed, confidence=confidence, textbook=percentiles
    )
    return None, honest


def _over_time(
    summaries: SubgroupSummaries, kind: str, seed: int
) -> tuple[OrderSeen | None, TimeModel | None]:
    means = summaries.means
    if len(means) < 3 or max(means) == min(means):
        return None, None
    pieces_enough = len(means) >= 8 and min(summaries.sizes) >= 2 and max(summaries.ranges) > 0.0
    seen = time_model(summaries.readings, seed=seed, kind=kind) if pieces_enough else None
    return order_seen(means), seen


def _without_trend(
    summaries: SubgroupSummaries,
    plain: Capability | None,
    over_time: TimeModel | None,
    sigma_from: str,
    lives: Sequence[str] | None,
) -> DetrendedCapability | None:
    systematic = over_time is not None and over_time.location.startswith("systematic")
    if plain is None or not (systematic or (lives is not None and len(set(lives)) > 1)):
        return None
    return detrended_capability(
        summaries.readings,
        plain.lower,
        plain.upper,
        plain.target,
        lives=lives,
        confidence=plain.level,
        sigma_from=sigma_from,
    )


def _honest_first(order: OrderSeen | None, over_time: TimeModel | None) -> bool:
    if over_time is not None and (over_time.honest_first or over_time.words == "performance"):
        return True
    return order is not None and order.present


def _words_without_model(order: OrderSeen | None) -> str:
    """Too few checks show nothing about stability; what is not shown is not called capability."""
    return "performance" if order is None or order.present or order.n < 8 else "capability"


def _requirement(
    minimum: float | None,
    plain: Capability | None,
    percentiles: PercentileIndices,
    honest: HonestCapability | HonestPercentiles | None,
    words: str,
) -> Requirement | None:
    if minimum is None:
        return None
    name, index = "Ppk", percentiles.ppk
    if plain is not None:
        name, index = ("Cpk", plain.cpk) if words == "capability" else ("Ppk", plain.ppk)
    if isinstance(honest, HonestCapability):
        index = honest.cpk if name == "Cpk" else honest.ppk
    elif honest is not None:
        index = honest.ppk
    return requirement(index, minimum, name)


def _normality(summaries: SubgroupSummaries) -> tuple[NormalityTest | None, NormalityTest | None]:
    off = within_residuals(summaries)
    within = anderson_darling(off.tolist()) if off.size >= 3 and off.max() > off.min() else None
    return within, anderson_darling(summaries.all_readings) if summaries.pieces >= 3 else None
