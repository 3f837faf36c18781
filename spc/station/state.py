"""The state of a stream: all that judging the next check of one part needs, and nothing else.

It is a cache of the fold over the facts; its size does not grow with the age of the record, but for the ages of die
sets that came off long ago.
"""

from dataclasses import dataclass, field
from datetime import UTC, datetime
from decimal import Decimal

from spc.shop import CheckGauged, ControlLimits, Plan
from spc.shop.quickly_made import quickly_made
from spc.station.size_memory import SizeMemory
from spc.wear import FinishedSet, PieceSpread, WarmUp, Watch, WearBelief

__all__ = [
    "BEFORE_ALL", "ChartState", "DieSetState", "GoodCheck", "MachineState", "News", "StreamState", "Trial",
    "UNNAMED_SET", "set_key",
]  # fmt: skip

BEFORE_ALL = datetime(1970, 1, 1, tzinfo=UTC)
"""Moment of a part's first plan: whatever history is taken in later, the plan stands before it."""
UNNAMED_SET = ""
"""Stands for the one set of a machine without any die-set event."""


@quickly_made
@dataclass(frozen=True, slots=True)
class News:
    """Something logged since the last check that may explain what the next one shows.

    Attributes
    ----------
    kind : {"batch", "gauge_zero", "setting", "stop", "note"}
    text : str
        What to call it in a sentence: "new bar batch B-19".
    characteristic : str
        The one it concerns; "" for all.
    amount_um : float
        Expected change of the readings where it is known (a gauge set on its master), else 0.
    since : datetime or None
        When that gauge was set on its master before.
    """

    kind: str
    text: str
    time: datetime
    characteristic: str = ""
    amount_um: float = 0.0
    since: datetime | None = None


@quickly_made
@dataclass(frozen=True, slots=True)
class GoodCheck:
    """A check with nothing against it; where holding back pieces may begin."""

    time: datetime
    counter: int | None


@quickly_made
@dataclass(frozen=True, slots=True)
class MachineState:
    """One machine as this part sees it.

    Attributes
    ----------
    die_set : str or None
        Mounted set; None where none is, `UNNAMED_SET` where the machine has no die-set event at all.
    sets_are_logged : bool
        Whether any die-set event was ever logged here.
    age_before : int
        Pieces of the mounted set before this mounting.
    counter, counter_time :
        Last counter believed in this mounting and when.
    earlier_counter : int or None
        The counter believed before `counter`, in this mounting.
    fastest_per_hour : float or None
        Most pieces an hour of running time from one hourly check to the next so far; None before the first.
    paces : int
        How many such intervals told it, at most `ENOUGH_PACES`.
    last_counter : int or None
        Counter of the last check of this mounting, believed or not.
    setting_mm : Decimal or None
        Slide setting, deeper is larger.
    doubted_setting : str
        Why the setting logged last is hard to believe; `setting_mm` is then the one before it.
    good : tuple of GoodCheck
        Of this mounting, newest last, about the last hundred.
    running_since : datetime or None
        Beginning of the check clock: the last check, or the mounting.
    stopped_minutes : float
        Stops logged since then.
    stop_ends : datetime or None
        End of the last stop logged since then.
    started_at, moved_at : int or None
        Counter at which the machine last started from cold, and at which the slide was last moved; None where none
        is known.
    start_minutes, move_minutes : float or None
        Of running time since the last check, until that check's next one tells how many pieces they were; None
        where the counter is known.
    first_pieces_since : datetime or None
        When the slide or another setting was changed since the last check.
    next_minutes : float or None
        Running minutes to the next check as the last verdict has it; None: as planned.
    troubled_checks : int
        Checks that still come sooner after a change that nobody logged.
    mastered : mapping characteristic -> last time its gauge was set on its master
        "" for a gauge that nobody named.
    standing : mapping "characteristic|kind" -> first check that showed it
        And "characteristic|" -> first check of an unbroken row that showed any cause of a hold.
    causes : mapping characteristic -> likeliest cause of that row
        Where one was named.
    """

    die_set: str | None = UNNAMED_SET
    sets_are_logged: bool = False
    age_before: int = 0
    counter: int | None = None
    counter_time: datetime | None = None
    last_counter: int | None = None
    setting_mm: Decimal | None = None
    doubted_setting: str = ""
    batch: str = ""
    news: tuple[News, ...] = ()
    good: tuple[GoodCheck, ...] = ()
    last_check: datetime | None = None
    running_since: datetime | None = None
    stopped_minutes: float = 0.0
    stop_ends: datetime | None = None
    started_at: int | None = None
    moved_at: int | None = None
    start_minutes: float | None = None
    move_minutes: float | None = None
    first_pieces_since: datetime | None = None
    next_minutes: float | None = None
    troubled_checks: int = 0
    mastered: dict[str, datetime] = field(default_factory=dict)
    standing: dict[str, datetime] = field(default_factory=dict)
    causes: dict[str, str] = field(default_factory=dict)
    previous: CheckGauged | None = None
    pieces_per_hour: float | None = None
    last_verdict: str = ""
    holding: bool = False
    earlier_counter: int | None = None
    fastest_per_hour: float | None = None
    paces: int = 0

    def age_at(self, counter: int) -> int:
        """Pieces of the mounted set at a counter; 0 where one set back after a regrind would make it less than new."""
        return max(self.age_before + counter, 0)


@quickly_made
@dataclass(frozen=True, slots=True)
class DieSetState:
    """One die set as this part knows it.

    Attributes
    ----------
    age_pieces : int
        Pieces since new or reground, up to the last time it came off.
    reference_mm : Decimal or None
        Slide setting at its first check.
    zero_mm : Decimal or None
        Slide setting at the first check of this mounting.
    carried_mm : Decimal
        Slide moves of earlier mountings, displayed travel.
    beliefs : mapping characteristic -> WearBelief
    memories : mapping characteristic -> SizeMemory
    seen_batch : str
        Bars at the last check of the set.
    batches : int
        How many bar batches its checks have met.
    """

    id: str
    age_pieces: int = 0
    reference_mm: Decimal | None = None
    zero_mm: Decimal | None = None
    carried_mm: Decimal = Decimal(0)
    beliefs: dict[str, WearBelief] = field(default_factory=dict)
    memories: dict[str, SizeMemory] = field(default_factory=dict)
    seen_batch: str = ""
    batches: int = 0


@quickly_made
@dataclass(frozen=True, slots=True)
class Trial:
    """One good subgroup kept until there are enough to set provisional limits."""

    mean: float
    range: float
    n: int


@quickly_made
@dataclass(frozen=True, slots=True)
class ChartState:
    """What one characteristic on one machine remembers for its limits.

    Attributes
    ----------
    spread : PieceSpread
    trials : tuple of Trial
        At most twenty, then the limits stand.
    limits : ControlLimits or None
    z : tuple of float
        Last fifteen standardised distances from the centre line, for the run rules.
    last_mean_um : float or None
        Mean minus target of the last check.
    watch : Watch
        How far the forecast has been off lately, and the spread.
    warm_up : WarmUp or None
        What starts from cold do on this machine; None before the first.
    """

    spread: PieceSpread
    trials: tuple[Trial, ...] = ()
    limits: ControlLimits | None = None
    z: tuple[float, ...] = ()
    last_mean_um: float | None = None
    watch: Watch = field(default_factory=Watch)
    warm_up: WarmUp | None = None


@quickly_made
@dataclass(frozen=True, slots=True)
class StreamState:
    """One part on all its machines."""

    part: str
    plan: Plan | None = None
    machines: dict[str, MachineState] = field(default_factory=dict)
    die_sets: dict[str, DieSetState] = field(default_factory=dict)
    finished: tuple[FinishedSet, ...] = ()
    charts: dict[str, ChartState] = field(default_factory=dict)

    def machine(self, machine_id: str) -> MachineState:
        """Return the machine's state, a fresh one where it was never heard of."""
        return self.machines.get(machine_id) or MachineState()

    def mounted(self, machine_id: str) -> DieSetState | None:
        """Return the set on the machine; None where none is mounted."""
        key = set_key(machine_id, self.machine(machine_id))
        return None if key is None else self.die_sets.get(key) or DieSetState(key)


def set_key(machine_id: str, machine: MachineState) -> str | None:
    """Key of the mounted set; a machine without die-set events has one set of its own, without a name."""
    if machine.die_set is None:
        return None
    return machine.die_set or f"~{machine_id}"
