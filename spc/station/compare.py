"""Shifts, machines, die sets, bar batches or people compared, for whoever asks whether one makes other sizes."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final, get_args

from spc.errors import Refused
from spc.shop import Characteristic, Plan
from spc.station.compared_checks import ComparedBy, ComparedCheck, Turn, compared_checks
from spc.statistics import GroupComparison, compare_groups, comparison_in_words
from spc.store import Shelf

__all__ = ["Comparison", "compare"]

LEAST_TURNS: Final = 2
"""Shifts worked that a group needs: the checks of one alone say nothing about the next."""

_SAID: Final[dict[ComparedBy, str]] = {
    "shift": "the shift from {}",
    "machine": "{}",
    "die_set": "die set {}",
    "batch": "bar batch {}",
    "person": "what {} gauged",
}
_GROUPS: Final[dict[ComparedBy, str]] = {
    "shift": "shifts",
    "machine": "machines",
    "die_set": "die sets",
    "batch": "bar batches",
    "person": "people",
}
_IN_IT: Final[dict[ComparedBy, str]] = {
    "shift": "Slide, gauge, warmth and bars of these hours are all in it.",
    "machine": "The dies and the gauge of each machine are in it.",
    "die_set": "Slide moves are in it: a set that was followed with the slide shows less than it does itself.",
    "batch": "Slide moves and the growth of the dies meanwhile are in it, as batches follow one another.",
    "person": "This speaks of gauge, hours and machine as much as of a hand: look at the gauge first.",
}


@dataclass(frozen=True, slots=True)
class Comparison:
    """What the hourly checks say about the differences of groups.

    Attributes
    ----------
    machine : str or None
        None for all machines of the part.
    characteristic : Characteristic
    by : {"shift", "machine", "die_set", "batch", "person"}
    from_time, to_time : datetime or None
        From and before.
    groups : tuple of (str, int, int)
        Group as written in the record, shifts worked, checks; in order of their names, never of their sizes.
    left_out : int
        Checks of groups with too few shifts worked, or of which the record names no group.
    found : GroupComparison or None
        Sizes minus aim in µm; None where nothing can be compared.
    says : str
        One to three sentences; why not, where nothing can be compared.
    remark : str
        What a difference holds besides.
    """

    part: str
    machine: str | None
    characteristic: Characteristic
    by: ComparedBy
    from_time: datetime | None
    to_time: datetime | None
    groups: tuple[tuple[str, int, int], ...]
    left_out: int
    found: GroupComparison | None
    says: str
    remark: str


def compare(
    shelf: Shelf,
    plan: Plan,
    machine: str | None,
    characteristic: str,
    by: ComparedBy,
    from_time: datetime | None = None,
    to_time: datetime | None = None,
) -> Comparison:
    """Compare the sizes of a part between shifts, machines, die sets, bar batches or people.

    Parameters
    ----------
    machine : str or None
        None for all machines of the part.
    characteristic : str
        A gauged one, as the plan writes it.
    by : {"shift", "machine", "die_set", "batch", "person"}
    from_time, to_time : datetime or None
        Aware; from and before.

    Raises
    ------
    Refused
        A characteristic that the plan doesn't gauge, or another grouping.

    Notes
    -----
    Compared are the sizes as delivered: mean of each hourly check that stands and is believed, minus the aim, slide
    moves included. With the moves taken out the growth of the dies would stand in every difference, as later groups
    would have older dies. Neighbouring checks share slide, dies and bars, so what counts as independent is one
    shift worked on one machine, its checks nested in it; every check mean
    counts alike.
    """
    wanted = _gauged(plan, characteristic)
    if by not in get_args(ComparedBy):
        raise Refused.one(
            "nothing is compared by this", value=str(by), allowed=", ".join(get_args(ComparedBy))
        )
    checks = compared_checks(shelf, plan, machine, wanted, by, from_time, to_time)
    turns = _by_turn(checks)
    enough = {name: each for name, each in sorted(turns.items()) if name and len(each) >= LEAST_TURNS}
    found, says = _compared(enough, by, wanted)
    used = sum(len(means) for each in enough.values() for means in each.values())
    return Comparison(
        part=plan.part,
        machine=machine,
        characteristic=wanted,
        by=by,
        from_time=from_time,
        to_time=to_time,
        groups=tuple((name, len(each), sum(map(len, each.values()))) for name, each in enough.items()),
        left_out=len(checks) - used,
        found=found,
        says=says,
        remark="" if found is None else _remark(by, enough),
    )


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


def _by_turn(checks: Sequence[ComparedCheck]) -> dict[str, dict[Turn, list[float]]]:
    """Check means by group and shift worked."""
    found: dict[str, dict[Turn, list[float]]] = {}
    for check in checks:
        found.setdefault(check.group, {}).setdefault(check.turn, []).append(check.mean_um)
    return found


def _remark(by: ComparedBy, groups: dict[str, dict[Turn, list[float]]]) -> str:
    """What a difference holds besides; people who each work one shift of the day are that shift as well."""
    starts = [{start for _, _, start in turns} for turns in groups.values()]
    if by == "person" and all(len(each) == 1 for each in starts) and len(set.union(*starts)) > 1:
        return (
            f"{_IN_IT[by]} Each worked one shift of the day only, so people and shifts cannot be told apart."
        )
    return _IN_IT[by]


def _compared(
    groups: dict[str, dict[Turn, list[float]]], by: ComparedBy, characteristic: Characteristic
) -> tuple[GroupComparison | None, str]:
    """Compare, or say why not."""
    if len(groups) < 2:  # two to compare
        have = "none has" if not groups else "only one has"
        return None, (
            f"Nothing to compare yet: two {_GROUPS[by]} with hourly checks in at least {LEAST_TURNS} shifts "
            f"worked each are needed, {have} them in this period."
        )
    unit = "thousandths of a degree" if characteristic.unit == "deg" else "µm"
    named = {_SAID[by].format(name): list(turns.values()) for name, turns in groups.items()}
    try:
        found = compare_groups(named, unit=unit)
    except Refused as refused:
        why = refused.refusals[0]
        return None, f"Nothing can be compared: {why.reason}. {why.do}".strip() + ("." if why.do else "")
    return found, comparison_in_words(found, counted="shifts worked", called=_GROUPS[by])
