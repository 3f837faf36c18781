"""What the review says, as records: everything a quality lead signs, and how each number came to be."""

from dataclasses import dataclass
from datetime import datetime

from spc.shop import Characteristic, Plan, WearRate
from spc.shop.layouts import VerdictWord
from spc.station.compare_records import ReviewComparisons
from spc.station.review_trend import WithoutTrend
from spc.station.schedule import DueCheck
from spc.station.views import CharacteristicHistory
from spc.statistics import ModelCapability, ShewhartLimits

__all__ = [
    "CharacteristicReview", "CheckDuty", "DieSetUse", "HeldCheck", "LimitsInForce", "LookReview", "Requirement",
    "Review", "ReviewEvent",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class CheckDuty:
    """Which checks the plan asked for, and what became of them.

    Attributes
    ----------
    interval_minutes : float or None
        Running minutes from one check to the next; None where the plan names none, and nothing is counted.
    due : tuple of DueCheck
        In order of time. A set-up check made before one was due starts the clock anew and is not in here.
    running_hours, stopped_hours : float
        Of this part on this machine in the period: with dies on and not stopped, and in logged stops.
    counted_until : datetime or None
        Nothing after it is counted: nothing was logged any more, or it had not happened yet.
    remark : str
        What the reader must know about the count; "" where there is nothing.
    """

    interval_minutes: float | None
    due: tuple[DueCheck, ...]
    running_hours: float
    stopped_hours: float
    counted_until: datetime | None
    remark: str = ""

    def count(self, standing: str) -> int:
        """How many are "in time", "late" or "missed"."""
        return sum(1 for each in self.due if each.standing == standing)


@dataclass(frozen=True, slots=True)
class LimitsInForce:
    """The control limits that judge at the end of the period.

    Attributes
    ----------
    standing : {"signed", "provisional", "follows the die"}
    centre, lower, upper, spread_upper : float or None
        For the mean of `n` pieces and their range, in the plan's unit.
    sigma_within : float or None
        Spread of one piece behind them; None where the limits follow the die.
    n : int
        Pieces a check they are meant for.
    subgroups : int
        Checks they were computed from; 0 where a person gave them.
    signed_by : str
        "" where nobody has signed.
    signed_at : datetime or None
    as_of : datetime or None
        The check whose limits these are, where they follow the die.
    """

    standing: str
    centre: float
    lower: float
    upper: float
    spread_upper: float | None
    sigma_within: float | None
    n: int
    subgroups: int
    signed_by: str = ""
    signed_at: datetime | None = None
    as_of: datetime | None = None


@dataclass(frozen=True, slots=True)
class Requirement:
    """The plan's `minimum_cpk`, and whether the checks show it.

    Attributes
    ----------
    judged_on : {"Cpk", "Ppk"}
        Ppk where the size follows the die, cannot go below 0, or the checks did not stand still.
    low, high : float or None
        Ends of the honest interval; the answer is given against the lower one.
    answer : {"shown", "not shown", "too few pieces to tell"}
    why : str
        Why this index answers, to stand behind "because".
    """

    minimum: float
    judged_on: str
    estimate: float | None
    low: float | None
    high: float | None
    n: int
    level: float
    answer: str
    why: str


@dataclass(frozen=True, slots=True)
class CharacteristicReview:
    """One gauged characteristic in the period.

    Attributes
    ----------
    subgroups, pieces : int
        Hourly checks used, and their pieces; only they count for limits and capability.
    outside : int
        Of these pieces, outside the tolerance.
    other_checks : tuple of (purpose, checks, pieces)
        Set-up, first-off and other checks, counted apart.
    struck_out, suspect : int
        Checks left out, of any purpose.
    limits : LimitsInForce or None
    limits_remark : str
        Why no limits stand; "" where they do.
    period_chart : ShewhartLimits or None
        Centre, mean range and limits that the hourly checks of this period alone would give.
    beyond : int
        Hourly checks whose mean or range lay beyond the limits that judged them when they were made.
    judged : int
        Hourly checks that had limits when they were made.
    capability : ModelCapability or None
        By the distribution that suits, with textbook and honest intervals; None with too few pieces.
    without_trend : WithoutTrend or None
        What the same pieces would hold without the trend; None where the size does not follow the die.
    capability_remark : str
        Why there is no index; "" where there is one.
    """

    characteristic: Characteristic
    history: CharacteristicHistory
    subgroups: int
    pieces: int
    outside: int
    other_checks: tuple[tuple[str, int, int], ...]
    struck_out: int
    suspect: int
    limits: LimitsInForce | None
    limits_remark: str
    period_chart: ShewhartLimits | None
    beyond: int
    judged: int
    capability: ModelCapability | None
    without_trend: WithoutTrend | None
    capability_remark: str
    requirement: Requirement | None


@dataclass(frozen=True, slots=True)
class LookReview:
    """One visual look in the period: checks looked at, pieces, and (answer, pieces) of each find."""

    name: str
    checks: int
    pieces: int
    finds: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class DieSetUse:
    """One mounting of a die set that reaches into the period.

    Attributes
    ----------
    die_set : str or None
        None for the one unnamed set of a machine without die-set events.
    removed_for : str
        Why it came off; "" while it is on.
    life_ended : bool
        Whether it came off worn or chipped, so that `age_last` is its life.
    checks : int
        Checks of this mounting in the period.
    age_first, age_last : int or None
        Age in pieces at its first check in the period, and at the last or when it came off.
    limited_by : str
        Characteristic that limits its life, by the last forecast.
    wear : WearRate or None
        Growth per 1,000 pieces at its last check.
    infeed_used_mm, infeed_allowed_mm : float or None
    """

    die_set: str | None
    mounted: datetime | None
    removed: datetime | None
    removed_for: str
    life_ended: bool
    checks: int
    age_first: int | None
    age_last: int | None
    limited_by: str
    wear: WearRate | None
    infeed_used_mm: float | None
    infeed_allowed_mm: float | None


@dataclass(frozen=True, slots=True)
class HeldCheck:
    """A check that said Stop and hold, and the answer that was given to it.

    Attributes
    ----------
    pieces_held : int or None
        None without counters.
    answer, answered_by : str
        What was found and done; "" where nobody answered.
    """

    check_id: int
    time: datetime
    die_set: str | None
    counter: int | None
    says: tuple[str, ...]
    pieces_held: int | None
    answer: str
    answered_by: str


@dataclass(frozen=True, slots=True)
class ReviewEvent:
    """Something logged at the machine in the period; `label` in shop words."""

    time: datetime
    kind: str
    label: str
    note: str
    by: str


@dataclass(frozen=True, slots=True)
class Review:
    """The shift and capability review of one part on one machine.

    Attributes
    ----------
    from_time, to_time : datetime or None
        The period, from and before; None where nothing was ever logged.
    shift : str
        Start of the shift, "HH:MM"; "" for all.
    made_at : datetime
        When this review was made.
    checks : int
        All checks that stand, of any purpose.
    purposes : tuple of (purpose, checks)
    struck_out : tuple of (time, reason, by)
        Checks struck out.
    verdicts : tuple of (word, checks)
        All four words, from Run on to Stop and hold.
    compared : ReviewComparisons or None
        Shifts and machines; None where no check was made.
    planned_age : str
        At which age a planned die change costs least, as known at the end of the period; "" without costs.
    """

    plan: Plan
    machine: str
    from_time: datetime | None
    to_time: datetime | None
    shift: str
    made_at: datetime
    checks: int
    purposes: tuple[tuple[str, int], ...]
    struck_out: tuple[tuple[datetime, str, str], ...]
    verdicts: tuple[tuple[VerdictWord, int], ...]
    duty: CheckDuty
    characteristics: tuple[CharacteristicReview, ...]
    looks: tuple[LookReview, ...]
    die_sets: tuple[DieSetUse, ...]
    held: tuple[HeldCheck, ...]
    events: tuple[ReviewEvent, ...]
    compared: ReviewComparisons | None = None
    planned_age: str = ""
