"""The door: typed text, files and gauges become facts, or collected refusals."""

from spc.intake.columns_file import ColumnsRead, read_columns
from spc.intake.copied import copied
from spc.intake.direction import as_direction, is_direction
from spc.intake.events_file import EventsRead, read_events
from spc.intake.from_master import can_deviate, from_master_unit, master_size, size_from_master
from spc.intake.number import NumberStyle, read_decimal, read_typed
from spc.intake.number_style import settle_style
from spc.intake.plan_file import read_plan, read_plans
from spc.intake.plausible import doubt, plausible_window
from spc.intake.readings_file import ReadingsRead, read_readings
from spc.intake.refusals_file import write_refusals
from spc.intake.source import Source
from spc.intake.subgroups_file import SubgroupsRead, read_subgroups
from spc.intake.together import HistoryRead, read_history
from spc.intake.trace_file import TraceRead, read_trace
from spc.intake.trace_value import value_from_trace
from spc.intake.typed_check import read_check, read_event

__all__ = [
    "ColumnsRead", "EventsRead", "HistoryRead", "NumberStyle", "ReadingsRead", "Source", "SubgroupsRead",
    "TraceRead", "as_direction", "can_deviate", "copied", "doubt", "from_master_unit", "is_direction",
    "master_size", "plausible_window", "read_check", "read_columns", "read_decimal", "read_event",
    "read_events", "read_history", "read_plan", "read_plans", "read_readings", "read_subgroups", "read_trace",
    "read_typed", "settle_style", "size_from_master", "value_from_trace", "write_refusals",
]  # fmt: skip
