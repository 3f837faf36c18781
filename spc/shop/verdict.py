"""The verdict on one check: what to do next, why, and how far it reaches."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from spc.shop.die_life import DieLife, Interval90
from spc.shop.layouts import Cause, SignalKind, VerdictWord
from spc.shop.quickly_made import quickly_made
from spc.shop.reaction import NextCheck, Notice, Reaction
from spc.shop.verdict_line import verdict_line

__all__ = [
    "Contain", "Correction", "Explained", "Explanation", "Signal", "Subgroup", "Verdict", "WarmGauging",
]  # fmt: skip


@quickly_made
@dataclass(frozen=True, slots=True)
class Explanation:
    """One possible cause of a signal; weights of a signal's explanations sum to at most 1."""

    cause: Cause
    weight: float
    says: str


@quickly_made
@dataclass(frozen=True, slots=True)
class Signal:
    """Something that chance does not explain; `since` (UTC) is the first check that shows it."""

    characteristic: str
    kind: SignalKind
    since: datetime
    says: str
    explanations: tuple[Explanation, ...] = ()


@quickly_made
@dataclass(frozen=True, slots=True)
class Explained:
    """A change that a logged event wholly explains; it raises nothing."""

    characteristic: str
    cause: Cause
    says: str


@quickly_made
@dataclass(frozen=True, slots=True)
class Correction:
    """One move of one slide: the change of displayed travel (positive deeper) and where sizes land."""

    characteristic: str
    penetration_mm: Decimal
    from_mm: Decimal
    to_mm: Decimal
    lands_at: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Contain:
    """Pieces to hold back, after `from_counter` up to and with `to_counter`; None without counters."""

    from_counter: int | None
    to_counter: int | None
    pieces: int | None


@dataclass(frozen=True, slots=True)
class WarmGauging:
    """What the temperatures of part and setting master did to the readings of a subgroup.

    Attributes
    ----------
    correction_um : float or None
        Taken off the mean as gauged (angles have none); None where nothing could be corrected.
    uncertainty_um : float or None
        Its standard uncertainty.
    mean_as_gauged : float
        In the plan's unit.
    part_c, master_c : float or None
        Mean of what is known, °C.
    says : str
        What was done, or why nothing.
    notice : str
        Where the parts were gauged warm against their tolerance; else "".
    """

    correction_um: float | None
    uncertainty_um: float | None
    mean_as_gauged: float
    part_c: float | None
    master_c: float | None
    says: str
    notice: str = ""


@quickly_made
@dataclass(frozen=True, slots=True)
class Subgroup:
    """The pieces of one check for one characteristic.

    Attributes
    ----------
    n : int
    mean, range : float
        In the plan's unit; range 0 for one piece.
    mean_at_reference_setting : float or None
        The mean with all slide moves taken out; None when no setting is known.
    lower, upper : float or None
        Limits in force for this mean.
    spread_upper : float or None
        Limit of the range.
    centre : float or None
    standing : str
        "provisional", "signed", "forecast" or "" where no limits stand.
    suspect : bool
        Left out of the model because the entry is implausible.
    warm : WarmGauging or None
        Where a temperature is known and the plan brings readings to 20 °C; the mean is then as judged.
    wear_line : Interval90 or None
        What the dies alone have made of the size, at the reference setting, in the plan's unit: bar batches and
        passing shifts left out. None without a counter.
    """

    n: int
    mean: float
    range: float
    mean_at_reference_setting: float | None = None
    centre: float | None = None
    lower: float | None = None
    upper: float | None = None
    spread_upper: float | None = None
    standing: str = ""
    suspect: bool = False
    warm: WarmGauging | None = None
    wear_line: Interval90 | None = None


@quickly_made
@dataclass(frozen=True, slots=True)
class Verdict:
    """What the station says about one check; `to_dict` is the contract's line.

    Attributes
    ----------
    time : datetime
        Of the check, in UTC.
    zone : str
        The plant's zone, in which times are shown.
    next_action : str
        One sentence for the operator.
    no_correction : str
        Why the slide is left where it stands although a size is off; "" where none is, or a move is advised.
    reaction : Reaction or None
        What to look for and do, in order, where a signal stands.
    next_check : NextCheck or None
        When to check next.
    notices : tuple of Notice
        What to know besides, such as earlier readings in doubt.
    """

    time: datetime
    zone: str
    machine: str
    part: str
    die_set: str | None
    counter: int | None
    age: int | None
    purpose: str
    verdict: VerdictWord
    signals: tuple[Signal, ...]
    explained: tuple[Explained, ...]
    correction: Correction | None
    contain: Contain | None
    die_life: DieLife | None
    subgroups: tuple[tuple[str, Subgroup], ...]
    next_action: str = ""
    reaction: Reaction | None = None
    next_check: NextCheck | None = None
    notices: tuple[Notice, ...] = ()
    check_id: int | None = None
    no_correction: str = ""

    def subgroup(self, characteristic: str) -> Subgroup | None:
        """Return the subgroup of one characteristic, None where it was not gauged."""
        return dict(self.subgroups).get(characteristic)

    def to_dict(self) -> dict[str, Any]:
        """Return the contract's line of this verdict, for programs: section 5, and `check_id` where known."""
        return verdict_line(self)
