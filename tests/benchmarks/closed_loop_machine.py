"""One machine of the race: it makes pieces, gauges them, does what a policy says, and keeps the account."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Protocol

import numpy as np
from scipy.special import ndtr

from spc.shop import CheckGauged, EventLogged, Reading
from tests.benchmarks.closed_loop_account import Account
from tests.benchmarks.closed_loop_shop import (
    LEAD_LIMIT_UM,
    LEAD_SIGMA_UM,
    STRIDE,
    DieSet,
    Part,
    draw_set,
    warm_effect,
)

__all__ = ["Action", "Policy", "Seen", "Truth", "run_sets"]

NOMINAL_MM = 27.4
AGAIN_PIECES = 12
FIRST_PIECES = 5
MASTERED_EVERY = 8


@dataclass(frozen=True)
class Truth:
    """What only an oracle sees: size minus target, the set's whole life, and the bad pieces since the last check."""

    level_um: float
    age: int
    gap: int
    since: int
    bad: float
    die: DieSet
    part: Part
    approach_um: float


@dataclass(frozen=True)
class Seen:
    """What stands at a check: the fact for the station, and the same as numbers for the others."""

    check: CheckGauged
    values_um: tuple[float, ...]
    lead_um: float
    chip: bool
    approach_um: int
    truth: Truth

    @property
    def mean_um(self) -> float:
        """Mean of the check minus target."""
        return sum(self.values_um) / len(self.values_um)


@dataclass(frozen=True)
class Action:
    """What a policy wants: a slide move, pieces held back, dies changed after so many pieces, a look, fresh pieces."""

    move_um: int = 0
    hold_from: int | None = None
    change_after: int | None = None
    look: bool = False
    next_pieces: int | None = None


class Policy(Protocol):
    """Who decides."""

    def told(self, event: EventLogged) -> None:
        """Hear what was logged."""

    def decide(self, seen: Seen) -> Action:
        """Say what to do after a check."""


@dataclass
class _Running:
    """A set at work."""

    part: Part
    die: DieSet
    number: int
    clock: datetime
    zero_um: int
    dice: np.random.Generator
    policy: Policy
    account: Account
    age: int = 0
    approach_um: int = 0
    started: int = 0
    checks: int = 0
    gauge_um: float = 0.0
    gauge_at: int = 0
    bad: list[tuple[int, int, float]] = field(default_factory=list)


def run_sets(part: Part, numbers: Sequence[int], policy: Policy) -> Account:
    """Run die sets of one part, one after the other, under a policy."""
    account, clock = Account(), datetime(2026, 1, 5, 6, tzinfo=UTC)
    for number in numbers:
        dice = np.random.default_rng([part.seed, 2, number])
        zero = 12_000 + int(dice.integers(0, 900))
        run = _Running(part, draw_set(part, number), number, clock, zero, dice, policy, account)
        clock = _run_set(run)
    return account


def _run_set(run: _Running) -> datetime:
    _tell(run, "die_set_mounted", f"D-{run.number:02d}")
    _tell(run, "penetration", f"{run.zero_um / 1000:.3f}")
    gap, ends = FIRST_PIECES, False
    while True:
        _make(run, gap)
        if ends:
            return _off(run, _found_broken(run) or ("worn" if run.age >= run.die.end_age else "planned"))
        seen = _gauge(run, "hourly" if run.checks else "first_off")
        action = run.policy.decide(seen)
        if seen.chip:
            return _off(run, _found_broken(run))
        gap, ends = _do(run, action)
        if action.change_after == 0:
            return _off(run, "worn" if run.age >= run.die.end_age else "planned")


def _do(run: _Running, action: Action) -> tuple[int, bool]:
    """Act, and say how many pieces follow and whether the dies come off after them."""
    if action.hold_from is not None:
        _hold(run, action.hold_from)
    if action.look:
        run.account.looks += 1
        _master(run)
    elif run.checks % MASTERED_EVERY == 0:
        _master(run)
    if action.move_um:
        run.account.moves += 1
        run.approach_um += action.move_um
        run.clock += timedelta(minutes=2)
        _tell(run, "penetration", f"{(run.zero_um + run.approach_um) / 1000:.3f}")
    usual = max(20, int(run.dice.normal(run.part.pieces_per_check, 0.08 * run.part.pieces_per_check)))
    gap = usual if action.next_pieces is None else action.next_pieces
    if action.change_after is not None and action.change_after <= gap:
        return action.change_after, True
    return gap, False


def _make(run: _Running, gap: int) -> None:
    """Make pieces up to the next check; what is logged on the way is told in its order."""
    begin, end = run.age, run.age + gap
    minutes = 60.0 * gap / run.part.pieces_per_check
    for at, _ in run.die.batches:
        if begin <= at < end:
            share = (at - begin + 0.5) / gap
            _tell(run, "blank_batch", f"H{run.number}-{at}", minutes * share, at)
    for at, stopped in run.die.stops:
        if begin <= at < end:
            _tell(run, "machine_stopped", str(stopped), minutes * (at - begin + 0.5) / gap, at)
            minutes += stopped
            run.started = at
    run.clock += timedelta(minutes=minutes + 1.0)
    ages = np.arange(begin, end, STRIDE)
    level = _level(run, ages)
    share = _share_bad(run, ages, level)
    weight = np.minimum(STRIDE, end - ages)
    bad = float(np.sum(weight * share))
    run.bad.append((begin, end, bad))
    run.age = end
    run.account.pieces += gap
    run.account.bad += bad
    run.account.square_um2 += float(np.sum(weight * level**2))


def _level(run: _Running, ages: np.ndarray) -> np.ndarray:
    at = np.minimum(ages // STRIDE, len(run.die.level_um) - 1)
    slipped = sum((amount * (ages >= since) for since, amount in run.die.slips), np.zeros(len(ages)))
    warm = np.array([warm_effect(run.part, max(age - run.started, 0)) for age in ages])
    broken = 6.0 * (ages >= run.die.broken_age)
    return np.asarray(run.die.level_um[at] + slipped + warm + broken - run.part.gain * run.approach_um)


def _share_bad(run: _Running, ages: np.ndarray, level: np.ndarray) -> np.ndarray:
    """Share of pieces outside in size or lead; all of them once the dies are broken."""
    at = np.minimum(ages // STRIDE, len(run.die.level_um) - 1)
    sigma, lead = run.die.sigma_um[at], run.die.lead_um[at]
    size_ok = ndtr((run.part.half_um - level) / sigma) - ndtr((-run.part.half_um - level) / sigma)
    lead_ok = ndtr((LEAD_LIMIT_UM - lead) / LEAD_SIGMA_UM) - ndtr((-LEAD_LIMIT_UM - lead) / LEAD_SIGMA_UM)
    return np.where(ages >= run.die.broken_age, 1.0, 1.0 - size_ok * lead_ok)


def _gauge(run: _Running, purpose: str) -> Seen:
    for since, amount in run.die.gauge:
        if run.gauge_at <= since < run.checks + 1:
            run.gauge_um, run.gauge_at = run.gauge_um + amount, since + 1
    run.checks += 1
    run.account.checks += 1
    now = np.array([run.age])
    level = float(_level(run, now)[0])
    at = min(run.age // STRIDE, len(run.die.level_um) - 1)
    sizes = level + run.gauge_um + run.die.sigma_um[at] * run.dice.standard_normal(5)
    lead = float(run.die.lead_um[at] + LEAD_SIGMA_UM * run.dice.standard_normal())
    chip = run.age >= run.die.broken_age
    values = tuple(round(2.0 * float(each)) / 2.0 for each in sizes)
    readings = [_reading("over_pin", i + 1, NOMINAL_MM + each / 1000) for i, each in enumerate(values)]
    readings.append(_reading("lead_error", 1, round(lead, 1) / 1000))
    readings.append(Reading("look", 1, "", answer="chip mark" if chip else "ok"))
    check = CheckGauged(run.clock, "R1", "B-77", tuple(readings), run.age, purpose=purpose)
    begin, _, bad = run.bad[-1]
    truth = Truth(level, run.age, run.part.pieces_per_check, begin, bad, run.die, run.part, run.approach_um)
    return Seen(check, values, round(lead, 1), chip, run.approach_um, truth)


def _reading(name: str, piece: int, value_mm: float) -> Reading:
    return Reading(name, piece, f"{value_mm:.4f}", Decimal(f"{value_mm:.4f}"), unit="mm")


def _found_broken(run: _Running) -> str:
    """Whoever takes broken dies off sees it, and sorts what was made since the last check."""
    if run.age < run.die.broken_age:
        return ""
    _hold(run, run.bad[-1][0])
    return "chipped"


def _hold(run: _Running, since: int) -> None:
    """Sort the pieces held back: their bad ones are found."""
    kept = []
    for begin, end, bad in run.bad:
        share = max(0.0, min(1.0, (end - max(begin, since)) / max(end - begin, 1)))
        run.account.bad_found += bad * share
        run.account.in_doubt += (end - begin) * share
        kept.append((begin, end, bad * (1.0 - share)) if share < 1.0 else (begin, begin, 0.0))
    run.bad = kept


def _master(run: _Running) -> None:
    _tell(run, "gauge_mastered", f"{round(run.gauge_um, 1)}", note="over_pin", counter=run.age)
    run.gauge_um = 0.0


def _off(run: _Running, reason: str) -> datetime:
    run.account.sets += 1
    run.account.unplanned += reason == "chipped"
    run.account.lives_used += min(run.age / min(run.die.end_age, run.die.broken_age), 1.0)
    _tell(run, "die_set_removed", reason, 20.0, run.age)
    return run.clock + timedelta(minutes=90)


def _tell(
    run: _Running, event: str, value: str, minutes: float = 0.5, counter: int | None = None, note: str = ""
) -> None:
    """Log something so many minutes after the last check."""
    at = run.clock + timedelta(minutes=minutes)
    run.policy.told(EventLogged(at, "R1", "B-77", event, value, note, counter))
