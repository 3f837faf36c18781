"""What the hourly-check page shows before a value is typed."""

from datetime import datetime
from decimal import Decimal

from spc.station.check_in import known_plan
from spc.station.kept import verdict_of
from spc.station.refold import present_state
from spc.station.schedule import minutes_late, next_due, planned_due
from spc.station.unanswered import unanswered
from spc.station.views import OperatorView
from spc.store import Shelf

__all__ = ["operator_view"]


def operator_view(shelf: Shelf, part: str, machine_id: str, at: datetime) -> OperatorView:
    """Return machine, die set and age, slide setting, when the check is due, and the last verdict.

    Raises
    ------
    Refused
        No plan of this part.
    """
    plan = known_plan(shelf, part)
    state = present_state(shelf, part)
    machine, habits = state.machine(machine_id), plan.machine(machine_id)
    due = next_due(machine, plan.check.interval_minutes)
    planned = planned_due(machine, plan.check.interval_minutes)
    newest = shelf.verdicts(part, machine_id, newest=1)
    shown: Decimal | None = None
    if machine.setting_mm is not None:
        shown = habits.shown_setting_mm(machine.setting_mm)
    return OperatorView(
        plan=plan,
        machine=habits,
        die_set=machine.die_set or None,
        age=None if machine.counter is None else machine.age_at(machine.counter),
        counter=machine.counter,
        setting_mm=machine.setting_mm,
        shown_setting_mm=shown,
        batch=machine.batch,
        last_check=machine.last_check,
        due=due,
        planned_due=planned,
        minutes_late=minutes_late(due, planned, at),
        last_verdict=verdict_of(newest[0]) if newest else None,
        unanswered=tuple(each.time for each in unanswered(shelf, part, machine_id)),
    )
