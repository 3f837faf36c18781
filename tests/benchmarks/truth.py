"""What is true of an invented shop and stands in no record: what changed, and what made each set and each check."""

from dataclasses import dataclass, field
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Change:
    """Something nobody logs, from a check of a set on: a step in µm, the spread or the wear rate so many times.

    A step counts where a piece spreads by 2 to 3 µm; where it spreads otherwise, it is in proportion to 2.5 µm.
    """

    kind: str
    at_check: int
    amount: float
    in_set: int = 0


@dataclass(frozen=True, slots=True)
class CheckTruth:
    """What made the mean of one check (see `detection_bound`).

    Attributes
    ----------
    batch : int
        Number of the bar batch on this machine.
    since_start : int
        Pieces since the machine started.
    level_um : float
        Mean with slide moves and warm-up taken out.
    known_um : float
        Start, growth as it would have been without a change, and the hour of the day: level minus this is bars,
        wander, what changed, and the scatter of the pieces.
    grown_um : float
        Growth as it would have been without a change.
    sigma_um : float
        Of a piece, before anything changed.
    """

    age: int
    batch: int
    since_start: int
    level_um: float
    known_um: float
    grown_um: float
    sigma_um: float


@dataclass(slots=True)
class SetTruth:
    """What is true of one set: the age at which it must come off, what then binds, why and when it came off.

    `outside` holds the share of pieces outside the tolerance at each check, `made` what made its mean.
    """

    die_set: str
    machine: str
    end_age: float = 0.0
    limited_by: str = ""
    removed: str = ""
    removed_age: int = 0
    times: list[datetime] = field(default_factory=list)
    changed_at: int | None = None
    outside: list[dict[str, float]] = field(default_factory=list)
    made: list[CheckTruth] = field(default_factory=list)


def as_spread(sigma_um: float) -> float:
    """How many times 8 µm a step of "8 µm at a spread of 2 to 3 µm" is where a piece spreads otherwise."""
    return 1.0 if 2.0 <= sigma_um <= 3.0 else sigma_um / 2.5
