"""The review as JSON for other programs: the same words as the one-off answers of the command line."""

import json
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from spc.reports.capability_plain import capability_plain
from spc.reports.comparison_part import comparison_plain
from spc.shop.plain import to_plain
from spc.station import CharacteristicReview, Review

__all__ = ["review_json"]

_OWN = ("plan", "characteristics", "duty", "verdicts", "purposes", "struck_out", "compared")


def review_json(reviews: Sequence[Review]) -> str:
    """Return reviews as JSON text, times in UTC, sizes in the plan's unit."""
    return json.dumps({"reviews": [_review(each) for each in reviews]}, ensure_ascii=False, indent=1) + "\n"


def _review(review: Review) -> dict[str, Any]:
    plain = to_plain(replace(review, characteristics=()))
    duty = plain["duty"]
    counts = {word.replace(" ", "_"): review.duty.count(word) for word in ("in time", "late", "missed")}
    struck = [
        {"time": time.isoformat(), "reason": reason, "by": by} for time, reason, by in review.struck_out
    ]
    return {
        "part": review.plan.part,
        "description": review.plan.description,
        "zone": review.plan.zone,
        **{key: value for key, value in plain.items() if key not in _OWN},
        "purposes": dict(review.purposes),
        "verdicts": dict(review.verdicts),
        "struck_out": struck,
        "checks_due": {
            "due": len(review.duty.due),
            **counts,
            **{k: v for k, v in duty.items() if k != "due"},
        },
        "due_checks": duty["due"],
        "characteristics": [_characteristic(each) for each in review.characteristics],
        "comparisons": comparison_plain(review),
    }


def _characteristic(one: CharacteristicReview) -> dict[str, Any]:
    plain = to_plain(replace(one, capability=None))
    characteristic = plain["characteristic"]
    return {
        "characteristic": one.characteristic.name,
        **{key: characteristic[key] for key in ("kind", "form", "unit", "nominal", "tolerance", "target")},
        **{
            key: value
            for key, value in plain.items()
            if key not in ("characteristic", "history", "other_checks", "capability")
        },
        **capability_plain(one.capability),
        "other_checks": [
            {"purpose": purpose, "checks": checks, "pieces": pieces}
            for purpose, checks, pieces in one.other_checks
        ],
        "points": plain["history"]["points"],
    }
