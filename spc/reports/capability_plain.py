"""What a review found of capability, for other programs: numbers and words, without the readings again."""

from typing import Any

from spc.shop.plain import to_plain
from spc.statistics import ModelCapability

__all__ = ["capability_plain"]

_AS_THEY_ARE = (
    "n", "subgroups", "level", "why", "words", "honest_first", "percentiles", "within_normality", "total_normality",
)  # fmt: skip


def capability_plain(found: ModelCapability | None) -> dict[str, Any]:
    """Return the entries of a review's JSON that speak of capability.

    Parameters
    ----------
    found : ModelCapability or None
        None with too few pieces.

    Returns
    -------
    dict
        `capability` (indices of the normal model with textbook intervals), `honest` (with the interval by checks), and
        `model` (the distribution, how the process moved over time, and the indices from its quantiles).
    """
    if found is None:
        return {"capability": None, "honest": None, "model": None}
    return {
        "capability": None if found.plain is None else to_plain(found.plain),
        "honest": None if found.honest is None else to_plain(found.honest),
        "model": {
            "name": found.model.name,
            "parameters": dict(found.model.parameters),
            "fit": None if found.fit is None else to_plain(found.fit),
            **{key: to_plain(getattr(found, key)) for key in _AS_THEY_ARE},
            "over_time": _over_time(found),
            "order": None if found.order is None else to_plain(found.order),
            "warnings": list(found.warnings),
        },
    }


def _over_time(found: ModelCapability) -> dict[str, Any] | None:
    seen = found.over_time
    if seen is None:
        return None
    return {"model": seen.model, "location": seen.location, "spread": seen.spread, "reason": seen.reason}
