"""The clock of the pages: the real one, or one that begins at a given moment for invented data."""

import os
import time
from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta

__all__ = ["CLOCK_FROM", "page_clock"]

CLOCK_FROM = "SPC_CLOCK_FROM"
"""Environment variable with the moment at which the clock of a demo begins; it runs on from there."""


def page_clock(environ: Mapping[str, str] | None = None) -> Callable[[], datetime]:
    """Return the clock by which checks are due.

    Parameters
    ----------
    environ : mapping of text to text or None
        `SPC_CLOCK_FROM` holds an ISO moment with offset; unset: the real clock.

    Examples
    --------
    >>> page_clock({"SPC_CLOCK_FROM": "2026-03-28T05:00:00+00:00"})().date().isoformat()
    '2026-03-28'
    """
    begins = (os.environ if environ is None else environ).get(CLOCK_FROM, "")
    if not begins:
        return lambda: datetime.now(UTC)
    start, began = datetime.fromisoformat(begins).astimezone(UTC), time.monotonic()
    return lambda: start + timedelta(seconds=time.monotonic() - began)
