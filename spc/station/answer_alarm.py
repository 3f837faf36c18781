"""Answer a verdict: what was found and what was done."""

from datetime import datetime

from spc.errors import Refused
from spc.shop import AlarmAnswered
from spc.station.kept import new_fact
from spc.station.refold import refold
from spc.store import Position, Store, text_time

__all__ = ["answer_alarm"]


def answer_alarm(
    store: Store, check_id: int, cause: str, action: str, *, by: str | None, at: datetime
) -> AlarmAnswered:
    """Keep the answer to the verdict on a check.

    Raises
    ------
    Refused
        No such check, or nothing said.
    """
    if not (cause.strip() or action.strip()):
        raise Refused.one("an answer says what was found or what was done", column="cause")
    with store.writing() as desk:
        kept = desk.fact(check_id)
        if kept is None or kept.kind != "check":
            raise Refused.one("there is no check with this number", value=str(check_id), column="check")
        moment = max(
            at, text_time(kept.time)
        )  # a check may be dated a little ahead: nothing answers it before
        fact = AlarmAnswered(moment, kept.machine, kept.part, check_id, cause, action, by or "")
        stored = desk.append([new_fact(fact, by=by or "")])[0]
        refold(desk, kept.part, Position(stored.time, stored.rank, 0))
    return fact
