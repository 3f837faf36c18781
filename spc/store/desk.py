"""The desk: what can be written to the record, inside one transaction that is kept whole or not at all."""

from collections.abc import Callable, Collection, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, delete, func, insert, select, update

from spc.store.places import HERE, OF_PART, between, here, order, place
from spc.store.rows import NewFact, NewVerdict, Position, StoredFact, StoredVerdict, time_text
from spc.store.seal import FIRST_LINK, link_of
from spc.store.shelf import Shelf
from spc.store.tables import checkpoints, facts, verdicts

__all__ = ["KEEP_EVERY_FACTS", "Desk"]

KEEP_EVERY_FACTS = 50
"""Facts of the part between two checkpoints that stay."""

LAST_FACT = select(facts.c.id, facts.c.link).order_by(facts.c.id.desc()).limit(1)
LAST_VERDICT_ID = select(func.coalesce(func.max(verdicts.c.id), 0))
MINE = checkpoints.c.part == OF_PART
DROP_HERE = delete(checkpoints).where(MINE, place(checkpoints) == HERE)
DROP_FROM_HERE = delete(checkpoints).where(MINE, place(checkpoints) >= HERE)
LAST_FIRST = [column.desc() for column in order(checkpoints)]
TWO_BEFORE = select(*order(checkpoints)).where(MINE, place(checkpoints) < HERE).order_by(*LAST_FIRST).limit(2)
FACTS_UP_TO_HERE = (
    select(func.count()).select_from(facts).where(facts.c.part == OF_PART, place(facts) <= HERE)
)


class Desk(Shelf):
    """One write transaction about one stream; the lock was taken before anything was read.

    Attributes
    ----------
    part : str
    machines : tuple of str
        The stream the desk was opened for.
    """

    def __init__(
        self,
        connection: Connection,
        count: Callable[[int], None],
        now: Callable[[], datetime],
        part: str,
        machines: Collection[str],
    ) -> None:
        super().__init__(connection, count)
        self._now = now
        self.part = part
        self.machines = tuple(sorted(machines))

    def append(self, new: Sequence[NewFact]) -> list[StoredFact]:
        """Write facts behind the last one, each linked to the one before it; all get the same server time."""
        last = self._rows(LAST_FACT)
        fact_id, link = last[0] if last else (0, FIRST_LINK)
        recorded_at = time_text(self._now())
        stored: list[StoredFact] = []
        for each in new:
            fact_id += 1
            fields = (
                fact_id, each.part, each.machine, each.kind, each.time, each.rank, each.body, recorded_at,
                each.by_name, each.reason, each.source, each.annuls,
            )  # fmt: skip
            link = link_of(link, fields)
            stored.append(StoredFact(*fields, link))
        self._insert(facts, stored)
        return stored

    def save_verdicts(self, new: Sequence[NewVerdict]) -> list[StoredVerdict]:
        """Keep verdicts that are shown; one that says the same as the one that stands is not kept twice.

        Returns
        -------
        list of StoredVerdict
            What was written. An older verdict of the same check with another body is marked superseded.
        """
        standing = self.standing_verdicts({each.fact_id for each in new})
        changed = {
            each.fact_id: each
            for each in new
            if each.fact_id not in standing or standing[each.fact_id].body != each.body
        }
        verdict_id = self._rows(LAST_VERDICT_ID)[0][0] if changed else 0
        made_at = time_text(self._now())
        stored: list[StoredVerdict] = []
        for each in changed.values():
            verdict_id += 1
            if each.fact_id in standing:
                self._supersede(standing[each.fact_id].id, made_at, verdict_id)
            fields = (verdict_id, each.fact_id, each.part, each.machine, each.time, each.rank, each.body)
            stored.append(StoredVerdict(*fields, made_at, None, None))
        self._insert(verdicts, stored)
        return stored

    def supersede_verdict(self, fact_id: int) -> None:
        """Mark the verdict of a struck-out check as no longer standing; nothing happens where none stands."""
        for verdict in self.standing_verdicts([fact_id]).values():
            self._supersede(verdict.id, time_text(self._now()), None)

    def save_checkpoint(self, part: str, position: Position, body: str, format: str) -> None:  # noqa: A002  # the column's name
        """Keep a folded state; the one before it goes, unless it is a milestone.

        Notes
        -----
        The newest checkpoint always stays. When one is saved, the one before it is dropped if fewer than
        `KEEP_EVERY_FACTS` facts of the part lie between it and its own predecessor. So what stays is the
        newest and about one in fifty facts, and a late fact is refolded from at most fifty facts before it.
        """
        self._connection.execute(DROP_HERE, here(part, position))
        earlier = [Position(*row) for row in self._rows(TWO_BEFORE, here(part, position))]
        if earlier and self._facts_between(part, earlier[1:], earlier[0]) < KEEP_EVERY_FACTS:
            self._connection.execute(DROP_HERE, here(part, earlier[0]))
        row = {"part": part, "time": position.time, "rank": position.rank, "fact_id": position.fact_id}
        self._connection.execute(insert(checkpoints), {**row, "body": body, "format": format})

    def drop_checkpoints_from(self, part: str, position: Position) -> None:
        """Drop every checkpoint of the part at or behind a position: a fact arrived or left there."""
        self._connection.execute(DROP_FROM_HERE, here(part, position))

    def _supersede(self, verdict_id: int, when: str, by: int | None) -> None:
        values = {"superseded_at": when, "superseded_by": by}
        self._connection.execute(update(verdicts).where(verdicts.c.id == verdict_id).values(values))

    def _facts_between(self, part: str, after: Sequence[Position], until: Position) -> int:
        beyond = between(facts, after[0], None) if after else []
        count: int = self._rows(FACTS_UP_TO_HERE.where(*beyond), here(part, until))[0][0]
        return count

    def _insert(self, table: Any, rows: Sequence[Any]) -> None:
        if rows:
            names = [column.name for column in table.c]
            self._connection.execute(insert(table), [{n: getattr(row, n) for n in names} for row in rows])
