"""The comparisons a review brings along unasked: shifts and machines, held together against chance."""

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from spc.shop import Plan
from spc.shop.names import shop_name
from spc.station.compare import Scope, compare_read, read_scope
from spc.station.compare_groupings import GROUPINGS, SETTING
from spc.station.compare_records import Comparison, ReviewComparisons
from spc.statistics.holm import holm
from spc.store import Shelf

__all__ = ["review_comparisons"]

LEAST_CHECKS: Final = 3
"""Hourly checks that each of two groups needs before a review compares them unasked."""

RISK: Final = 0.05
"""Of a single false find among all comparisons of one review."""


def review_comparisons(
    shelf: Shelf, plan: Plan, machine: str, from_time: datetime, to_time: datetime
) -> ReviewComparisons:
    """Compare shifts of this machine, and the machines of the part, for the quality lead's paper.

    Parameters
    ----------
    from_time, to_time : datetime
        Aware; from and before. All shifts are taken, also where the review is of one.

    Notes
    -----
    Several comparisons on one page find something by chance alone: each p, which counts in the pairs of its own
    comparison already, is adjusted by Holm for the number of comparisons.
    """
    here = read_scope(shelf, plan, machine, from_time, to_time)
    made = _made(here, "shift") if len(plan.shifts) > 1 else []
    if len(shelf.machines_of(plan.part)) > 1:
        made += _made(read_scope(shelf, plan, None, from_time, to_time), "machine")
    chances = holm([each.chance for each in made])
    settings = tuple(f"{SETTING}{name}" for name in here.log.settings())
    return ReviewComparisons(tuple(made), chances, _summed(made, chances), (*GROUPINGS, *settings))


def _made(scope: Scope, by: str) -> list[Comparison]:
    found = [compare_read(scope, characteristic, by) for characteristic in scope.plan.gauged]
    return [
        each
        for each in found
        if each.found is not None and sum(checks >= LEAST_CHECKS for _, _, checks in each.groups) > 1
    ]


def _summed(made: Sequence[Comparison], chances: Sequence[float]) -> str:
    """Say how much of it is more than chance, in one or two sentences."""
    if not made:
        return ""
    held = [each for each, p in zip(made, chances, strict=True) if p <= RISK]
    alone = [each for each, p in zip(made, chances, strict=True) if p > RISK and each.chance <= RISK]
    count = "One comparison was" if len(made) == 1 else f"{len(made)} comparisons were"
    said = f"{count} made; "
    if not held:
        said += "nothing here is more than noise"
    else:
        said += f"more than noise: {', '.join(_named(each) for each in held)}"
    said += ", all of them held against chance together (Holm, 5 %)." if len(made) > 1 else " (5 %)."
    if alone:
        said += f" Alone it would have counted, among so many it does not: {', '.join(_named(each) for each in alone)}."
    return said


def _named(one: Comparison) -> str:
    return f"{shop_name(one.characteristic.name)} between {'shifts' if one.by == 'shift' else 'machines'}"
