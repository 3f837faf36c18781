"""What screens and papers are given: records read from the kept facts and verdicts, ready to draw."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from spc.shop import (
    ChangeAdvice,
    Characteristic,
    DieLife,
    HoursLeft,
    Interval90,
    Machine,
    PiecesLeft,
    Plan,
    Verdict,
)
from spc.wear import SuddenEnds

__all__ = [
    "ChangePlan", "CharacteristicHistory", "CheckPoint", "DieBoardRow", "EarlierGrowth", "EarlierLine",
    "FloorEvent", "OperatorView", "SettingPoint", "Wait", "WearPoint", "WearStory",
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
    wear_line : Interval90 or None
        What the dies alone have made of the size, at the reference setting.
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
    wear_line: Interval90 | None = None


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
    """What the hourly-check page shows before a value is typed.

    Attributes
    ----------
    due : datetime or None
        When the next check is asked for; never after the plan's time.
    planned_due : datetime or None
        When the plan has it due.
    minutes_late : float
        After the plan's time; negative before the time asked for, 0 between the two.
    unanswered : tuple of datetime
        The unbroken row of checks up to the last one that ask for a stop and that nobody has answered.
    """

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
    planned_due: datetime | None
    minutes_late: float
    last_verdict: Verdict | None
    unanswered: tuple[datetime, ...] = ()


@dataclass(frozen=True, slots=True)
class Wait:
    """Waiting with a die change beyond the advised moment.

    Attributes
    ----------
    until : str
        "the break" or "the shift".
    at : datetime
    costs_more : float
        In money for this set, below 0 where waiting saves.
    chance_of_end : float
        That a set still on at the advised moment ends before.
    """

    until: str
    at: datetime
    costs_more: float
    chance_of_end: float


@dataclass(frozen=True, slots=True)
class ChangePlan:
    """The advice when to change, on the plant's clock.

    Attributes
    ----------
    at : datetime or None
        If the machine runs on from the last check; None: run to the end.
    is_past : bool
        Whether that moment is over.
    when : tuple of datetime or None
        The moment of each of the advice's rules.
    waits : tuple of Wait
        Beyond that moment, or from now where it is over; empty where nobody has checked for a day.
    """

    advice: ChangeAdvice
    at: datetime | None
    is_past: bool
    when: tuple[datetime | None, ...]
    waits: tuple[Wait, ...]
    currency: str


@dataclass(frozen=True, slots=True)
class EarlierGrowth:
    """Mean growth per 1,000 pieces of earlier sets of the part, from the slowest to the fastest."""

    low: float
    high: float
    sets: int


@dataclass(frozen=True, slots=True)
class WearPoint:
    """One check on the way of a die set: the size with the slide moves taken out, and the wear line."""

    age: int
    size: float
    line: float | None
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class EarlierLine:
    """How an earlier set went the same way: (age, size as on the present set's way)."""

    die_set: str
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class WearStory:
    """The way of the set that is on to its likeliest end, with earlier sets behind it.

    Attributes
    ----------
    age : int
        At the last check of any of its characteristics.
    end_size : float
        Size, with the slide moves taken out, at which the set must come off, in the plan's unit.
    end_words : str
    left : PiecesLeft
        From that age on.
    """

    machine: str
    part: str
    die_set: str | None
    characteristic: Characteristic
    age: int
    points: tuple[WearPoint, ...]
    earlier: tuple[EarlierLine, ...]
    end_size: float
    end_words: str
    left: PiecesLeft


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
    hours : HoursLeft or None
        Pieces left at that rate, from the last check on, running round the clock.
    earlier_growth : EarlierGrowth or None
        Of what ends this set, on earlier sets of the part.
    sudden : SuddenEnds or None
        None before a set of the part has come off.
    change : ChangePlan or None
    has_costs : bool
        Whether the plan says what a change costs.
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
    hours: HoursLeft | None = None
    earlier_growth: EarlierGrowth | None = None
    sudden: SuddenEnds | None = None
    change: ChangePlan | None = None
    has_costs: bool = False
