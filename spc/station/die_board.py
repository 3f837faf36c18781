"""The die board: every machine with the set on it, for the supervisor."""

from spc.shop import DieLife, Plan, Verdict
from spc.station.kept import verdict_of
from spc.station.refold import present_state
from spc.station.state import MachineState, StreamState
from spc.station.take_plan import plan_in_force
from spc.station.views import DieBoardRow
from spc.store import Shelf

__all__ = ["die_board"]


def die_board(shelf: Shelf) -> tuple[DieBoardRow, ...]:
    """Return a row for each machine and part with a set on, then machines that stand without one."""
    rows = []
    for part in shelf.parts():
        plan = plan_in_force(shelf, part)
        if plan is None:
            continue
        state = present_state(shelf, part)
        for machine_id, machine in state.machines.items():
            if machine.last_check is None or machine.die_set is None:
                continue
            rows.append(_row(shelf, plan, state, machine_id, machine))
    return tuple(sorted(rows, key=lambda row: (row.machine, row.part)))


def _row(shelf: Shelf, plan: Plan, state: StreamState, machine_id: str, machine: MachineState) -> DieBoardRow:
    newest = shelf.verdicts(plan.part, machine_id, newest=1)
    verdict = verdict_of(newest[0]) if newest else None
    life = _life(verdict, machine)
    left = None
    if life is not None and life.correction_used_mm is not None and life.correction_travel_mm is not None:
        left = life.correction_travel_mm - life.correction_used_mm
    return DieBoardRow(
        machine=machine_id,
        part=plan.part,
        description=plan.description,
        die_set=machine.die_set or None,
        age=None if machine.counter is None else machine.age_before + machine.counter,
        life=life,
        infeed_left_mm=left,
        finished_sets=sum(1 for each in state.finished if each.ended),
        pieces_per_hour=machine.pieces_per_hour,
        last_check=machine.last_check,
        verdict=machine.last_verdict,
        zone=plan.zone,
    )


def _life(verdict: Verdict | None, machine: MachineState) -> DieLife | None:
    """The last verdict's forecast, if it speaks of the set that is on now."""
    if verdict is None or verdict.die_set != (machine.die_set or None):
        return None
    return verdict.die_life
