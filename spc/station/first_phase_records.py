"""A first phase as records: the checks of a period and the limits they would give."""

from dataclasses import dataclass
from datetime import datetime

from spc.shop import Characteristic
from spc.station.views import CharacteristicHistory
from spc.statistics import ShewhartLimits

__all__ = ["FirstPhase", "PhaseCheck"]


@dataclass(frozen=True, slots=True)
class PhaseCheck:
    """One hourly check of the first phase.

    Attributes
    ----------
    says : tuple of str
        Why it stands out against the limits computed now; for one left out, whether it lies beyond them.
    excluded : str
        The reason it was left out; "" where it counts.
    """

    check_id: int
    time: datetime
    n: int
    mean: float
    range: float
    says: tuple[str, ...]
    excluded: str = ""


@dataclass(frozen=True, slots=True)
class FirstPhase:
    """What the hourly checks of a period would give as limits.

    Attributes
    ----------
    limits : ShewhartLimits
        From the checks that count, with their points.
    n : int
        Pieces a check, the most frequent number.
    lower, upper : float
        For the mean of `n` pieces, plan's unit; the lower one of a magnitude ends at 0.
    spread_upper : float or None
        For the range of `n` pieces; None where a check is one piece.
    checks : tuple of PhaseCheck
        Those that count and those left out with a reason, in order of time.
    history : CharacteristicHistory
        The same checks with these limits, ready to draw; one left out is marked so.
    struck_out, suspect, other_sizes : int
        Hourly checks of the period that were never taken: struck out, hard to believe, or of one piece
        among checks of several.
    remark : str
        What speaks against signing yet; "" where nothing does.
    """

    part: str
    machine: str
    characteristic: Characteristic
    limits: ShewhartLimits
    n: int
    lower: float
    upper: float
    spread_upper: float | None
    checks: tuple[PhaseCheck, ...]
    history: CharacteristicHistory
    struck_out: int
    suspect: int
    other_sizes: int
    remark: str

    @property
    def counted(self) -> tuple[PhaseCheck, ...]:
        """The checks behind the limits."""
        return tuple(each for each in self.checks if not each.excluded)

    @property
    def outside(self) -> tuple[PhaseCheck, ...]:
        """The checks behind the limits that stand out all the same."""
        return tuple(each for each in self.counted if each.says)
