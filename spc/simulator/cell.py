"""What a make-believe shop is made of: machines, parts with their true nature, planted stories."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Literal

__all__ = ["Feature", "Machine", "Nature", "Part", "Shop", "Story"]

Nature = Literal["size", "lead", "pitch", "magnitude", "direction", "look"]


@dataclass(frozen=True, slots=True)
class Feature:
    """One characteristic: what its plan says, and what nature does with it behind the plan's back.

    Attributes
    ----------
    name, kind, unit, nominal, lower, upper, target, form, at, answers
        As in the plan; lengths in `unit` (mm or um).
    pieces : int
        Pieces gauged in an hourly check.
    gain_guess : float
        The plan's `penetration_gain`, mm smaller per mm deeper.
    wears_with_die, later, minimum_cpk, master_size
        As in the plan (`later` stands for ``result = "later"``).
    nature : {"size", "lead", "pitch", "magnitude", "direction", "look"}
        Which physics makes the true value. A direction is in degrees, its `_um` amounts too.
    set_by : str
        As in the plan; a size is set by "penetration".
    tables : tuple of str
        Lines of the plan's tables below the characteristic: its geometry, how a trace is read. A size whose
        form is named here gets limits and first gain from it.
    sigma_um, gauge_sd_um, resolution_um : float
        Piece to piece, gauge repeatability, and the last digit the gauge shows.
    gain : float
        True mm smaller per mm of centre distance.
    wear_um_per_1000 : float
        Growth of a size in the steady phase, per 1000 pieces of an ordinary bar batch.
    follows_wear : float
        For a lead: µm per µm of growth of the first size.
    base_um : float
        Offset of a new die set for a lead or pitch; floor of a magnitude; mean of a direction.
    """

    name: str
    kind: str
    unit: str
    nature: Nature
    nominal: float = 0.0
    lower: float | None = None
    upper: float | None = None
    target: float | None = None
    form: str = ""
    pieces: int = 5
    gain_guess: float = 0.9
    minimum_cpk: float | None = None
    master_size: float | None = None
    wears_with_die: bool | None = None
    at: tuple[str, ...] = ()
    later: bool = False
    answers: tuple[str, ...] = ()
    sigma_um: float = 1.0
    gauge_sd_um: float = 0.3
    resolution_um: float = 1.0
    gain: float = 0.9
    wear_um_per_1000: float = 0.0
    follows_wear: float = 0.0
    base_um: float = 0.0
    set_by: str = ""
    tables: tuple[str, ...] = ()

    @property
    def aim(self) -> float:
        """Value the shop aims at, in the plan's unit."""
        return self.nominal if self.target is None else self.target

    @property
    def um_per_unit(self) -> float:
        """How many µm make one of the plan's unit."""
        return 1000.0 if self.unit == "mm" else 1.0


@dataclass(frozen=True, slots=True)
class Part:
    """One part: its plan and how its dies live.

    Attributes
    ----------
    correction_travel_mm : float
        Deeper than the reference setting at which a die set must come off.
    pieces_per_hour : float
        While the machine runs.
    knee_thousand : float
        Thousand ordinary pieces after which wear quickens.
    batch_pieces : tuple of int
        Smallest and largest bar batch.
    batch_sd_um : float
        Step of the size from batch to batch.
    die_sets : tuple of str
        Sets in the rack; the second time round they are reground.
    first_batch : int
        Number of the first bar batch of the history.
    dwell_s : float
        Dwell on the set-up sheet.
    costs : tuple of int
        Of a planned and of an unplanned die change, of a scrapped piece, and pieces that an unplanned end spoils;
        empty where the plan keeps silent.
    """

    id: str
    description: str
    machine: str
    correction_travel_mm: float
    pieces_per_hour: float
    knee_thousand: float
    batch_pieces: tuple[int, int]
    batch_sd_um: float
    die_sets: tuple[str, ...]
    first_batch: int
    dwell_s: float
    features: tuple[Feature, ...]
    costs: tuple[int, ...] = ()

    @property
    def sizes(self) -> tuple[Feature, ...]:
        """Characteristics the slide sets, the leading one first."""
        return tuple(feature for feature in self.features if feature.nature == "size")


@dataclass(frozen=True, slots=True)
class Machine:
    """One rolling machine, its slide and its people.

    Attributes
    ----------
    slides : {"one", "two"}
        "two": opposed slides, the centre distance moves by twice the display.
    operators : tuple of str
        Initials by shift: early, late, night.
    warm_up_um, warm_up_minutes : float
        Size above its warm value at a cold start, and the time in which it falls to 37 %.
    slide_zero_mm : float
        Display near which dies are mounted.
    """

    id: str
    slide_step_mm: float
    slides: Literal["one", "two"]
    display: Literal["deeper_is_larger", "deeper_is_smaller"]
    largest_move_mm: float
    operators: tuple[str, str, str]
    warm_up_um: float
    warm_up_minutes: float
    slide_zero_mm: float

    @property
    def travel_factor(self) -> float:
        """Centre distance per displayed travel."""
        return 2.0 if self.slides == "two" else 1.0


@dataclass(frozen=True, slots=True)
class Story:
    """One thing that truly happens, told in the truth file; most of them also act on the machine.

    Attributes
    ----------
    letter : str
        A to J.
    act : str
        Name of what happens in `spc.simulator.stories`; "" for one that lies in the policy.
    begin, end : datetime
        Plant time.
    says : str
        What truly happened, in one sentence.
    sizes : mapping
        Amounts, each key carrying its unit.
    """

    letter: str
    act: str
    machine: str
    part: str
    characteristic: str
    begin: datetime
    end: datetime
    says: str
    sizes: Mapping[str, float | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Shop:
    """A whole make-believe shop and its calendar.

    Attributes
    ----------
    start : datetime
        First shift, plant time without offset.
    days : int
        Working days (Monday to Friday), each of 24 hours.
    campaign_hours : int
        Running hours after which a machine with several parts changes to the next.
    breaks : tuple of str
        Wall-clock beginnings of the breaks.
    """

    zone: str
    start: datetime
    days: int
    shifts: tuple[str, str, str]
    campaign_hours: int
    interval_minutes: int
    machines: tuple[Machine, ...]
    parts: tuple[Part, ...]
    stories: tuple[Story, ...]
    breaks: tuple[str, ...] = ()

    def parts_on(self, machine: str) -> tuple[Part, ...]:
        """Parts a machine runs, in the order of their campaigns."""
        return tuple(part for part in self.parts if part.machine == machine)

    def day(self, number: int, hour: int = 6, minute: int = 0) -> datetime:
        """Time on working day `number`, counted from 1."""
        weeks, weekday = divmod(self.start.weekday() + number - 1, 5)
        midnight = self.start.replace(hour=0, minute=0) - timedelta(days=self.start.weekday())
        return midnight + timedelta(days=7 * weeks + weekday, hours=hour, minutes=minute)
