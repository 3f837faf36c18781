"""What a verdict says of the mounted die set: pieces left, growth, and when to change it."""

from dataclasses import dataclass

from spc.shop.quickly_made import quickly_made

__all__ = [
    "ChangeAdvice", "ChangeRule", "DieLife", "HoursLeft", "Interval90", "PiecesLeft", "WearRate",
]  # fmt: skip


@quickly_made
@dataclass(frozen=True, slots=True)
class PiecesLeft:
    """Quantiles of the pieces until the set must come off; None where no end can be seen."""

    p05: int | None
    p25: int | None
    p50: int | None
    p75: int | None
    p95: int | None


@quickly_made
@dataclass(frozen=True, slots=True)
class WearRate:
    """Growth per 1,000 pieces in µm with its 90 % interval."""

    estimate: float
    low90: float
    high90: float


@quickly_made
@dataclass(frozen=True, slots=True)
class Interval90:
    """A number with its 90 % interval."""

    estimate: float
    low90: float
    high90: float


@quickly_made
@dataclass(frozen=True, slots=True)
class HoursLeft:
    """Pieces left as running hours at the present rate."""

    early: float
    likely: float
    late: float


@dataclass(frozen=True, slots=True)
class ChangeRule:
    """One rule for the change of a die set, weighed by the forecast of this set.

    Attributes
    ----------
    rule : {"measured_wear", "planned_age"}
        By the forecast of this set, or by how long earlier sets lasted.
    pieces : int or None
        More pieces until the change, 0 for now; None: run to the end.
    age : int or None
        Age of the set then; for the planned age the same for every set.
    cost_per_piece : float
        Over the whole life of this set, in the plan's currency.
    costs_more : float
        Money beyond the cheapest rule: what this change costs more, less what its pieces are worth.
    age_low90, age_high90 : int or None
        Where the best planned age lies, nine of ten.
    """

    rule: str
    pieces: int | None
    age: int | None
    cost_per_piece: float
    costs_more: float = 0.0
    age_low90: int | None = None
    age_high90: int | None = None


@dataclass(frozen=True, slots=True)
class ChangeAdvice:
    """When to change the dies: the rule that costs least, and every rule beside it."""

    by: str
    pieces: int | None
    age: int | None
    rules: tuple[ChangeRule, ...]
    says: str


@quickly_made
@dataclass(frozen=True, slots=True)
class DieLife:
    """What is known of the mounted die set: which limit binds, pieces left, growth, slide used, gain.

    Attributes
    ----------
    sudden_end_per_1000 : Interval90 or None
        Chipped ends in 1,000 pieces of the part's finished sets; outside `pieces_left`. None before the first.
    hours_left : HoursLeft or None
        At the present rate; None where that is not known.
    change : ChangeAdvice or None
        Where the plan names costs and a set of the part has come to its end.
    """

    limited_by: str
    limit: str
    pieces_left: PiecesLeft
    wear_um_per_1000: WearRate
    correction_used_mm: float | None
    correction_travel_mm: float | None
    gain: float | None
    sudden_end_per_1000: Interval90 | None = None
    hours_left: HoursLeft | None = None
    change: ChangeAdvice | None = None
