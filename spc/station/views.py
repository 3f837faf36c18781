"""What screens and papers are given: records read from the kept facts and verdicts, ready to draw."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from spc.shop import Characteristic, DieLife, Machine, Plan, Verdict

__all__ = [
    "CharacteristicHistory", "CheckPoint", "DieBoardRow", "FloorEvent", "OperatorView", "SettingPoint",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class CheckPoint:
    """One check of one characteristic, with the limits that stood when it was judged.

    Attributes
    ----------
    axis_pieces : float
        Place on the common axis: pieces made on this machine since the first point shown
        (checks counted where no counter is known).
    values : tuple of float
        The single pieces, in the plan's unit.
    mean_at_reference_setting : float or None
        The size with the slide moves taken out.
    lower, upper, centre, spread_upper : float or None
        Limits in force for the mean and the range.
    standing : {"provisional", "signed", "forecast", "proposed", "sloping", ""}
        Proposed: limits that somebody looks at before signing; sloping: those of one die life.
    verdict : {"run", "watch", "correct", "hold"}
    says : tuple of str
        Sentences of the signals and of what events explain, for this characteristic.
    struck_out : bool
    suspect : bool
    left_out : bool
        Left out of proposed limits with a reason; in the record it stands.
    """

    check_id: int
    time: datetime
    axis_pieces: float
    die_set: str | None
    counter: int | None
    age: int | None
    purpose: str
    n: int
    values: tuple[float, ...]
    mean: float
    range: float
    mean_at_reference_setting: float | None
    centre: float | None
    lower: float | None
    upper: float | None
    spread_upper: float | None
    standing: str
    verdict: str
    says: tuple[str, ...]
    struck_out: bool
    suspect: bool
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class SettingPoint:
    """The slide setting from here on; `shown_mm` is what stands on the machine's panel."""

    time: datetime
    axis_pieces: float
    setting_mm: Decimal
    shown_mm: Decimal


@dataclass(frozen=True, slots=True)
class FloorEvent:
    """Something done at the machine, with a short shop-word label ("new bar batch B-19")."""

    time: datetime
    axis_pieces: float
    kind: str
    label: str


@dataclass(frozen=True, slots=True)
class CharacteristicHistory:
    """What is drawn for one characteristic of one part on one machine."""

    machine: str
    characteristic: Characteristic
    zone: str
    points: tuple[CheckPoint, ...]
    settings: tuple[SettingPoint, ...]
    events: tuple[FloorEvent, ...]
    axis_counts: str  # "pieces", or "checks" where no counter is known


@dataclass(frozen=True, slots=True)
class OperatorView:
    """What the hourly-check page shows before a value is typed."""

    plan: Plan
    machine: Machine
    die_set: str | None
    age: int | None
    counter: int | None
    setting_mm: Decimal | None
    shown_setting_mm: Decimal | None
    batch: str
    last_check: datetime | None
    due: datetime | None
    minutes_late: float
    last_verdict: Verdict | None


@dataclass(frozen=True, slots=True)
class DieBoardRow:
    """One machine with the die set on it, for the supervisor.

    Attributes
    ----------
    infeed_left_mm : float or None
        Slide travel that this set may still use.
    finished_sets : int
        Die sets of the part that have ended before, on which the forecast may lean.
    pieces_per_hour : float or None
        At the recent rate.
    """

    machine: str
    part: str
    description: str
    die_set: str | None
    age: int | None
    life: DieLife | None
    infeed_left_mm: float | None
    finished_sets: int
    pieces_per_hour: float | None
    last_check: datetime | None
    verdict: str
    zone: str
