"""Plant time: wall-clock text as people write it, moments in UTC as the record keeps them."""

from datetime import UTC, datetime
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

__all__ = ["local_text", "to_local", "to_utc", "zone_is_known"]


@cache
def _zone(name: str) -> ZoneInfo:
    return ZoneInfo(name)


def zone_is_known(name: str) -> bool:
    """Say whether the time-zone table has this name."""
    try:
        _zone(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def to_utc(wall: datetime, zone: str, *, second_pass: bool = False) -> datetime:
    """Turn a wall-clock time of the plant into a moment.

    Parameters
    ----------
    wall : datetime
        Without offset: read in `zone`. With an offset: taken as it is.
    zone : str
        IANA name.
    second_pass : bool
        In the hour that autumn repeats, whether this is the second time round.

    Examples
    --------
    >>> to_utc(datetime(2026, 3, 2, 9), "Europe/Berlin").isoformat()
    '2026-03-02T08:00:00+00:00'
    >>> to_utc(datetime(2026, 10, 25, 2, 30), "Europe/Berlin", second_pass=True).isoformat()
    '2026-10-25T01:30:00+00:00'
    """
    if wall.tzinfo is None:
        wall = wall.replace(tzinfo=_zone(zone), fold=int(second_pass))
    return wall.astimezone(UTC)


def to_local(moment: datetime, zone: str) -> datetime:
    """Return the plant's wall clock at a moment, without offset."""
    return moment.astimezone(_zone(zone)).replace(tzinfo=None)


def local_text(moment: datetime, zone: str) -> str:
    """Return the plant's wall clock as ISO 8601 text without offset, as files and answers show it.

    Examples
    --------
    >>> local_text(datetime(2026, 3, 2, 8, tzinfo=UTC), "Europe/Berlin")
    '2026-03-02T09:00:00'
    """
    return to_local(moment, zone).isoformat()
