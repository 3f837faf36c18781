"""Sign control limits: a person stands for them, and the record keeps who, when and why."""

from collections.abc import Mapping
from datetime import datetime
from math import sqrt

from spc.errors import Refusal, Refused
from spc.shop import Characteristic, ControlLimits, LimitsSigned, Plan
from spc.station.beyond_tolerance import beyond_tolerance
from spc.station.check_in import known_plan
from spc.station.context import chart_key
from spc.station.first_phase import first_phase
from spc.station.first_phase_records import FirstPhase
from spc.station.kept import new_fact
from spc.station.limits_now import lower_limit
from spc.station.refold import present_state, refold
from spc.station.state import StreamState
from spc.store import Desk, Position, Store

__all__ = ["sign_first_phase", "sign_limits"]


def sign_limits(
    store: Store, part: str, machine: str, characteristic: str, *, by: str, at: datetime, reason: str = ""
) -> LimitsSigned:
    """Sign the provisional limits of a characteristic on a machine; they judge from now on.

    Raises
    ------
    Refused
        No name, an unknown characteristic, no provisional limits yet (twenty good subgroups are needed), limits
        that are signed already, or no reason although they reach beyond the tolerance.
    """
    _by_a_person(by)
    with store.writing(part) as desk:
        known = _gauged(known_plan(desk, part), characteristic)
        limits = _to_sign(present_state(desk, part), machine, characteristic)
        _want_reason(known, limits, reason)
        fact = LimitsSigned(
            at,
            machine,
            part,
            characteristic,
            limits.centre,
            limits.sigma_within,
            limits.n,
            limits.subgroups,
            by.strip(),
            reason.strip(),
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
    _by_a_person_with_reason(by, reason)
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
        fact = _fact(phase, by.strip(), at, reason.strip())
        _keep(desk, fact)
    return fact


def _fact(phase: FirstPhase, by: str, at: datetime, reason: str) -> LimitsSigned:
    return LimitsSigned(
        at,
        phase.machine,
        phase.part,
        phase.characteristic.name,
        phase.limits.centre,
        phase.limits.sigma_within,
        phase.n,
        phase.limits.subgroups,
        by,
        reason,
        tuple((each.check_id, each.excluded) for each in phase.checks if each.excluded),
        phase.checks[0].time,
        phase.checks[-1].time,
    )


def _gauged(plan: Plan, name: str) -> Characteristic:
    found = next((each for each in plan.gauged if each.name == name), None)
    if found is None:
        names = ", ".join(each.name for each in plan.gauged)
        raise Refused.one("the plan has no such characteristic", value=name, allowed=names)
    return found


def _to_sign(state: StreamState, machine: str, characteristic: str) -> ControlLimits:
    chart = state.charts.get(chart_key(machine, characteristic))
    limits = None if chart is None else chart.limits
    if limits is None:
        raise Refused.one(
            "there are no provisional limits to sign yet",
            value=characteristic,
            allowed="limits from 20 good hourly subgroups",
            do="Wait for more checks",
        )
    if limits.standing == "signed":
        raise Refused.one(
            "these limits are signed already",
            value=f"{characteristic}, by {limits.signed_by}",
            do="To replace them, choose a period and sign the limits of its checks",
        )
    return limits


def _want_reason(characteristic: Characteristic, limits: ControlLimits, reason: str) -> None:
    """Limits beyond the tolerance are not signed in passing."""
    width = 3.0 * limits.sigma_within / sqrt(limits.n)
    lower, upper = lower_limit(characteristic, limits.centre - width), limits.centre + width
    digits = max(0, -int(characteristic.nominal.as_tuple().exponent)) + 1
    if beyond_tolerance(characteristic, lower, upper) and not reason.strip():
        raise Refused.one(
            "limits that reach beyond the tolerance are signed with a reason",
            value=f"{lower:.{digits}f} to {upper:.{digits}f}",
            column="reason",
            allowed=_tolerance(characteristic),
            do="Say why they may stand, or make the process better first",
        )


def _tolerance(characteristic: Characteristic) -> str:
    lower, upper = characteristic.tolerance.lower, characteristic.tolerance.upper
    if lower is None:
        return f"at most {upper}"
    return f"at least {lower}" if upper is None else f"{lower} to {upper}"


def _by_a_person_with_reason(by: str, reason: str) -> None:
    missing = [
        Refusal(f"limits are signed by a person{says}", column=column, do=do)
        for column, text, says, do in (
            ("by", by, "", "Give a name"),
            ("reason", reason, " who says why", "Say why these limits and why now"),
        )
        if not text.strip()
    ]
    if missing:
        raise Refused(missing)


def _by_a_person(by: str) -> None:
    if not by.strip():
        raise Refused.one("limits are signed by a person", column="by", do="Give a name")


def _keep(desk: Desk, fact: LimitsSigned) -> None:
    stored = desk.append([new_fact(fact, by=fact.by, reason=fact.reason)])[0]
    refold(desk, fact.part, Position(stored.time, stored.rank, 0))
