"""The state of a stream at a moment gone by: what judged then, for a review of a past period."""

from datetime import datetime

from spc.station.checkpoint import kept_state
from spc.station.fold import step
from spc.station.refold import in_sequence
from spc.station.state import StreamState
from spc.store import Position, Shelf, time_text

__all__ = ["state_before"]

_FOLDED = ("plan", "check", "event", "limits", "answer")


def state_before(shelf: Shelf, part: str, moment: datetime) -> StreamState:
    """Return the state after every fact before a moment, from the checkpoint nearest to it.

    Parameters
    ----------
    moment : datetime
        Aware. Facts of exactly this moment are left out.
    """
    until = Position(time_text(moment), -9, 0)
    kept = kept_state(shelf, part, before=until)
    state = kept.state
    for each in in_sequence(shelf, shelf.facts(part, kept.machines, kept.position, until, kinds=_FOLDED)):
        state, _ = step(state, each.fact)
    return state
