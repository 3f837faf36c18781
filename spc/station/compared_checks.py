"""Hourly checks gathered for a comparison, each with its group, what it counts in, and the die life it stands in."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from spc.shop import Characteristic, CheckGauged, Plan, Verdict
from spc.station.compare_groupings import BY_LIFE, SETTING, FloorLog, Mounted, Turn, shift_worked
from spc.station.compare_records import ComparedBy
from spc.station.kept import verdict_of
from spc.station.pieces import piece_values
from spc.station.refold import in_sequence
from spc.store import Shelf, time_text

__all__ = ["CheckRead", "ComparedBy", "ComparedCheck", "compared_checks", "read_checks"]

CheckRead = tuple[Verdict, CheckGauged]


@dataclass(frozen=True, slots=True)
class ComparedCheck:
    """One hourly check that stands and is believed.

    Attributes
    ----------
    time : datetime
    group : str
        What it is gathered by, as written in the record; "" where the record doesn't say.
    turn : Turn
        The shift worked in which it was made.
    unit : tuple
        What counts as one: the shift worked, or the die life.
    mounted : Mounted
    age : int or None
        Pieces of the die set.
    mean_um : float
        Mean of its pieces minus the aim, slide moves included (angles: thousandths of a degree).
    unmoved_um : float or None
        The same with the slide moves taken out; None where no setting is known.
    pieces : int
    """

    time: datetime
    group: str
    turn: Turn
    unit: tuple[object, ...]
    mounted: Mounted
    age: int | None
    mean_um: float
    unmoved_um: float | None
    pieces: int


def read_checks(
    shelf: Shelf, plan: Plan, machine: str | None, from_time: datetime | None, to_time: datetime | None
) -> list[CheckRead]:
    """Read the hourly checks that stand, once for all characteristics and groupings.

    Parameters
    ----------
    machine : str or None
        None for all machines of the part.
    from_time, to_time : datetime or None
        Aware; from and before.
    """
    low, high = (None if each is None else time_text(each) for each in (from_time, to_time))
    gauged = {
        each.check_id: each.fact
        for each in in_sequence(shelf, shelf.checks_between(plan.part, machine, low, high))
        if isinstance(each.fact, CheckGauged)
    }
    found = []
    for stored in shelf.verdicts(plan.part, machine, low, high):
        verdict = verdict_of(stored)
        check = gauged.get(verdict.check_id or 0)
        if check is not None and verdict.purpose == "hourly":
            found.append((verdict, check))
    return sorted(found, key=lambda each: each[0].time)


def compared_checks(
    plan: Plan, log: FloorLog, read: Sequence[CheckRead], characteristic: Characteristic, by: str
) -> tuple[ComparedCheck, ...]:
    """Gather checks by what is to be compared, oldest first, for the verb that compares."""
    group_of = _grouping(plan, log, characteristic, by)
    found = []
    for verdict, check in read:
        subgroup = verdict.subgroup(characteristic.name)
        if subgroup is None or subgroup.suspect:
            continue
        values = [float(value - characteristic.aim) for value in piece_values(check, characteristic)]
        if not values:
            continue
        per_unit, level = characteristic.um_per_unit, subgroup.mean_at_reference_setting
        turn, mounted = shift_worked(plan, verdict.machine, verdict.time), log.mounted(verdict)
        found.append(
            ComparedCheck(
                time=verdict.time,
                group=group_of(verdict, check),
                turn=turn,
                unit=mounted.life if by in BY_LIFE else turn,
                mounted=mounted,
                age=verdict.age,
                mean_um=sum(values) / len(values) * per_unit,
                unmoved_um=None if level is None else (level - float(characteristic.aim)) * per_unit,
                pieces=len(values),
            )
        )
    return tuple(found)


def _grouping(
    plan: Plan, log: FloorLog, characteristic: Characteristic, by: str
) -> Callable[[Verdict, CheckGauged], str]:
    if by.startswith(SETTING):
        return lambda verdict, _: log.setting(verdict, by.removeprefix(SETTING))
    known: dict[str, Callable[[Verdict, CheckGauged], str]] = {
        "shift": lambda verdict, _: shift_worked(plan, verdict.machine, verdict.time)[2],
        "machine": lambda verdict, _: verdict.machine,
        "die_set": lambda verdict, _: verdict.die_set or "",
        "regrind": lambda verdict, _: log.regrind(verdict),
        "die_design": lambda verdict, _: log.die_design(verdict),
        "batch": lambda verdict, _: log.batch(verdict),
        "gauge": lambda verdict, _: log.gauge(verdict, characteristic.name),
        "person": lambda _, check: check.operator.strip(),
    }
    return known[by]
