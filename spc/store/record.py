"""The record: opening it, and the transactions through which everything is read and written."""

import threading
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, delete, false, insert
from sqlalchemy.exc import DBAPIError, IntegrityError, ProgrammingError

from spc.errors import Refused
from spc.store import sqlite_engine
from spc.store.desk import Desk
from spc.store.engine import engine_for, place_of, url_of
from spc.store.migrations import migrate
from spc.store.rows import time_text
from spc.store.shelf import Shelf
from spc.store.tables import checkpoints, drafts

__all__ = ["BUSY_TIMEOUT_S", "Store", "open_store"]

BUSY_TIMEOUT_S = 5.0


def _utc_now() -> datetime:
    return datetime.now(UTC)


def open_store(
    url_or_path: str | Path, *, now: Callable[[], datetime] = _utc_now, busy_timeout_s: float = BUSY_TIMEOUT_S
) -> "Store":
    """Open the record for the station and the commands; it is made if it is missing.

    Parameters
    ----------
    url_or_path : str or Path
        File, URL, or ":memory:" for a record that lasts as long as the store.
    now : callable
        The clock that stamps what is written; aware.
    busy_timeout_s : float
        How long to wait for other writers before refusing.

    Raises
    ------
    Refused
        The folder is missing, the file or folder is read-only, the file is something else, another program
        holds the lock, or the record was written by a newer version.
    """
    url = url_of(url_or_path)
    store = Store(url, engine_for(url, busy_timeout_s), now)
    try:
        with store.connection(write=True) as connection:
            migrate(connection, now)
            # on a read-only file BEGIN IMMEDIATE only reads: this writes nothing, but shows it now
            connection.execute(delete(drafts).where(false()))
    except Refused as refused:
        store.close()
        raise Refused(replace(each, file=store.place) for each in refused.refusals) from refused.__cause__
    except BaseException:
        store.close()
        raise
    return store


class Store:
    """One record; safe to share between threads.

    Attributes
    ----------
    url : sqlalchemy.URL
    place : str
        Where the record lies, for messages.
    rows_read : int
        Rows fetched so far.
    """

    def __init__(self, url: URL, engine: Engine, now: Callable[[], datetime]) -> None:
        self.url = url
        self.place = place_of(url)
        self.rows_read = 0
        self._engine = engine
        self._now = now
        self._counting = threading.Lock()
        self._one_at_a_time = threading.Lock() if sqlite_engine.is_memory(url) else nullcontext()
        self._here = threading.local()

    @contextmanager
    def writing(self, part: str = "", machines: Collection[str] = ()) -> Iterator[Desk]:
        """Open the write transaction of a stream: locked before anything is read, kept whole or not at all.

        Parameters
        ----------
        part, machines : str, collection of str
            The stream; the desk carries them.

        Raises
        ------
        Refused
            The lock was not free in time, or the record cannot be written.
        RuntimeError
            A transaction is open in this thread already: nesting would commit one inside the other.
        """
        with self.connection(write=True) as connection:
            desk = Desk(connection, self._count, self._now, part, machines)
            self._here.shelf = desk
            try:
                yield desk
            finally:
                self._here.shelf = None

    @contextmanager
    def reading(self) -> Iterator[Shelf]:
        """Open a read transaction: one moment of the record, whatever others write meanwhile.

        Inside a transaction of the same thread it gives the shelf or desk that is open.
        """
        present: Shelf | None = getattr(self._here, "shelf", None)
        if present is not None:
            yield present
            return
        with self.connection() as connection:
            shelf = Shelf(connection, self._count)
            self._here.shelf = shelf
            try:
                yield shelf
            finally:
                self._here.shelf = None

    def save_draft(self, key: str, body: str) -> None:
        """Keep what somebody is still typing, in a transaction of its own."""
        with self.connection(write=True) as connection:
            connection.execute(delete(drafts).where(drafts.c.key == key))
            row = {"key": key, "body": body, "saved_at": time_text(self._now())}
            connection.execute(insert(drafts), row)

    def drop_draft(self, key: str) -> None:
        """Drop a draft; nothing happens where none is kept."""
        with self.connection(write=True) as connection:
            connection.execute(delete(drafts).where(drafts.c.key == key))

    def drop_checkpoints(self) -> None:
        """Drop every cached state; the fold rebuilds them."""
        with self.connection(write=True) as connection:
            connection.execute(delete(checkpoints))

    def close(self) -> None:
        """Close the connections that are not in use."""
        self._engine.dispose()

    @contextmanager
    def connection(self, *, write: bool = False) -> Iterator[Connection]:
        """Open one transaction for the rooms of the store themselves; errors come out as refusals."""
        if getattr(self._here, "open", False):
            msg = "a transaction on this record is open in this thread; use its desk or shelf"
            raise RuntimeError(msg)
        with self._one_at_a_time:
            self._here.open = True
            try:
                with self._engine.connect() as plain:
                    connection = plain.execution_options(write=write)
                    with connection.begin():
                        yield connection
            except (IntegrityError, ProgrammingError):
                raise  # not the record's fault: a mistake in the program
            except DBAPIError as error:
                raise Refused([sqlite_engine.explain(error.orig, self.place)]) from error
            finally:
                self._here.open = False

    def _count(self, rows: int) -> None:
        with self._counting:
            self.rows_read += rows
