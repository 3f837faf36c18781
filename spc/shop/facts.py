"""Facts: what happened on the floor, as it came, never changed afterwards."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from spc.shop.layouts import CHECK_ORDER, EVENT_ORDER, OTHER_ORDER
from spc.shop.quickly_made import quickly_made
from spc.shop.trace import Trace

__all__ = [
    "AlarmAnswered", "Annulled", "CheckGauged", "EventLogged", "Fact", "LimitsSigned", "PlanTaken", "Reading",
]  # fmt: skip


@quickly_made
@dataclass(frozen=True, slots=True)
class Reading:
    """One gauged value, or one visual answer, on one piece.

    Attributes
    ----------
    characteristic : str
    piece : int
        From 1 within the check.
    text : str
        As typed, wedged or read.
    value : Decimal or None
        In the plan's unit; None for a visual answer.
    answer : str
        One of the plan's words for a visual look, else "".
    unit : str
        The unit the text came in.
    position : str
        Where on the piece; "" where there is one place only.
    temperature_c, master_temperature_c : Decimal or None
        Of the part and of the setting master, °C.
    row : int or None
        Line of the file it came from.
    """

    characteristic: str
    piece: int
    text: str
    value: Decimal | None = None
    answer: str = ""
    unit: str = ""
    position: str = ""
    temperature_c: Decimal | None = None
    master_temperature_c: Decimal | None = None
    row: int | None = None

    @property
    def key(self) -> tuple[str, int, str]:
        """What makes it one reading within its check."""
        return (self.characteristic, self.piece, self.position)


@quickly_made
@dataclass(frozen=True, slots=True)
class CheckGauged:
    """All gauging of one part on one machine at one time.

    Attributes
    ----------
    time : datetime
        When the pieces were made, aware, in UTC.
    counter : int or None
        Pieces since this mounting of the die set.
    source : str
        File name, "entry page", gauge and port.
    skipped : tuple of (characteristic, piece, reason)
        Cells somebody left out on purpose.
    traces : tuple of Trace
        Curves that some of the readings were worked out from.
    """

    time: datetime
    machine: str
    part: str
    readings: tuple[Reading, ...]
    counter: int | None = None
    operator: str = ""
    purpose: str = "hourly"
    source: str = ""
    skipped: tuple[tuple[str, int, str], ...] = ()
    traces: tuple[Trace, ...] = ()

    @property
    def order(self) -> int:
        """Place among facts of the same time."""
        return CHECK_ORDER


@dataclass(frozen=True, slots=True)
class EventLogged:
    """Something done at a machine, in the columns of `events.csv`; `part` "" means every part on it."""

    time: datetime
    machine: str
    part: str
    event: str
    value: str
    note: str = ""
    counter: int | None = None
    form: str = ""
    operator: str = ""
    source: str = ""
    row: int | None = None

    @property
    def order(self) -> int:
        """Place among facts of the same time."""
        return EVENT_ORDER.get(self.event, OTHER_ORDER)


@dataclass(frozen=True, slots=True)
class PlanTaken:
    """A plan came into force; the text is the plan."""

    time: datetime
    part: str
    text: str
    source: str = ""

    @property
    def order(self) -> int:
        """A plan stands before everything else of its moment."""
        return -1


@dataclass(frozen=True, slots=True)
class Annulled:
    """A check was struck out; `check_id` is the id of its fact. It counts from the check's own time."""

    time: datetime
    part: str
    check_id: int
    reason: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class LimitsSigned:
    """Somebody stands for the control limits of a characteristic on a machine.

    Attributes
    ----------
    excluded : tuple of (check id, reason)
        Checks of the first phase that were left out of these limits.
    period_from, period_to : datetime or None
        Times of the first and the last check of the first phase; None where provisional limits were signed
        as they stood.
    """

    time: datetime
    machine: str
    part: str
    characteristic: str
    centre: float
    sigma_within: float
    n: int
    subgroups: int
    by: str
    reason: str = ""
    excluded: tuple[tuple[int, str], ...] = ()
    period_from: datetime | None = None
    period_to: datetime | None = None

    @property
    def order(self) -> int:
        """Before the checks of its moment."""
        return EVENT_ORDER["gauge_mastered"]


@dataclass(frozen=True, slots=True)
class AlarmAnswered:
    """Somebody answered a verdict: what was found and what was done."""

    time: datetime
    machine: str
    part: str
    check_id: int
    cause: str
    action: str
    by: str = ""

    @property
    def order(self) -> int:
        """After the check it answers."""
        return OTHER_ORDER


Fact = PlanTaken | CheckGauged | EventLogged | LimitsSigned | AlarmAnswered
"""What `step` takes; an `Annulled` takes its check out of the sequence instead of being stepped."""
