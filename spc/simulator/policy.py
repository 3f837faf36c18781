"""Who moves the slide, and when: policies as plain functions from what a person sees to a move."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from spc.simulator.history import EventRow, ReadingRow

__all__ = ["Decision", "Policy", "SizeSeen", "by_roster", "chase_last_piece", "hand_rule", "leave_alone"]


@dataclass(frozen=True, slots=True)
class SizeSeen:
    """One size of a check as the gauge showed it.

    Attributes
    ----------
    target_mm, gain : float
        From the plan; gain in mm smaller per displayed mm deeper.
    values_mm : tuple of float
        Gauge values, before anybody mistyped them.
    """

    characteristic: str
    target_mm: float
    gain: float
    values_mm: tuple[float, ...]

    @property
    def deviation_mm(self) -> float:
        """Mean of the check minus target."""
        return sum(self.values_mm) / len(self.values_mm) - self.target_mm


@dataclass(frozen=True, slots=True)
class Decision:
    """Everything a person (or a station) at the machine may know when deciding on a slide move.

    Attributes
    ----------
    sizes : tuple of SizeSeen
        What the slide sets, the leading size first.
    rows : tuple of ReadingRow
        All values typed at this machine since the last decision, this check's at the end.
    events : tuple of EventRow
        What was logged at this machine since the last decision.
    slide_mm, slide_step_mm, largest_move_mm : float
        Setting now (larger is deeper), the smallest step, the largest single move.
    """

    time: datetime
    machine: str
    part: str
    die_set: str
    counter: int
    age: int
    purpose: str
    operator: str
    sizes: tuple[SizeSeen, ...]
    rows: tuple[ReadingRow, ...]
    events: tuple[EventRow, ...]
    slide_mm: float
    slide_step_mm: float
    largest_move_mm: float


Policy = Callable[[Decision], float]
"""From a decision to a slide move in mm, positive deeper; it is rounded to the machine's step afterwards."""

HAND_BAND_MM = 0.005
SET_UP_BAND_MM = 0.003
CHASED_MM = 0.001


def hand_rule(decision: Decision) -> float:
    """Move the slide by the whole deviation of the mean when it is over 5 µm (setting up: 3 µm)."""
    lead = decision.sizes[0]
    band = SET_UP_BAND_MM if decision.purpose in ("setup", "first_off") else HAND_BAND_MM
    return lead.deviation_mm / lead.gain if abs(lead.deviation_mm) > band else 0.0


def chase_last_piece(decision: Decision) -> float:
    """Over-adjust: answer the last single piece in full, and by one step at least when it is over 1 µm off."""
    lead = decision.sizes[0]
    off_mm = lead.values_mm[-1] - lead.target_mm
    if abs(off_mm) <= CHASED_MM:
        return 0.0
    return math.copysign(max(abs(off_mm / lead.gain), decision.slide_step_mm), off_mm)


def leave_alone(decision: Decision) -> float:  # noqa: ARG001  # a policy takes the decision even to ignore it
    """Never move the slide."""
    return 0.0


def by_roster(usual: Policy, exceptions: Sequence[tuple[str, datetime, datetime, Policy]]) -> Policy:
    """Let another policy rule for some hours: ``(machine, from, to, policy)``, `to` exclusive."""

    def decide(decision: Decision) -> float:
        for machine, begin, end, policy in exceptions:
            if decision.machine == machine and begin <= decision.time < end:
                return policy(decision)
        return usual(decision)

    return decide
