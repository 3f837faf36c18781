"""How a process behaves over time: the models A1 to D, recognised from checks, with the reason."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

from spc.errors import Refused
from spc.shop.layouts import KINDS, MAGNITUDES
from spc.statistics.autocorrelation import Lag1, lag1_autocorrelation
from spc.statistics.between_checks import BetweenChecks, between_checks
from spc.statistics.chance_laws import f_tail
from spc.statistics.normality import NormalityTest, anderson_darling
from spc.statistics.readings import sound_readings
from spc.statistics.rises_and_falls import RisesAndFalls, rises_and_falls
from spc.statistics.shapes_untold import shapes_untold
from spc.statistics.spread_change import SpreadChange, spread_change, within_residuals
from spc.statistics.subgroups import SubgroupSummaries, summarise_subgroups
from spc.statistics.time_model_words import reason, words_for
from spc.statistics.trend_line import TrendLine, trend_line

__all__ = ["TimeModel", "time_model"]

_LEAST_CHECKS = 8
_MILD = 0.05
"""Bound for putting the honest interval first: a missed drift costs more than a wider interval."""


@dataclass(frozen=True, slots=True)
class TimeModel:
    """A time-dependent distribution model and the evidence for it.

    Attributes
    ----------
    model : str
        ``A1``, ``A2``, ``B``, ``C1``, ``C2``, ``C3``, ``C4`` or ``D``.
    location : str
        ``constant``, ``random``, ``systematic`` or ``systematic and random``.
    spread : str
        ``constant`` or ``changes``.
    short_time_normal, means_normal, total_normal : bool
        Whether pieces within checks, check means and all pieces together can be normal.
    near_zero : bool
        The kind cannot go below 0 and the mean lies within three standard deviations of it: no normal shape.
    shapes_untold : tuple of str
        Words of other shapes within checks that so few pieces could not tell from the normal one.
    words : str
        ``capability`` for a stable process, else ``performance``.
    honest_first : bool
        Neighbouring checks resemble each other or drift, so the interval that knows checks stands first.
    between : BetweenChecks
        Spread between and within checks.
    trend : TrendLine
        Of check means over check number.
    trend_left_p : float
        Chance of the scatter of check means about that line if only pieces scattered.
    lag1 : Lag1
        Of the check means about that line where there is one, else about their mean.
    rises : RisesAndFalls
        Steps from check mean to check mean, up against down.
    spread_test : SpreadChange
        Test of a constant spread.
    within_normality, total_normality : NormalityTest
        Of deviations within checks, and of all pieces.
    alpha : float
        Chance below which each test counts.
    n, subgroups : int
        Pieces and checks.
    """

    model: str
    location: str
    spread: str
    short_time_normal: bool
    means_normal: bool
    total_normal: bool
    near_zero: bool
    shapes_untold: tuple[str, ...]
    words: str
    honest_first: bool
    between: BetweenChecks
    trend: TrendLine
    trend_left_p: float
    lag1: Lag1
    rises: RisesAndFalls
    spread_test: SpreadChange
    within_normality: NormalityTest
    total_normality: NormalityTest
    alpha: float
    n: int
    subgroups: int

    @property
    def reason(self) -> str:
        """The model, what the tests saw and what they could not have seen, for a person."""
        return reason(self)


def time_model(
    subgroups: Sequence[Sequence[float]],
    *,
    seed: int,
    alpha: float = 0.01,
    draws: int = 499,
    kind: str = "",
) -> TimeModel:
    """Recognise how a process behaves over time, before its indices are named capability or performance.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings, oldest first, 8 or more subgroups of 2 or more pieces; 25 are customary.
    seed, draws : int
        Of the shuffles in the test of spread.
    alpha : float
        Chance below which each single test counts, between 0 and 0.5.
    kind : str
        Kind of the characteristic as in the plan; one that cannot go below 0 is not normal near it, whatever the
        test says.

    Returns
    -------
    TimeModel
        The simplest model that the tests do not contradict; few checks contradict little.

    Raises
    ------
    Refused
        Too few checks, single pieces, alpha out of range, missing or equal readings, or those that a kind cannot have.

    Notes
    -----
    A location that moves systematically shows a slope over the checks, neighbours that resemble each other, or
    more steps one way than the other (wear with resets);
    one that moves at random shows more scatter between checks than pieces explain. A random location with pieces
    that are not normal within a check is called C4, the only such model that allows them. Honest intervals come
    first where slope or neighbours pass the milder bound of 5 %.

    References
    ----------
    ISO 22514-2; earlier ISO 21747:2006 and DIN 55319 (from memory).

    Examples
    --------
    >>> import numpy as np
    >>> pieces = np.random.default_rng(1).normal(0.0, 1.0, (25, 5)) + 0.3 * np.arange(25)[:, None]
    >>> found = time_model(pieces.tolist(), seed=1)
    >>> found.model, found.words, found.honest_first
    ('C3', 'performance', True)
    """
    summaries = _checked(subgroups, alpha, kind)
    near_zero = kind in MAGNITUDES and summaries.mean < 3.0 * summaries.overall_sd
    between = between_checks(subgroups)
    level = _level(summaries, between, alpha)
    spread = spread_change(subgroups, seed=seed, draws=draws)
    within, total = _normality(summaries)
    normal = _normal(within, alpha) and not near_zero
    changes = min(spread.p, spread.trend_p) < alpha / 2.0  # two tests share alpha
    model = _model(level.location, changes, normal, level.means_normal)
    return TimeModel(
        model=model,
        location=level.location,
        spread="changes" if changes else "constant",
        short_time_normal=normal,
        means_normal=level.means_normal,
        total_normal=_normal(total, alpha) and not near_zero,
        near_zero=near_zero,
        shapes_untold=shapes_untold(summaries.sizes, alpha, seed=seed) if normal else (),
        words=words_for(model),
        honest_first=level.honest_first,
        between=between,
        trend=level.trend,
        trend_left_p=level.left_p,
        lag1=level.lag1,
        rises=level.rises,
        spread_test=spread,
        within_normality=within,
        total_normality=total,
        alpha=alpha,
        n=summaries.pieces,
        subgroups=len(summaries.sizes),
    )


class _Level(NamedTuple):
    """What the check means show."""

    trend: TrendLine
    left_p: float
    lag1: Lag1
    rises: RisesAndFalls
    means_normal: bool
    location: str
    honest_first: bool


def _level(summaries: SubgroupSummaries, between: BetweenChecks, alpha: float) -> _Level:
    trend = trend_line(range(1, len(summaries.sizes) + 1), summaries.means)
    off = _about_the_line(summaries, trend)
    left_p = _left_p(summaries, off, between)
    lag1, mild = (_lag1(summaries, off, trend, each) for each in (alpha, _MILD))
    rises = rises_and_falls(summaries.means)
    return _Level(
        trend=trend,
        left_p=left_p,
        lag1=lag1,
        rises=rises,
        means_normal=max(off) == min(off) or _normal(anderson_darling(off), alpha),
        location=_location(trend, lag1, rises, between, left_p, alpha),
        honest_first=min(trend.p, rises.p) < _MILD or mild.related,
    )


def _checked(subgroups: Sequence[Sequence[float]], alpha: float, kind: str) -> SubgroupSummaries:
    if kind and kind not in KINDS:
        raise Refused.one("no such kind of characteristic", value=kind, allowed=", ".join(KINDS))
    if not 0.0 < alpha < 0.5:
        raise Refused.one("alpha is out of range", value=str(alpha), allowed="between 0 and 0.5")
    summaries = summarise_subgroups(
        subgroups, least_subgroups=_LEAST_CHECKS, least_pieces=2, chart="a model over time"
    )
    if max(summaries.means) == min(summaries.means):
        raise Refused.one(
            "every check has the same mean, which no process does",
            value=f"{summaries.means[0]:g}",
            do="Read the gauge to a finer step",
        )
    if kind in MAGNITUDES:
        sound_readings(summaries.all_readings, asks=f"the kind {kind.replace('_', ' ')}", at_least=0.0)
    return summaries


def _normality(summaries: SubgroupSummaries) -> tuple[NormalityTest, NormalityTest]:
    """Tests of the deviations within checks, and of all pieces."""
    within = anderson_darling(within_residuals(summaries).tolist())
    return within, anderson_darling(summaries.all_readings)


def _normal(test: NormalityTest, alpha: float) -> bool:
    return test.p is None or test.p >= alpha


def _about_the_line(summaries: SubgroupSummaries, trend: TrendLine) -> list[float]:
    return [mean - trend.at(number) for number, mean in enumerate(summaries.means, start=1)]


def _left_p(summaries: SubgroupSummaries, off: list[float], between: BetweenChecks) -> float:
    """Chance of the scatter of check means about the line if they scattered only as their pieces do."""
    squares = sum(size * each**2 for size, each in zip(summaries.sizes, off, strict=True))
    freedom = len(off) - 2
    ratio = squares / freedom / between.within_mean_square if between.within_mean_square > 0.0 else inf
    return f_tail(ratio, freedom, between.within_freedom)


def _lag1(summaries: SubgroupSummaries, off: list[float], trend: TrendLine, alpha: float) -> Lag1:
    """Neighbours about the line where a line is there, so that a trend is not counted twice."""
    points = off if trend.p < alpha else list(summaries.means)
    if max(points) - min(points) <= 1e-12 * (abs(summaries.mean) + 1e-300):
        points = list(summaries.means)
    return lag1_autocorrelation(points, 1.0 - alpha)


def _location(
    trend: TrendLine,
    lag1: Lag1,
    rises: RisesAndFalls,
    between: BetweenChecks,
    left_p: float,
    alpha: float,
) -> str:
    slope = trend.p < alpha
    systematic = slope or rises.p < alpha or (lag1.related and lag1.r > 0.0)
    if not systematic:
        return "random" if between.p < alpha else "constant"
    # neighbours that resemble each other without a slope are one movement, not two
    return "systematic and random" if slope and left_p < alpha else "systematic"


def _model(location: str, spread_changes: bool, within_normal: bool, means_normal: bool) -> str:
    if spread_changes:
        return "B" if location == "constant" else "D"
    if location == "constant":
        return "A1" if within_normal else "A2"
    if location == "systematic and random" or not within_normal:
        return "C4"
    if location == "systematic":
        return "C3"
    return "C1" if means_normal else "C2"
