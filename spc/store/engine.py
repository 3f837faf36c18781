"""The engine behind a path or URL; each kind of database has one file of its own."""

from pathlib import Path

from sqlalchemy import URL, Engine, make_url
from sqlalchemy.exc import ArgumentError

from spc.errors import Refused
from spc.store import sqlite_engine

__all__ = ["engine_for", "place_of", "url_of"]

ALLOWED = "the path of a file, or a URL that begins with sqlite:///"


def url_of(url_or_path: str | Path) -> URL:
    """Read a path or URL; a path is made absolute, so that it stays the same wherever the program goes."""
    text = str(url_or_path)
    if not text.strip():
        raise Refused.one(
            "no record is named", column="--db", allowed=ALLOWED, do="Name one, or leave --db out"
        )
    if text == ":memory:":
        return URL.create("sqlite")
    if isinstance(url_or_path, Path) or "://" not in text:
        return URL.create("sqlite", database=str(Path(text).absolute()))
    try:
        return _absolute(make_url(text))
    except (ArgumentError, ValueError) as error:
        raise Refused.one(
            "this is no URL of a database", value=text, column="--db", allowed=ALLOWED
        ) from error


def _absolute(url: URL) -> URL:
    if url.get_backend_name() != "sqlite" or sqlite_engine.is_memory(url) or "uri" in url.query:
        return url
    return url.set(database=str(Path(url.database or "").absolute()))


def engine_for(url: URL, busy_timeout_s: float) -> Engine:
    """Build the engine of a URL, or refuse a database that cannot be used here."""
    if url.get_backend_name() == "sqlite" and url.drivername in ("sqlite", "sqlite+pysqlite"):
        sqlite_engine.check_place(url)
        return sqlite_engine.make_engine(url, busy_timeout_s)
    raise Refused.one(
        f"records in a {url.get_backend_name()} database are not kept by this version: {_driver_state(url)}",
        file=place_of(url),
        column="--db",
        allowed=ALLOWED,
        do="Name a file; it can be backed up and moved as one piece",
    )


def place_of(url: URL) -> str:
    """Say where the record lies, without a password."""
    if url.get_backend_name() == "sqlite":
        return "the record in memory" if sqlite_engine.is_memory(url) else str(url.database)
    return url.render_as_string(hide_password=True)


def _driver_state(url: URL) -> str:
    try:
        url.get_dialect().import_dbapi()
    except Exception:  # whatever a driver raises when it is absent or broken, it is not there
        return f"the driver for {url.drivername} is not installed, and no rules for it are written yet"
    return "its driver is there, but no rules for it are written yet"
