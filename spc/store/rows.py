"""Rows: what the record takes in and hands out; text, whole numbers and places in the order of facts."""

from dataclasses import dataclass
from datetime import UTC, datetime

__all__ = [
    "KINDS", "NewFact", "NewVerdict", "Position", "StoredCheckpoint", "StoredFact", "StoredVerdict",
    "time_text", "text_time",
]  # fmt: skip

KINDS = ("plan", "check", "event", "limits", "answer", "annulled")
TIME_WIDTH = len("2026-03-02T08:00:00.000000+00:00")


@dataclass(frozen=True, slots=True, order=True)
class Position:
    """Place in the order of facts: time, then rank among facts of that time, then the order they came in."""

    time: str
    rank: int
    fact_id: int


@dataclass(frozen=True, slots=True)
class NewFact:
    """One fact on its way into the record.

    Attributes
    ----------
    part : str
        "" for a machine event that counts for every part on the machine.
    machine : str
        "" where no machine is meant (a plan).
    kind : {"plan", "check", "event", "limits", "answer", "annulled"}
    time : str
        When it happened, as `time_text` writes it: UTC, one width, so that text sorts as time.
    rank : int
        Place among facts of the same time.
    body : str
        The fact itself, as JSON.
    by_name, reason, source : str
        Who, why and from where.
    annuls : int or None
        Id of the check that this fact strikes out.
    """

    part: str
    machine: str
    kind: str
    time: str
    rank: int
    body: str
    by_name: str = ""
    reason: str = ""
    source: str = ""
    annuls: int | None = None

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            msg = f"a fact of kind {self.kind!r} is not kept; there are {', '.join(KINDS)}"
            raise ValueError(msg)
        _check_time(self.time)


@dataclass(frozen=True, slots=True)
class StoredFact:
    """One fact as it stands in the record, in the order of its columns."""

    id: int
    part: str
    machine: str
    kind: str
    time: str
    rank: int
    body: str
    recorded_at: str
    by_name: str
    reason: str
    source: str
    annuls: int | None
    link: str

    @property
    def position(self) -> Position:
        """Place in the order of facts."""
        return Position(self.time, self.rank, self.id)


@dataclass(frozen=True, slots=True)
class NewVerdict:
    """A verdict about one check, about to be shown."""

    fact_id: int
    part: str
    machine: str
    time: str
    rank: int
    body: str

    def __post_init__(self) -> None:
        _check_time(self.time)


@dataclass(frozen=True, slots=True)
class StoredVerdict:
    """A verdict as it was shown; `superseded_by` is None where its check was struck out."""

    id: int
    fact_id: int
    part: str
    machine: str
    time: str
    rank: int
    body: str
    made_at: str
    superseded_at: str | None
    superseded_by: int | None

    @property
    def position(self) -> Position:
        """Place of its check in the order of facts."""
        return Position(self.time, self.rank, self.fact_id)


@dataclass(frozen=True, slots=True)
class StoredCheckpoint:
    """A folded state with the last fact in it: a cache that can be dropped at any time."""

    part: str
    time: str
    rank: int
    fact_id: int
    body: str
    format: str

    @property
    def position(self) -> Position:
        """Place of the last fact folded into it."""
        return Position(self.time, self.rank, self.fact_id)


def time_text(moment: datetime) -> str:
    """Write a moment for the record: UTC, microseconds, always the same width.

    Parameters
    ----------
    moment : datetime
        Aware, in any zone.

    Examples
    --------
    >>> time_text(datetime(2026, 3, 2, 8, tzinfo=UTC))
    '2026-03-02T08:00:00.000000+00:00'
    """
    if moment.tzinfo is None:
        msg = f"{moment.isoformat()} has no zone, so it is not yet a moment"
        raise ValueError(msg)
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def text_time(text: str) -> datetime:
    """Read back what `time_text` wrote.

    Examples
    --------
    >>> text_time("2026-03-02T08:00:00.000000+00:00")
    datetime.datetime(2026, 3, 2, 8, 0, tzinfo=datetime.timezone.utc)
    """
    return datetime.fromisoformat(text)


def _check_time(text: str) -> None:
    if len(text) != TIME_WIDTH or not text.endswith("+00:00"):
        msg = f"{text!r} is not a time as the record keeps it; write it with time_text"
        raise ValueError(msg)
