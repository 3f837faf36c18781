"""Shifts, machines, dies, settings, gauges, bar batches or people compared: whether one makes other sizes."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from spc.errors import Refused
from spc.shop import Characteristic, Plan
from spc.station.compare_basis import Basis, as_gauged, basis_of, basis_words, worth_of
from spc.station.compare_groupings import GROUPINGS, SETTING, FloorLog
from spc.station.compare_masters import found_on_master
from spc.station.compare_records import ComparedBy, Comparison
from spc.station.compare_words import (
    counted_as,
    group_said,
    groups_called,
    nothing_to_compare,
    what_is_in_it,
)
from spc.station.compared_checks import CheckRead, ComparedCheck, compared_checks, read_checks
from spc.statistics import GroupComparison, compare_groups, comparison_in_words
from spc.statistics.cautious_comparison import cautious_comparison
from spc.statistics.group_neighbours import GroupNeighbours, group_neighbours
from spc.store import Shelf

__all__ = ["Comparison", "Scope", "compare", "compare_read", "read_scope"]

LEAST_UNITS: Final = 2
"""Shifts worked, or die lives, that a group needs: the checks of one alone say nothing about the next."""

MASTER_STEP_UM: Final = 0.1
"""To which a gauge's error on its master is written down; equal values are no surer than that."""

UNLIKE_SPREADS: Final = 0.01
"""Brown-Forsythe's p below which every group keeps a spread of its own (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Scope:
    """Checks and events that several comparisons share, read once."""

    plan: Plan
    machine: str | None
    from_time: datetime | None
    to_time: datetime | None
    read: Sequence[CheckRead]
    log: FloorLog


def compare(
    shelf: Shelf,
    plan: Plan,
    machine: str | None,
    characteristic: str,
    by: ComparedBy,
    from_time: datetime | None = None,
    to_time: datetime | None = None,
) -> Comparison:
    """Compare the sizes of a part between shifts, machines, dies, settings, gauges, bar batches or people.

    Parameters
    ----------
    machine : str or None
        None for all machines of the part.
    characteristic : str
        A gauged one, as the plan writes it.
    by : str
        One of `GROUPINGS`, or "setting:" and a name that `setting` events carry.
    from_time, to_time : datetime or None
        Aware; from and before.

    Raises
    ------
    Refused
        A characteristic that the plan doesn't gauge, or another grouping.

    Notes
    -----
    Checks count, never pieces: each check mean counts once, nested in the shift worked on one machine (for regrinds
    and designs: in the die life), as neighbouring checks share slide, dies and bars. Where these in turn resemble
    the ones before, intervals are widened. Groups whose spreads differ keep their own (Games-Howell).

    Machines, die sets, regrinds and designs are compared as gauged: that is what is delivered. Where a size follows
    the die, all that changes within a die life is compared by the distance from its line, slide moves taken out:
    else the hour at which somebody moved the slide would stand in every difference.
    """
    wanted = _gauged(plan, characteristic)
    scope = read_scope(shelf, plan, machine, from_time, to_time)
    return compare_read(scope, wanted, by)


def read_scope(
    shelf: Shelf, plan: Plan, machine: str | None, from_time: datetime | None, to_time: datetime | None
) -> Scope:
    """Read what comparisons of one part in one period need."""
    read = read_checks(shelf, plan, machine, from_time, to_time)
    machines = list(dict.fromkeys(verdict.machine for verdict, _ in read))
    everywhere = [*machines, *(each.id for each in plan.machines)]
    return Scope(plan, machine, from_time, to_time, read, FloorLog(shelf, plan, everywhere))


def compare_read(scope: Scope, characteristic: Characteristic, by: ComparedBy) -> Comparison:
    """Compare what was read."""
    settings = [f"{SETTING}{name}" for name in scope.log.settings()]
    if by not in (*GROUPINGS, *settings):
        raise Refused.one(
            "nothing is compared by this", value=str(by), allowed=", ".join((*GROUPINGS, *settings))
        )
    checks = compared_checks(scope.plan, scope.log, scope.read, characteristic, by)
    kept = _enough(checks)
    groups = sorted({check.group for check in kept}, key=_in_order)
    found = _Compared(None, "", "", None, {})
    if len(groups) < 2:  # two to compare
        named = not checks or any(check.group for check in checks)
        found = _Compared(None, nothing_to_compare(by, len(groups), named=named), "", None, {})
    else:
        found = _compared(scope, characteristic, by, groups, kept)
    return _told(scope, characteristic, by, checks, kept, groups, found)


@dataclass(frozen=True, slots=True)
class _Compared:
    found: GroupComparison | None
    says: str
    basis_says: str
    basis: Basis | None
    masters: dict[str, list[float]]


def _gauged(plan: Plan, characteristic: str) -> Characteristic:
    for each in plan.gauged:
        if each.name == characteristic:
            return each
    raise Refused.one(
        "the plan gauges no such characteristic",
        value=characteristic,
        column="characteristic",
        allowed=", ".join(each.name for each in plan.gauged),
    )


def _enough(checks: Sequence[ComparedCheck]) -> list[ComparedCheck]:
    """Keep the checks of groups with enough shifts worked or die lives."""
    units: dict[str, set[tuple[object, ...]]] = {}
    for check in checks:
        units.setdefault(check.group, set()).add(check.unit)
    return [check for check in checks if check.group and len(units[check.group]) >= LEAST_UNITS]


def _in_order(name: str) -> list[tuple[int, float, str]]:
    """Names as people order them: D-9 before D-10."""
    return [
        (0, float(word), "") if word.replace(".", "", 1).isdigit() else (1, 0.0, word)
        for word in re.split(r"(\d+(?:\.\d+)?)", name)
        if word
    ]


def _compared(
    scope: Scope,
    characteristic: Characteristic,
    by: ComparedBy,
    groups: Sequence[str],
    checks: Sequence[ComparedCheck],
) -> _Compared:
    """Compare, or say why not."""
    basis = basis_of(characteristic, by, checks)
    masters = found_on_master(scope.log, checks, characteristic.name)
    try:
        if by == "batch" and basis.beside_wear and not _enough_beside(groups, checks, basis):
            basis = as_gauged(checks, "too little would be left beside a line for each die life")
        found, neighbours = _found(characteristic, by, groups, checks, basis, masters)
    except Refused as refused:
        why = refused.refusals[0]
        says = f"Nothing can be compared: {why.reason}. {why.do}".strip() + ("." if why.do else "")
        return _Compared(None, says, "", None, masters)
    several = by == "machine"
    on_master = (
        "on their masters the gauges differ by" if several else "the same master measured by both differs by"
    )
    says = comparison_in_words(found, counted=counted_as(by), called=groups_called(by), on_master=on_master)
    return _Compared(found, says, basis_words(basis, found, neighbours, by, len(checks)), basis, masters)


def _enough_beside(groups: Sequence[str], checks: Sequence[ComparedCheck], basis: Basis) -> bool:
    """Whether lines leave enough to tell batches by: half of what there was, and intervals less than doubled.

    Batches follow one another as mountings do, so lines can swallow them; as gauged they can still be told. All
    else changes under every mounting: taken as gauged, its difference would be that of the dies.
    """
    free = len({(check.group, check.unit) for check in checks}) - len(groups)
    return free - basis.spent >= max(3.0, free / 2.0) and basis.dearer <= 4.0


def _found(
    characteristic: Characteristic,
    by: ComparedBy,
    groups: Sequence[str],
    checks: Sequence[ComparedCheck],
    basis: Basis,
    masters: dict[str, list[float]],
) -> tuple[GroupComparison, GroupNeighbours]:
    units = _by_unit(groups, checks, basis.values_um)
    named = {group_said(by, name): list(units[name].values()) for name in groups}
    means = [[sum(unit) / len(unit) for unit in each] for each in named.values()]
    neighbours = group_neighbours(means)
    same = {group_said(by, name): masters[name] for name in groups if name in masters}
    unit = "thousandths of a degree" if characteristic.unit == "deg" else "µm"
    if unit != "µm":
        same = {}
    found = compare_groups(named, same_master=same, master_step=MASTER_STEP_UM, unit=unit)
    if found.spreads is not None and found.spreads.p < UNLIKE_SPREADS:
        found = compare_groups(
            named, spread="unequal", same_master=same, master_step=MASTER_STEP_UM, unit=unit
        )
    wider = cautious_comparison(found, dearer=basis.dearer * neighbours.dearer, df_lost=basis.spent)
    return wider, neighbours


def _by_unit(
    groups: Sequence[str], checks: Sequence[ComparedCheck], values: Sequence[float]
) -> dict[str, dict[tuple[object, ...], list[float]]]:
    """Check means by group, and in it by what counts as one, in the order of time."""
    found: dict[str, dict[tuple[object, ...], list[float]]] = {name: {} for name in groups}
    for check, value in zip(checks, values, strict=True):
        found[check.group].setdefault(check.unit, []).append(value)
    return found


def _told(
    scope: Scope,
    characteristic: Characteristic,
    by: ComparedBy,
    checks: Sequence[ComparedCheck],
    kept: Sequence[ComparedCheck],
    groups: Sequence[str],
    compared: _Compared,
) -> Comparison:
    members = {name: [check for check in kept if check.group == name] for name in groups}
    found, basis = compared.found, compared.basis
    starts = [{check.turn[2] for check in each} for each in members.values()]
    beside = basis is not None and basis.beside_wear
    return Comparison(
        part=scope.plan.part,
        machine=scope.machine,
        characteristic=characteristic,
        by=by,
        from_time=scope.from_time,
        to_time=scope.to_time,
        groups=tuple(
            (name, len({check.unit for check in each}), len(each)) for name, each in members.items()
        ),
        left_out=len(checks) - len(kept),
        found=found,
        says=compared.says,
        remark="" if found is None else what_is_in_it(by, starts, beside_wear=beside),
        basis=compared.basis_says,
        beside_wear=beside,
        worth=() if found is None else worth_of(found),
        mastered=tuple(
            (name, len(values), sum(values) / len(values))
            for name, values in compared.masters.items()
            if name in members
        ),
    )
