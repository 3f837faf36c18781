"""Times as an operator types them: nothing, a time of today, or a whole date and time."""

import re
from datetime import datetime, timedelta
from typing import Final

from spc.shop.moment import local_text, to_local

__all__ = ["typed_moment"]

_CLOCK: Final = re.compile(r"(\d{1,2})[:.](\d{2})")
_AHEAD: Final = timedelta(minutes=5)
"""A plant clock may run a little before the station's."""


def typed_moment(text: str, now: datetime, zone: str) -> str:
    """Turn what stands in a time field into the text that the station reads.

    Parameters
    ----------
    text : str
        Empty: now. "6:40": today, or yesterday where today it has not come yet. Else handed on as it is.
    now : datetime
        Aware.
    zone : str
        Of the plant.

    Examples
    --------
    >>> from datetime import UTC
    >>> now = datetime(2026, 3, 2, 8, 5, 7, 123, tzinfo=UTC)
    >>> typed_moment("", now, "Europe/Berlin"), typed_moment("08:40", now, "Europe/Berlin")
    ('2026-03-02T09:05:07', '2026-03-02T08:40:00')
    >>> typed_moment("21.10", now, "Europe/Berlin")
    '2026-03-01T21:10:00'
    """
    text = text.strip()
    if not text:
        return local_text(now.replace(microsecond=0), zone)
    found = _CLOCK.fullmatch(text)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        return text
    local = to_local(now, zone)
    moment = local.replace(hour=int(found[1]), minute=int(found[2]), second=0, microsecond=0)
    if moment > local + _AHEAD:
        moment -= timedelta(days=1)
    return moment.isoformat()
