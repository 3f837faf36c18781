"""All that judging one check looks at, laid out once: plan, machine, die set, age, slide."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from spc.shop import Characteristic, CheckGauged, Machine, Plan
from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made
from spc.station.counter_doubt import counted_on, counter_doubt, is_counted
from spc.station.event_counter import counter_so_far, with_event_counters
from spc.station.priors import approach_per_mm, first_gain, priors_on, tolerance_um
from spc.station.size_memory import SizeMemory
from spc.station.state import ChartState, DieSetState, MachineState, News, StreamState, set_key
from spc.wear import (
    PieceSpread,
    WarmUp,
    WearBelief,
    WearPrior,
    advance,
    fresh_belief,
    fresh_warm_up,
    gain_of,
    settle,
)

__all__ = ["CheckContext", "chart_key", "context_of"]


@quickly_made
@dataclass(frozen=True, slots=True)
class CheckContext:
    """The floor at the moment of a check.

    Attributes
    ----------
    die_set : DieSetState
        With reference and slide zero filled in at its first check.
    age : int or None
        Pieces of the set since new or reground, as the pace has it where the counter is hard to believe; None without
        a counter.
    moved_mm : Decimal or None
        Slide travel beyond the reference setting; None where no setting is known.
    approach_um : float
        The same as approach of the dies; 0 where no setting is known.
    per_mm : float
        µm of approach per mm of displayed travel.
    priors, charts, beliefs : mappings by characteristic
        What is assumed, remembered and believed of all that the plan has gauged; beliefs are carried on to this
        check's age, and there are none without a counter.
    counter_doubt : str
        Why the check's counter is hard to believe; "" where it is believed, or there is none.
    is_counted : bool
        Whether pieces are counted by it.
    pieces_since_start : int or None
        Pieces since the machine last started from cold; None where no start is known.
    pace_since : float or None
        Pieces an hour of running time since the last counter; None where that cannot be told.
    """

    state: StreamState
    plan: Plan
    check: CheckGauged
    habits: Machine
    machine: MachineState
    die_set: DieSetState
    age: int | None
    moved_mm: Decimal | None
    approach_um: float
    per_mm: float
    priors: Mapping[str, WearPrior]
    charts: dict[str, ChartState]
    beliefs: dict[str, WearBelief]
    counter_doubt: str
    is_counted: bool
    pieces_since_start: int | None
    pace_since: float | None

    @property
    def is_new_batch(self) -> bool:
        """Whether other bars run than at the last check of this set."""
        return self.machine.batch != self.die_set.seen_batch

    @property
    def pieces_per_hour(self) -> float | None:
        """Pieces an hour of running time since the last counter; else as it was known before."""
        return self.pace_since or self.machine.pieces_per_hour

    def news_about(self, characteristic: Characteristic) -> list[News]:
        """What was logged since the last check and may concern a characteristic, oldest first."""
        return [each for each in self.machine.news if each.characteristic in ("", characteristic.name)]

    def memory(self, characteristic: Characteristic) -> SizeMemory:
        """Return what the mounted set remembers of a characteristic."""
        return self.die_set.memories.get(characteristic.name) or SizeMemory()

    def warm_up(self, characteristic: Characteristic) -> WarmUp:
        """Return what is believed of starts from cold on this machine."""
        return self.chart(characteristic).warm_up or fresh_warm_up(tolerance_um(characteristic))

    def chart(self, characteristic: Characteristic) -> ChartState:
        """Return what the characteristic remembers on this machine."""
        return self.charts[characteristic.name]

    def prior(self, characteristic: Characteristic) -> WearPrior:
        """Return the model's prior of a characteristic of the plan."""
        return self.priors[characteristic.name]

    def belief(self, characteristic: Characteristic) -> WearBelief | None:
        """Return the belief carried on to this check's age; None where there is no counter to count by."""
        return self.beliefs.get(characteristic.name)

    def slide_gain(self, characteristic: Characteristic, belief: WearBelief | None) -> float:
        """µm smaller per µm of approach, as learned or first guessed; 0 where the slide does not set it."""
        guess = first_gain(characteristic)
        if guess is None:
            return 0.0
        return guess if belief is None else gain_of(belief)


def chart_key(machine_id: str, characteristic: str) -> str:
    """Key of a characteristic's chart in the state."""
    return f"{machine_id}|{characteristic}"


def context_of(state: StreamState, plan: Plan, check: CheckGauged) -> CheckContext:
    """Lay out what is known at the moment of the check."""
    machine = counted_on(state.machine(check.machine), check.counter)
    doubt = counter_doubt(machine, check, plan.check.interval_minutes)
    counted = is_counted(machine, check, doubt)
    counter = counter_so_far(machine, check.time) if doubt and not counted else check.counter
    machine = with_event_counters(machine, check if counted else changed(check, counter=None))
    habits = plan.machine(check.machine)
    key = set_key(check.machine, machine)
    die_set = state.die_sets.get(key or "") or DieSetState(key or "")
    age = None if counter is None else machine.age_at(counter)
    moved = None
    if machine.setting_mm is not None:
        if die_set.zero_mm is None:
            die_set = _zeroed(die_set, machine.setting_mm)
        moved = die_set.carried_mm + machine.setting_mm - (die_set.zero_mm or Decimal(0))
    per_mm = approach_per_mm(habits)
    approach = 0.0 if moved is None else float(moved) * per_mm
    priors = priors_on(state, check.machine)
    charts = {each.name: _chart(state, each, check.machine) for each in plan.gauged}
    beliefs = {} if age is None else {name: _belief(die_set, name, priors[name], age) for name in priors}
    return CheckContext(
        state,
        plan,
        check,
        habits,
        machine,
        die_set,
        age,
        moved,
        approach,
        per_mm,
        priors,
        charts,
        beliefs,
        doubt,
        counted,
        _since_start(machine, check) if counted else None,
        _pace(machine, check) if counted else None,
    )


def _since_start(machine: MachineState, check: CheckGauged) -> int | None:
    started, now = machine.started_at, check.counter
    return None if started is None or now is None else max(now - started, 0)


def _pace(machine: MachineState, check: CheckGauged) -> float | None:
    if machine.counter is None or machine.counter_time is None or check.counter is None:
        return None
    minutes = (check.time - machine.counter_time).total_seconds() / 60.0 - machine.stopped_minutes
    pieces = check.counter - machine.counter
    return 60.0 * pieces / minutes if minutes > 5.0 and pieces > 0 else None


def _chart(state: StreamState, characteristic: Characteristic, machine_id: str) -> ChartState:
    known = state.charts.get(chart_key(machine_id, characteristic.name))
    return known or ChartState(PieceSpread(tolerance_um(characteristic) / 12.0))


def _belief(die_set: DieSetState, name: str, prior: WearPrior, age: int) -> WearBelief:
    known = die_set.beliefs.get(name)
    if known is None:
        return settle(fresh_belief(prior, age), prior, age, math.inf)
    return advance(settle(known, prior, known.age_pieces, age), prior, age)


def _zeroed(die_set: DieSetState, setting_mm: Decimal) -> DieSetState:
    """At the first check of a mounting the setting is its slide zero; of a new set also its reference."""
    reference = die_set.reference_mm if die_set.reference_mm is not None else setting_mm
    return changed(die_set, reference_mm=reference, zero_mm=setting_mm)
