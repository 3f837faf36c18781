"""The die board: every machine with the set on it, for the supervisor; who must act first stands first."""

from datetime import datetime, timedelta

from spc.shop import DieLife, HoursLeft, Plan, Verdict
from spc.station.change_waits import change_plan
from spc.station.kept import verdict_of
from spc.station.priors import sudden_ends_of
from spc.station.refold import present_state
from spc.station.state import MachineState, StreamState
from spc.station.take_plan import plan_in_force
from spc.station.views import DieBoardRow, EarlierGrowth
from spc.store import Shelf

__all__ = ["die_board"]


def die_board(shelf: Shelf, now: datetime) -> tuple[DieBoardRow, ...]:
    """Return a row for each machine and part with a set on.

    Parameters
    ----------
    now : datetime
        Aware; no change is advised for a moment that is past.

    Returns
    -------
    tuple of DieBoardRow
        First the machines that were told to stop and hold, then by the moment at which a change is cheapest (without
        costs: the early end), at last the sets of which not enough is known yet.
    """
    rows = []
    for part in shelf.parts():
        plan = plan_in_force(shelf, part)
        if plan is None:
            continue
        state = present_state(shelf, part)
        for machine_id, machine in state.machines.items():
            if machine.last_check is None or machine.die_set is None:
                continue
            rows.append(_row(shelf, plan, state, machine_id, now))
    return tuple(sorted(rows, key=_who_acts_first))


def _who_acts_first(row: DieBoardRow) -> tuple[bool, float, str, str]:
    moment: datetime | None = None
    if row.finished_sets > 0 and row.change is not None and row.change.at is not None:
        moment = row.change.at
    elif row.finished_sets > 0 and row.hours is not None and row.last_check is not None:
        moment = row.last_check + timedelta(hours=min(row.hours.early, 87_600.0))
    return (
        row.verdict != "hold",
        float("inf") if moment is None else moment.timestamp(),
        row.machine,
        row.part,
    )


def _row(shelf: Shelf, plan: Plan, state: StreamState, machine_id: str, now: datetime) -> DieBoardRow:
    machine = state.machine(machine_id)
    newest = shelf.verdicts(plan.part, machine_id, newest=1)
    life = _life(verdict_of(newest[0]) if newest else None, machine)
    age = None if machine.counter is None else machine.age_at(machine.counter)
    pace, left, change = machine.pieces_per_hour, None, None
    if life is not None and life.correction_used_mm is not None and life.correction_travel_mm is not None:
        left = life.correction_travel_mm - life.correction_used_mm
    if life is not None and age is not None and pace and machine.last_check is not None:
        change = change_plan(state, plan, life, age, pace, machine.last_check, now)
    return DieBoardRow(
        machine=machine_id,
        part=plan.part,
        description=plan.description,
        die_set=machine.die_set or None,
        age=age,
        life=life,
        infeed_left_mm=left,
        finished_sets=sum(1 for each in state.finished if each.ended),
        pieces_per_hour=pace,
        last_check=machine.last_check,
        verdict=machine.last_verdict,
        zone=plan.zone,
        hours=_hours(life),
        earlier_growth=None if life is None else _earlier_growth(state, life.limited_by),
        sudden=sudden_ends_of(state),
        change=change,
        has_costs=plan.costs is not None,
    )


def _life(verdict: Verdict | None, machine: MachineState) -> DieLife | None:
    """The last verdict's forecast, if it speaks of the set that is on now."""
    if verdict is None or verdict.die_set != (machine.die_set or None):
        return None
    return verdict.die_life


def _hours(life: DieLife | None) -> HoursLeft | None:
    return None if life is None else life.hours_left


def _earlier_growth(state: StreamState, characteristic: str) -> EarlierGrowth | None:
    rates = [rate for each in state.finished for name, rate in each.rates if name == characteristic]
    return EarlierGrowth(min(rates), max(rates), len(rates)) if rates else None
