"""Backup and restore: one file, copied while the station runs, proved before it counts."""

import sqlite3
from dataclasses import replace
from pathlib import Path

from spc.errors import Refused
from spc.store import sqlite_engine
from spc.store.engine import url_of
from spc.store.ledger import LedgerReport, verify
from spc.store.record import Store, open_store

__all__ = ["backup", "restore"]


def backup(store: Store, file: str | Path) -> LedgerReport:
    """Save the record into one file, for whoever keeps it safe; others may go on writing.

    Parameters
    ----------
    store : Store
    file : str or Path
        A name that does not exist yet.

    Returns
    -------
    LedgerReport
        What checking the copy found.

    Raises
    ------
    Refused
        The file exists, its folder is missing or cannot be written to, or the record is not intact.
    """
    target = Path(file).absolute()
    _refuse_taken(target, "Name another file for the backup; an older one is never overwritten")
    with store.connection() as connection:
        source = connection.connection.driver_connection
        if not isinstance(source, sqlite3.Connection):
            raise Refused.one("only a record in a file can be copied", file=store.place)
        return _copy_and_prove(source, store.place, target)


def restore(file: str | Path, url_or_path: str | Path) -> LedgerReport:
    """Bring a backup back as a record under a new name, proved after the copy.

    Returns
    -------
    LedgerReport
        What checking the restored record found.

    Raises
    ------
    Refused
        The backup is missing or no record, a record stands under the new name already, or a fact in the
        backup is not as it was written.
    """
    backup_file, url = Path(file).absolute(), url_of(url_or_path)
    if url.get_backend_name() != "sqlite" or sqlite_engine.is_memory(url):
        raise Refused.one("a backup can only be brought back into a file", allowed="the path of a new file")
    if not backup_file.is_file():
        raise Refused.one("there is no such backup", file=str(backup_file), allowed="a file that exists")
    target = Path(url.database or "").absolute()
    _refuse_taken(target, "Move it away first, or name another file; a record is never overwritten")
    with sqlite_engine.explained(str(backup_file)), sqlite_engine.opened_to_read(backup_file) as source:
        return _copy_and_prove(source, str(backup_file), target)


def _copy_and_prove(source: sqlite3.Connection, place: str, target: Path) -> LedgerReport:
    """Copy beside the target, check the copy, then give it its name: a half copy never bears it."""
    sqlite_engine.check_place(url_of(target))
    half = target.with_name(target.name + ".part")
    try:
        with sqlite_engine.explained(str(target)):
            sqlite_engine.copy_database(source, half)
        report = _proved(half, place)
        sqlite_engine.close_log(half)
        half.replace(target)
    finally:
        half.unlink(missing_ok=True)
    return report


def _proved(copy: Path, place: str) -> LedgerReport:
    try:
        store = open_store(copy)
    except Refused as refused:
        raise Refused(replace(each, file=place) for each in refused.refusals) from refused
    try:
        report = verify(store)
    finally:
        store.close()
    if report.intact:
        return report
    raise Refused.one(
        f"the copy was not kept: {report.broken[0].says}",
        file=place,
        allowed="a record in which every fact is as it was written",
        do="Keep this file as it is, show it to whoever answers for the record, and use an older backup",
    )


def _refuse_taken(target: Path, do: str) -> None:
    if target.exists():
        raise Refused.one(
            "this file exists already", file=str(target), allowed="a name that does not exist yet", do=do
        )
