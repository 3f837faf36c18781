"""Take whole files in: plans, readings, events. Safe to repeat; what is refused does not hold up the rest."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from spc.errors import Refusal
from spc.intake import HistoryRead
from spc.shop import CheckGauged, EventLogged, Plan, Verdict
from spc.shop.moment import to_local
from spc.station.check_in import KnownCheck, not_yet_taken
from spc.station.kept import fact_of, new_fact
from spc.station.log_event import event_key, streams_of
from spc.station.refold import in_sequence, refold
from spc.station.take_plan import take_plan
from spc.store import Desk, NewFact, Position, Store, StoredFact

__all__ = ["FilesTaken", "take_history"]

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class FilesTaken:
    """What became of the rows of the files.

    Attributes
    ----------
    taken : int
        Rows that are now in the record and were not before.
    already : int
        Rows that were in already, with the same value.
    refusals : tuple of Refusal
    checks : int
        Checks judged or judged again.
    marked : tuple of str
        One sentence for each check of these files that was taken as written but is hard to believe.
    """

    taken: int
    already: int
    refusals: tuple[Refusal, ...]
    checks: int
    marked: tuple[str, ...] = ()

    @property
    def exit_code(self) -> int:
        """0 all taken or already in, 2 some rows refused, 1 nothing taken."""
        if not self.refusals:
            return 0
        return 2 if self.taken or self.already else 1


def take_history(
    store: Store,
    plans: Sequence[Plan],
    history: HistoryRead,
    *,
    at: datetime,
    by: str = "",
    progress: Progress | None = None,
) -> FilesTaken:
    """Take read files into the record, stream by stream, each in one transaction.

    Parameters
    ----------
    plans : sequence of Plan
        Taken first; a plan that is in already changes nothing.
    history : HistoryRead
        From `intake.read_history`.
    at : datetime
        Now.
    progress : callable or None
        Told a sentence before each stream.
    """
    for plan in plans:
        take_plan(store, plan.text, at=at, by=by)
    tell = progress or (lambda _: None)
    events: dict[str, list[EventLogged]] = defaultdict(list)
    checks: dict[str, list[CheckGauged]] = defaultdict(list)
    for event in history.events:
        events[event.part].append(event)
    for check in history.checks:
        checks[check.part].append(check)
    total = FilesTaken(0, 0, tuple(history.refusals), 0)
    if events[""]:
        total = _add(total, _take_shared(store, events[""], by))
    for part in sorted({*checks, *events} - {""}):
        tell(f"{part}: {len(checks[part])} checks, {len(events[part])} events")
        total = _add(total, _take_stream(store, part, checks[part], events[part], by))
    return total


def _take_stream(
    store: Store, part: str, checks: Sequence[CheckGauged], events: Sequence[EventLogged], by: str
) -> FilesTaken:
    with store.writing(part) as desk:
        fresh_checks, already, refusals = _fresh_checks(desk, part, checks)
        fresh_events, known_events = _fresh_events(desk, part, events)
        new: list[NewFact] = [new_fact(each, by=by or each.operator) for each in fresh_checks]
        new += [new_fact(each, by=by or each.operator) for each in fresh_events]
        if not new:
            return FilesTaken(0, already + known_events, tuple(refusals), 0)
        stored = desk.append(new)
        verdicts = refold(desk, part, _oldest(stored))
    marked = _marked(fresh_checks, verdicts.values())
    taken = sum(len(each.readings) for each in fresh_checks) + len(fresh_events)
    return FilesTaken(taken, already + known_events, tuple(refusals), len(verdicts), marked)


def _marked(fresh: Sequence[CheckGauged], verdicts: Iterable[Verdict]) -> tuple[str, ...]:
    """Say which of the new checks hold an entry that is hard to believe, and why."""
    new = {(each.time, each.machine) for each in fresh}
    said = []
    for verdict in verdicts:
        doubts = [each.says for each in verdict.signals if each.kind == "suspect_entry"]
        if doubts and (verdict.time, verdict.machine) in new:
            when = to_local(verdict.time, verdict.zone)
            why = "; ".join(dict.fromkeys(doubts))
            said.append(f"{when:%Y-%m-%d %H:%M}, {verdict.machine}, {verdict.part}: {why}.")
    return tuple(said)


def _take_shared(store: Store, events: Sequence[EventLogged], by: str) -> FilesTaken:
    """Events that name no part count for every part on their machine."""
    with store.writing() as desk:
        fresh, known = _fresh_events(desk, "", events)
        if not fresh:
            return FilesTaken(0, known, (), 0)
        stored = desk.append([new_fact(each, by=by or each.operator) for each in fresh])
        judged = 0
        for part in sorted(
            {part for machine in {each.machine for each in stored} for part in streams_of(desk, machine)}
        ):
            judged += len(refold(desk, part, _oldest(stored)))
    return FilesTaken(len(fresh), known, (), judged)


def _fresh_checks(
    desk: Desk, part: str, checks: Sequence[CheckGauged]
) -> tuple[list[CheckGauged], int, list[Refusal]]:
    if not checks:
        return [], 0, []
    times = [new_fact(each).time for each in checks]
    known = _known_checks(desk, desk.checks_between(part, None, min(times), max(times) + "~"))
    fresh: list[CheckGauged] = []
    refusals: list[Refusal] = []
    already = 0
    for check, time in zip(checks, times, strict=True):
        left, refused = not_yet_taken(check, known.get((time, check.machine)))
        refusals += refused
        already += len(check.readings) - len(left.readings) - len(refused)
        if left.readings:
            fresh.append(left)
    return fresh, already, refusals


def _known_checks(desk: Desk, stored: Sequence[StoredFact]) -> dict[tuple[str, str], KnownCheck]:
    found: dict[tuple[str, str], KnownCheck] = {}
    for each in in_sequence(desk, stored):
        if isinstance(each.fact, CheckGauged):
            found[(each.last.time, each.fact.machine)] = (each.check_id, each.fact)
    return found


def _fresh_events(desk: Desk, part: str, events: Sequence[EventLogged]) -> tuple[list[EventLogged], int]:
    """Leave out events whose time, machine, part, kind and value are in already."""
    if not events:
        return [], 0
    machines = {each.machine for each in events} if not part else set()
    kept = desk.facts(part, machines, kinds=("event",))
    known = {event_key(fact) for each in kept if isinstance(fact := fact_of(each), EventLogged)}
    fresh: dict[tuple[object, ...], EventLogged] = {}
    for event in events:
        key = event_key(event)
        if key not in known:
            fresh.setdefault(key, event)
    return list(fresh.values()), len(events) - len(fresh)


def _oldest(stored: Sequence[StoredFact]) -> Position:
    first = min(each.position for each in stored)
    return replace(first, fact_id=0)


def _add(first: FilesTaken, second: FilesTaken) -> FilesTaken:
    return FilesTaken(
        first.taken + second.taken,
        first.already + second.already,
        first.refusals + second.refusals,
        first.checks + second.checks,
        first.marked + second.marked,
    )
