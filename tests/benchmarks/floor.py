"""The floor of an invented shop: machines, die sets, checks, operators and the truth behind them.

How dies wear, how bars, heat and people behave stands in the two natures (`gamma_shop`, `regime_shop`); here the
pieces are gauged, the slide is moved and the end of each set is found. Nothing is shared with the filter.
"""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Protocol

import numpy as np
from scipy.special import ndtr

from spc.shop import CheckGauged, EventLogged, Reading
from tests.benchmarks.truth import Change, CheckTruth, SetTruth, as_spread

PART = "B-77"
CUT_SHORT_CHECKS = 3
LEAD_NOISE_UM = 0.7


@dataclass(frozen=True, slots=True)
class Drawing:
    """What the plan says of the part, in mm and µm."""

    target_mm: str
    half_tolerance_um: float
    plan_gain: float
    travel_um: float
    lead_limit_um: float
    pieces: int
    interval_minutes: int
    decimals: int


class Die(Protocol):
    """One die set: µm of growth, µm of lead error, and how many times the spread of a new one its pieces have."""

    start_um: float
    wear_um: float
    lead_um: float
    spread: float
    chip_age: float
    planned_share: float

    def grow(self, pieces: int, share: float, faster: float) -> None: ...


class Machine(Protocol):
    """One machine with its bars, heat and operator."""

    gain: float
    sigma_um: float
    pieces_a_check: int
    slide_start_mm: float

    def bars(self) -> tuple[int, float]: ...
    @property
    def day_um(self) -> float: ...
    def wander_um(self, pieces: int) -> float: ...
    def warm_um(self, pieces_since_start: int) -> float: ...
    def stop_minutes(self) -> int: ...
    def move_um(self, off_um: list[float]) -> float: ...


class Nature(Protocol):
    """A kind of shop."""

    drawing: Drawing
    dice: np.random.Generator

    def machine(self) -> Machine: ...
    def die(self, machine: Machine) -> Die: ...


@dataclass(slots=True)
class Book:
    """What the shop wrote down, and the truth."""

    checks: list[CheckGauged] = field(default_factory=list)
    events: list[EventLogged] = field(default_factory=list)
    sets: list[SetTruth] = field(default_factory=list)

    def log(self, at: datetime, machine: str, event: str, value: object, counter: int | None = None) -> None:
        self.events.append(EventLogged(at, machine, PART, event, str(value), counter=counter))


@dataclass(slots=True)
class Desk:
    """One machine as it stands between checks."""

    name: str
    machine: Machine
    now: datetime
    slide_mm: float
    bars_left: int = 0
    bars_um: float = 0.0
    batch: int = 0


class Mounting:
    """One die set on one machine, from its first check to its removal."""

    def __init__(
        self, nature: Nature, desk: Desk, book: Book, die_set: str, changes: tuple[Change, ...]
    ) -> None:
        self.nature, self.desk, self.book, self.changes = nature, desk, book, changes
        self.drawing, self.dice = nature.drawing, nature.dice
        self.die = nature.die(desk.machine)
        self.truth = SetTruth(die_set, desk.name)
        self.zero_mm, self.age, self.started, self.check = desk.slide_mm, 0, 0, 0
        self.step_um, self.spread, self.faster, self.extra_um = 0.0, 1.0, 1.0, 0.0

    def run(self) -> None:
        desk, book = self.desk, self.book
        book.log(desk.now, desk.name, "die_set_mounted", self.truth.die_set)
        book.log(desk.now, desk.name, "penetration", f"{desk.slide_mm:.3f}")
        reason = ""
        while not reason or self.check <= CUT_SHORT_CHECKS:
            self._change()
            self._make(self._pieces())
            self._gauge()
            self.check += 1
            reason = self._reason()
        self.truth.removed, self.truth.removed_age = reason, self.age
        while not self.truth.end_age:  # worn on, to know the end of a set that came off before
            self._grow(max(int(0.1 * desk.machine.pieces_a_check), 5))
        desk.now += timedelta(minutes=20)
        book.log(desk.now, desk.name, "die_set_removed", reason, self.truth.removed_age)
        book.sets.append(self.truth)
        desk.now += timedelta(minutes=60)
        desk.slide_mm = round(desk.machine.slide_start_mm + 0.001 * int(self.dice.integers(0, 900)), 3)

    @property
    def share(self) -> float:
        """Share of the travel that holding the size would need now."""
        return (self.die.start_um + self.die.wear_um) / (self.desk.machine.gain * self.drawing.travel_um)

    def _change(self) -> None:
        for each in self.changes:
            if each.at_check == self.check:
                self.truth.changed_at = self.check
                scaled = each.amount * as_spread(self.desk.machine.sigma_um)
                self.step_um += scaled if each.kind == "step" else 0.0
                self.spread *= each.amount if each.kind == "spread" else 1.0
                self.faster *= each.amount if each.kind == "rate" else 1.0

    def _pieces(self) -> int:
        if self.check == 0:
            return 5
        usual = self.desk.machine.pieces_a_check
        return max(5, int(self.dice.normal(usual, 0.08 * usual)))

    def _make(self, pieces: int) -> None:
        """Let pieces be made, and what happens meanwhile be logged."""
        desk, dice = self.desk, self.dice
        self._grow(pieces)
        minutes = self.drawing.interval_minutes if self.check else 10
        desk.now += timedelta(minutes=minutes)
        desk.bars_left -= pieces
        if desk.bars_left <= 0:
            desk.batch += 1
            desk.bars_left, desk.bars_um = desk.machine.bars()
            ago = int(dice.integers(1, minutes - 1))
            heat = f"H{int(dice.integers(1_000_000)):06d}"
            self.book.log(desk.now - timedelta(minutes=ago), desk.name, "blank_batch", heat)
        stopped = desk.machine.stop_minutes() if self.check else 0
        if stopped:
            self.book.log(desk.now - timedelta(minutes=minutes // 2), desk.name, "machine_stopped", stopped)
            desk.now += timedelta(minutes=stopped)
            self.started = self.age - int(dice.integers(5, pieces // 2 + 6))

    def _grow(self, pieces: int) -> None:
        """Wear on, and keep the age at which the first end came, straight between two checks."""
        before, was_um = self._past_ends(), self.die.wear_um
        self.die.grow(pieces, self.share, self.faster)
        self.extra_um += (self.die.wear_um - was_um) * (1.0 - 1.0 / self.faster)
        self.age += pieces
        if self.truth.end_age:
            return
        for (name, was), (_, now) in zip(before, self._past_ends(), strict=True):
            if now > 0.0:
                at = self.age - pieces * min(now / (now - was), 1.0)
                if not self.truth.end_age or at < self.truth.end_age:
                    self.truth.end_age, self.truth.limited_by = at, name

    def _past_ends(self) -> list[tuple[str, float]]:
        need = self.die.start_um + self.die.wear_um - self.desk.machine.gain * self.drawing.travel_um
        return [("over_pin", need), ("lead_error", abs(self.die.lead_um) - self.drawing.lead_limit_um)]

    def _gauge(self) -> None:
        desk, dice, drawing = self.desk, self.dice, self.drawing
        moved = desk.machine.warm_um(self.age - self.started)
        moved -= desk.machine.gain * (desk.slide_mm - self.zero_mm) * 1000.0
        level = self.die.start_um + self.die.wear_um + desk.bars_um + self.step_um
        level += desk.machine.wander_um(self.age) + moved
        sigma = desk.machine.sigma_um * self.spread * self.die.spread
        half, edge, lead = drawing.half_tolerance_um, drawing.lead_limit_um, self.die.lead_um
        shares = {"over_pin": beyond(level, sigma, half), "lead_error": beyond(lead, LEAD_NOISE_UM, edge)}
        self.truth.outside.append(shares)
        sizes = level + sigma * dice.standard_normal(drawing.pieces)
        readings = [self._reading("over_pin", i, float(drawing.target_mm), x) for i, x in enumerate(sizes)]
        readings.append(self._reading("lead_error", 0, 0.0, lead + dice.normal(0.0, LEAD_NOISE_UM)))
        outs = np.abs(14.0 + 3.0 * dice.standard_normal(drawing.pieces))
        readings += [self._reading("runout", i, 0.0, x) for i, x in enumerate(outs)]
        purpose = "hourly" if self.check else "first_off"
        check = CheckGauged(desk.now, desk.name, PART, tuple(readings), self.age, purpose=purpose)
        self.book.checks.append(check)
        self.truth.times.append(desk.now)
        shown = [1000.0 * (float(each.value or 0) - float(drawing.target_mm)) for each in readings]
        shown = shown[: drawing.pieces]
        self._note(sum(shown) / len(shown) - moved)
        self._correct(shown)

    def _note(self, level_um: float) -> None:
        die, desk = self.die, self.desk
        grown = die.wear_um - self.extra_um
        known = die.start_um + grown + desk.machine.day_um
        sigma, since = desk.machine.sigma_um * die.spread, self.age - self.started
        self.truth.made.append(CheckTruth(self.age, desk.batch, since, level_um, known, grown, sigma))

    def _reading(self, name: str, place: int, target_mm: float, off_um: float) -> Reading:
        value = Decimal(f"{target_mm + off_um / 1000.0:.{self.drawing.decimals}f}")
        return Reading(name, place + 1, "", value, unit="mm")

    def _correct(self, off_um: list[float]) -> None:
        move = round(float(np.clip(self.desk.machine.move_um(off_um), -20.0, 20.0))) / 1000.0
        if move:
            desk = self.desk
            desk.slide_mm = round(desk.slide_mm + move, 3)
            at = desk.now + timedelta(minutes=2)
            self.book.log(at, desk.name, "penetration", f"{desk.slide_mm:.3f}")

    def _reason(self) -> str:
        if self.age > self.die.chip_age:
            return "chipped"
        if self.truth.end_age:
            return "worn"
        return "planned" if self.share > self.die.planned_share else ""


def beyond(level_um: float, sigma_um: float, half_um: float) -> float:
    """Share of normal sizes outside ± a half tolerance."""
    return float(ndtr((-half_um - level_um) / sigma_um) + ndtr((level_um - half_um) / sigma_um))


FIRST_MORNING = datetime(2026, 1, 5, 6, tzinfo=UTC)
