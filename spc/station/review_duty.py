"""Checks due, made in time, late and missed in a review: from the plan, the running time and the stops."""

from collections.abc import Sequence
from datetime import datetime

from spc.shop import EventLogged, Plan, Verdict
from spc.station.review_period import Stretch, includes
from spc.station.review_records import CheckDuty
from spc.station.running_time import running_spans
from spc.station.schedule import DueCheck, RunningSpan, due_checks, minutes_running

__all__ = ["check_duty"]


def check_duty(
    plan: Plan,
    events: Sequence[EventLogged],
    checks: Sequence[Verdict],
    stretches: tuple[Stretch, ...],
    until: datetime,
) -> CheckDuty:
    """Count the checks that the plan asked for in a period.

    Parameters
    ----------
    events : sequence of EventLogged
        Everything ever logged on the machine, of every part, in order.
    checks : sequence of Verdict
        Of this part on it, in order: the last one before the period and all from its beginning on, those after
        its end too (a check due in it may have been answered later).
    stretches : tuple of Stretch
    until : datetime
        Nothing is counted after it.

    Notes
    -----
    A check that was made belongs where it was made, a missed one where it was due. Every check starts the clock
    anew; one of another purpose than hourly that came before a check was due is nobody's duty and isn't counted.
    """
    made = [each.time for each in checks]
    running = running_spans(events, made, plan.part, until)
    with_dies = running_spans(
        [each for each in events if each.event != "machine_stopped"], made, plan.part, until
    )
    ran, stood = _minutes(running, stretches), _minutes(with_dies, stretches)
    due: tuple[DueCheck, ...] = ()
    if plan.check.interval_minutes is not None:
        since = made[0] if made and stretches and made[0] < stretches[0][0] else None
        spans = running if since is None else _from(running, since)
        later = [moment for moment in made if since is None or moment > since]
        clock = due_checks(spans, later, plan.check.interval_minutes, until)
        extra = {each.time for each in checks if each.purpose != "hourly"}
        due = tuple(each for each in clock.due if _counts(each, stretches, extra))
    return CheckDuty(
        plan.check.interval_minutes, due, ran / 60.0, (stood - ran) / 60.0, until, _remark(plan, events)
    )


def _from(spans: Sequence[RunningSpan], since: datetime) -> list[RunningSpan]:
    return [RunningSpan(max(each.start, since), each.end) for each in spans if each.end > since]


def _counts(due: DueCheck, stretches: tuple[Stretch, ...], extra: set[datetime]) -> bool:
    if due.made in extra and due.made is not None and due.made < due.due:
        return False
    return includes(stretches, due.made or due.due)


def _minutes(spans: Sequence[RunningSpan], stretches: tuple[Stretch, ...]) -> float:
    return sum(minutes_running(spans, start, end) for start, end in stretches)


def _remark(plan: Plan, events: Sequence[EventLogged]) -> str:
    said = []
    if plan.check.interval_minutes is None:
        said.append("The plan names no interval in minutes, so no check is counted as due.")
    if plan.check.interval_pieces is not None:
        said.append(
            f"The plan also asks for a check every {plan.check.interval_pieces:,} pieces; "
            "this count goes by running time only."
        )
    if not any(each.event in ("die_set_mounted", "die_set_removed") for each in events):
        said.append(
            "No die set is logged on this machine: it counts as running from its first check on, "
            "without the logged stops."
        )
    return " ".join(said)
