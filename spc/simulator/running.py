"""One machine while it runs: its clock, its pieces, its heat, and everything written down beside it."""

import heapq
import math
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from spc.simulator.cell import Feature, Machine, Part, Shop, Story
from spc.simulator.dice import Dice
from spc.simulator.die import DieLife
from spc.simulator.history import EventRow, LifeTruth, ReadingRow, SizeTruth
from spc.simulator.policy import Policy

__all__ = ["Batch", "Running"]

COOLING_MINUTES = 90.0
QUIET_BATCH_SHARE = 0.25
CHIP_UM = 3.0
LONG_AGO = datetime(2000, 1, 1)  # noqa: DTZ001  # plant time without offset, as in the files


@dataclass(slots=True)
class Batch:
    """Bars of one delivery: their step of the size, how hard they are on dies, and pieces left."""

    id: str
    number: int
    step_um: float
    harshness: float
    left: float


@dataclass(slots=True)
class Running:
    """State of one machine between two moments; `advance` makes pieces, `log` writes an event."""

    shop: Shop
    machine: Machine
    policy: Policy
    seed: int
    now: datetime
    part: Part
    agenda: list[tuple[datetime, int, Callable[["Running"], None]]] = field(default_factory=list)
    serial: int = 0
    stopped_until: datetime = LONG_AGO
    die: DieLife | None = None
    rack: dict[str, DieLife] = field(default_factory=dict)
    mountings: dict[str, int] = field(default_factory=dict)
    slide_mm: float = 0.0
    reference_mm: float = 0.0
    batches: dict[str, Batch] = field(default_factory=dict)
    gauge_um: dict[str, float] = field(default_factory=dict)
    gauge_creep: dict[str, tuple[datetime, float]] = field(default_factory=dict)
    heat_um: float = 0.0
    heat_minutes: float = 12.0
    heat_since: datetime = LONG_AGO
    changing: bool = False
    change_wanted: str = ""
    first_off_due: datetime | None = None
    last_check: datetime = LONG_AGO
    shift_seen: int = -1
    spread_factor: float = 1.0
    other_um: float = 0.0
    quiet: tuple[datetime, datetime] | None = None
    mistakes: list[Story] = field(default_factory=list)
    told_rows: int = 0
    told_events: int = 0
    readings: list[ReadingRow] = field(default_factory=list)
    events: list[EventRow] = field(default_factory=list)
    sizes: list[SizeTruth] = field(default_factory=list)
    ended: list[LifeTruth] = field(default_factory=list)
    stories: list[Story] = field(default_factory=list)
    batch_truth: list[dict[str, float | str]] = field(default_factory=list)

    def at(self, time: datetime, action: Callable[["Running"], None]) -> None:
        """Put something on the agenda."""
        self.serial += 1
        heapq.heappush(self.agenda, (time, self.serial, action))

    def after(self, minutes: float, action: Callable[["Running"], None]) -> None:
        """Put something on the agenda, some minutes from now."""
        self.at(self.now + timedelta(minutes=minutes), action)

    def dice(self, *words: object) -> Dice:
        """Dice named by what they are rolled for."""
        return Dice(self.seed, self.machine.id, *words)

    @property
    def dies(self) -> DieLife:
        """Dies in the machine; only asked for where there are some."""
        if self.die is None:
            raise LookupError(f"no dies in {self.machine.id} at {self.now}")
        return self.die

    @property
    def idle(self) -> bool:
        """No pieces come: stopped, or no dies in."""
        return self.now < self.stopped_until or self.die is None

    @property
    def operator(self) -> str:
        """Initials of whoever runs the machine now."""
        return self.machine.operators[self.shift()]

    def shift(self) -> int:
        """Index of the shift: 0 early, 1 late, 2 night."""
        minute = 60 * self.now.hour + self.now.minute
        starts = [60 * int(text[:2]) + int(text[3:]) for text in self.shop.shifts]
        return max((start <= minute, start, place) for place, start in enumerate(starts))[2]

    def log(self, event: str, value: str, note: str = "", *, plant: bool = False, form: str = "") -> None:
        """Write an event down; `plant` leaves the part empty (it concerns every part of the machine)."""
        part = "" if plant else self.part.id
        counter = None if self.die is None else math.floor(self.die.counter)
        row = EventRow(self.now, self.machine.id, part, event, value, note, counter, form, self.operator)
        self.events.append(row)

    def advance(self, to: datetime) -> None:
        """Run until `to`: pieces, wear, and a new bar batch whenever one is used up."""
        while self.now < to:
            begin = max(self.now, min(self.stopped_until, to))
            minutes = (to - begin).total_seconds() / 60.0
            if self.die is None or minutes <= 0.0:
                self.now = to
                return
            rate = self.part.pieces_per_hour / 60.0
            batch = self.batches[self.part.id]
            pieces = min(minutes * rate, batch.left)
            self.die.make(pieces, batch.harshness)
            batch.left -= pieces
            if batch.left > 1e-9:
                self.now = to
                return
            self.now = begin + timedelta(seconds=math.ceil(60.0 * pieces / rate))
            self.load_batch()

    def load_batch(
        self, step_um: float | None = None, harshness: float | None = None, pieces: float = 0.0
    ) -> None:
        """Bring the next bars to the machine and log it; amounts are drawn unless a story gives them."""
        part, last = self.part, self.batches.get(self.part.id)
        number = part.first_batch if last is None else last.number + 1
        dice = self.dice("batch", part.id, number)
        step = dice.normal(0.0, part.batch_sd_um * (QUIET_BATCH_SHARE if self.is_quiet() else 1.0))
        hard = math.exp(dice.normal(0.0, 0.06))
        size = dice.between(*part.batch_pieces)
        batch = Batch(
            f"B-{number}",
            number,
            step if step_um is None else step_um,
            hard if harshness is None else harshness,
            pieces or float(math.floor(size)),
        )
        self.batches[part.id] = batch
        self.log("blank_batch", batch.id)
        self.batch_truth.append(
            {
                "part": part.id,
                "batch": batch.id,
                "from": self.now.isoformat(),
                "step_um": round(batch.step_um, 3),
                "wear_factor": round(batch.harshness, 4),
            }
        )

    def is_quiet(self) -> bool:
        """Whether a story keeps this week free of anything unusual."""
        return self.quiet is not None and self.quiet[0] <= self.now < self.quiet[1]

    def warm_um(self) -> float:
        """Size above its warm value, µm, decaying since the last start."""
        minutes = (self.now - self.heat_since).total_seconds() / 60.0
        return self.heat_um * math.exp(-minutes / self.heat_minutes) if self.heat_um else 0.0

    def restart(self, cold_minutes: float) -> None:
        """Start pieces again after a stop: the longer it was, the colder the machine."""
        share = -math.expm1(-cold_minutes / COOLING_MINUTES)
        self.heat_um = self.machine.warm_up_um * share
        self.heat_minutes = self.machine.warm_up_minutes
        self.heat_since = self.now

    def gauge_zero_um(self, feature: Feature) -> float:
        """What the gauge of a size adds at this moment, µm."""
        since, per_shift = self.gauge_creep.get(feature.name, (self.now, 0.0))
        hours = (self.now - since).total_seconds() / 3600.0
        return self.gauge_um.get(feature.name, 0.0) + per_shift * min(hours, 8.0) / 8.0

    def true_um(self, feature: Feature) -> float:
        """Mean of a size from its target in the pieces made now, µm."""
        batch = self.batches[self.part.id].step_um
        return self.dies.form_um(feature.name) + batch + self.warm_um() + self.struck_um()

    def struck_um(self) -> float:
        """Share of the size that a chip or a planted disturbance adds, µm."""
        return self.other_um + (CHIP_UM if self.dies.chipped else 0.0)
