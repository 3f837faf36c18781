"""What comes out of a make-believe shop: the files a real shop would hand over, and the truth."""

from dataclasses import dataclass
from datetime import datetime

from spc.simulator.cell import Shop, Story

__all__ = ["EventRow", "History", "LifeTruth", "ReadingRow", "SizeTruth"]


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One gauge value as it was typed."""

    time: datetime
    machine: str
    part: str
    characteristic: str
    piece: int
    value: str
    unit: str
    counter: int
    operator: str
    purpose: str


@dataclass(frozen=True, slots=True)
class EventRow:
    """One thing done at a machine, as it was logged."""

    time: datetime
    machine: str
    part: str
    event: str
    value: str
    note: str = ""
    counter: int | None = None
    form: str = ""
    operator: str = ""


@dataclass(frozen=True, slots=True)
class SizeTruth:
    """Where a size truly stood at one check, and what it was made of; all in µm from the target.

    Attributes
    ----------
    size_um : float
        True mean of pieces made at this moment, gauge left out.
    wear_um : float
        Growth by wear of this die set since new or reground.
    batch_um, warm_um, other_um, gauge_um : float
        Share of the bar batch, of warm-up, of a planted disturbance; what the gauge adds.
    slide_mm : float
        Displayed setting.
    """

    time: datetime
    machine: str
    part: str
    die_set: str
    counter: int
    age: int
    purpose: str
    characteristic: str
    size_um: float
    wear_um: float
    batch_um: float
    warm_um: float
    other_um: float
    gauge_um: float
    slide_mm: float


@dataclass(frozen=True, slots=True)
class LifeTruth:
    """One life of a die set, from new or reground to its end.

    Attributes
    ----------
    mounted, removed : tuple of datetime
        Every mounting and removal of this life.
    reason : str
        Why it came off the last time; "" while it still runs or waits in the rack.
    age : int
        Pieces at the end of the life, or so far.
    end_age : int
        Age at which it must come off by wear: reached, or worked out for ordinary bar batches from here on.
    limited_by, limit : str
        Characteristic that ends it, and "travel" or "limit".
    wear_um : dict of float
        Growth by wear at that age, by characteristic.
    wear_um_per_1000, gain : dict of float
        Steady growth and true gain (per displayed mm) by characteristic.
    """

    machine: str
    part: str
    die_set: str
    life: int
    mounted: tuple[datetime, ...]
    removed: tuple[datetime, ...]
    reason: str
    age: int
    end_age: int
    limited_by: str
    limit: str
    wear_um: dict[str, float]
    wear_um_per_1000: dict[str, float]
    gain: dict[str, float]


@dataclass(frozen=True, slots=True)
class History:
    """Everything of one run, in time order."""

    shop: Shop
    seed: int
    readings: tuple[ReadingRow, ...]
    events: tuple[EventRow, ...]
    sizes: tuple[SizeTruth, ...]
    lives: tuple[LifeTruth, ...]
    stories: tuple[Story, ...]
    batches: tuple[dict[str, float | str], ...]
