"""When dies may next be changed without a stop of its own: breaks and shift starts on the plant's clock."""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from spc.shop.moment import to_local, to_utc

__all__ = ["next_start"]


def next_start(starts: Sequence[str], zone: str, after: datetime) -> datetime | None:
    """Return the first moment after `after` at which one of the starts stands on the plant's clock.

    Parameters
    ----------
    starts : sequence of str
        "HH:MM" of the plant's clock; none gives None.
    zone : str
        IANA name.
    after : datetime
        Aware.

    Examples
    --------
    >>> from datetime import UTC
    >>> next_start(("06:00", "14:00", "22:00"), "Europe/Berlin", datetime(2026, 3, 26, 21, 30, tzinfo=UTC)).isoformat()
    '2026-03-27T05:00:00+00:00'
    """
    today = to_local(after, zone).date()
    days = [today + timedelta(days=step) for step in range(3)]
    moments = [
        to_utc(datetime.combine(day, time.fromisoformat(start)), zone) for day in days for start in starts
    ]
    return min((moment for moment in moments if moment > after), default=None)
