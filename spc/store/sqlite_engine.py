"""Everything that is SQLite's alone: connections, triggers, error words, copying while in use."""

import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, QueuePool, StaticPool, create_engine, event, text

from spc.errors import Refusal, Refused

__all__ = [
    "check_place", "close_log", "copy_database", "explain", "explained", "forbid_changes", "is_memory",
    "make_engine", "make_reading_engine", "opened_to_read",
]  # fmt: skip

RETRY_S = 0.01
SMALLEST_DATABASE = 512  # bytes: one page of the smallest size


def make_engine(url: URL, busy_timeout_s: float) -> Engine:
    """Build the engine: write-ahead log, synced at each commit, writers lock before they read.

    A transaction that reads and then writes fails at once in a write-ahead log when another writer came
    between; so a connection with the execution option `write` begins with `BEGIN IMMEDIATE`.
    """
    pool = StaticPool if is_memory(url) else QueuePool
    connect_args = {"timeout": busy_timeout_s, "check_same_thread": False}
    engine = create_engine(url, connect_args=connect_args, poolclass=pool)

    @event.listens_for(engine, "connect")
    def _connected(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None
        connection.execute(f"PRAGMA busy_timeout={round(busy_timeout_s * 1000)}")
        _use_write_ahead_log(connection, busy_timeout_s)
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("PRAGMA foreign_keys=ON")

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        write = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")

    return engine


def make_reading_engine(file: Path) -> Engine:
    """Build the engine of a file that this user may not write to, or not beside.

    A log that still holds something is read with it, which needs the log's index to be there or to be made;
    without one the file is taken as it stands, since nobody here could make a log.
    """
    log = file.with_name(file.name + "-wal")
    how = "mode=ro" if log.exists() and log.stat().st_size else "mode=ro&immutable=1"

    def connect() -> sqlite3.Connection:
        return sqlite3.connect(
            f"{file.as_uri()}?{how}", uri=True, isolation_level=None, check_same_thread=False
        )

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool)

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN")

    return engine


def is_memory(url: URL) -> bool:
    """Tell whether the database lives in memory only."""
    return url.database in (None, "", ":memory:")


def check_place(url: URL) -> None:
    """Refuse, before SQLite is asked, a folder that is missing and a file that is something else."""
    path = Path(url.database or "")
    if is_memory(url) or "uri" in url.query:
        return
    if not path.parent.is_dir():
        raise Refused.one(
            f"the folder {path.parent} does not exist",
            file=str(path),
            allowed="a file in a folder that exists; the file itself is made when it is missing",
            do="Make the folder, or name another place with --db",
        )
    if path.is_dir():
        raise Refused.one(
            "this is a folder, not a file",
            file=str(path),
            allowed="the name of a file",
            do=f"Name a file inside it, such as {path / 'spc-record.sqlite'}",
        )
    if path.exists() and 0 < path.stat().st_size < SMALLEST_DATABASE:
        # SQLite takes some tiny files for empty ones and would write over them. Only the size is asked:
        # opening and closing the file here would free the locks this program holds on it.
        reason, allowed, do = WORDS["SQLITE_NOTADB"]
        raise Refused([Refusal(reason, file=str(path), allowed=allowed, do=do)])


def forbid_changes(connection: Connection, table: str, columns: Sequence[str]) -> None:
    """Make a table append-only: its rows cannot be deleted and only `superseded_…` may be filled in, once."""
    kept = [name for name in columns if not name.startswith("superseded_")]
    say = f"SELECT RAISE(ABORT, '{table} are append-only')"
    for name, when in (
        ("not_deleted", f"BEFORE DELETE ON {table}"),
        ("not_changed", f"BEFORE UPDATE OF {', '.join(kept)} ON {table}"),
    ):
        connection.execute(text(f"CREATE TRIGGER {table}_{name} {when} BEGIN {say}; END"))
    if len(kept) < len(columns):
        when = f"BEFORE UPDATE ON {table} WHEN OLD.superseded_at IS NOT NULL"
        connection.execute(text(f"CREATE TRIGGER {table}_superseded_once {when} BEGIN {say}; END"))


def copy_database(source: sqlite3.Connection, target: Path) -> None:
    """Copy a database into one new file, also while others write to it."""
    with closing(sqlite3.connect(target, isolation_level=None)) as copy:
        source.backup(copy)


def close_log(file: Path) -> None:
    """Turn the write-ahead log off, so that a backup is one file with nothing beside it."""
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE")


@contextmanager
def opened_to_read(file: Path) -> Iterator[sqlite3.Connection]:
    """Open a database file that is not to be changed."""
    with closing(sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True, isolation_level=None)) as connection:
        connection.execute("SELECT count(*) FROM sqlite_master")  # here it shows if it is none
        yield connection


@contextmanager
def explained(place: str) -> Iterator[None]:
    """Let errors of SQLite come out as refusals."""
    try:
        yield
    except sqlite3.Error as error:
        raise Refused([explain(error, place)]) from error


def explain(error: BaseException | None, place: str) -> Refusal:
    """Say what a person can do about an error of SQLite."""
    name = getattr(error, "sqlite_errorname", None) or ""
    for start, (reason, allowed, do) in WORDS.items():
        if name.startswith(start):
            return Refusal(reason, file=place, allowed=allowed, do=do)
    return Refusal(
        "the record could not be read or written",
        value=str(error),
        file=place,
        do="Check the disk, then run spc record verify; if it fails, restore the last backup",
    )


WORDS = {
    "SQLITE_BUSY": (
        "the record is locked: another program has been writing to it for too long",
        "several programs at once, each writing for a moment",
        "Nothing was changed. Close whatever has the file open (a viewer, a stuck command) and try again",
    ),
    "SQLITE_READONLY": (
        "the record is read-only, so nothing can be written",
        "a file and a folder this user may write to",
        "Nothing was changed. Give this user write permission on the file and its folder, "
        "or name another place with --db",
    ),
    "SQLITE_CANTOPEN": (
        "the record cannot be opened: the file or its folder may not be written to by this user",
        "a file and a folder this user may write to",
        "Give this user write permission on the file and its folder, or name another place with --db",
    ),
    "SQLITE_NOTADB": (
        "this file is not a record: it is no SQLite database",
        "a record made by this station, or a name that does not exist yet",
        "The file was left alone. Name another file with --db",
    ),
    "SQLITE_CORRUPT": (
        "the record is damaged",
        "an intact SQLite database",
        "Keep the file for the experts and restore the last backup under another name",
    ),
    "SQLITE_FULL": (
        "the disk is full, so nothing was written",
        "free space on the disk of the record",
        "Nothing was changed. Free some space and try again",
    ),
}


def _use_write_ahead_log(connection: sqlite3.Connection, patience_s: float) -> None:
    """Switch the log on; SQLite does not wait by itself when two connections make a new file at once."""
    deadline_s = time.monotonic() + patience_s
    while True:
        try:
            connection.execute("PRAGMA journal_mode=WAL")
            return
        except sqlite3.OperationalError as error:
            if error.sqlite_errorname != "SQLITE_BUSY" or time.monotonic() > deadline_s:
                raise
            time.sleep(RETRY_S)
