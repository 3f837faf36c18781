"""Migrations: each once, its record with its change, and newer records are left alone."""

import sqlite3

import pytest
from made_facts import check
from sqlalchemy import text

from spc.errors import Refused
from spc.store import open_store
from spc.store.migrations import MIGRATIONS, Migration, migrate, pending


def add_note(connection) -> None:
    connection.execute(text("ALTER TABLE drafts ADD COLUMN note TEXT"))


def fail(connection) -> None:
    connection.execute(text("CREATE TABLE half_done (x TEXT)"))
    raise ZeroDivisionError


NEXT = (*MIGRATIONS, Migration("9998 a note", add_note))


def test_nothing_is_pending_in_a_new_record(store) -> None:
    with store.connection() as connection:
        assert pending(connection) == ()


def test_each_is_applied_once_in_order(file_store, clock) -> None:
    with file_store.connection() as connection:
        assert [each.name for each in pending(connection, NEXT)] == ["9998 a note"]
        assert [each.name for each in pending(connection, NEXT)] == ["9998 a note"]  # it only reads
    with file_store.connection(write=True) as connection:
        assert migrate(connection, clock, NEXT) == ("9998 a note",)
        assert migrate(connection, clock, NEXT) == ()
    with file_store.connection() as connection:
        applied = connection.execute(text("SELECT name FROM migrations ORDER BY name")).scalars().all()
        assert applied == [each.name for each in NEXT]


def test_a_failure_undoes_change_and_record(file_store, clock) -> None:
    broken = (*NEXT, Migration("9999 fails", fail))
    with pytest.raises(ZeroDivisionError), file_store.connection(write=True) as connection:
        migrate(connection, clock, broken)
    with file_store.connection() as connection:
        assert [each.name for each in pending(connection, broken)] == ["9998 a note", "9999 fails"]
        assert connection.execute(text("SELECT * FROM sqlite_master WHERE name = 'half_done'")).all() == []


def test_a_newer_record_is_refused_and_left_alone(file) -> None:
    store = open_store(file)
    with store.writing() as desk:
        desk.append([check(0)])
    store.close()
    with sqlite3.connect(file) as raw:
        raw.execute("INSERT INTO migrations VALUES ('7777 colours', '2030')")
    raw.close()
    with pytest.raises(Refused, match=r"written by a newer version \(it knows 7777 colours\)") as caught:
        open_store(file)
    assert str(file) in str(caught.value)
    raw = sqlite3.connect(file)
    assert raw.execute("SELECT count(*) FROM facts").fetchone() == (1,)
    raw.close()
