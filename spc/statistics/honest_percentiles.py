"""Honest intervals of indices from quantiles: whole checks are redrawn and the model is refitted to each redrawing."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from spc.statistics.bootstrap import reverse_interval
from spc.statistics.fitted_model import FAMILIES, FittedModel, fit_model
from spc.statistics.index_intervals import Estimate, no_narrower, tail_share
from spc.statistics.indices import check_tolerance
from spc.statistics.percentile_indices import PercentileIndices, percentile_indices
from spc.statistics.percentile_intervals import (
    SHARES,
    count_interval,
    fallout_ends,
    has_distance,
    quantile_indices,
)
from spc.statistics.readings import Floats, sound_readings
from spc.statistics.subgroups import summarise_subgroups

__all__ = ["HonestPercentiles", "honest_percentiles"]


@dataclass(frozen=True, slots=True)
class HonestPercentiles:
    """Pp and Ppk of a model that is not normal, with intervals that know checks.

    Attributes
    ----------
    n, subgroups : int
        Pieces and checks.
    pp : Estimate or None
        None with one limit.
    ppk : Estimate
        The smaller of both sides, or the only one.
    fallout : Estimate
        Parts per million expected outside.
    level : float
        Confidence of the intervals.
    method : str
        How they came to be.
    """

    n: int
    subgroups: int
    pp: Estimate | None
    ppk: Estimate
    fallout: Estimate
    level: float
    method: str


def honest_percentiles(
    subgroups: Sequence[Sequence[float]],
    model: str,
    lower: float | None = None,
    upper: float | None = None,
    *,
    seed: int,
    confidence: float = 0.95,
    draws: int = 500,
    textbook: PercentileIndices | None = None,
) -> HonestPercentiles:
    """Intervals of Pp and Ppk for a characteristic that is not normal and wanders from check to check.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings, 5 or more subgroups; with fewer than 20 the intervals are somewhat short.
    model : str
        Word of the distribution model.
    lower, upper : float, optional
        Tolerance limits, at least one; leave out a natural limit of 0.
    seed, draws : int
        Of the redrawings.
    confidence : float
        Between 0 and 1.
    textbook : PercentileIndices, optional
        Of the same model, limits and confidence, where they are known already.

    Returns
    -------
    HonestPercentiles
        Reverse percentiles on the asinh scale. The fallout of the empirical model is counted, its interval that of
        as many independent pieces as there are checks, which is on the safe side. No end lies inside that of
        `percentile_indices`, which takes the pieces as independent (`no_narrower`).

    Raises
    ------
    Refused
        Too few checks, readings the model cannot have, no limit, confidence out of range.

    References
    ----------
    Quantile indices as in ISO 22514-2 (from memory); redrawing whole checks after Davison & Hinkley, Bootstrap
    Methods and their Application (1997), chapter 3 (from memory).

    Examples
    --------
    >>> checks = [[2.0, 3.1], [1.2, 4.0], [2.6, 3.3], [5.1, 1.9], [2.8, 0.9], [2.2, 3.0]]
    >>> found = honest_percentiles(checks, "rayleigh", upper=10.0, seed=1)
    >>> found.ppk.low < found.ppk.estimate < found.ppk.high
    True
    """
    check_tolerance(lower, upper, None)
    summaries = summarise_subgroups(subgroups, least_subgroups=5, chart="redrawing checks")
    tail_share(confidence, summaries.pieces)
    checks, random = summaries.readings, np.random.default_rng(seed)
    fitted = fit_model(summaries.all_readings, model)
    if textbook is None:
        textbook = percentile_indices(fitted, lower, upper, seed=seed, confidence=confidence)
    points = quantile_indices(_quantiles(summaries.all_readings, model), lower, upper)
    samples = list(_redrawn(checks, random, draws))
    rows = _redrawn_indices(samples, model, lower, upper)
    method = f"{len(rows)} redrawings of {len(checks)} whole checks, seed {seed}"

    def estimate(key: str, by_pieces: Estimate) -> Estimate:
        value = float(points[key])
        ends = reverse_interval(value, np.array([float(row[key]) for row in rows]), confidence)
        return no_narrower(Estimate(value, *ends, summaries.pieces, confidence, method), by_pieces)

    fallout = _fallout(fitted, samples, (lower, upper), len(checks), confidence, method)

    return HonestPercentiles(
        n=summaries.pieces,
        subgroups=len(checks),
        pp=estimate("pp", textbook.pp) if textbook.pp is not None else None,
        ppk=estimate("ppk", textbook.ppk),
        fallout=no_narrower(fallout, textbook.fallout_ppm),
        level=confidence,
        method=method,
    )


def _redrawn(
    checks: Sequence[Sequence[float]], random: np.random.Generator, draws: int
) -> Iterator[list[float]]:
    """Histories of as many checks, drawn with replacement; those that show no spread at all are left out."""
    for _ in range(draws):
        picked = random.integers(len(checks), size=len(checks)).tolist()
        drawn = [value for each in picked for value in checks[each]]
        if max(drawn) > min(drawn):
            yield drawn


def _redrawn_indices(
    samples: Sequence[Sequence[float]], model: str, lower: float | None, upper: float | None
) -> list[dict[str, Floats]]:
    """Indices of each redrawing that has any, its model refitted."""
    drawn = [
        ends for ends in (_quantiles(each, model) for each in samples) if has_distance(ends, lower, upper)
    ]
    sound_readings(range(len(drawn)), asks="an interval", differ=False)
    return [quantile_indices(ends, lower, upper) for ends in drawn]


def _fallout(
    fitted: FittedModel,
    samples: Sequence[Sequence[float]],
    limits: tuple[float | None, float | None],
    checks: int,
    confidence: float,
    method: str,
) -> Estimate:
    family, share = fitted.family, fitted.outside(*limits)
    if family is None:
        ends = count_interval(share * checks, checks, tail_share(confidence, checks))
        method = f"counted, as {checks} independent pieces"
    else:
        parameters = [
            np.array(each) for each in zip(*(family.fit(np.array(each)) for each in samples), strict=True)
        ]
        ends = fallout_ends(family, parameters, limits, share, confidence)
    return Estimate(1e6 * share, *ends, fitted.n, confidence, method)


def _quantiles(readings: Sequence[float], model: str) -> Floats:
    """The three quantiles of the model fitted to readings that were checked before."""
    family, values = FAMILIES.get(model), np.array(readings)
    if family is None:
        return np.asarray(np.quantile(values, SHARES, method="hazen"))
    return family.quantile(np.array(SHARES), *family.fit(values))
