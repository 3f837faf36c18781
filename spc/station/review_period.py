"""What a review is asked for: part, machine, period and shift, as stretches of time in the plant's zone."""

from datetime import date, datetime, time, timedelta

from spc.errors import Refused
from spc.shop import Plan
from spc.shop.moment import to_local, to_utc

__all__ = ["Stretch", "includes", "review_stretches"]

Stretch = tuple[datetime, datetime]
"""From and before."""


def review_stretches(plan: Plan, start: datetime, end: datetime, shift: str) -> tuple[Stretch, ...]:
    """Return the stretches of time that belong to a review, in order.

    Parameters
    ----------
    start, end : datetime
        Aware; from and before.
    shift : str
        Start of a shift as the plan writes it, "HH:MM"; "" for all of them.

    Raises
    ------
    Refused
        The period ends before it begins, or the plan has no such shift.

    Notes
    -----
    A shift lasts until the next one of the plan begins, by the plant's clock: the night that loses an hour in
    spring is an hour shorter.
    """
    if end < start:
        raise Refused.one(
            "the period ends before it begins",
            value=f"{start.isoformat()} to {end.isoformat()}",
            column="to",
            allowed="an end after the beginning",
        )
    if not shift:
        return ((start, end),)
    begins = _shift(plan, shift)
    starts = sorted(time.fromisoformat(each) for each in plan.shifts)
    ends = starts[(starts.index(begins) + 1) % len(starts)]
    found = []
    day = to_local(start, plan.zone).date() - timedelta(days=1)
    while day <= to_local(end, plan.zone).date():
        low = max(start, _moment(day, begins, plan.zone))
        high = min(end, _moment(day if ends > begins else day + timedelta(days=1), ends, plan.zone))
        if low < high:
            found.append((low, high))
        day += timedelta(days=1)
    return tuple(found)


def includes(stretches: tuple[Stretch, ...], moment: datetime) -> bool:
    """Say whether a moment lies in one of the stretches.

    Examples
    --------
    >>> from datetime import UTC
    >>> includes(((datetime(2026, 3, 2, 5, tzinfo=UTC), datetime(2026, 3, 2, 13, tzinfo=UTC)),),
    ...          datetime(2026, 3, 2, 13, tzinfo=UTC))
    False
    """
    return any(start <= moment < end for start, end in stretches)


def _shift(plan: Plan, shift: str) -> time:
    known = ", ".join(plan.shifts) or "none: the plan names no shifts"
    try:
        asked = time.fromisoformat(shift.strip().zfill(5))
    except ValueError:
        asked = None
    if asked is None or asked not in {time.fromisoformat(each) for each in plan.shifts}:
        raise Refused.one(
            "the plan has no shift that begins then", value=shift, column="shift", allowed=known
        )
    return asked


def _moment(day: date, clock: time, zone: str) -> datetime:
    return to_utc(datetime.combine(day, clock), zone)
