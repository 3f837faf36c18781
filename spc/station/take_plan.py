"""Take a plan in: from its moment on it judges."""

from datetime import datetime
from functools import lru_cache
from pathlib import Path

from spc.intake import read_plan
from spc.shop import Plan, PlanTaken
from spc.station.kept import fact_of, new_fact
from spc.station.refold import refold
from spc.station.state import BEFORE_ALL
from spc.store import Position, Shelf, Store

__all__ = ["BEFORE_ALL", "plan_in_force", "take_plan"]


def take_plan(store: Store, source: str | Path, *, at: datetime, by: str = "") -> Plan:
    """Bring a plan into force; the same text again changes nothing.

    Parameters
    ----------
    source : str or Path
        TOML text, or the path of a file.
    at : datetime
        From when a changed plan judges; a part's first plan judges from the beginning.

    Raises
    ------
    Refused
        Every mistake in the plan, with key and line.
    """
    plan = read_plan(source)
    with store.writing(plan.part) as desk:
        kept = desk.latest_plan(plan.part)
        known = None if kept is None else fact_of(kept)
        if isinstance(known, PlanTaken) and known.text == plan.text:
            return plan
        moment = BEFORE_ALL if known is None else at
        stored = desk.append([new_fact(PlanTaken(moment, plan.part, plan.text, plan.source), by=by)])
        refold(desk, plan.part, Position(stored[0].time, stored[0].rank, 0))
    return plan


def plan_in_force(shelf: Shelf, part: str) -> Plan | None:
    """Return the plan of a part that was taken last, None where there is none."""
    kept = shelf.latest_plan(part)
    if kept is None:
        return None
    fact = fact_of(kept)
    return _read(fact.text) if isinstance(fact, PlanTaken) else None


@lru_cache(maxsize=256)
def _read(text: str) -> Plan:
    """Read a plan once; its text is the plan."""
    return read_plan(text)
