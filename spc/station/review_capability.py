"""Capability in a review: only from enough hourly pieces, with honest intervals, and the plan's demand answered."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from spc.errors import Refused
from spc.shop import Characteristic
from spc.shop.layouts import MAGNITUDES
from spc.station.review_records import Requirement
from spc.statistics import (
    Capability,
    HonestCapability,
    NormalityTest,
    anderson_darling,
    capability,
    honest_capability,
)

__all__ = ["LEAST_CHECKS", "LEAST_PIECES", "CapabilityFound", "capability_found"]

LEAST_PIECES = 25
LEAST_CHECKS = 10
"""Below these an interval is so wide that an index misleads (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class CapabilityFound:
    """The indices where there are enough pieces, else the sentence why not; and the demand's answer."""

    plain: Capability | None
    honest: HonestCapability | None
    normality: NormalityTest | None
    remark: str
    requirement: Requirement | None


def capability_found(characteristic: Characteristic, subgroups: Sequence[Sequence[float]]) -> CapabilityFound:
    """Return what the hourly pieces of a period say the process can hold.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Hourly pieces that stand and are believed, plan's unit, oldest check first.
    """
    pieces = sum(len(group) for group in subgroups)
    if pieces < LEAST_PIECES or len(subgroups) < LEAST_CHECKS:
        says = (
            f"No capability: {pieces} hourly pieces from {len(subgroups)} checks; "
            f"at least {LEAST_PIECES} pieces from {LEAST_CHECKS} checks are needed."
        )
        return CapabilityFound(None, None, None, says, _too_few(characteristic, pieces))
    lower, upper = _limits(characteristic)
    target = None if characteristic.target is None else float(characteristic.target)
    try:
        plain = capability(subgroups, lower, upper, target)
        honest = honest_capability(subgroups, lower, upper, target)
    except Refused as refused:
        return CapabilityFound(
            None, None, None, f"No capability: {refused}", _too_few(characteristic, pieces)
        )
    normality = anderson_darling([value for group in subgroups for value in group])
    steady = _is_steady(plain, subgroups)
    judged_on = "Cpk" if steady and characteristic.judged_by == "fixed" else "Ppk"
    return CapabilityFound(
        plain,
        honest,
        normality,
        _remark(characteristic, steady),
        _answer(characteristic, honest, judged_on),
    )


def _limits(characteristic: Characteristic) -> tuple[float | None, float | None]:
    tolerance = characteristic.tolerance
    lower = None if tolerance.lower is None else float(tolerance.lower)
    upper = None if tolerance.upper is None else float(tolerance.upper)
    return lower, upper


def _is_steady(plain: Capability, subgroups: Sequence[Sequence[float]]) -> bool:
    """Whether every check's mean lies inside the limits that all of them give together."""
    return all(
        abs(sum(group) / len(group) - plain.mean) <= 3.0 * plain.sigma_within / sqrt(len(group))
        for group in subgroups
    )


def _remark(characteristic: Characteristic, steady: bool) -> str:
    said = []
    if characteristic.judged_by == "with_die_wear":
        said.append(
            "The size follows the die: Ppk counts the trend and the slide moves in, Cpk leaves them out and "
            "says only what one moment could hold."
        )
    elif not steady:
        said.append("Checks lie beyond their common limits: only Ppk says what was delivered.")
    if characteristic.kind in MAGNITUDES:
        said.append("A size that cannot go below 0 is not normal: take these indices as a first look only.")
    return " ".join(said)


def _answer(characteristic: Characteristic, honest: HonestCapability, judged_on: str) -> Requirement | None:
    minimum = characteristic.minimum_cpk
    if minimum is None:
        return None
    index = honest.cpk if judged_on == "Cpk" else honest.ppk
    answer = "too few pieces to tell"
    if index.low >= minimum:
        answer = "shown"
    elif index.estimate < minimum:
        answer = "not shown"
    return Requirement(minimum, judged_on, index.estimate, index.low, honest.n, honest.level, answer)


def _too_few(characteristic: Characteristic, pieces: int) -> Requirement | None:
    if characteristic.minimum_cpk is None:
        return None
    return Requirement(characteristic.minimum_cpk, "Cpk", None, None, pieces, 0.95, "too few pieces to tell")
