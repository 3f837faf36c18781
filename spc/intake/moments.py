"""Times of files and pages: ISO 8601 text to a moment, the repeated autumn hour by file order."""

import re
from collections.abc import Hashable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from spc.errors import Refusal, Refused
from spc.shop.moment import to_local, to_utc

__all__ = ["AS_TIME", "FileMoments", "read_moment"]

AS_TIME: Final = "date and time such as 2026-03-02T09:00 or 2026-03-02T09:00:00+01:00"
_OFFSET: Final = r"(Z|[+-][0-9]{2}(:?[0-9]{2})?)?"
_ISO: Final = re.compile(
    r"([0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9]{2}:[0-9]{2}(:[0-9]{2}([.,][0-9]{1,9})?)?"
    r"|[0-9]{8}T[0-9]{4}([0-9]{2})?)" + _OFFSET
)
_TIME_ONLY: Final = re.compile(r"T?[0-9]{1,2}[:.h][0-9]{2}([:.][0-9]{2})?.*")
_DATE_ONLY: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")

Placed = tuple[datetime, datetime | None]
"""The moment, and the other one where the wall clock shows this time twice."""


def read_moment(text: str | datetime, zone: str) -> datetime:
    """Read a time, in the plant's zone where it carries no offset, as a moment in UTC.

    Raises
    ------
    Refused
        No date, no time of day, not ISO 8601, or an hour that the clocks skipped.

    Examples
    --------
    >>> read_moment("2026-03-02 09:00", "Europe/Berlin").isoformat()
    '2026-03-02T08:00:00+00:00'
    """
    placed = place(text.isoformat() if isinstance(text, datetime) else text, zone)
    if isinstance(placed, str):
        raise Refused([Refusal(placed, str(text), column="time", allowed=AS_TIME)])
    return placed[0]


def place(text: str, zone: str) -> Placed | str:
    """Return the moment or moments a text may mean, or the sentence that says why there is none."""
    text = text.strip()
    if not _ISO.fullmatch(text):
        return _why_no_time(text)
    try:
        wall = datetime.fromisoformat(text.replace(",", "."))
        first = to_utc(wall, zone)
        second = first if wall.tzinfo else to_utc(wall, zone, second_pass=True)
        if first == second:
            return first, None
        if to_local(first, zone) != wall:
            return f"the clocks in {zone} skipped this hour"
    except (ValueError, OverflowError):
        return "there is no such date or time of day"
    return first, second


def _why_no_time(text: str) -> str:
    if not text:
        return "the time is missing"
    if _DATE_ONLY.fullmatch(text):
        return "a date without a time of day"
    if _TIME_ONLY.fullmatch(text):
        return "a time without a date"
    return "this is not a date and time"


@dataclass(slots=True)
class _Hour:
    """Where a machine's rows stand inside a repeated hour."""

    last: datetime
    second: bool = False
    seen: set[Hashable] = field(default_factory=set)


class FileMoments:
    """Times of one file, in file order.

    Attributes
    ----------
    hours : dict
        Machines whose last row stood in a repeated hour; while there is any, each row must be shown here.

    Notes
    -----
    Inside the hour that autumn repeats, a machine's rows are the second time round from where its clock goes
    back, or from where the same row key comes again at the same time; any row outside that hour starts anew.
    """

    def __init__(self) -> None:
        self._placed: dict[tuple[str, str], Placed | str] = {}
        self.hours: dict[str, _Hour] = {}

    def read(self, text: str, zone: str) -> Placed | str:
        """Return what a text may mean; each text is worked out once a file."""
        known = self._placed.get((text, zone))
        if known is None:
            known = self._placed[text, zone] = place(text, zone)
        return known

    def choose(self, placed: Placed, machine: str, key: Hashable) -> datetime:
        """Return the one moment that file order makes of it; `key` is the rest of the row's key."""
        first, second = placed
        if second is None:
            self.hours.pop(machine, None)
            return first
        hour = self.hours.get(machine)
        if hour is None:
            hour = self.hours[machine] = _Hour(first)
        repeated = not hour.second and (first, key) in hour.seen
        if first < hour.last or repeated:
            hour.second = not hour.second
            hour.seen.clear()
        hour.last = first
        hour.seen.add((first, key))
        return second if hour.second else first
