"""Who decides in the race: by hand, by a chart, by a fixed count, by the station's advice, and by knowing all."""

from dataclasses import dataclass, field, replace

import numpy as np
from scipy.special import ndtr

from spc.shop import Correction, EventLogged, PiecesLeft, PlanTaken, Signal, Verdict
from spc.station.change_advice import is_guess
from spc.station.fold import step
from spc.station.state import StreamState
from spc.station.take_plan import BEFORE_ALL
from tests.benchmarks.closed_loop_account import Costs
from tests.benchmarks.closed_loop_machine import AGAIN_PIECES, Action, Seen
from tests.benchmarks.closed_loop_shop import (
    LEAD_LIMIT_UM,
    LEAD_SIGMA_UM,
    STRIDE,
    TRAVEL_UM,
    DieSet,
    Part,
    draw_set,
)

__all__ = ["ByChart", "ByCount", "ByHand", "ByStation", "KnowingAll", "best_count"]

PLAN_GAIN = 0.80
HAND_BAND_UM = 5.0
PLAN_COSTS = """[costs]
planned_die_change = 1700
unplanned_die_change = 2400
scrap_per_piece = 12
spoilt_pieces = {spoilt}
"""
"""The race's own; a break is found half an interval later on average."""
LEAD_OFF_UM = LEAD_LIMIT_UM - 3.0 * LEAD_SIGMA_UM
"""Where a careful hand takes the dies off: the acceptance limit of the lead."""
D2_OF_5 = 2.326
PLAN = """
[part]
id = "B-77"
[[machine]]
id = "R1"
slide_step_mm = 0.001
largest_move_mm = 0.020
[die_set]
correction_travel = 0.060
{costs}[check]
subgroup_size = 5
interval_minutes = 60
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
nominal = 27.400
lower = {lower:.3f}
upper = {upper:.3f}
set_by = "penetration"
penetration_gain = 0.80
limits = "with_die_wear"
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.0
lower = -0.014
upper = 0.014
wears_with_die = true
subgroup_size = 1
[[characteristic]]
name = "look"
kind = "visual"
answers = ["ok", "chip mark"]
subgroup_size = 1
"""


@dataclass
class ByHand:
    """Move by the whole deviation of the mean when it is more than 5 µm off; dies off when the travel is used."""

    part: Part
    count: float = float("inf")
    last_good: int = 0

    def told(self, event: EventLogged) -> None:
        """A new set begins at 0; nothing else is kept."""
        if event.event == "die_set_mounted":
            self.last_good = 0

    def decide(self, seen: Seen) -> Action:
        """Out of tolerance: hold back. Lead out, count or travel reached: change the dies."""
        age, out = seen.truth.age, max(abs(each) for each in seen.values_um) > self.part.half_um
        lead_out = abs(seen.lead_um) > LEAD_OFF_UM
        held = self.last_good if out or abs(seen.lead_um) > LEAD_LIMIT_UM else None
        self.last_good = self.last_good if out or lead_out else age
        move = round(seen.mean_um / PLAN_GAIN) if self.wants_move(seen) else 0
        if lead_out or age >= self.count or seen.approach_um + move > TRAVEL_UM:
            return Action(hold_from=held, change_after=0)
        again = AGAIN_PIECES if out else None
        return Action(max(-20, min(20, move)), held, next_pieces=again)

    def wants_move(self, seen: Seen) -> bool:
        """The band of the hand rule."""
        return abs(seen.mean_um) > HAND_BAND_UM


@dataclass
class ByCount(ByHand):
    """The hand rule, and the dies come off at the count that was cheapest on sixty earlier lives."""


@dataclass
class ByChart(ByHand):
    """Move by the whole deviation when the mean is beyond three standard errors of the target."""

    ranges: list[float] = field(default_factory=list)

    def wants_move(self, seen: Seen) -> bool:
        """Limits from the mean range of the first twenty checks, and of all so far before that."""
        if len(self.ranges) < 20:
            self.ranges.append(max(seen.values_um) - min(seen.values_um))
        sigma = sum(self.ranges) / len(self.ranges) / D2_OF_5
        return bool(abs(seen.mean_um) > 3.0 * sigma / 5**0.5)


def best_count(part: Part, costs: Costs) -> float:
    """The count of least cost per piece on sixty earlier lives (age replacement, taken from the lives themselves)."""
    lives = np.array(
        [min(die.end_age, die.broken_age) for die in (draw_set(part, 1000 + i) for i in range(60))]
    )
    planned = costs.die_set + costs.planned_change
    failed = planned + costs.unplanned_change + costs.bad_found * part.pieces_per_check / 2.0
    counts = np.linspace(0.3, 1.5, 61) * np.median(lives)
    rates = [
        (planned * np.mean(lives > count) + failed * np.mean(lives <= count))
        / np.mean(np.minimum(lives, count))
        for count in counts
    ]
    return float(counts[int(np.argmin(rates))])


@dataclass
class KnowingAll:
    """It knows size, growth and end of the set; its deadband is the cheapest in hindsight."""

    deadband_um: float
    costs: Costs

    def told(self, event: EventLogged) -> None:
        """It knows already."""

    def decide(self, seen: Seen) -> Action:
        """Keep the true size in the deadband, change at the cheapest age, sort only where sorting pays."""
        truth = seen.truth
        off = truth.level_um + 0.5 * _growth(truth.die, truth.age, truth.gap)
        move = round((off + 0.5 * self.deadband_um) / truth.part.gain) if abs(off) > self.deadband_um else 0
        left = self._stop_age(truth.die) - truth.age
        costs, made = self.costs, truth.age - truth.since
        pays = (costs.bad_passed_on - costs.bad_found) * truth.bad > costs.sorted_piece * made
        change = max(left, 0) if left <= 1.5 * truth.gap else None
        return Action(max(-20, min(20, move)), truth.since if pays else None, change)

    def _stop_age(self, die: DieSet) -> int:
        """The end, or where the next piece costs more in bad leads than a piece costs in dies on average."""
        ages = np.arange(len(die.lead_um)) * STRIDE
        share = ndtr((np.abs(die.lead_um) - LEAD_LIMIT_UM) / LEAD_SIGMA_UM)
        rate = (self.costs.die_set + self.costs.planned_change) / die.end_age
        dear = self.costs.bad_passed_on * share > rate
        return min(die.end_age, int(ages[int(np.argmax(dear))]) if dear.any() else die.end_age)


def _growth(die: DieSet, age: int, gap: int) -> float:
    at, then = age // STRIDE, min((age + gap) // STRIDE, len(die.wear_um) - 1)
    return float(die.wear_um[then] - die.wear_um[min(at, then)])


_LOOKED_AT = {"beyond_limits", "run_rule", "step", "drift", "spread", "isolated", "wear_rate"}


@dataclass
class ByStation:
    """Do what the station says, check after check; `costs` are those that the plan names."""

    part: Part
    costs: str = PLAN_COSTS
    state: StreamState = field(default_factory=lambda: StreamState("B-77"))
    verdicts: list[Verdict] = field(default_factory=list)
    confirming: bool = False

    def __post_init__(self) -> None:
        """Take the plan in."""
        half_mm = self.part.half_um / 1000.0
        costs = self.costs.format(spoilt=self.part.pieces_per_check // 2)
        text = PLAN.format(lower=27.4 - half_mm, upper=27.4 + half_mm, costs=costs)
        self.state, _ = step(self.state, PlanTaken(BEFORE_ALL, "B-77", text))

    def told(self, event: EventLogged) -> None:
        """Log it."""
        self.state, _ = step(self.state, event)

    def decide(self, seen: Seen) -> Action:
        """Follow verdict, move, what to hold back, and how long the dies last."""
        self.state, verdict = step(self.state, seen.check)
        if verdict is None:
            raise AssertionError
        self.verdicts.append(verdict)
        looked = any(_is_looked_into(each, self.confirming) for each in verdict.signals)
        waits = looked and not self.confirming
        self.confirming = looked
        move = 0 if verdict.correction is None or waits else _slide_um(verdict.correction)
        held = None if verdict.contain is None else verdict.contain.from_counter
        action = Action(move, held, look=looked)
        if verdict.verdict == "hold" or looked:
            action = replace(action, next_pieces=AGAIN_PIECES)
        return replace(action, change_after=self._change(seen, verdict))

    def _change(self, seen: Seen, verdict: Verdict) -> int | None:
        """Dies come off at the check nearest to the advised count; where none is advised, to the early quarter's."""
        life, gap = verdict.die_life, seen.truth.gap
        if any(
            each.kind == "out_of_tolerance" and each.characteristic == "lead_error"
            for each in verdict.signals
        ):
            return 0
        if life is None:
            return None
        left = _early(life.pieces_left) if life.change is None else life.change.pieces
        return 0 if left is not None and left < 0.5 * gap else None


def _is_looked_into(signal: Signal, confirming: bool) -> bool:
    """Whether the reaction begins with the gauge on its master and fresh pieces; once is enough for a size out."""
    is_size_out = signal.kind == "out_of_tolerance" and signal.characteristic == "over_pin"
    return signal.kind in _LOOKED_AT or (is_size_out and not confirming)


def _slide_um(correction: Correction) -> int:
    return round(1000 * float(correction.penetration_mm))


def _early(left: PiecesLeft) -> int | None:
    """The early quarter of the pieces left; None while the forecast is a guess that nobody would act on."""
    if left.p05 is None or left.p50 is None or is_guess(left.p05, left.p50):
        return None
    return left.p25
