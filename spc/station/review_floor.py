"""What happened on the floor in a review: checks on hold and their answers, strike-outs, events."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from decimal import Decimal

from spc.shop import AlarmAnswered, EventLogged, Plan, Verdict
from spc.shop.names import shop_name
from spc.station.answers import answer_words, answers_given
from spc.station.kept import fact_of
from spc.station.review_period import Stretch, includes
from spc.station.review_records import HeldCheck, ReviewEvent
from spc.store import Shelf, StoredFact, text_time

__all__ = ["events_told", "held_checks", "last_logged", "machine_events", "strike_outs"]

_LABELS = {
    "die_set_mounted": "dies {} on",
    "die_set_reground": "dies {} reground",
    "die_set_removed": "dies off: {}",
    "blank_batch": "bar batch {}",
    "gauge_mastered": "gauge set on its master, {} µm off",
    "machine_stopped": "stopped {} min",
    "setting": "set to {}",
    "scrapped": "scrapped {}",
    "held": "held back {}",
    "released": "released {}",
    "order": "order {}",
    "note": "{}",
}


def machine_events(shelf: Shelf, machine: str) -> list[EventLogged]:
    """Return everything ever logged on a machine, whatever part it names, in the order of facts."""
    parts = shelf.parts()
    stored = list(shelf.facts("", [machine], kinds=("event",)))
    for part in parts:
        stored += shelf.facts(part, kinds=("event",))
    stored.sort(key=lambda each: each.position)
    facts = [fact_of(each) for each in stored if each.machine == machine]
    return [fact for fact in facts if isinstance(fact, EventLogged)]


def last_logged(events: Sequence[EventLogged], checks: Sequence[datetime]) -> datetime | None:
    """Return when the record of the machine falls silent: its last check or event, stops to their end."""
    moments = list(checks)
    for event in events:
        stop = float(event.value) if event.event == "machine_stopped" else 0.0
        moments.append(event.time + timedelta(minutes=stop))
    return max(moments, default=None)


def held_checks(
    shelf: Shelf, part: str, checks: Sequence[Verdict], stretches: tuple[Stretch, ...]
) -> tuple[HeldCheck, ...]:
    """Return the checks that said Stop and hold, each with the answer given last."""
    answers = answers_given(shelf, part)
    return tuple(
        _held(check, answers.get(check.check_id or 0))
        for check in checks
        if check.verdict == "hold" and includes(stretches, check.time)
    )


def strike_outs(
    shelf: Shelf, stored: Sequence[StoredFact], stretches: tuple[Stretch, ...]
) -> tuple[tuple[datetime, str, str], ...]:
    """Return time, reason and person of every check that was struck out."""
    found = []
    for each in shelf.annulments_of([check.id for check in stored if check.kind == "check"]):
        moment = text_time(each.time)
        if includes(stretches, moment):
            found.append((moment, each.reason, each.by_name))
    return tuple(sorted(found))


def events_told(
    events: Sequence[EventLogged], plan: Plan, machine: str, stretches: tuple[Stretch, ...]
) -> tuple[ReviewEvent, ...]:
    """Return the events of this part in the period, in shop words."""
    ours = [each for each in events if each.part in ("", plan.part) and includes(stretches, each.time)]
    return tuple(
        ReviewEvent(each.time, each.event, _label(each, plan, machine), each.note, each.operator)
        for each in ours
    )


def _label(event: EventLogged, plan: Plan, machine: str) -> str:
    if event.event == "penetration":
        return f"slide at {plan.machine(machine).shown_setting_mm(Decimal(event.value))} mm on the panel"
    label = _LABELS.get(event.event, "{}").format(event.value.replace("_", " "))
    if event.event == "setting" and event.note:
        return f"{event.note.replace('_', ' ')} {label}"
    return label


def _held(check: Verdict, answer: AlarmAnswered | None) -> HeldCheck:
    said = tuple(
        f"{shop_name(each.characteristic)}: {each.says}" if each.characteristic else each.says
        for each in check.signals
    )
    return HeldCheck(
        check.check_id or 0,
        check.time,
        check.die_set,
        check.counter,
        said,
        None if check.contain is None else check.contain.pieces,
        "" if answer is None else answer_words(answer),
        "" if answer is None else answer.by,
    )
