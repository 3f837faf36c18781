"""Alarms that stand without an answer: since which check, for whoever comes to the machine."""

from spc.shop import Verdict
from spc.station.answers import answers_given
from spc.station.kept import verdict_of
from spc.store import Position, Shelf

__all__ = ["unanswered"]

_LOOKED_BACK = 24
"""Checks; an alarm older than that is long no news."""


def unanswered(shelf: Shelf, part: str, machine: str) -> tuple[Verdict, ...]:
    """Return the unbroken row of holds and findings up to the last check that nobody has answered, oldest first.

    An answer to one of them is an answer to those before it.
    """
    stored = shelf.verdicts(part, machine, newest=_LOOKED_BACK)
    if not stored:
        return ()
    row: list[Verdict] = []
    verdicts = [verdict_of(each) for each in stored]
    answers = answers_given(shelf, part, Position(stored[0].time, 0, 0))
    for verdict in reversed(verdicts):
        pressing = verdict.verdict == "hold" or (
            verdict.reaction is not None and verdict.reaction.first == "stop"
        )
        if not pressing or verdict.check_id in answers:
            break
        row.append(verdict)
    return tuple(reversed(row))
