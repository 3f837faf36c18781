"""The models A1 to D in words, and the sentence that gives the reason for one."""

from typing import TYPE_CHECKING

from spc.statistics.distribution_words import distribution_words

if TYPE_CHECKING:
    from spc.statistics.time_model import TimeModel

__all__ = ["MEANINGS", "reason", "words_for"]

MEANINGS = {
    "A1": "level and spread stand still, and nothing here contradicts the normal shape",
    "A2": "level and spread stand still, pieces are not normal",
    "B": "the level stands still, the spread changes",
    "C1": "the level wanders at random, its shape not against the normal one, the spread stands still",
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


def reason(found: "TimeModel") -> str:
    """Say the model, what the tests saw, what they could not have seen, and what the indices are called."""
    said = [f"{found.model}: {MEANINGS[found.model]}.", _level(found)]
    p = min(found.spread_test.p, found.spread_test.trend_p)
    spread = "changes" if found.model in ("B", "D") else "no change told"
    said += [f"Spread within checks: {spread} (p = {p:.2g}).", _shape(found)]
    if found.words == "performance":
        said.append("Indices are performance, not a promise for the next pieces.")
    return " ".join(each for each in said if each)


def _shape(found: "TimeModel") -> str:
    p = found.within_normality.p
    against = "" if p is None else f" (p = {p:.2g})"
    if found.near_zero:
        return f"Pieces cannot go below 0 and lie near it: their shape is not normal, whatever the test says{against}."
    if not found.short_time_normal:
        return f"Pieces within checks contradict the normal shape{against}."
    said = f"Pieces within checks: nothing contradicts the normal shape{against}"
    if not found.shapes_untold:
        return f"{said}."
    shapes = " or ".join(distribution_words(each) for each in found.shapes_untold)
    return f"{said}; with {found.n:,} pieces a {shapes} shape could not be told apart."


def _level(found: "TimeModel") -> str:
    between = found.between
    if found.location == "constant":
        return f"Level: no more scatter between {between.subgroups} checks than pieces explain (p = {between.p:.2g})."
    if found.location == "random":
        return (
            f"Level: checks differ by sigma {between.sigma_between:.3g} beyond what pieces explain "
            f"(p = {between.p:.2g}), without order."
        )
    trend, lag1, rises = found.trend, found.lag1, found.rises
    saw = []
    if trend.p < found.alpha:
        saw.append(f"slope {trend.slope:.3g} a check (p = {trend.p:.2g})")
    if found.location == "systematic and random":
        saw.append("checks scatter about it more than pieces explain")
    if rises.p < found.alpha:
        saw.append(f"{rises.rises} steps up against {rises.falls} down (p = {rises.p:.2g})")
    if lag1.related and lag1.r > 0.0:
        saw.append(f"neighbouring checks resemble each other (correlation {lag1.r:.2f})")
    return f"Level: {', '.join(saw)}."
