"""A record that must be there already: looking at one never makes an empty one."""

from pathlib import Path

from spc.errors import Refused
from spc.store.engine import url_of

__all__ = ["existing_record"]


def existing_record(db: str) -> str:
    """Return the place of the record for commands that only look.

    Raises
    ------
    Refused
        No file stands there.
    """
    url = url_of(db)
    file = url.database if url.get_backend_name() == "sqlite" and "uri" not in url.query else None
    if file and file != ":memory:" and not Path(file).exists():
        raise Refused.one(
            "there is no record here",
            file=file,
            allowed="a record that exists",
            do="Name it with --db or in SPC_DB; spc intake and spc station make a new one",
        )
    return db
