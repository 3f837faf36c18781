"""Limits from a first phase: the hourly checks of a period, what stands out, what a person leaves out and why."""

from collections.abc import Mapping
from datetime import datetime

from spc.errors import Refusal, Refused
from spc.shop import Plan
from spc.station.first_phase_points import drawn_with, one_level, phase_check, what_stands_out
from spc.station.first_phase_records import FirstPhase
from spc.station.history import characteristic_histories
from spc.station.limits_now import lower_limit
from spc.station.provisional import TRIAL_SUBGROUPS
from spc.station.views import CharacteristicHistory, CheckPoint
from spc.statistics import ShewhartLimits, individuals_limits, limits_from_sigma, xbar_r_limits
from spc.store import Shelf

__all__ = ["FEWEST_SUBGROUPS", "first_phase"]

FEWEST_SUBGROUPS = 10
"""Checks under which nobody signs (common practice, no source); under twenty the page says so."""


def first_phase(
    shelf: Shelf,
    plan: Plan,
    machine: str,
    characteristic: str,
    *,
    from_time: datetime | None = None,
    to_time: datetime | None = None,
    excluded: Mapping[int, str] | None = None,
) -> FirstPhase:
    """Compute limits from the hourly checks of a period, for whoever is about to sign them.

    Parameters
    ----------
    characteristic : str
        A gauged one of the plan.
    from_time, to_time : datetime or None
        Aware; from and before. None leaves the end open.
    excluded : mapping of check id to reason
        Checks left out of the limits; each with a reason.

    Returns
    -------
    FirstPhase
        By means and ranges, or as individuals and moving ranges where a check is one piece; there the steps
        are taken between neighbours that count. Judged by the limits and the rules the station judges by.

    Raises
    ------
    Refused
        An unknown characteristic, a check left out that is not in the period or without a reason, or too few
        checks.

    References
    ----------
    ISO 7870-2, clause on the control chart where no standard values are given (from memory): points with a
    known cause are left out and the limits computed again.
    """
    history = _history(shelf, plan, machine, characteristic, from_time, to_time)
    reasons = {key: reason.strip() for key, reason in (excluded or {}).items()}
    hourly = [point for point in history.points if point.purpose == "hourly" and point.values]
    believed = [point for point in hourly if not point.struck_out and not point.suspect]
    several = any(point.n > 1 for point in believed)
    taken = [point for point in believed if point.n > 1 or not several]
    _check_excluded(taken, reasons)
    counted = [point for point in taken if point.check_id not in reasons]
    limits = _limits(counted, several)
    n = _usual([point.n for point in counted])
    for_n = limits_from_sigma(limits.centre, limits.sigma_within, n, limits.chart)
    said = what_stands_out(history.characteristic, taken, counted, limits)
    return FirstPhase(
        part=plan.part,
        machine=machine,
        characteristic=history.characteristic,
        limits=limits,
        n=n,
        lower=lower_limit(history.characteristic, one_level(for_n.lower)),
        upper=one_level(for_n.upper),
        spread_upper=one_level(for_n.spread_upper) if n > 1 else None,
        checks=tuple(phase_check(point, said, reasons) for point in taken),
        history=drawn_with(history, taken, limits, said, reasons),
        struck_out=sum(1 for point in hourly if point.struck_out),
        suspect=sum(1 for point in hourly if point.suspect and not point.struck_out),
        other_sizes=len(believed) - len(taken),
        remark=_remark(len(counted)),
    )


def _history(
    shelf: Shelf,
    plan: Plan,
    machine: str,
    characteristic: str,
    from_time: datetime | None,
    to_time: datetime | None,
) -> CharacteristicHistory:
    names = [each.name for each in plan.gauged]
    if characteristic not in names:
        raise Refused.one(
            "the plan has no such characteristic", value=characteristic, allowed=", ".join(names)
        )
    found = characteristic_histories(shelf, plan, machine, from_time=from_time, to_time=to_time, newest=None)
    history = next((each for each in found if each.characteristic.name == characteristic), None)
    if history is None:
        raise Refused.one(
            "no check was made in this period", value=characteristic, do="Choose a longer period"
        )
    return history


def _check_excluded(taken: list[CheckPoint], reasons: Mapping[int, str]) -> None:
    known = {point.check_id for point in taken}
    wrong = [
        Refusal("a check can be left out only if it is in the period and counts there", value=str(check_id))
        for check_id in reasons
        if check_id not in known
    ]
    wrong += [
        Refusal(
            "a check is left out of limits for a reason", value=str(check_id), do="Say what was different"
        )
        for check_id, reason in reasons.items()
        if not reason
    ]
    if wrong:
        raise Refused(wrong)


def _limits(counted: list[CheckPoint], several: bool) -> ShewhartLimits:
    if len(counted) < FEWEST_SUBGROUPS:
        raise Refused.one(
            "too few hourly checks count in this period for limits",
            value=str(len(counted)),
            allowed=f"{FEWEST_SUBGROUPS} or more, better {TRIAL_SUBGROUPS}",
            do="Choose a longer period",
        )
    if several:
        return xbar_r_limits([point.values for point in counted])
    return individuals_limits([point.values[0] for point in counted])


def _usual(sizes: list[int]) -> int:
    return max(set(sizes), key=lambda size: (sizes.count(size), size))


def _remark(counted: int) -> str:
    if counted >= TRIAL_SUBGROUPS:
        return ""
    return f"{counted} checks count; limits worth signing want {TRIAL_SUBGROUPS} or more."
