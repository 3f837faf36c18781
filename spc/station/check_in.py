"""Take one check in and say what to do next."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from spc.errors import Refusal, Refused
from spc.intake import read_check
from spc.shop import CheckGauged, Plan, Reading, Verdict
from spc.station.kept import new_fact, verdict_of
from spc.station.refold import in_sequence, refold
from spc.station.take_plan import plan_in_force
from spc.store import Desk, Position, Shelf, Store

__all__ = ["KnownCheck", "check_in", "known_check", "known_plan", "not_yet_taken"]

KnownCheck = tuple[int, CheckGauged]
"""Id and content of a check that is in the record and was not struck out."""


def check_in(store: Store, check: Mapping[str, Any], *, by: str | None, at: datetime) -> Verdict:
    """Take a check in; safe to repeat.

    Parameters
    ----------
    check : mapping
        Keys of contract section 6: time, machine, part, counter, operator, purpose, temperature_c, values; also
        `from_master_um`, deviations as a comparator shows them (see `spc.intake.read_check`).
    by : str or None
        Who is at the station; else the check's operator.
    at : datetime
        Now; taken as the time of making where the check names none.

    Raises
    ------
    Refused
        Everything that cannot be read or placed, or that contradicts a reading already taken.
    """
    part = str(check.get("part", ""))
    with store.writing(part) as desk:
        plan = known_plan(desk, part)
        fact = read_check(check if check.get("time") else {**check, "time": at.isoformat()}, plan)
        known = known_check(desk, fact)
        fresh, refusals = not_yet_taken(fact, known)
        if refusals:
            raise Refused(refusals)
        if known is not None and not fresh.readings and not fresh.traces:
            return _standing(desk, known[0])
        stored = desk.append([new_fact(fresh, by=by or fact.operator)])[0]
        verdicts = refold(desk, part, Position(stored.time, stored.rank, 0))
        return verdicts[known[0] if known is not None else stored.id]


def known_plan(shelf: Shelf, part: str) -> Plan:
    """Return the plan in force, or refuse with the parts that have one."""
    plan = plan_in_force(shelf, part)
    if plan is None:
        parts = ", ".join(shelf.parts()) or "none yet: take a plan in first"
        raise Refused.one("no plan of this part is in the record", value=part, column="part", allowed=parts)
    return plan


def known_check(shelf: Shelf, fact: CheckGauged) -> KnownCheck | None:
    """Return the check of this time, machine and part that is already in, if any."""
    stored = shelf.facts_at(fact.part, fact.machine, new_fact(fact).time)
    found = in_sequence(shelf, [each for each in stored if each.kind == "check"])
    for each in found:
        if isinstance(each.fact, CheckGauged):
            return each.check_id, each.fact
    return None


def not_yet_taken(fact: CheckGauged, known: KnownCheck | None) -> tuple[CheckGauged, list[Refusal]]:
    """Split a check against what is in: what is new of it, and what contradicts.

    A reading with the same key and value is already taken; with another value it is refused: the record is
    mended by striking the check out and entering it again.
    """
    if known is None:
        return fact, []
    taken = {reading.key: reading for reading in known[1].readings}
    fresh: list[Reading] = []
    refusals: list[Refusal] = []
    for reading in fact.readings:
        earlier = taken.get(reading.key)
        if earlier is None:
            fresh.append(reading)
        elif (earlier.value, earlier.answer) != (reading.value, reading.answer):
            refusals.append(_conflict(fact, reading, earlier))
    traces = tuple(each for each in fact.traces if each not in known[1].traces)
    return replace(fact, readings=tuple(fresh), traces=traces), refusals


def _conflict(fact: CheckGauged, reading: Reading, earlier: Reading) -> Refusal:
    return Refusal(
        f"piece {reading.piece} of {reading.characteristic} was already taken with another value",
        reading.text,
        fact.source,
        reading.row,
        "value",
        f"the value in the record, {earlier.text}{'' if earlier.unit == reading.unit else ' ' + earlier.unit}",
        "if the record is wrong, strike the check out with a reason and enter it again",
    )


def _standing(desk: Desk, check_id: int) -> Verdict:
    kept = desk.standing_verdicts([check_id])
    return verdict_of(kept[check_id])
