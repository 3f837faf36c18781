"""One invented shop kept twice: as the station folds its facts, and as the wear model's docstring is written out."""

import math
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import numpy as np
import pytest
from shaft_size import HOURLY, OVER_PIN_SIZE
from stories_written_out import Seen, Tale, best_tale, remember
from written_out import GAIN, RATE, Check, Expected, Guess, OnDieSet, OnMachine, ahead, take_in

from spc.shop import CheckGauged, EventLogged, Fact, PlanTaken, Reading, Signal, Verdict
from spc.station.fold import step
from spc.station.state import StreamState
from spc.station.take_plan import BEFORE_ALL

PLAN = f"""
[part]
id = "K-5"
[[machine]]
id = "M1"
[die_set]
correction_travel = 0.060
{HOURLY}{OVER_PIN_SIZE}limits = "with_die_wear"
[[characteristic]]
name = "crest"
kind = "crest_diameter"
unit = "mm"
nominal = 34.000
lower = 33.950
upper = 34.050
set_by = "penetration"
limits = "with_die_wear"
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.0
lower = -0.014
upper = 0.014
subgroup_size = 1
wears_with_die = true
limits = "with_die_wear"
"""
GUESSES = {"over_pin": Guess(36.0, 0.8), "crest": Guess(100.0, -1.0), "lead_error": Guess(28.0)}
AIMS = {"over_pin": Decimal("31.250"), "crest": Decimal("34.000"), "lead_error": Decimal(0)}
GROWTH_UM = {"over_pin": 1.4, "crest": -1.1, "lead_error": 0.5}


@dataclass
class TwoRecords:
    """The shop; its truth may be changed between two checks, and nobody logs that."""

    dice: np.random.Generator
    now: datetime = datetime(2026, 6, 1, 6, tzinfo=UTC)
    state: StreamState = field(default_factory=lambda: StreamState("K-5"))
    on: str = ""
    counter: int = 0
    started_at: int = 0
    setting_um: int = 0
    zero_um: int | None = None
    bars: int = 0
    logged: tuple[str, str, float] = ("", "", 0.0)
    level_um: float = 0.0
    faster_um: float = 0.0
    start_um: float = 3.0
    odd_um: float = 0.0
    ages: dict[str, int] = field(default_factory=dict)
    carried_um: dict[str, int] = field(default_factory=dict)
    machines: dict[str, OnMachine] = field(default_factory=dict)
    sets: dict[str, dict[str, OnDieSet]] = field(default_factory=dict)
    seen: dict[str, list[Seen]] = field(default_factory=dict)
    told: list[Tale] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.machines = {name: OnMachine(guess) for name, guess in GUESSES.items()}
        self.take(PlanTaken(BEFORE_ALL, "K-5", PLAN))

    def take(self, fact: Fact) -> Verdict | None:
        self.state, verdict = step(self.state, fact)
        return verdict

    def log(self, event: str, value: str, note: str = "") -> None:
        self.now += timedelta(minutes=5)
        self.take(EventLogged(self.now, "M1", "K-5", event, value, note, counter=self.counter))

    def mount(self, name: str) -> None:
        self.log("die_set_mounted", name)
        for size in self.sets.setdefault(name, {n: OnDieSet(g) for n, g in GUESSES.items()}).values():
            size.mount_again()
        for machine in self.machines.values():
            machine.last_single = None
        self.on, self.counter, self.started_at, self.zero_um, self.seen = name, 0, 0, None, {}
        self.carried_um.setdefault(name, 0)
        self.ages.setdefault(name, 0)

    def come_off(self, reason: str) -> None:
        self.log("die_set_removed", reason)
        self.ages[self.on] += self.counter
        self.carried_um[self.on] += self.setting_um - (self.zero_um or 0)

    def regrind(self, name: str) -> None:
        self.log("die_set_reground", name)
        del self.sets[name], self.ages[name], self.carried_um[name]

    def move(self, deeper_um: int) -> None:
        self.setting_um += deeper_um
        self.log("penetration", f"{12 + self.setting_um / 1000.0:.3f}")

    def stop(self) -> None:
        self.started_at = self.counter
        self.log("machine_stopped", "30")

    def change_bars(self, name: str) -> None:
        self.log("blank_batch", name)
        self.bars, self.logged = self.bars + 1, ("batch", "", 0.0)
        for size in self.sets[self.on].values():
            size.change_bars()

    def master(self, off_um: float, note: str) -> None:
        self.log("gauge_mastered", str(off_um), note)
        self.logged = ("gauge_zero", note, off_um)
        for name, size in self.sets[self.on].items():
            if note in ("", name):
                size.set_gauge(off_um, is_named=bool(note))

    def set_dwell(self) -> None:
        self.log("setting", "1.4", "dwell_s")
        self.logged = ("setting", "", 0.0)

    def check(self, pieces: int, n: int = 5, odd_piece_um: float = 0.0) -> None:
        """Roll so many pieces, gauge some, and take them in twice."""
        self.now += timedelta(hours=max(1.0, pieces / 500))  # no machine makes a week's pieces in an hour
        self.counter += pieces
        self.level_um += self.faster_um * pieces / 1000.0
        self.zero_um = self.setting_um if self.zero_um is None else self.zero_um
        checks = {name: self._gauged(name, 1 if name == "lead_error" else n) for name in GUESSES}
        checks["over_pin"].values[0] += odd_piece_um
        readings = [
            Reading(name, i + 1, "", AIMS[name] + Decimal(f"{value:.1f}") / 1000, unit="mm")
            for name, check in checks.items()
            for i, value in enumerate(check.values)
        ]
        verdict = self.take(CheckGauged(self.now, "M1", "K-5", tuple(readings), self.counter))
        assert verdict is not None
        for name, check in checks.items():
            self._written_out(name, check, [each for each in verdict.signals if each.characteristic == name])
        self.logged = ("", "", 0.0)

    def _gauged(self, name: str, n: int) -> Check:
        assert self.zero_um is not None
        approach = float(self.carried_um[self.on] + self.setting_um - self.zero_um)
        age, since = self.ages[self.on] + self.counter, self.counter - self.started_at
        mean = self.level_um + GROWTH_UM[name] * age / 1000.0
        mean += (self.start_um + self.odd_um) * math.exp(-since / 150.0) - GUESSES[name].gain * approach
        values = np.round(mean + 1.5 * self.dice.standard_normal(n), 1)
        return Check(age, values, approach, since, self.logged[0] == "setting")

    def _written_out(self, name: str, check: Check, signals: list[Signal]) -> None:
        size, machine = self.sets[self.on][name], self.machines[name]
        said = ahead(size, machine, check)
        levels = self.seen.setdefault(name, [])
        levels.append(self._seen(name, check, said))
        del levels[:-24]
        kinds = {each.kind for each in signals}
        if not kinds & {"spread", "isolated"}:
            machine.learn_pieces(check.values, check.approach)
        if "isolated" in kinds:
            return
        if not kinds & {"beyond_limits", "step", "drift", "wear_rate"}:
            take_in(size, machine, check, said)
            return
        tale = Tale("step", 0.5, said.off)
        if len(levels) >= 3:
            tale = best_tale(levels, size.guess, "wear")
            remember(levels, tale)
            self.told.append(tale)
        take_in(size, machine, check, said, tale.cause, tale.height)
        self._is_told_alike(signals, tale)

    def _seen(self, name: str, check: Check, said: Expected) -> Seen:
        size, machine = self.sets[self.on][name], self.machines[name]
        assert size.x is not None
        kind, _, off = self.logged if self.logged[1] in ("", name) else ("", "", 0.0)
        level = float(check.values.mean() + size.x[GAIN] * check.approach - check.cold * machine.start)
        rate, rate_var = float(size.x[RATE]), float(size.p[RATE, RATE])
        return Seen(check.age, level, said.r, rate, rate_var, self.bars, check.cold, kind, off)

    def _is_told_alike(self, signals: list[Signal], tale: Tale) -> None:
        first = next(each for each in signals if each.kind not in ("out_of_tolerance", "spread"))
        shown = {each.cause: each.weight for each in first.explanations}
        assert tale.cause in shown
        assert shown[tale.cause] <= tale.weight + 0.0051  # less where the spread has begun to grow too

    def is_alike(self) -> None:
        """Hold what the station believes of the mounted set to what is written out."""
        for name, size in self.sets[self.on].items():
            belief = self.state.die_sets[self.on].beliefs[name]
            assert np.array(belief.mean) == pytest.approx(size.x, abs=1e-9), name
            assert np.array(belief.cov).reshape(6, 6) == pytest.approx(size.p, abs=1e-9), name
            assert belief.age_pieces == size.age
            assert belief.first_offset_um == pytest.approx(size.reference, abs=1e-9)
