"""The kept state of a stream: a cache that counts only for the machines whose events were folded into it."""

import json
from dataclasses import dataclass
from functools import lru_cache

from spc.intake import read_plan
from spc.shop import PlanTaken
from spc.station.kept import STATE_FORMAT, fact_of, state_of
from spc.station.state import StreamState
from spc.store import Position, Shelf

__all__ = ["KeptState", "kept_state", "state_format", "stream_machines"]


@dataclass(frozen=True, slots=True)
class KeptState:
    """Where a fold may begin.

    Attributes
    ----------
    state : StreamState
    position : Position or None
        Of the last fact in it; None at the very beginning.
    machines : frozenset of str
        Machines whose events without a part belong to the stream.
    is_stale : bool
        Whether the checkpoint found was of no use and should go.
    """

    state: StreamState
    position: Position | None
    machines: frozenset[str]
    is_stale: bool


def kept_state(shelf: Shelf, part: str, before: Position | None = None) -> KeptState:
    """Return the latest checkpoint that may be used, else the state before everything.

    Notes
    -----
    Events without a part may be older than the first check on their machine. A checkpoint made before that
    machine was known lacks them, so it says which machines it was made with, and others make it void.
    """
    machines = stream_machines(shelf, part)
    kept = shelf.checkpoint(part, before)
    if kept is None or kept.format != state_format(machines):
        return KeptState(StreamState(part), None, machines, kept is not None)
    return KeptState(state_of(kept.body), kept.position, machines, is_stale=False)


def stream_machines(shelf: Shelf, part: str) -> frozenset[str]:
    """Machines whose events without a part belong to the stream: those of its plan and those in its record."""
    kept = shelf.latest_plan(part)
    fact = None if kept is None else fact_of(kept)
    named = _named(fact.text) if isinstance(fact, PlanTaken) else frozenset()
    return named | set(shelf.machines_of(part))


def state_format(machines: frozenset[str]) -> str:
    """Say what a checkpoint was made by and with."""
    return f"{STATE_FORMAT} {json.dumps(sorted(machines), ensure_ascii=False)}"


@lru_cache(maxsize=256)
def _named(plan_text: str) -> frozenset[str]:
    return frozenset(machine.id for machine in read_plan(plan_text).machines)
