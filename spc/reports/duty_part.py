"""Checks due, late and missed on paper: the counts, how they came to be, and each one that went wrong."""

from collections import defaultdict
from collections.abc import Sequence

from spc.reports.table import table
from spc.reports.words import clock, one_or_many, safe
from spc.shop import Plan
from spc.shop.moment import to_local
from spc.station import DueCheck, Review

__all__ = ["duty_part", "shift_of"]

_LISTED = 24


def duty_part(review: Review) -> str:
    """Return the part about the plan's rhythm as HTML."""
    duty, plan = review.duty, review.plan
    remark = f"<p>{safe(duty.remark)}</p>" if duty.remark else ""
    if duty.interval_minutes is None:
        return f"<h2>Checks due</h2>{remark}"
    counts = ", ".join(f"{duty.count(word):,} {word}" for word in ("in time", "late", "missed"))
    says = (
        f"<p>{one_or_many(len(duty.due), 'check was due', 'checks were due')}: {counts}. "
        f"The machine ran this part for {duty.running_hours:,.1f} h and stood with its dies on for "
        f"{duty.stopped_hours:,.1f} h of logged stops.</p>"
    )
    how = (
        f'<p class="small quiet">A check is due {duty.interval_minutes:g} minutes of running time after the one '
        "before, late after 15 % more, missed when the next is due first. Running time: from mounting to removal of "
        "a die set, without logged stops. A check that was made counts where it was made, a missed one where it was "
        f"due. Counted until {clock(duty.counted_until, plan.zone)}.</p>"
    )
    return f"<h2>Checks due</h2>{says}{_by_shift(duty.due, plan)}{_wrong(duty.due, plan)}{how}{remark}"


def shift_of(due: DueCheck, plan: Plan) -> str:
    """Return the start of the shift a due check belongs to, "" where the plan names no shifts."""
    clock_time = f"{to_local(due.made or due.due, plan.zone):%H:%M}"
    starts = sorted(plan.shifts)
    begun = [start for start in starts if start <= clock_time]
    return (begun or starts or [""])[-1]


def _by_shift(due: Sequence[DueCheck], plan: Plan) -> str:
    if len(plan.shifts) < 2 or not due:
        return ""
    found: dict[str, list[DueCheck]] = defaultdict(list)
    for each in due:
        found[shift_of(each, plan)].append(each)
    rows = [
        [f"from {start}", f"{len(found[start]):,}", *_counts(found[start])]
        for start in plan.shifts
        if start in found
    ]
    return table(["shift", "due", "in time", "late", "missed"], rows, numbers=[1, 2, 3, 4])


def _counts(due: Sequence[DueCheck]) -> list[str]:
    return [f"{sum(1 for each in due if each.standing == word):,}" for word in ("in time", "late", "missed")]


def _wrong(due: Sequence[DueCheck], plan: Plan) -> str:
    """Name each check that was missed or late, as a sentence: a table of them would push the charts away."""
    missed = [clock(each.due, plan.zone) for each in due if each.standing == "missed"]
    late = [
        f"{clock(each.made, plan.zone)} ({each.minutes_late:.0f} min)"
        for each in due
        if each.standing == "late"
    ]
    said = ""
    for words, moments in (("Missed, due at", missed), ("Late, made at", late)):
        if moments:
            more = f", and {len(moments) - _LISTED:,} more in the sheet" if len(moments) > _LISTED else ""
            said += f"<p>{words}: {safe(', '.join(moments[:_LISTED]))}{more}.</p>"
    return said
