"""The models A1 to D in words, and the sentence that gives the reason for one."""

from spc.statistics.autocorrelation import Lag1
from spc.statistics.between_checks import BetweenChecks
from spc.statistics.normality import NormalityTest
from spc.statistics.rises_and_falls import RisesAndFalls
from spc.statistics.spread_change import SpreadChange
from spc.statistics.trend_line import TrendLine

__all__ = ["MEANINGS", "reason", "words_for"]

MEANINGS = {
    "A1": "level and spread stand still and pieces are normal",
    "A2": "level and spread stand still, pieces are not normal",
    "B": "the level stands still, the spread changes",
    "C1": "the level wanders at random like normal numbers, the spread stands still",
    "C2": "the level wanders at random but not like normal numbers, the spread stands still",
    "C3": "the level moves in a system (wear, drift, cycle), the spread stands still",
    "C4": "the level moves in a system and at random, or pieces within a check are not normal as well",
    "D": "level and spread both change",
}
"""What each model means; contents of ISO 22514-2 from memory."""


def words_for(model: str) -> str:
    """Word for the indices of a model: a process that does not stand still has no capability, only performance.

    Examples
    --------
    >>> words_for("A1"), words_for("C3")
    ('capability', 'performance')
    """
    return "capability" if model in ("A1", "A2") else "performance"


def reason(
    model: str,
    location: str,
    between: BetweenChecks,
    trend: TrendLine,
    lag1: Lag1,
    rises: RisesAndFalls,
    spread: SpreadChange,
    within: NormalityTest,
    alpha: float,
) -> str:
    """Say the model, what the tests saw, and what the indices are called."""
    said = [f"{model}: {MEANINGS[model]}."]
    said.append(_level(location, between, trend, lag1, rises, alpha))
    p = min(spread.p, spread.trend_p)
    said.append(
        f"Spread within checks: {'changes' if model in ('B', 'D') else 'no change told'} (p = {p:.2g})."
    )
    if within.p is not None:
        said.append(f"Pieces within checks against a normal distribution: p = {within.p:.2g}.")
    if words_for(model) == "performance":
        said.append("Indices are performance, not a promise for the next pieces.")
    return " ".join(said)


def _level(
    location: str,
    between: BetweenChecks,
    trend: TrendLine,
    lag1: Lag1,
    rises: RisesAndFalls,
    alpha: float,
) -> str:
    if location == "constant":
        return f"Level: no more scatter between {between.subgroups} checks than pieces explain (p = {between.p:.2g})."
    if location == "random":
        return (
            f"Level: checks differ by sigma {between.sigma_between:.3g} beyond what pieces explain "
            f"(p = {between.p:.2g}), without order."
        )
    saw = []
    if trend.p < alpha:
        saw.append(f"slope {trend.slope:.3g} a check (p = {trend.p:.2g})")
    if location == "systematic and random":
        saw.append("checks scatter about it more than pieces explain")
    if rises.p < alpha:
        saw.append(f"{rises.rises} steps up against {rises.falls} down (p = {rises.p:.2g})")
    if lag1.related and lag1.r > 0.0:
        saw.append(f"neighbouring checks resemble each other (correlation {lag1.r:.2f})")
    return f"Level: {', '.join(saw)}."
