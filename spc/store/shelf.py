"""The shelf: what can be read from the record, each query by an index, every row counted."""

from collections.abc import Callable, Collection, Iterator, Sequence
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, bindparam, func, select

from spc.store.places import OF_PART, between, order, place, values, within
from spc.store.rows import Position, StoredCheckpoint, StoredFact, StoredVerdict
from spc.store.tables import checkpoints, drafts, facts, verdicts

__all__ = ["Shelf", "chunks"]

NEXT_MACHINE = select(func.min(facts.c.machine)).where(
    facts.c.part == OF_PART, facts.c.machine > bindparam("behind")
)
CHUNK = 500
"""Ids asked for in one query; databases limit how many values a query may carry."""


class Shelf:
    """Queries inside one transaction, for the verbs of the station; rows come in the order of facts."""

    def __init__(self, connection: Connection, count: Callable[[int], None]) -> None:
        self._connection = connection
        self._count = count

    def facts(
        self,
        part: str,
        machines: Collection[str] = (),
        after: Position | None = None,
        until: Position | None = None,
        kinds: Collection[str] | None = None,
    ) -> list[StoredFact]:
        """Return the facts of a stream: those of the part, and those of its machines that name no part.

        Parameters
        ----------
        part : str
        machines : collection of str
            Machines whose events without a part belong to the stream.
        after, until : Position or None
            Beyond `after`, up to and including `until`.
        kinds : collection of str or None
            Only these kinds.
        """
        common = between(facts, after, until)
        if kinds is not None:
            common.append(facts.c.kind.in_(sorted(kinds)))
        found = self._facts(facts.c.part == part, *common) if part else []
        if machines:
            found += self._facts(facts.c.part == "", facts.c.machine.in_(sorted(machines)), *common)
            found.sort(key=_position)
        return found

    def facts_at(self, part: str, machine: str, time: str) -> list[StoredFact]:
        """Return the checks of exactly this moment and whatever strikes them out."""
        checks = self._facts(
            facts.c.part == part, facts.c.machine == machine, facts.c.time == time, facts.c.kind == "check"
        )
        struck = self._facts(facts.c.annuls.in_([each.id for each in checks])) if checks else []
        return sorted(checks + struck, key=_position)

    def checks_between(
        self, part: str, machine: str | None = None, from_time: str | None = None, to_time: str | None = None
    ) -> list[StoredFact]:
        """Return the checks from `from_time` on and before `to_time`, struck-out ones included."""
        where = [facts.c.part == part, facts.c.kind == "check", *within(facts, from_time, to_time)]
        if machine is not None:
            where.append(facts.c.machine == machine)
        return self._facts(*where)

    def fact(self, fact_id: int) -> StoredFact | None:
        """Return one fact."""
        return next(iter(self._facts(facts.c.id == fact_id)), None)

    def annulments(self, part: str) -> list[StoredFact]:
        """Return the facts that strike out a check of the part."""
        return self._facts(facts.c.kind == "annulled", facts.c.part == part)

    def annulments_of(self, fact_ids: Collection[int]) -> list[StoredFact]:
        """Return the facts that strike out any of these checks."""
        found: list[StoredFact] = []
        for ids in chunks(sorted(fact_ids), CHUNK):
            found += self._facts(facts.c.annuls.in_(ids))
        return found

    def parts(self) -> tuple[str, ...]:
        """Return, sorted, the ids of the parts that have a plan."""
        statement = select(facts.c.part).where(facts.c.kind == "plan").distinct().order_by(facts.c.part)
        return tuple(part for (part,) in self._rows(statement))

    def machines_of(self, part: str) -> tuple[str, ...]:
        """Return, sorted, the machines that facts of the part name: one step down the index for each."""
        found: list[str] = []
        while True:
            filled = {"of_part": part, "behind": found[-1] if found else ""}
            ((machine,),) = self._rows(NEXT_MACHINE, filled)
            if machine is None:
                return tuple(found)
            found.append(machine)

    def latest_plan(self, part: str) -> StoredFact | None:
        """Return the plan of the part that stands last in the order of facts."""
        where = (facts.c.kind == "plan", facts.c.part == part)
        latest = [column.desc() for column in order(facts)]
        rows = self._rows(select(facts).where(*where).order_by(*latest).limit(1))
        return next((StoredFact(*row) for row in rows), None)

    def verdicts(
        self,
        part: str,
        machine: str | None = None,
        from_time: str | None = None,
        to_time: str | None = None,
        newest: int | None = None,
        superseded: bool = False,
    ) -> list[StoredVerdict]:
        """Return verdicts as they were shown, from `from_time` on and before `to_time`.

        Parameters
        ----------
        newest : int or None
            At most so many, the last ones; still in the order of facts.
        superseded : bool
            Whether those that no longer stand come too.
        """
        where = [verdicts.c.part == part, *within(verdicts, from_time, to_time)]
        if machine is not None:
            where.append(verdicts.c.machine == machine)
        if not superseded:
            where.append(verdicts.c.superseded_at.is_(None))
        sequence = [*order(verdicts), verdicts.c.id]
        statement = select(verdicts).where(*where)
        if newest is None:
            return [StoredVerdict(*row) for row in self._rows(statement.order_by(*sequence))]
        last_first = statement.order_by(*(column.desc() for column in sequence)).limit(newest)
        return [StoredVerdict(*row) for row in reversed(self._rows(last_first))]

    def standing_verdicts(self, fact_ids: Collection[int]) -> dict[int, StoredVerdict]:
        """Return the verdicts that stand for these checks, by fact id."""
        found: dict[int, StoredVerdict] = {}
        for ids in chunks(sorted(fact_ids), CHUNK):
            where = (verdicts.c.fact_id.in_(ids), verdicts.c.superseded_at.is_(None))
            for row in self._rows(select(verdicts).where(*where)):
                verdict = StoredVerdict(*row)
                found[verdict.fact_id] = verdict
        return found

    def checkpoint(self, part: str, before: Position | None = None) -> StoredCheckpoint | None:
        """Return the latest checkpoint of the part, strictly before a position if one is given."""
        where = [checkpoints.c.part == part]
        if before is not None:
            where.append(place(checkpoints) < values(before))
        latest = [column.desc() for column in order(checkpoints)]
        rows = self._rows(select(checkpoints).where(*where).order_by(*latest).limit(1))
        return next((StoredCheckpoint(*row) for row in rows), None)

    def draft(self, key: str) -> str | None:
        """Return a draft, or None where none is kept."""
        return next((body for (body,) in self._rows(select(drafts.c.body).where(drafts.c.key == key))), None)

    def _facts(self, *where: ColumnElement[bool]) -> list[StoredFact]:
        statement = select(facts).where(*where).order_by(*order(facts))
        return [StoredFact(*row) for row in self._rows(statement)]

    def _rows(
        self, statement: Select[*tuple[Any, ...]], filled: dict[str, Any] | None = None
    ) -> Sequence[tuple[Any, ...]]:
        """Fetch and count: the one door through which rows leave the record."""
        rows: Sequence[Any] = self._connection.execute(statement, filled).fetchall()
        self._count(len(rows))
        return rows


def chunks(items: Sequence[Any], size: int) -> Iterator[Sequence[Any]]:
    """Cut a sequence into pieces of at most `size`."""
    for start in range(0, len(items), size):
        yield items[start : start + size]


def _position(fact: StoredFact) -> Position:
    return fact.position
