"""Settings: environment and command line in, one frozen record out."""

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["DEFAULT_DB", "Settings", "read_settings"]

DEFAULT_DB = "spc-record.sqlite"


@dataclass(frozen=True, slots=True)
class Settings:
    """What a command or the page server was told before it starts.

    Attributes
    ----------
    db : str
        Path or URL of the record.
    """

    db: str = DEFAULT_DB


def read_settings(environ: Mapping[str, str], db: str | None = None) -> Settings:
    """Settle, for every command and the page server, where the record lies.

    Parameters
    ----------
    environ : mapping of text to text
        The environment; `SPC_DB` is read from it. Blank counts as not set.
    db : str or None
        What was given with `--db`; it goes before the environment, also when blank:
        the store then refuses it rather than opening another record than the one meant.

    Examples
    --------
    >>> read_settings({}).db
    'spc-record.sqlite'
    >>> read_settings({"SPC_DB": "/srv/cell.sqlite"}).db
    '/srv/cell.sqlite'
    >>> read_settings({"SPC_DB": "/srv/cell.sqlite"}, "other.sqlite").db
    'other.sqlite'
    """
    if db is not None:
        return Settings(db)
    return Settings(environ.get("SPC_DB", "").strip() or DEFAULT_DB)
