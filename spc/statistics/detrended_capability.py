"""The capability a wearing process would have if its trend, or the trend of each die life, were taken out."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from spc.errors import Refusal, Refused
from spc.statistics.capability import Capability, capability_of
from spc.statistics.indices import check_tolerance
from spc.statistics.readings import sound_readings
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.trend_line import TrendLine, trend_line

__all__ = ["DetrendedCapability", "LifeTakenOut", "detrended_capability"]

_LEAST_CHECKS = 3
"""Fewer checks carry no line with a residual, so such a life loses only its mean."""


@dataclass(frozen=True, slots=True)
class LifeTakenOut:
    """What was taken out of one die life.

    Attributes
    ----------
    label : str
        As the caller named it; empty for the one stretch without labels.
    checks, n : int
        Checks and pieces of this life.
    mean : float
        Of its pieces, in the unit of the readings.
    trend : TrendLine or None
        Its check means over `at`; None where it has fewer than 3 checks, or all at one place.
    """

    label: str
    checks: int
    n: int
    mean: float
    trend: TrendLine | None


@dataclass(frozen=True, slots=True)
class DetrendedCapability:
    """Capability without the trend, and the trend.

    Attributes
    ----------
    lives : tuple of LifeTakenOut
        In the order in which they begin; one without labels.
    trend_share : float
        Share of the variance of all pieces that the lines and levels explain, 0 to 1.
    capability : Capability
        Of the readings with the lines taken out and the mean of all pieces kept.
    n, subgroups : int
        Pieces and checks.
    level : float
        Confidence of the intervals.
    method : str
        What was taken out.
    says : str
        The same for a person.
    """

    lives: tuple[LifeTakenOut, ...]
    trend_share: float
    capability: Capability
    n: int
    subgroups: int
    level: float
    method: str
    says: str

    @property
    def trend(self) -> TrendLine | None:
        """The line, where there is only one life."""
        return self.lives[0].trend if len(self.lives) == 1 else None


def detrended_capability(
    subgroups: Sequence[Sequence[float]],
    lower: float | None = None,
    upper: float | None = None,
    target: float | None = None,
    *,
    at: Sequence[float] | None = None,
    lives: Sequence[str] | None = None,
    confidence: float = 0.95,
    sigma_from: str = "r_bar",
) -> DetrendedCapability:
    """Capability with the trend taken out, beside the performance of a process that wears.

    Parameters
    ----------
    subgroups, lower, upper, target, confidence, sigma_from
        As for `capability`; 3 or more subgroups.
    at : sequence of float, optional
        Pieces made or hours at each check; the number of the check without it.
    lives : sequence of str, optional
        Die life of each check, one label a subgroup, for instance ``"DS-7 after regrind 2"``; each life gets its own
        line. One line through all checks without it.

    Returns
    -------
    DetrendedCapability
        What would be held if the slide followed the wear perfectly; it promises nothing until it does.

    Raises
    ------
    Refused
        As for `capability` and `trend_line`; a check without a place or a life; fewer checks or pieces than what is
        taken out.

    Notes
    -----
    A life with fewer than 3 checks loses only its mean. Every slope, and every life after the first, costs one degree
    of freedom of Pp, Ppk and their intervals; Cp and Cpk come from within the checks and are not touched.

    References
    ----------
    Own derivation, for model C3 of ISO 22514-2 (from memory).

    Examples
    --------
    >>> checks = [[10.00, 10.02], [10.11, 10.09], [10.20, 10.21], [10.00, 10.02], [10.09, 10.11], [10.20, 10.22]]
    >>> found = detrended_capability(checks, lower=9.5, upper=10.8, lives=["1", "1", "1", "2", "2", "2"])
    >>> [round(life.trend.slope, 3) for life in found.lives], found.trend_share > 0.97
    ([0.098, 0.1], True)
    >>> found.says
    'Taken out: the lines of 2 die lives.'
    """
    check_tolerance(lower, upper, target)
    summaries = summarise_subgroups(subgroups, least_subgroups=_LEAST_CHECKS, chart="a trend")
    places = _places(at, len(summaries.sizes))
    labels = _labels(lives, len(summaries.sizes))
    flat = [list(check) for check in summaries.readings]
    found = []
    for label in dict.fromkeys(labels):
        of_life = [number for number, each in enumerate(labels) if each == label]
        found.append(_take_out(label, of_life, summaries, places, flat, confidence))
    taken = len(found) - 1 + sum(life.trend is not None for life in found)
    _want_something_left(flat, summaries, taken)
    tolerance = (lower, upper, target)
    without = capability_of(
        summarise_subgroups(flat, chart="capability"), tolerance, confidence, sigma_from, taken
    )
    return DetrendedCapability(
        lives=tuple(found),
        trend_share=max(0.0, 1.0 - (without.sigma_overall / summaries.overall_sd) ** 2),
        capability=without,
        n=summaries.pieces,
        subgroups=len(summaries.sizes),
        level=confidence,
        method="slope of the check means of each life and its level taken out, mean of all pieces kept",
        says=_says(found, lives is not None),
    )


def _places(at: Sequence[float] | None, checks: int) -> list[float]:
    if at is None:
        return [float(number) for number in range(1, checks + 1)]
    if len(at) != checks:
        raise Refused.one(
            "every check wants its place in time",
            value=f"{len(at)} for {checks} checks",
            allowed="one a check",
        )
    return [float(each) for each in sound_readings(at, asks="the place of a check in time", differ=False)]


def _labels(lives: Sequence[str] | None, checks: int) -> list[str]:
    if lives is None:
        return [""] * checks
    if len(lives) != checks:
        raise Refused.one(
            "every check wants its die life", value=f"{len(lives)} for {checks} checks", allowed="one a check"
        )
    missing = [number for number, life in enumerate(lives, start=1) if not str(life).strip()]
    if missing:
        do = "Leave out checks whose die life is not known"
        raise Refused([Refusal("the die life is missing", column=f"check {each}", do=do) for each in missing])
    return [str(life) for life in lives]


def _take_out(
    label: str,
    of_life: list[int],
    summaries: SubgroupSummaries,
    places: list[float],
    flat: list[list[float]],
    confidence: float,
) -> LifeTakenOut:
    """Take the line of one life (or its level) out of `flat`, and give it the mean of all pieces."""
    x = [places[number] for number in of_life]
    sizes = [summaries.sizes[number] for number in of_life]
    n = sum(sizes)
    middle = fsum(a * size for a, size in zip(x, sizes, strict=True)) / n
    mean = fsum(value for number in of_life for value in summaries.readings[number]) / n
    trend = None
    if len(of_life) >= _LEAST_CHECKS and (not label or max(x) > min(x)):
        trend = trend_line(x, [summaries.means[number] for number in of_life], confidence)
    slope = 0.0 if trend is None else trend.slope
    for number, a in zip(of_life, x, strict=True):
        shift = slope * (a - middle) + mean - summaries.mean
        flat[number] = [value - shift for value in flat[number]]
    return LifeTakenOut(label, len(of_life), n, mean, trend)


def _want_something_left(flat: list[list[float]], summaries: SubgroupSummaries, taken: int) -> None:
    """Rounding leaves crumbs where every life was fitted exactly: they are no spread."""
    crumbs = 1e-12 * max(abs(value) for check in summaries.readings for value in check)
    every = [value for check in flat for value in check]
    if summaries.pieces - 1 - taken < 1 or max(every) - min(every) <= crumbs:
        raise Refused.one(
            "nothing is left once every line and level is taken out",
            value=f"{summaries.pieces} pieces, {taken + 1} numbers taken out",
            do="Gauge more checks in each die life, or 2 or more pieces a check",
        )


def _says(found: list[LifeTakenOut], named: bool) -> str:
    if not named:
        return "Taken out: one straight line through all checks."
    lines = sum(life.trend is not None for life in found)
    short = len(found) - lines
    said = []
    if lines:
        said.append("the line of 1 die life" if lines == 1 else f"the lines of {lines} die lives")
    if short:
        whose = "1 die life" if short == 1 else f"{short} die lives"
        its = "its level" if short == 1 else "the level of each"
        said.append(f"from {whose} with fewer than {_LEAST_CHECKS} checks only {its}")
    return f"Taken out: {'; '.join(said)}."
