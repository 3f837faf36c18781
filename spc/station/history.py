"""The history of one characteristic on one machine, ready to draw on one axis of pieces."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from spc.shop import Characteristic, CheckGauged, EventLogged, Machine, Plan, Subgroup, Verdict
from spc.shop.names import setting_words
from spc.station.kept import fact_of, verdict_of
from spc.station.pieces import piece_values
from spc.station.refold import in_sequence
from spc.station.views import CharacteristicHistory, CheckPoint, FloorEvent, SettingPoint
from spc.store import Shelf, time_text

__all__ = ["NEWEST_CHECKS", "characteristic_histories"]

NEWEST_CHECKS = 120
"""Checks shown below the verdict: five days of three shifts, about."""

Axis = list[tuple[datetime, float]]


def characteristic_histories(
    shelf: Shelf,
    plan: Plan,
    machine: str,
    *,
    from_time: datetime | None = None,
    to_time: datetime | None = None,
    newest: int | None = NEWEST_CHECKS,
) -> tuple[CharacteristicHistory, ...]:
    """Return one history a gauged characteristic, struck-out checks included.

    Parameters
    ----------
    newest : int or None
        At most so many checks, the last ones.
    """
    low = None if from_time is None else time_text(from_time)
    high = None if to_time is None else time_text(to_time)
    stored = shelf.verdicts(plan.part, machine, low, high, newest=newest, superseded=True)
    verdicts = _shown(stored)
    struck = {
        each.fact_id for each in stored if each.superseded_at is not None and each.superseded_by is None
    }
    struck -= {each.fact_id for each in stored if each.superseded_at is None}
    if not verdicts:
        return ()
    checks = _checks(shelf, plan.part, machine, verdicts)
    axis, counts = _axis(verdicts, struck)
    events = _events(shelf, plan.part, machine, verdicts[0].time, to_time)
    return tuple(
        CharacteristicHistory(
            machine,
            characteristic,
            plan.zone,
            _points(characteristic, verdicts, struck, checks, axis),
            _settings(events, plan.machine(machine), axis),
            tuple(_floor_event(event, axis) for event in events if event.event in _LABELS),
            counts,
        )
        for characteristic in plan.gauged
    )


def _shown(stored: Sequence[object]) -> list[Verdict]:
    """One verdict a check: the one that stands, or the last one of a check that was struck out."""
    found: dict[int, Verdict] = {}
    for each in stored:
        verdict = verdict_of(each)  # type: ignore[arg-type]  # rows of the record's verdicts
        found[verdict.check_id or 0] = verdict
    return sorted(found.values(), key=lambda verdict: verdict.time)


def _checks(shelf: Shelf, part: str, machine: str, verdicts: Sequence[Verdict]) -> dict[int, CheckGauged]:
    stored = shelf.checks_between(
        part, machine, time_text(verdicts[0].time), time_text(verdicts[-1].time) + "~"
    )
    found: dict[int, CheckGauged] = {}
    for kept in stored:  # struck-out checks show their readings too
        fact = fact_of(kept)
        if isinstance(fact, CheckGauged):
            found[kept.id] = fact
    for each in in_sequence(shelf, stored):
        if isinstance(each.fact, CheckGauged):
            found[each.check_id] = each.fact
    return found


def _axis(verdicts: Sequence[Verdict], struck: set[int]) -> tuple[Axis, str]:
    """Pieces made since the first check shown; the count of checks where counters are missing."""
    if any(verdict.counter is None for verdict in verdicts):
        return [(verdict.time, float(place)) for place, verdict in enumerate(verdicts)], "checks"
    axis: Axis = []
    total, before = 0.0, None
    for verdict in verdicts:
        counter = verdict.counter or 0
        if before is not None and (verdict.check_id not in struck):
            same = before.die_set == verdict.die_set and counter >= (before.counter or 0)
            total += counter - (before.counter or 0) if same else counter
        axis.append((verdict.time, total))
        if verdict.check_id not in struck:
            before = verdict
    return axis, "pieces"


def _place(axis: Axis, time: datetime) -> float:
    """Place of a moment on the axis, between the checks around it."""
    before = [each for each in axis if each[0] <= time]
    after = [each for each in axis if each[0] > time]
    if not before:
        return axis[0][1]
    if not after:
        return before[-1][1]
    (start, low), (end, high) = before[-1], after[0]
    share = (time - start).total_seconds() / (end - start).total_seconds()
    return low + share * (high - low)


def _points(
    characteristic: Characteristic,
    verdicts: Sequence[Verdict],
    struck: set[int],
    checks: dict[int, CheckGauged],
    axis: Axis,
) -> tuple[CheckPoint, ...]:
    return tuple(
        _point(characteristic, verdict, group, checks[check_id], place, check_id in struck)
        for verdict, (_, place) in zip(verdicts, axis, strict=True)
        if (group := verdict.subgroup(characteristic.name)) is not None
        and (check_id := verdict.check_id or 0) in checks
    )


def _point(
    characteristic: Characteristic,
    verdict: Verdict,
    group: Subgroup,
    check: CheckGauged,
    place: float,
    is_struck: bool,
) -> CheckPoint:
    return CheckPoint(
        check_id=verdict.check_id or 0,
        time=verdict.time,
        axis_pieces=place,
        die_set=verdict.die_set,
        counter=verdict.counter,
        age=verdict.age,
        purpose=verdict.purpose,
        n=group.n,
        values=tuple(float(value) for value in piece_values(check, characteristic)),
        mean=group.mean,
        range=group.range,
        mean_at_reference_setting=group.mean_at_reference_setting,
        centre=group.centre,
        lower=group.lower,
        upper=group.upper,
        spread_upper=group.spread_upper,
        standing=group.standing,
        verdict=verdict.verdict,
        says=_said(verdict, characteristic.name),
        struck_out=is_struck,
        suspect=group.suspect,
        wear_line=group.wear_line,
    )


def _said(verdict: Verdict, name: str) -> tuple[str, ...]:
    signals = (each.says for each in verdict.signals if each.characteristic == name)
    explained = (each.says for each in verdict.explained if each.characteristic == name)
    return (*signals, *explained)


def _events(
    shelf: Shelf, part: str, machine: str, start: datetime, end: datetime | None
) -> list[EventLogged]:
    """Events of the machine in the time shown, and the last slide setting before it."""
    stored = shelf.facts(part, [machine], kinds=("event",))
    facts = [
        fact for each in stored if isinstance(fact := fact_of(each), EventLogged) and fact.machine == machine
    ]
    before = [each for each in facts if each.time < start and each.event == "penetration"]
    shown = [each for each in facts if each.time >= start and (end is None or each.time < end)]
    return [*before[-1:], *shown]


def _settings(events: Sequence[EventLogged], machine: Machine, axis: Axis) -> tuple[SettingPoint, ...]:
    return tuple(
        SettingPoint(
            event.time,
            _place(axis, event.time),
            Decimal(event.value),
            machine.shown_setting_mm(Decimal(event.value)),
        )
        for event in events
        if event.event == "penetration"
    )


_LABELS = {
    "die_set_mounted": "dies {}",
    "die_set_reground": "dies {} reground",
    "die_set_removed": "dies off: {}",
    "blank_batch": "bar batch {}",
    "gauge_mastered": "gauge set on its master",
    "machine_stopped": "stopped {} min",
    "setting": "set to {}",
    "scrapped": "scrapped {}",
}


def _floor_event(event: EventLogged, axis: Axis) -> FloorEvent:
    label = _LABELS[event.event].format(event.value.replace("_", " "))
    if event.event == "setting" and event.note:
        label = setting_words(event.note, event.value)
    return FloorEvent(event.time, _place(axis, event.time), event.event, label)
