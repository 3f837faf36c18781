"""Sign control limits: a person stands for them, and the record keeps who, when and why."""

from datetime import datetime

from spc.errors import Refused
from spc.shop import LimitsSigned
from spc.station.check_in import known_plan
from spc.station.context import chart_key
from spc.station.kept import new_fact
from spc.station.refold import present_state, refold
from spc.store import Position, Store

__all__ = ["sign_limits"]


def sign_limits(
    store: Store, part: str, machine: str, characteristic: str, *, by: str, at: datetime, reason: str = ""
) -> LimitsSigned:
    """Sign the provisional limits of a characteristic on a machine; they judge from now on.

    Raises
    ------
    Refused
        No name, an unknown characteristic, or no provisional limits yet (twenty good subgroups are needed).
    """
    if not by.strip():
        raise Refused.one("limits are signed by a person", column="by", do="give a name")
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
        stored = desk.append([new_fact(fact, by=by, reason=reason)])[0]
        refold(desk, part, Position(stored.time, stored.rank, 0))
    return fact
