"""A make-believe shop with known truth, for demo data, tests and benchmarks.

Policies (who moves the slide, and when) come in as functions.
"""

from spc.simulator.cell import Feature, Machine, Part, Shop, Story
from spc.simulator.demo import demo_policy, demo_shop
from spc.simulator.history import EventRow, History, LifeTruth, ReadingRow, SizeTruth
from spc.simulator.policy import (
    Decision,
    Policy,
    SizeSeen,
    by_roster,
    chase_last_piece,
    hand_rule,
    leave_alone,
)
from spc.simulator.simulate import simulate
from spc.simulator.small_shop import demo_history, demo_part_ids, small_shop
from spc.simulator.write import simulate_to_folder, write_history

__all__ = [
    "simulate",
    "simulate_to_folder",
    "write_history",
    "demo_shop",
    "demo_policy",
    "small_shop",
    "demo_history",
    "demo_part_ids",
    "Decision",
    "Policy",
    "SizeSeen",
    "by_roster",
    "chase_last_piece",
    "hand_rule",
    "leave_alone",
    "History",
    "ReadingRow",
    "EventRow",
    "SizeTruth",
    "LifeTruth",
    "Shop",
    "Machine",
    "Part",
    "Feature",
    "Story",
]
