"""A piece of the demo history, and ways to feed it to a station: at once, one by one, late."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

from spc.intake import read_events, read_plans, read_readings
from spc.shop import CheckGauged, EventLogged, Plan
from spc.shop.moment import local_text
from spc.station import Station, open_station, verdict_line

DEMO = Path(__file__).parents[2] / "demo_data"
NOW = datetime(2026, 4, 1, 12, tzinfo=UTC)

Fact = CheckGauged | EventLogged


def station() -> Station:
    """A station on a record of its own, with a clock that stands."""
    return open_station(":memory:", now=lambda: NOW)


@cache
def plan_of(part: str) -> Plan:
    return next(plan for plan in read_plans([DEMO]) if plan.part == part)


@cache
def demo_facts(part: str, count: int) -> tuple[Fact, ...]:
    """The first facts of one part of the demo month, in the order of facts."""
    plans = read_plans([DEMO])
    checks = [each for each in read_readings(DEMO / "readings.csv", plans).checks if each.part == part]
    events = [each for each in read_events(DEMO / "events.csv", plans).events if each.part == part]
    facts: list[tuple[int, Fact]] = [*enumerate(checks), *enumerate(events)]
    facts.sort(key=lambda each: (each[1].time, each[1].order, each[0]))
    return tuple(fact for _, fact in facts[:count])


def feed(to: Station, fact: Fact, zone: str) -> int | None:
    """Give one fact to the station as a page would; the check's id where it was one."""
    if isinstance(fact, EventLogged):
        to.log(event_columns(fact, zone))
        return None
    return to.check_in(check_values(fact, zone)).check_id


def event_columns(event: EventLogged, zone: str) -> Mapping[str, Any]:
    return {
        "time": local_text(event.time, zone),
        "machine": event.machine,
        "part": event.part,
        "event": event.event,
        "value": event.value,
        "note": event.note,
        "counter": event.counter,
        "operator": event.operator,
    }


def check_values(check: CheckGauged, zone: str) -> Mapping[str, Any]:
    values: dict[str, list[str]] = {}
    for reading in check.readings:
        values.setdefault(reading.characteristic, []).append(reading.text)
    return {
        "time": local_text(check.time, zone),
        "machine": check.machine,
        "part": check.part,
        "counter": check.counter,
        "operator": check.operator,
        "purpose": check.purpose,
        "values": values,
    }


def kept_lines(of: Station, part: str) -> list[dict[str, Any]]:
    """The verdicts that stand in the record, as the contract's lines, without the record's own ids."""
    from spc.station.kept import verdict_of

    with of.store.reading() as shelf:
        lines = [verdict_line(verdict_of(each)) for each in shelf.verdicts(part)]
    for line in lines:
        line.pop("check_id")
    return lines


def state_text(of: Station, part: str) -> str:
    """The live state as exact text: every float to its last bit."""
    from spc.station.kept import text_of
    from spc.station.refold import present_state

    with of.store.reading() as shelf:
        return _without_source(text_of(present_state(shelf, part)))


def replayed(plan: Plan, facts: Sequence[Fact]) -> tuple[list[dict[str, Any]], str]:
    """Lines and state of a full replay of the same facts."""
    from spc.shop import PlanTaken
    from spc.station.fold import step
    from spc.station.kept import text_of
    from spc.station.replay import streams
    from spc.station.state import StreamState
    from spc.station.take_plan import BEFORE_ALL

    checks = [each for each in facts if isinstance(each, CheckGauged)]
    events = [each for each in facts if isinstance(each, EventLogged)]
    state, _ = step(StreamState(plan.part), PlanTaken(BEFORE_ALL, plan.part, plan.text, plan.source))
    lines = []
    for _, ordered in streams([plan], checks, events):
        for _, fact in ordered:
            state, verdict = step(state, fact)
            if verdict is not None:
                lines.append(verdict_line(verdict))
    return lines, _without_source(text_of(state))


def _without_source(text: str) -> str:
    """Leave out where an entry came from (file and row, or the page), which judging never looks at."""
    import re

    return re.sub(r'"(source|row)":(null|\d+|"[^"]*")', '""', text)
