"""Capability of a characteristic by the normal model: indices with intervals, and the expected fallout."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from scipy.special import ndtr

from spc.errors import Refused
from spc.statistics.chance_laws import binomial_above
from spc.statistics.fallout_interval import fallout_interval
from spc.statistics.index_intervals import (
    Estimate,
    location_interval,
    one_sided_interval,
    spread_interval,
    target_interval,
)
from spc.statistics.indices import check_tolerance, location_index, spread_index, target_index
from spc.statistics.normal_model import NormalQuantiles, normal_quantiles
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.within_sigma import (
    WithinSigma,
    sigma_from_mean_range,
    sigma_from_moving_range,
    sigma_pooled,
)

__all__ = ["Capability", "capability", "capability_of", "spread_within"]

_SELDOM = 0.1
"""Chance below which so many checks beyond the limits are taken for more than chance: one in 25 is, 24 in 8760 not."""


@dataclass(frozen=True, slots=True)
class Capability:
    """What the process can hold, with how far that is known.

    Attributes
    ----------
    n, subgroups : int
        Pieces and checks.
    mean, sigma_within, sigma_overall : float
        In the unit of the readings.
    lower, upper, target : float or None
        Tolerance limits and target used; the target is the middle where none was given.
    cp, cpk, pp, ppk, cpm : Estimate or None
        Cp, Cpk from the spread within checks; Pp, Ppk, Cpm from that of all pieces. None where the tolerance
        has no such index.
    quantiles : NormalQuantiles
        Of the normal model of all pieces.
    fallout_ppm : float
        Expected outside the limits by the normal model of all pieces.
    fallout : Estimate
        The same with its interval, for n independent pieces.
    method : str
        How sigma was estimated.
    level : float
        Confidence of the intervals.
    warning : str
        What speaks against believing the indices; empty where nothing does.
    beyond : int
        Checks whose mean lies outside fixed limits around the one mean, where more do than chance explains; else 0.
    """

    n: int
    subgroups: int
    mean: float
    sigma_within: float
    sigma_overall: float
    lower: float | None
    upper: float | None
    target: float | None
    cp: Estimate | None
    cpk: Estimate
    pp: Estimate | None
    ppk: Estimate
    cpm: Estimate | None
    quantiles: NormalQuantiles
    fallout_ppm: float
    fallout: Estimate
    method: str
    level: float
    warning: str
    beyond: int


def capability(
    subgroups: Sequence[Sequence[float]],
    lower: float | None = None,
    upper: float | None = None,
    target: float | None = None,
    confidence: float = 0.95,
    sigma_from: str = "r_bar",
) -> Capability:
    """Capability indices of hourly checks, for the review that customer and shop sign.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in the unit of the limits, oldest first, 2 or more subgroups; single pieces as
        subgroups of one.
    lower, upper : float, optional
        Tolerance limits; with one only, the indices that need both are None.
    target : float, optional
        The middle of the tolerance without it.
    confidence : float
        Of the two-sided intervals, between 0 and 1.
    sigma_from : {"r_bar", "pooled_s"}
        Spread within checks: R-bar/d2 as on the chart, or pooled s. Single pieces always use MR-bar/d2.

    Returns
    -------
    Capability
        Intervals take the n pieces as independent; see `honest_capability` where checks wander.

    Raises
    ------
    Refused
        No limit, crossed limits, a target outside, too few or equal readings.

    Notes
    -----
    Intervals of Cp and Cpk use the degrees of freedom that the estimate of sigma carries (25 ranges of 5
    count 90.8, not 124). Cpm uses s with n-1, as the e-Handbook does.

    References
    ----------
    ISO 22514-2 and -4 (from memory); Montgomery, Introduction to SQC, chapter 8 (from memory). Each interval has its
    source in `index_intervals`.

    Examples
    --------
    >>> result = capability([[9.9, 10.1, 10.0], [10.2, 9.8, 10.0], [10.0, 10.1, 9.7]], lower=9.0, upper=11.0)
    >>> round(result.pp.estimate, 2), result.n, result.cpm.estimate < result.pp.estimate
    (2.13, 9, True)
    """
    check_tolerance(lower, upper, target)
    summaries = summarise_subgroups(subgroups, chart="capability")
    return capability_of(summaries, (lower, upper, target), confidence, sigma_from)


def capability_of(
    summaries: SubgroupSummaries,
    tolerance: tuple[float | None, float | None, float | None],
    confidence: float,
    sigma_from: str,
    taken_out: int = 0,
) -> Capability:
    """Indices of checks already summarised; `taken_out` numbers (slopes, levels) were fitted and taken out before."""
    lower, upper, target = tolerance
    within = spread_within(summaries, sigma_from)
    mean, n = summaries.mean, summaries.pieces
    freedom = n - 1.0 - taken_out
    overall = summaries.overall_sd * sqrt((n - 1.0) / freedom)
    fallout = fallout_interval(
        mean, overall, lower, upper, n=n, parts=[(1.0, freedom)], confidence=confidence
    )
    beyond = _beyond(summaries, within.sigma)
    if target is None and lower is not None and upper is not None:
        target = (lower + upper) / 2.0
    return Capability(
        n=n,
        subgroups=len(summaries.sizes),
        mean=mean,
        sigma_within=within.sigma,
        sigma_overall=overall,
        lower=lower,
        upper=upper,
        target=target,
        cp=_spread(lower, upper, within.sigma, n, within.freedom, confidence),
        cpk=_location(mean, lower, upper, within.sigma, n, within.freedom, confidence),
        pp=_spread(lower, upper, overall, n, freedom, confidence),
        ppk=_location(mean, lower, upper, overall, n, freedom, confidence),
        cpm=_target(mean, lower, upper, target, overall, n, confidence),
        quantiles=normal_quantiles(mean, overall, n),
        fallout_ppm=fallout.estimate,
        fallout=fallout,
        method=f"sigma within checks {within.method}, {within.freedom:.1f} degrees of freedom; normal model",
        level=confidence,
        warning=_warning(summaries, beyond, fallout.estimate),
        beyond=beyond,
    )


def spread_within(summaries: SubgroupSummaries, sigma_from: str = "r_bar") -> WithinSigma:
    """Sigma within checks as capability takes it: R-bar/d2, pooled s, or MR-bar/d2 for single pieces."""
    if sigma_from not in ("r_bar", "pooled_s"):
        raise Refused.one("no such estimate of sigma", value=sigma_from, allowed="r_bar or pooled_s")
    if max(summaries.sizes) == 1:
        return sigma_from_moving_range(summaries.all_readings)
    return sigma_from_mean_range(summaries) if sigma_from == "r_bar" else sigma_pooled(summaries)


def _spread(
    lower: float | None, upper: float | None, sigma: float, n: int, freedom: float, confidence: float
) -> Estimate | None:
    index = spread_index(lower, upper, sigma)
    return None if index is None else spread_interval(index, n, freedom, confidence)


def _location(
    mean: float,
    lower: float | None,
    upper: float | None,
    sigma: float,
    n: int,
    freedom: float,
    confidence: float,
) -> Estimate:
    interval = one_sided_interval if lower is None or upper is None else location_interval
    return interval(location_index(mean, lower, upper, sigma), n, freedom, confidence)


def _target(
    mean: float,
    lower: float | None,
    upper: float | None,
    target: float | None,
    sigma: float,
    n: int,
    confidence: float,
) -> Estimate | None:
    index = target_index(mean, lower, upper, target, sigma)
    if index is None or target is None:
        return None
    offset = (mean - target) / (sigma * sqrt((n - 1) / n))
    return target_interval(index, n, offset, confidence)


def _beyond(summaries: SubgroupSummaries, sigma: float) -> int:
    """Count the checks outside their common limits; 0 where chance explains them."""
    beyond = sum(
        abs(mean - summaries.mean) > 3.0 * sigma / sqrt(size)
        for mean, size in zip(summaries.means, summaries.sizes, strict=True)
    )
    seldom = float(binomial_above(beyond - 1, len(summaries.sizes), 2.0 * ndtr(-3.0))) < _SELDOM
    return beyond if seldom else 0


def _warning(summaries: SubgroupSummaries, beyond: int, ppm: float) -> str:
    said = []
    if beyond:
        lie = "lies" if beyond == 1 else "lie"
        said.append(
            f"{beyond} of {len(summaries.sizes)} checks {lie} outside the limits that all checks give together, more "
            "than chance explains: the process did not stand still, so Cp and Cpk promise nothing for the next pieces."
        )
    if ppm < 1.0:
        said.append(f"Expected outside: under 1 ppm, cannot be told from {summaries.pieces:,} pieces.")
    return " ".join(said)
