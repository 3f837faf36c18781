"""Capability whose uncertainty of the mean comes from the spread between checks, not from the piece count."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt

from scipy.special import ndtri

from spc.statistics.capability import capability_of, spread_within
from spc.statistics.chance_laws import t_above
from spc.statistics.fallout_interval import fallout_interval
from spc.statistics.group_squares import group_squares
from spc.statistics.index_intervals import Estimate, no_narrower, spread_interval, tail_share
from spc.statistics.indices import check_tolerance, spread_index
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups

__all__ = ["HonestCapability", "honest_capability"]


@dataclass(frozen=True, slots=True)
class HonestCapability:
    """Indices whose intervals know that pieces of one check resemble each other.

    Attributes
    ----------
    n, subgroups : int
        Pieces and checks.
    effective_n : float
        Independent pieces that would know the mean as well as these checks do; at most n.
    freedom : float
        Degrees of freedom of the standard deviation of all pieces (Satterthwaite).
    mean, standard_error : float
        Mean of all pieces and its standard deviation, in the unit of the readings.
    cp, cpk, pp, ppk : Estimate or None
        The indices of `capability`, with honest intervals; None where the tolerance has no such index.
    fallout : Estimate
        Parts per million expected outside by the normal model, its mean known only as well as these checks know it.
    method : str
        How the intervals came to be.
    level : float
        Their confidence.
    """

    n: int
    subgroups: int
    effective_n: float
    freedom: float
    mean: float
    standard_error: float
    cp: Estimate | None
    cpk: Estimate
    pp: Estimate | None
    ppk: Estimate
    fallout: Estimate
    method: str
    level: float


def honest_capability(
    subgroups: Sequence[Sequence[float]],
    lower: float | None = None,
    upper: float | None = None,
    target: float | None = None,
    confidence: float = 0.95,
    sigma_from: str = "r_bar",
) -> HonestCapability:
    """Capability indices with intervals for a mean that wanders from check to check.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in the unit of the limits, oldest first, 2 or more subgroups.
    lower, upper, target, confidence, sigma_from
        As for `capability`; the target is only checked.

    Returns
    -------
    HonestCapability
        The estimates are those of `capability`, the intervals usually wider.

    Raises
    ------
    Refused
        As for `capability`.

    Notes
    -----
    The mean's variance is that of the check means over their number (for unequal checks weighted by pieces),
    with Student's t for their number. The variance of all pieces is the sum of a part between and a part within
    checks, its freedom after Satterthwaite (1946). Both half widths add in squares, as in Bissell's interval.
    Where neighbouring checks resemble each other (drift) even this is too narrow.

    Checks that differ less than their pieces explain (a negative part between them) are taken for chance: the mean
    is then known as n independent pieces know it. No end lies inside that of the textbook interval (`no_narrower`);
    with one limit that one is the noncentral t's, whose ends are not alike.

    References
    ----------
    Satterthwaite, Biometrics Bulletin 2 (1946) 110-114 (from memory); Bissell, Applied Statistics 39 (1990), for half
    widths that add in squares. The mean by checks is an own derivation, its coverage checked by simulation.

    Examples
    --------
    >>> checks = [[9.9, 10.0, 9.9], [10.2, 10.3, 10.2], [9.7, 9.8, 9.8], [10.1, 10.0, 10.1]]
    >>> result = honest_capability(checks, lower=9.0, upper=11.0)
    >>> result.n, round(result.effective_n, 1)
    (12, 4.2)
    """
    check_tolerance(lower, upper, target)
    summaries = summarise_subgroups(subgroups, chart="capability")
    plain = capability_of(summaries, (lower, upper, target), confidence, sigma_from)
    within = spread_within(summaries, sigma_from)
    mean, overall, n = summaries.mean, summaries.overall_sd, summaries.pieces
    parts = _variance_parts(summaries)
    between_and_within, freedom = _satterthwaite(parts)
    variance = max(between_and_within, overall**2)
    error = max(_mean_error(summaries), sqrt(variance / n))
    checks = len(summaries.sizes)

    def spread(sigma: float, nu: float) -> Estimate | None:
        index = spread_index(lower, upper, sigma)
        return None if index is None else spread_interval(index, n, nu, confidence)

    return HonestCapability(
        n=n,
        subgroups=checks,
        effective_n=variance / error**2,
        freedom=freedom,
        mean=mean,
        standard_error=error,
        cp=spread(within.sigma, within.freedom),
        cpk=_location(plain.cpk, error, checks, within.sigma, within.freedom),
        pp=spread(overall, freedom),
        ppk=_location(plain.ppk, error, checks, overall, freedom),
        fallout=_fallout(plain.fallout, error, parts, (mean, overall, lower, upper)),
        method=f"mean known as well as {checks} checks spread; sigma within checks {within.method}",
        level=confidence,
    )


def _location(textbook: Estimate, error: float, checks: int, sigma: float, nu: float) -> Estimate:
    """Both half widths in squares, for a mean known to `error` and a sigma with `nu` degrees of freedom."""
    index, n, confidence = textbook.estimate, textbook.n, textbook.level
    tail = tail_share(confidence, n)
    from_mean = t_above(tail, checks - 1) * max(error / sigma, 1.0 / sqrt(n)) / 3.0
    half = sqrt(from_mean**2 + (float(ndtri(tail)) * index) ** 2 / (2.0 * nu))
    honest = Estimate(index, index - half, index + half, n, confidence, f"between {checks} checks")
    return no_narrower(honest, textbook)


def _fallout(
    textbook: Estimate,
    error: float,
    parts: list[tuple[float, int]],
    model: tuple[float, float, float | None, float | None],
) -> Estimate:
    variance = fsum(part for part, _ in parts)
    shares = [(part / variance, nu) for part, nu in parts]
    honest = fallout_interval(*model, n=textbook.n, parts=shares, error=error, confidence=textbook.level)
    return no_narrower(honest, textbook)


def _satterthwaite(parts: list[tuple[float, int]]) -> tuple[float, float]:
    """Sum of parts of a variance, and its degrees of freedom."""
    variance = fsum(part for part, _ in parts)
    return variance, variance**2 / fsum(part**2 / nu for part, nu in parts)


def _mean_error(summaries: SubgroupSummaries) -> float:
    """Standard error of the mean of all pieces when whole checks are drawn at random."""
    checks = len(summaries.sizes)
    pulls = (
        size * (mean - summaries.mean) for size, mean in zip(summaries.sizes, summaries.means, strict=True)
    )
    return sqrt(fsum(pull**2 for pull in pulls) * checks / (checks - 1)) / summaries.pieces


def _variance_parts(summaries: SubgroupSummaries) -> list[tuple[float, int]]:
    """Between/n0 and (1 - 1/n0) within, which add up to the variance of all pieces, each with its freedom."""
    squares = group_squares(summaries.readings)
    parts = [(squares.between_mean_square / squares.typical_size, squares.between_freedom)]
    if squares.within_freedom:
        share = 1.0 - 1.0 / squares.typical_size
        parts.append((share * squares.within_mean_square, squares.within_freedom))
    return parts
