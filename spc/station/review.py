"""The shift and capability review of one part on one machine, for the quality lead."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import cast

from spc.shop import CheckGauged, EventLogged, Plan, Verdict
from spc.shop.layouts import PURPOSES, VERDICTS, VerdictWord
from spc.station.compare_review import review_comparisons
from spc.station.die_words import planned_age_words
from spc.station.history import characteristic_histories
from spc.station.kept import verdict_of
from spc.station.refold import in_sequence
from spc.station.review_characteristic import characteristic_review, look_review
from spc.station.review_dies import die_sets_used
from spc.station.review_duty import check_duty
from spc.station.review_floor import events_told, held_checks, last_logged, machine_events, strike_outs
from spc.station.review_period import Stretch, includes, review_stretches
from spc.station.review_records import CheckDuty, Review
from spc.station.review_state import state_before
from spc.store import Shelf, time_text

__all__ = ["review"]

SILENCE = timedelta(hours=24)
"""A machine of which nothing was logged for so long is not counted as running unchecked: its record ends there."""


def review(
    shelf: Shelf,
    plan: Plan,
    machine: str,
    *,
    from_time: datetime | None = None,
    to_time: datetime | None = None,
    shift: str | None = None,
    at: datetime,
) -> Review:
    """Review one part on one machine over a period.

    Parameters
    ----------
    plan : Plan
        The part's plan; the one in force at the end of the period is used.
    machine : str
    from_time, to_time : datetime or None
        Aware; from and before. Without them: from the first thing logged, to now or to where the record ends.
    shift : str or None
        Start of one shift, "HH:MM"; None for all.
    at : datetime
        Now.

    Raises
    ------
    Refused
        A period that ends before it begins, or a shift that the plan doesn't name.

    Notes
    -----
    A check belongs to the shift in which it was made. Limits, capability and the counts for them use hourly checks
    that stand and are believed; everything else is counted apart.
    """
    logged = _logged(shelf, plan, machine, from_time)
    start, end, until = _period(logged, from_time, to_time, at)
    stretches = review_stretches(plan, start, end, (shift or "").strip())
    state = state_before(shelf, plan.part, to_time or at + timedelta(seconds=1))
    plan = state.plan or plan
    stored = shelf.checks_between(plan.part, machine, time_text(start), time_text(end))
    gauged = [each.fact for each in in_sequence(shelf, stored) if isinstance(each.fact, CheckGauged)]
    inside = [each for each in logged.checks if includes(stretches, each.time)]
    histories = characteristic_histories(shelf, plan, machine, from_time=start, to_time=end, newest=None)
    words, purposes = Counter(each.verdict for each in inside), Counter(each.purpose for each in inside)
    return Review(
        plan=plan,
        machine=machine,
        from_time=start if logged else None,
        to_time=end if logged else None,
        shift=(shift or "").strip(),
        made_at=at,
        checks=len(inside),
        purposes=tuple((each, purposes[each]) for each in PURPOSES if purposes[each]),
        struck_out=strike_outs(shelf, stored, stretches),
        verdicts=tuple((cast("VerdictWord", word), words[cast("VerdictWord", word)]) for word in VERDICTS),
        duty=_duty(plan, logged, stretches, until, at),
        characteristics=tuple(characteristic_review(state, each, stretches) for each in histories),
        looks=tuple(look_review(each, gauged, stretches) for each in plan.looked_at),
        die_sets=die_sets_used(logged.events, logged.checks, plan.part, stretches),
        held=held_checks(shelf, plan.part, logged.checks, stretches),
        events=events_told(logged.events, plan, machine, stretches),
        compared=review_comparisons(shelf, plan, machine, start, end) if inside else None,
        planned_age=planned_age_words(state, plan.costs),
    )


@dataclass(frozen=True, slots=True)
class _Logged:
    """All events of the machine, and the checks of the part on it that a review needs, in order.

    Attributes
    ----------
    newest : sequence of datetime
        Time of the last check, one that was struck out too: the record reaches that far.
    """

    events: Sequence[EventLogged]
    checks: Sequence[Verdict]
    newest: Sequence[datetime]

    def __bool__(self) -> bool:
        return bool(self.checks)


def _logged(shelf: Shelf, plan: Plan, machine: str, from_time: datetime | None) -> _Logged:
    """Read the last check before the period and all from its beginning on."""
    low = None if from_time is None else time_text(from_time)
    before = [] if low is None else shelf.verdicts(plan.part, machine, to_time=low, newest=1)
    stored = [*before, *shelf.verdicts(plan.part, machine, low)]
    newest = shelf.verdicts(plan.part, machine, newest=1, superseded=True)
    return _Logged(
        machine_events(shelf, machine),
        [verdict_of(each) for each in stored],
        [verdict_of(each).time for each in newest],
    )


def _period(
    logged: _Logged, from_time: datetime | None, to_time: datetime | None, at: datetime
) -> tuple[datetime, datetime, datetime]:
    """Return from, before, and until when checks are counted as due."""
    last = last_logged(logged.events, [*(each.time for each in logged.checks), *logged.newest])
    until = at if last is None or last > at - SILENCE else last
    end = to_time if to_time is not None else min(at, until + timedelta(minutes=1))
    first = min((each.time for each in logged.checks), default=end)
    mounted = [each.time for each in logged.events if each.event == "die_set_mounted" and each.time < first]
    start = from_time if from_time is not None else max(mounted, default=first)
    return start, end, until


def _duty(
    plan: Plan, logged: _Logged, stretches: tuple[Stretch, ...], until: datetime, at: datetime
) -> CheckDuty:
    duty = check_duty(plan, logged.events, logged.checks, stretches, until)
    if until < at and (not stretches or stretches[-1][1] > until):
        silent = "Nothing was logged on this machine afterwards, so no later check is counted as due."
        return replace(duty, remark=f"{duty.remark} {silent}".strip())
    return duty
