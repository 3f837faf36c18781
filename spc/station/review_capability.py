"""Capability in a review: by the model that suits, with honest intervals, and the plan's demand answered."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from spc.errors import Refused
from spc.shop import Characteristic
from spc.station.answering_index import answering_index, answering_now
from spc.station.review_indices import index_of
from spc.station.review_records import Requirement
from spc.station.review_trend import WithoutTrend, without_trend
from spc.station.views import CheckPoint
from spc.statistics import ModelCapability, model_capability, requirement

__all__ = ["LEAST_CHECKS", "LEAST_PIECES", "CapabilityFound", "capability_found"]

LEAST_PIECES = 25
LEAST_CHECKS = 10
"""Below these an interval is so wide that an index misleads (common practice, no source)."""
_TOO_FEW = "too few pieces to tell"
_LEVEL = 0.95


@dataclass(frozen=True, slots=True)
class CapabilityFound:
    """The indices where there are enough pieces, else the sentence why not; and the demand's answer.

    Attributes
    ----------
    without_trend : WithoutTrend or None
        What the process could do if the slide followed the wear; None where nothing wears.
    """

    model: ModelCapability | None
    without_trend: WithoutTrend | None
    remark: str
    requirement: Requirement | None


def capability_found(characteristic: Characteristic, points: Sequence[CheckPoint]) -> CapabilityFound:
    """Return what the hourly pieces of a period say the process can hold.

    Parameters
    ----------
    points : sequence of CheckPoint
        Hourly checks that stand and are believed, oldest first.
    """
    counted = [point for point in points if point.values]
    pieces = sum(len(point.values) for point in counted)
    if pieces < LEAST_PIECES or len(counted) < LEAST_CHECKS:
        says = (
            f"No index yet: {pieces} hourly pieces from {len(counted)} checks. "
            f"It takes {LEAST_PIECES} pieces from {LEAST_CHECKS} checks."
        )
        return CapabilityFound(None, None, says, _unanswered(characteristic, pieces))
    lower, upper = characteristic.tolerance.lower, characteristic.tolerance.upper
    try:
        model = _model(
            tuple(point.values for point in counted),
            None if lower is None else float(lower),
            None if upper is None else float(upper),
            None if characteristic.target is None else float(characteristic.target),
            characteristic.kind,
        )
    except Refused as refused:
        return CapabilityFound(None, None, f"No index: {refused}", _unanswered(characteristic, pieces))
    trend = without_trend(characteristic, counted) if characteristic.judged_by == "with_die_wear" else None
    return CapabilityFound(model, trend, "", _answer(characteristic, model))


@lru_cache(maxsize=128)
def _model(
    subgroups: tuple[tuple[float, ...], ...],
    lower: float | None,
    upper: float | None,
    target: float | None,
    kind: str,
) -> ModelCapability:
    """Keep what was computed: a folded normal model takes seconds, and a page asks again at every touch."""
    return model_capability(subgroups, lower, upper, target, kind=kind, confidence=_LEVEL)


def _answer(characteristic: Characteristic, found: ModelCapability) -> Requirement | None:
    minimum = characteristic.minimum_cpk
    if minimum is None:
        return None
    steady = found.words == "capability" and found.plain is not None
    word, why = answering_now(characteristic, steady=steady)
    index = index_of(found, word)
    answer = requirement(index, minimum, word).answer
    return Requirement(
        minimum, word, index.estimate, index.low, index.high, index.n, index.level, answer, why
    )


def _unanswered(characteristic: Characteristic, pieces: int) -> Requirement | None:
    if characteristic.minimum_cpk is None:
        return None
    word, why = answering_index(characteristic)
    return Requirement(characteristic.minimum_cpk, word, None, None, None, pieces, _LEVEL, _TOO_FEW, why)
