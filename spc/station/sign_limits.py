"""Sign control limits: a person stands for them, and the record keeps who, when and why."""

from collections.abc import Mapping
from datetime import datetime

from spc.errors import Refusal, Refused
from spc.shop import LimitsSigned
from spc.station.check_in import known_plan
from spc.station.context import chart_key
from spc.station.first_phase import first_phase
from spc.station.kept import new_fact
from spc.station.refold import present_state, refold
from spc.store import Desk, Position, Store

__all__ = ["sign_first_phase", "sign_limits"]


def sign_limits(
    store: Store, part: str, machine: str, characteristic: str, *, by: str, at: datetime, reason: str = ""
) -> LimitsSigned:
    """Sign the provisional limits of a characteristic on a machine; they judge from now on.

    Raises
    ------
    Refused
        No name, an unknown characteristic, no provisional limits yet (twenty good subgroups are needed), or
        limits that are signed already.
    """
    _by_a_person(by)
    with store.writing(part) as desk:
        plan = known_plan(desk, part)
        names = [each.name for each in plan.gauged]
        if characteristic not in names:
            raise Refused.one(
                "the plan has no such characteristic", value=characteristic, allowed=", ".join(names)
            )
        chart = present_state(desk, part).charts.get(chart_key(machine, characteristic))
        limits = None if chart is None else chart.limits
        if limits is None:
            raise Refused.one(
                "there are no provisional limits to sign yet",
                value=characteristic,
                allowed="limits from 20 good hourly subgroups",
                do="wait for more checks",
            )
        if limits.standing == "signed":
            raise Refused.one(
                "these limits are signed already",
                value=f"{characteristic}, by {limits.signed_by}",
                do="to replace them, choose a period and sign the limits of its checks",
            )
        fact = LimitsSigned(
            at,
            machine,
            part,
            characteristic,
            limits.centre,
            limits.sigma_within,
            limits.n,
            limits.subgroups,
            by,
            reason,
        )
        _keep(desk, fact)
    return fact


def sign_first_phase(
    store: Store,
    part: str,
    machine: str,
    characteristic: str,
    *,
    from_time: datetime | None,
    to_time: datetime | None,
    excluded: Mapping[int, str],
    by: str,
    at: datetime,
    reason: str,
) -> LimitsSigned:
    """Sign the limits of a first phase; they judge from now on, and the record keeps what was left out.

    Parameters
    ----------
    from_time, to_time, excluded :
        As for `first_phase`, which computes them again here from the record as it is now.
    reason : str
        Why these limits.

    Raises
    ------
    Refused
        No name, no reason, or anything that `first_phase` refuses.
    """
    missing = [
        Refusal(f"limits are signed by a person{says}", column=column, do=do)
        for column, text, says, do in (
            ("by", by, "", "give a name"),
            ("reason", reason, " who says why", "say why these limits and why now"),
        )
        if not text.strip()
    ]
    if missing:
        raise Refused(missing)
    with store.writing(part) as desk:
        phase = first_phase(
            desk,
            known_plan(desk, part),
            machine,
            characteristic,
            from_time=from_time,
            to_time=to_time,
            excluded=excluded,
        )
        fact = LimitsSigned(
            at,
            machine,
            part,
            characteristic,
            phase.limits.centre,
            phase.limits.sigma_within,
            phase.n,
            phase.limits.subgroups,
            by.strip(),
            reason.strip(),
            tuple((each.check_id, each.excluded) for each in phase.checks if each.excluded),
            phase.checks[0].time,
            phase.checks[-1].time,
        )
        _keep(desk, fact)
    return fact


def _by_a_person(by: str) -> None:
    if not by.strip():
        raise Refused.one("limits are signed by a person", column="by", do="give a name")


def _keep(desk: Desk, fact: LimitsSigned) -> None:
    stored = desk.append([new_fact(fact, by=fact.by, reason=fact.reason)])[0]
    refold(desk, fact.part, Position(stored.time, stored.rank, 0))
