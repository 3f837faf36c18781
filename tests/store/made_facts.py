"""Facts for the store's tests: what they say does not matter, where they stand does."""

from datetime import UTC, datetime, timedelta

from spc.store import NewFact, NewVerdict, StoredFact, time_text

START = datetime(2026, 3, 2, 6, tzinfo=UTC)


def at(hours: float) -> str:
    return time_text(START + timedelta(hours=hours))


def check(hours: float, part: str = "P-31", machine: str = "R1", body: str = "{}", **more) -> NewFact:
    return NewFact(part, machine, "check", at(hours), 6, body, **more)


def event(hours: float, part: str = "", machine: str = "R1", body: str = "{}") -> NewFact:
    return NewFact(part, machine, "event", at(hours), 7, body)


def plan(hours: float, part: str = "P-31", body: str = "{}") -> NewFact:
    return NewFact(part, "", "plan", at(hours), -1, body)


def verdict(fact: StoredFact, body: str) -> NewVerdict:
    return NewVerdict(fact.id, fact.part, fact.machine, fact.time, fact.rank, body)
