"""Facts: kept as they came, in the order of the floor, never changed."""

import sqlite3
from dataclasses import fields
from datetime import datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from made_facts import at, check, event, plan, verdict
from sqlalchemy import inspect

from spc.store import NewFact, Position, StoredFact, StoredVerdict, open_store, tables, time_text
from spc.store.rows import StoredCheckpoint


def test_a_fact_comes_back_with_the_server_time_and_a_link(store) -> None:
    new = check(0, body='{"x": "31.250"}', by_name="Ina", reason="re-entered", source="entry page")
    with store.writing("P-31", ["R1"]) as desk:
        (stored,) = desk.append([new])
        assert desk.fact(stored.id) == stored  # the transaction sees its own facts
    assert (stored.id, stored.body, stored.recorded_at) == (1, new.body, "2026-04-01T00:00:01.000000+00:00")
    assert (stored.by_name, stored.reason, stored.source) == ("Ina", "re-entered", "entry page")
    assert len(stored.link) == 64
    with store.reading() as shelf:
        assert shelf.fact(1) == stored
        assert shelf.fact(2) is None


def test_a_stream_is_its_part_and_the_partless_events_of_its_machines_in_order(store) -> None:
    with store.writing() as desk:
        desk.append([check(2), check(1), event(1), event(1, machine="R9"), check(1, part="P-7"), plan(1)])
        desk.append([event(0, part="P-31"), event(1.5, machine="R2")])
    with store.reading() as shelf:
        assert ids(shelf.facts("P-31", ["R1", "R2"])) == [7, 6, 2, 3, 8, 1]
        assert ids(shelf.facts("P-31", [])) == [7, 6, 2, 1]
        assert ids(shelf.facts("", ["R1", "R9"])) == [3, 4]
        assert ids(shelf.facts("P-31", ["R1"], kinds=["event", "plan"])) == [7, 6, 3]


def test_after_is_beyond_and_until_is_included(store) -> None:
    with store.writing() as desk:
        stored = desk.append([check(1), check(1), check(2), event(2), check(3)])
    places = [fact.position for fact in stored]
    with store.reading() as shelf:
        assert ids(shelf.facts("P-31", ["R1"], after=places[0])) == [2, 3, 4, 5]
        assert ids(shelf.facts("P-31", ["R1"], after=places[0], until=places[3])) == [2, 3, 4]
        assert ids(shelf.facts("P-31", ["R1"], until=Position(at(2), 0, 0))) == [1, 2]
        assert shelf.facts("P-31", ["R1"], after=places[4]) == []


def test_checks_of_a_moment_come_with_what_strikes_them_out(store) -> None:
    with store.writing() as desk:
        desk.append([check(1), check(1, machine="R2"), check(2), event(1, part="P-31")])
        desk.append([NewFact("P-31", "", "annulled", at(1), 6, "{}", annuls=1, reason="wrong piece")])
        desk.append([check(1)])
    with store.reading() as shelf:
        assert ids(shelf.facts_at("P-31", "R1", at(1))) == [1, 5, 6]
        assert shelf.facts_at("P-31", "R1", at(5)) == []
        assert [(each.id, each.annuls) for each in shelf.annulments("P-31")] == [(5, 1)]
        assert ids(shelf.checks_between("P-31")) == [1, 2, 6, 3]
        assert ids(shelf.checks_between("P-31", "R1", at(1), at(2))) == [1, 6]


def test_parts_are_those_with_a_plan_and_the_last_plan_counts(store) -> None:
    with store.writing() as desk:
        desk.append(
            [plan(5, body="later"), plan(1, body="earlier"), plan(1, part="P-7"), check(9, part="P-9")]
        )
    with store.reading() as shelf:
        assert shelf.parts() == ("P-31", "P-7")
        assert shelf.latest_plan("P-31").body == "later"
        assert shelf.latest_plan("P-9") is None


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(body=st.text(st.characters(exclude_categories=["Cs"])), name=st.text("µÅ„'\";-- \n\t,"))
def test_text_comes_back_exactly(file_store, body: str, name: str) -> None:
    with file_store.writing() as desk:
        (stored,) = desk.append([check(0, part="P", body=body, by_name=name)])
    with file_store.reading() as shelf:
        kept = shelf.fact(stored.id)
    assert (kept.body, kept.by_name) == (body, name)


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE facts SET body = '{}' WHERE id = 1",
        "UPDATE facts SET link = 'x'",
        "DELETE FROM facts WHERE id = 1",
        "UPDATE verdicts SET body = 'kinder'",
        "DELETE FROM verdicts",
    ],
)
def test_nobody_changes_what_was_written(file_store, file, change: str) -> None:
    with file_store.writing() as desk:
        (fact,) = desk.append([check(0)])
        desk.save_verdicts([verdict(fact, "watch")])
    raw = sqlite3.connect(file)
    with pytest.raises(sqlite3.IntegrityError, match="are append-only"):
        raw.execute(change)
    raw.close()


@pytest.mark.parametrize("time", ["2026-03-02T09:00:00", "2026-03-02T09:00:00.000000+01:00", ""])
def test_a_time_that_would_not_sort_is_a_mistake_in_the_program(time: str) -> None:
    with pytest.raises(ValueError, match="time_text"):
        NewFact("P-31", "R1", "check", time, 6, "{}")


def test_an_unknown_kind_and_a_moment_without_zone_are_mistakes_too() -> None:
    with pytest.raises(ValueError, match="there are plan, check"):
        NewFact("P-31", "R1", "chek", at(0), 6, "{}")
    with pytest.raises(ValueError, match="no zone"):
        time_text(datetime(2026, 3, 2))  # noqa: DTZ001  # the mistake itself


def test_columns_stand_in_the_order_of_the_records(file) -> None:
    store = open_store(file)
    with store.connection() as connection:
        made = inspect(connection)
        for table, record in (
            (tables.facts, StoredFact),
            (tables.verdicts, StoredVerdict),
            (tables.checkpoints, StoredCheckpoint),
        ):
            names = [field.name for field in fields(record)]
            assert [column.name for column in table.c] == names
            assert [column["name"] for column in made.get_columns(table.name)] == names
    store.close()


def ids(facts) -> list[int]:
    return [fact.id for fact in facts]
