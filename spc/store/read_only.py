"""The record of whoever may look but not write: on a read-only disk, in an archive, under another user."""

import os
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import URL

from spc.errors import Refused
from spc.store import sqlite_engine
from spc.store.engine import url_of
from spc.store.migrations import pending
from spc.store.record import Store, open_store

__all__ = ["open_to_read"]


def open_to_read(url_or_path: str | Path) -> Store:
    """Open a record for whoever only proves it; what may not be written to is opened without a trace.

    Parameters
    ----------
    url_or_path : str or Path
        As for `open_store`; the record must be there.

    Raises
    ------
    Refused
        As `open_store`, and a record of an older version that may not be brought up to date here.

    Notes
    -----
    A record that may be written to is opened as usual: its locks then keep other writers apart.
    """
    url = url_of(url_or_path)
    if url.get_backend_name() != "sqlite" or sqlite_engine.is_memory(url) or "uri" in url.query:
        return open_store(url_or_path)
    file = Path(url.database or "")
    if _may_write(file):
        return open_store(url_or_path)
    sqlite_engine.check_place(url)
    return _looked_at(url, file)


def _may_write(file: Path) -> bool:
    effective = os.access in os.supports_effective_ids
    return all(os.access(place, os.W_OK, effective_ids=effective) for place in (file, file.parent))


def _looked_at(url: URL, file: Path) -> Store:
    store = Store(url, sqlite_engine.make_reading_engine(file), lambda: datetime.now(UTC))
    try:
        with store.connection() as connection:
            behind = pending(connection)
        if behind:
            raise Refused.one(
                "the record was written by an older version and may not be brought up to date here",
                file=store.place,
                allowed="a record that this user may write to, or one of this version",
                do="Copy it to a folder of your own and name the copy with --db",
            )
    except Refused as refused:
        store.close()
        raise Refused(replace(each, file=store.place) for each in refused.refusals) from refused.__cause__
    except BaseException:
        store.close()
        raise
    return store
