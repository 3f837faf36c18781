"""Migrations: named functions, each applied once, its record in the same transaction as its change."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import (
    Column,
    Connection,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    insert,
    inspect,
    select,
    text,
)  # fmt: skip

from spc.errors import Refused
from spc.store import sqlite_engine, tables
from spc.store.rows import time_text

__all__ = ["MIGRATIONS", "Migration", "migrate", "pending"]


@dataclass(frozen=True, slots=True)
class Migration:
    """One change of the tables; its definition is frozen once a record has met it."""

    name: str
    change: Callable[[Connection], None]


def pending(connection: Connection, known: Sequence[Migration] | None = None) -> tuple[Migration, ...]:
    """Say which migrations a record has not met; reads only.

    Raises
    ------
    Refused
        The database belongs to something else, or the record was written by a newer version.
    """
    known = MIGRATIONS if known is None else known
    present = inspect(connection).get_table_names()
    if tables.migrations.name not in present:
        _refuse_foreign(present)
        return tuple(known)
    applied = set(connection.execute(select(tables.migrations.c.name)).scalars())
    _refuse_newer(applied - {migration.name for migration in known})
    return tuple(migration for migration in known if migration.name not in applied)


def migrate(
    connection: Connection, now: Callable[[], datetime], known: Sequence[Migration] | None = None
) -> tuple[str, ...]:
    """Bring a record up to this version, inside the write transaction that is open on the connection.

    Returns
    -------
    tuple of str
        Names of what was applied. A failure undoes every change and its record together.
    """
    todo = pending(connection, known)
    if todo:
        statement = "CREATE TABLE IF NOT EXISTS migrations (name TEXT PRIMARY KEY, applied_at TEXT NOT NULL)"
        connection.execute(text(statement))
    for migration in todo:
        migration.change(connection)
        row = {"name": migration.name, "applied_at": time_text(now())}
        connection.execute(insert(tables.migrations), row)
    return tuple(migration.name for migration in todo)


def _refuse_foreign(present: Sequence[str]) -> None:
    if present:
        raise Refused.one(
            f"this database holds something else (tables {', '.join(sorted(present)[:5])}); it is left alone",
            allowed="a record made by this station, or a name that does not exist yet",
            do="Name another file or database",
        )


def _refuse_newer(unknown: set[str]) -> None:
    if unknown:
        raise Refused.one(
            f"the record was written by a newer version (it knows {', '.join(sorted(unknown))})",
            allowed=f"records up to {MIGRATIONS[-1].name}",
            do="Open it with that version, or restore a backup made before the change of version",
        )


def _first_tables(connection: Connection) -> None:
    """Facts, verdicts, checkpoints, drafts, with an index for every query."""
    meta = MetaData()
    made = (_facts(meta), _verdicts(meta))
    Table(
        "checkpoints", meta, Column("part", Text, primary_key=True), Column("time", Text, primary_key=True),
        Column("rank", Integer, primary_key=True), Column("fact_id", Integer, primary_key=True),
        _text("body"), _text("format"),
    )  # fmt: skip
    Table("drafts", meta, Column("key", Text, primary_key=True), _text("body"), _text("saved_at"))
    meta.create_all(connection, checkfirst=False)
    if connection.dialect.name == "sqlite":
        for table in made:
            sqlite_engine.forbid_changes(connection, table.name, [each.name for each in table.columns])


def _facts(meta: MetaData) -> Table:
    table = Table(
        "facts", meta,
        Column("id", Integer, primary_key=True), _text("part"), _text("machine"), _text("kind"),
        _text("time"), _whole("rank"), _text("body"), _text("recorded_at"), _text("by_name"), _text("reason"),
        _text("source"), Column("annuls", Integer, ForeignKey("facts.id")), _text("link"),
        sqlite_autoincrement=True,
    )  # fmt: skip
    order = (table.c.time, table.c.rank, table.c.id)
    Index("facts_of_part", table.c.part, *order)
    Index("facts_of_machine", table.c.part, table.c.machine, *order)
    Index("facts_of_kind", table.c.kind, table.c.part, *order)
    Index("facts_annuls", table.c.annuls)
    return table


def _verdicts(meta: MetaData) -> Table:
    table = Table(
        "verdicts", meta, Column("id", Integer, primary_key=True),
        Column("fact_id", Integer, ForeignKey("facts.id"), nullable=False), _text("part"), _text("machine"),
        _text("time"), _whole("rank"), _text("body"), _text("made_at"), Column("superseded_at", Text),
        Column("superseded_by", Integer), sqlite_autoincrement=True,
    )  # fmt: skip
    order = (table.c.time, table.c.rank, table.c.fact_id, table.c.id)
    Index("verdicts_of_part", table.c.part, *order)
    Index("verdicts_of_machine", table.c.part, table.c.machine, *order)
    stands = table.c.superseded_at.is_(None)
    Index("verdicts_stand", table.c.fact_id, unique=True, sqlite_where=stands, postgresql_where=stands)
    Index("verdicts_of_fact", table.c.fact_id)
    return table


def _text(name: str) -> Column[str]:
    return Column(name, Text, nullable=False)


def _whole(name: str) -> Column[int]:
    return Column(name, Integer, nullable=False)


MIGRATIONS = (Migration("0001 facts, verdicts, checkpoints, drafts", _first_tables),)
